//! How much ink each plate lays down.

use super::{Band, Plates};
use crate::ink::Ink;

/// What one plate puts on the paper.
#[derive(Clone, PartialEq, Debug)]
pub struct Coverage {
    /// The ink.
    pub ink: Ink,
    /// The mean tint in percent of the area that was drawn.
    pub percent: f64,
    /// The area that the same ink would cover solid, in square centimetres.
    pub solid_cm2: f64,
    /// The strongest tint in percent.
    pub most: f64,
}

/// Adds up bands.
#[derive(Clone, Debug)]
pub struct CoverageSum {
    sums: Vec<u64>,
    most: Vec<u8>,
}

impl CoverageSum {
    /// Of so many planes.
    pub fn new(planes: usize) -> Self {
        Self { sums: vec![0; planes], most: vec![0; planes] }
    }

    /// Adds a band.
    pub fn add(&mut self, band: &Band) {
        for ((sum, most), plane) in self.sums.iter_mut().zip(&mut self.most).zip(&band.planes) {
            *sum += plane.iter().map(|v| u64::from(*v)).sum::<u64>();
            *most = plane.iter().copied().fold(*most, u8::max);
        }
    }

    /// What was added, ink by ink.
    pub fn of(&self, plates: &Plates) -> Vec<Coverage> {
        let (width, height) = plates.size();
        let pixels = (width * height) as f64;
        let cm = 2.54 / plates.ppi();
        let inks = plates.inks().iter().zip(&self.sums).zip(&self.most);
        inks.map(|((ink, sum), most)| {
            let solid = *sum as f64 / 255.0;
            Coverage {
                ink: ink.clone(),
                percent: solid / pixels * 100.0,
                solid_cm2: solid * cm * cm,
                most: f64::from(*most) / 2.55,
            }
        })
        .collect()
    }
}
