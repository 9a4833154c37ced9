//! The samples of pictures as amounts on planes.

use std::collections::BTreeMap;

use super::inks::{Inker, Overprint, PlaneSet, Tints};
use crate::artwork::{Samples, Space};
use crate::ink::Colour;

/// Samples, and what their numbers mean.
#[derive(Debug)]
pub(super) struct SpacedSamples<'a> {
    pub(super) samples: &'a Samples,
    pub(super) space: &'a Space,
    /// What the 256 values of each component are in the space.
    pub(super) curves: Vec<Vec<f64>>,
    pub(super) overprint: Overprint,
}

/// Samples as amounts.
#[derive(Debug)]
pub(super) struct Inked {
    /// The planes of each sample's bytes.
    pub(super) order: Vec<usize>,
    pub(super) values: Vec<u8>,
    /// The planes that the picture touches, be it with nothing.
    pub(super) touches: PlaneSet,
}

/// The process planes in order.
const CMYK: [usize; 4] = [0, 1, 2, 3];

/// For each component, what its 256 values are as numbers of the space from 0 to 1, or as indices.
pub(super) fn curves(decode: Option<&[(f64, f64)]>, space: &Space, bits: u8, components: usize) -> Vec<Vec<f64>> {
    let indexed = matches!(space, Space::Indexed { .. });
    let most = f64::from((1_u32 << u32::from(bits.clamp(1, 16))) - 1).min(255.0);
    let ranges = lab_range(space).map(|[a0, a1, b0, b1]| [(0.0, 100.0), (a0, a1), (b0, b1)]);
    (0..components)
        .map(|n| {
            let stated = decode.and_then(|d| d.get(n)).copied();
            let (low, high) = match (stated, ranges.and_then(|r| r.get(n).copied())) {
                // Decode of Lab speaks in its natural range (ISO 32000-1, table 90).
                (Some((low, high)), Some((r0, r1))) => ((low - r0) / (r1 - r0), (high - r0) / (r1 - r0)),
                (Some(stated), None) => stated,
                (None, _) => (0.0, if indexed { most } else { 1.0 }),
            };
            let last = if indexed { most } else { 255.0 };
            (0..=255_u8).map(|v| low + f64::from(v) * (high - low) / last).collect()
        })
        .collect()
}

/// The range of a* and b* where a space is Lab.
fn lab_range(space: &Space) -> Option<[f64; 4]> {
    match space {
        Space::Lab(range) => Some(*range),
        Space::Calibrated { plain, .. } => lab_range(plain),
        _ => None,
    }
}

impl SpacedSamples<'_> {
    /// Puts all samples on planes.
    pub(super) fn inked(&self, inker: &mut Inker) -> Inked {
        let plain = match self.space {
            Space::Calibrated { plain, .. } => plain,
            other => other,
        };
        let touched = |inker: &mut Inker, colour: &Colour| inker.tints(colour, self.overprint).touches;
        match plain {
            // Components that are plates already, but for their curves.
            Space::Cmyk => {
                let touches = touched(inker, &Colour::Cmyk([1.0; 4]));
                Inked { order: CMYK.to_vec(), values: self.through(|v| v), touches }
            }
            // Cyan, magenta and yellow are touched and bare.
            Space::Gray => {
                let touches = touched(inker, &Colour::Gray(0.0));
                Inked { order: vec![3], values: self.through(|v| 1.0 - v), touches }
            }
            Space::Inks { inks, .. } => {
                let components = self.samples.components;
                let touches = touched(inker, &plain.colour(&vec![1.0; components]));
                let order: Vec<usize> = inks.iter().filter_map(|ink| inker.planes.of(ink)).collect();
                if order.len() < components {
                    // All and None are on no plane of their own.
                    return self.one_by_one(inker);
                }
                Inked { order, values: self.through(|v| v), touches }
            }
            Space::Rgb => {
                let touches = touched(inker, &Colour::Rgb([0.0; 3]));
                Inked { order: CMYK.to_vec(), values: inker.rgb_samples(&self.through(|v| v)), touches }
            }
            Space::Lab(range) => {
                let touches = touched(inker, &Colour::Lab([0.0; 3]));
                Inked { order: CMYK.to_vec(), values: inker.lab_samples(&self.lab(*range)), touches }
            }
            _ => self.one_by_one(inker),
        }
    }

    /// All samples, each component bent and taken to a byte.
    fn through(&self, bend: impl Fn(f64) -> f64) -> Vec<u8> {
        let byte = |v: &f64| super::inks::amount(bend(*v));
        let tables: Vec<Vec<u8>> = self.curves.iter().map(|c| c.iter().map(byte).collect()).collect();
        self.by_tables(&tables)
    }

    /// Samples of Lab as bytes: L* from 0 to 100, a* and b* from -128 to 127.
    fn lab(&self, [a0, a1, b0, b1]: [f64; 4]) -> Vec<u8> {
        // What Decode gives is from 0 to 1 here, and the ranges of the space lie under it.
        let ranges = [(0.0, 1.0, 0.0), (a0, a1, 128.0), (b0, b1, 128.0)];
        let tables: Vec<Vec<u8>> = ranges
            .iter()
            .zip(&self.curves)
            .enumerate()
            .map(|(n, ((low, high, shift), curve))| {
                let byte = |v: &f64| {
                    let value = low + v * (high - low);
                    super::inks::amount(if n == 0 { value } else { (value + shift) / 255.0 })
                };
                curve.iter().map(byte).collect()
            })
            .collect();
        self.by_tables(&tables)
    }

    fn by_tables(&self, tables: &[Vec<u8>]) -> Vec<u8> {
        let mut values = self.samples.values.clone();
        for sample in values.chunks_exact_mut(self.samples.components.max(1)) {
            for (value, table) in sample.iter_mut().zip(tables) {
                *value = table.get(usize::from(*value)).copied().unwrap_or(*value);
            }
        }
        values
    }

    /// Each distinct sample through its colour.
    fn one_by_one(&self, inker: &mut Inker) -> Inked {
        let mut known: BTreeMap<&[u8], Tints> = BTreeMap::new();
        let mut touches = if self.overprint.on { 0 } else { super::inks::ALL };
        let samples = || self.samples.values.chunks_exact(self.samples.components.max(1));
        for sample in samples() {
            if known.contains_key(sample) {
                continue;
            }
            let at = |(v, c): (&u8, &Vec<f64>)| c.get(usize::from(*v)).copied().unwrap_or(0.0);
            let parts: Vec<f64> = sample.iter().zip(&self.curves).map(at).collect();
            let indexed = matches!(self.space, Space::Indexed { .. });
            let parts = if indexed { parts } else { self.space.spread(&parts) };
            let tints = inker.tints(&self.space.colour(&parts), self.overprint);
            touches |= tints.touches;
            known.insert(sample, tints);
        }
        let planes = inker.planes.inks().len();
        let mut values = Vec::with_capacity(samples().len() * planes);
        for sample in samples() {
            let tints = known.get(sample);
            values.extend((0..planes).map(|plane| tints.map_or(0, |t| t.at(plane))));
        }
        Inked { order: (0..planes).collect(), values, touches }
    }
}
