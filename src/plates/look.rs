//! How plates look together on the paper.

use std::collections::HashMap;

use crate::fault::Result;
use crate::ink::{Colour, Condition, Ink, Judge, Sight, SpotInk, as_seen, srgb};

/// Tells what amounts of all inks look like on the paper of a condition.
#[derive(Debug)]
pub struct Look {
    judge: Judge,
    inks: Vec<Ink>,
    sight: Sight,
    known: HashMap<Vec<u8>, [u8; 3]>,
}

/// Colours that are kept; past them the table starts anew.
const MOST_KNOWN: usize = 1 << 18;

impl Look {
    /// For these inks; `looks` is how the solid of each spot looks where the artwork tells, `measured` goes before it.
    ///
    /// # Errors
    /// The profile of the condition cannot be read.
    pub fn new(condition: &Condition, inks: &[Ink], looks: &[Option<Colour>], measured: &[SpotInk]) -> Result<Self> {
        let looks = inks.iter().zip(looks).filter_map(|(ink, look)| Some((ink, look.as_ref()?)));
        let judge = Judge::new(condition)?.with_spots(measured).with_looks(looks);
        Ok(Self { judge, inks: inks.to_vec(), sight: Sight::Normal, known: HashMap::new() })
    }

    /// The same as golfers of some sight see it.
    #[must_use]
    pub fn to(&self, sight: Sight) -> Self {
        Self { judge: self.judge.clone(), inks: self.inks.clone(), sight, known: HashMap::new() }
    }

    /// The look of one set of amounts, in sRGB.
    pub fn of(&mut self, amounts: &[u8]) -> [u8; 3] {
        if let Some(known) = self.known.get(amounts) {
            return *known;
        }
        let tints = self.inks.iter().cloned().zip(amounts.iter().map(|a| f64::from(*a) / 255.0)).collect();
        let cmyk = [0, 1, 2, 3].map(|n: usize| amounts.get(n).map_or(0.0, |a| f64::from(*a) / 255.0));
        let seen = self.judge.lab(&Colour::Inks { tints, look: Box::new(Colour::Cmyk(cmyk)) });
        let rgb = srgb(as_seen(seen, self.sight)).map(super::inks::amount);
        if self.known.len() >= MOST_KNOWN {
            self.known.clear();
        }
        self.known.insert(amounts.to_vec(), rgb);
        rgb
    }
}

/// One plane as a smaller picture, each of whose pixels is the mean of a square of the plane's, and how much ink it lays down.
#[derive(Clone, Debug)]
pub struct Reduced {
    /// Pixels of the plane each way for one of the picture.
    by: usize,
    /// Pixels in a row, and rows.
    size: (usize, usize),
    /// The same of the plane.
    full: (usize, usize),
    sums: Vec<u32>,
    most: u8,
}

impl Reduced {
    /// For a plane of this size.
    pub fn new(full: (usize, usize), by: usize) -> Self {
        let by = by.max(1);
        let size = (full.0.div_ceil(by), full.1.div_ceil(by));
        Self { by, size, full, sums: vec![0; size.0 * size.1], most: 0 }
    }

    /// Pixels in a row, and rows.
    pub fn size(&self) -> (usize, usize) {
        self.size
    }

    /// Adds rows of the plane from `first` on.
    pub fn add(&mut self, first: usize, rows: &[u8]) {
        for (row, line) in rows.chunks_exact(self.full.0.max(1)).enumerate() {
            let most = line.iter().copied().fold(0, u8::max);
            // Most of a sheet is bare on most plates.
            if most == 0 {
                continue;
            }
            self.most = self.most.max(most);
            let to = (first + row) / self.by * self.size.0;
            for (part, sum) in line.chunks(self.by).zip(self.sums.iter_mut().skip(to)) {
                *sum += part.iter().map(|v| u32::from(*v)).sum::<u32>();
            }
        }
    }

    /// The mean at a pixel.
    pub fn at(&self, pixel: usize) -> u8 {
        let (x, y) = (pixel % self.size.0 * self.by, pixel / self.size.0 * self.by);
        let (across, down) = (self.by.min(self.full.0 - x), self.by.min(self.full.1 - y));
        let count = u32::try_from(across * down).unwrap_or(u32::MAX).max(1);
        u8::try_from((self.sums.get(pixel).copied().unwrap_or(0) + count / 2) / count).unwrap_or(u8::MAX)
    }

    /// The sum of all amounts, and the largest.
    pub fn ink(&self) -> (u64, u8) {
        (self.sums.iter().map(|v| u64::from(*v)).sum(), self.most)
    }

    /// Planes together in sRGB, three bytes a pixel.
    pub fn seen(planes: &[Self], look: &mut Look) -> Vec<u8> {
        let Some((width, height)) = planes.first().map(|p| p.size) else { return Vec::new() };
        let mut seen = Vec::with_capacity(width * height * 3);
        let mut last = (Vec::new(), [0; 3]);
        let mut amounts = Vec::with_capacity(planes.len());
        for pixel in 0..width * height {
            amounts.clear();
            amounts.extend(planes.iter().map(|p| p.at(pixel)));
            if amounts != last.0 {
                last = (amounts.clone(), look.of(&amounts));
            }
            seen.extend(last.1);
        }
        seen
    }
}
