//! How plates look together on the paper.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Band;
use crate::fault::Result;
use crate::ink::{Colour, Condition, Ink, Judge, SpotInk, srgb};

/// Tells what amounts of all inks look like on the paper of a condition.
#[derive(Debug)]
pub struct Look {
    judge: Judge,
    inks: Vec<Ink>,
    known: BTreeMap<Vec<u8>, [u8; 3]>,
}

/// Colours that are kept; past them the table starts anew.
const MOST_KNOWN: usize = 1 << 18;

impl Look {
    /// For these inks; `looks` is how the solid of each spot looks where the artwork tells, `measured` goes before it.
    ///
    /// # Errors
    /// The profile of the condition cannot be read.
    pub fn new(condition: &Condition, inks: &[Ink], looks: &[Option<Colour>], measured: &[SpotInk]) -> Result<Self> {
        let judge = Judge::new(condition)?;
        let spots: Vec<SpotInk> = inks
            .iter()
            .zip(looks)
            .filter_map(|(ink, look)| {
                let Ink::Spot(name) = ink else { return None };
                if let Some(known) = measured.iter().find(|s| s.name == *name && s.lab.is_some()) {
                    return Some(known.clone());
                }
                let lab = judge.lab(look.as_ref()?);
                Some(SpotInk { name: Arc::clone(name), cmyk: [0.0; 4], lab: Some([lab.l, lab.a, lab.b]) })
            })
            .collect();
        Ok(Self { judge: judge.with_spots(&spots), inks: inks.to_vec(), known: BTreeMap::new() })
    }

    /// The look of one set of amounts, in sRGB.
    pub fn of(&mut self, amounts: &[u8]) -> [u8; 3] {
        if let Some(known) = self.known.get(amounts) {
            return *known;
        }
        let tints = self.inks.iter().cloned().zip(amounts.iter().map(|a| f64::from(*a) / 255.0)).collect();
        let cmyk = [0, 1, 2, 3].map(|n: usize| amounts.get(n).map_or(0.0, |a| f64::from(*a) / 255.0));
        let seen = self.judge.lab(&Colour::Inks { tints, look: Box::new(Colour::Cmyk(cmyk)) });
        let rgb = srgb(seen).map(super::inks::amount);
        if self.known.len() >= MOST_KNOWN {
            self.known.clear();
        }
        self.known.insert(amounts.to_vec(), rgb);
        rgb
    }
}

/// Gathers bands into a smaller picture: each of its pixels is the mean of a square of theirs.
#[derive(Clone, Debug)]
pub struct Reduced {
    /// Pixels of the plates each way for one of the picture.
    pub by: usize,
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    sums: Vec<Vec<u32>>,
    counts: Vec<u32>,
}

impl Reduced {
    /// For plates of this size.
    pub fn new((width, height): (usize, usize), planes: usize, by: usize) -> Self {
        let by = by.max(1);
        let (width, height) = (width.div_ceil(by), height.div_ceil(by));
        Self { by, width, height, sums: vec![vec![0; width * height]; planes], counts: vec![0; width * height] }
    }

    /// Adds a band.
    pub fn add(&mut self, band: &Band) {
        for row in 0..band.rows {
            let to = (band.first + row) / self.by * self.width;
            for x in 0..band.width {
                if let Some(count) = self.counts.get_mut(to + x / self.by) {
                    *count += 1;
                }
            }
            for (sums, plane) in self.sums.iter_mut().zip(&band.planes) {
                let line = plane.get(row * band.width..(row + 1) * band.width).unwrap_or_default();
                for (part, sum) in line.chunks(self.by).zip(sums.iter_mut().skip(to)) {
                    *sum += part.iter().map(|v| u32::from(*v)).sum::<u32>();
                }
            }
        }
    }

    /// The amounts of every plane at a pixel.
    pub fn at(&self, pixel: usize) -> Vec<u8> {
        let count = self.counts.get(pixel).copied().unwrap_or(1).max(1);
        let mean = |sums: &Vec<u32>| {
            u8::try_from((sums.get(pixel).copied().unwrap_or(0) + count / 2) / count).unwrap_or(u8::MAX)
        };
        self.sums.iter().map(mean).collect()
    }

    /// The picture in sRGB, three bytes a pixel.
    pub fn seen(&self, look: &mut Look) -> Vec<u8> {
        (0..self.width * self.height).flat_map(|pixel| look.of(&self.at(pixel))).collect()
    }
}
