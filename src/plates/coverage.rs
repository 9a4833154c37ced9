//! How much ink a plate lays down.

use super::Plates;
use super::look::Reduced;
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

impl Coverage {
    /// Of planes that were drawn whole, ink by ink.
    pub fn of(plates: &Plates, planes: &[Reduced]) -> Vec<Self> {
        let (width, height) = plates.size();
        let cm = 2.54 / plates.ppi();
        let inks = plates.inks().iter().zip(planes);
        inks.map(|(ink, plane)| {
            let (sum, most) = plane.ink();
            let solid = sum as f64 / 255.0;
            Self {
                ink: ink.clone(),
                percent: solid / (width * height) as f64 * 100.0,
                solid_cm2: solid * cm * cm,
                most: f64::from(most) / 2.55,
            }
        })
        .collect()
    }
}
