//! Pictures as what their samples put on the planes.

use kurbo::{Affine, Point};

use super::inked::{Inked, SpacedSamples, curves};
use super::inks::{Inker, Overprint, PlaneSet, Tints};
use super::veil::{Veil, of_picture, of_stencil};
use crate::artwork::{Image, Space};

/// A picture whose samples are amounts on planes.
#[derive(Clone, Debug)]
pub(super) struct Picture {
    width: usize,
    height: usize,
    /// The planes of each sample's bytes, in order.
    order: Vec<usize>,
    values: Vec<u8>,
    veil: Option<Veil>,
    /// What a stencil is painted with; its values say where.
    stencil: Option<Tints>,
    pub(super) touches: PlaneSet,
}

/// Samples that are averaged for one pixel, each way, at the most.
const MOST_AVERAGED: usize = 32;

impl Picture {
    /// Takes a picture's samples to planes.
    ///
    /// # Errors
    /// Why it cannot be drawn, in words that follow its name.
    pub(super) fn read(image: &Image, inker: &mut Inker, overprint: Overprint, most: usize) -> Result<Self, String> {
        let samples = image.samples(most)?;
        let veil = of_picture(image, &samples, most)?;
        let decode = image.decode();
        let space = match (&image.space, samples.components) {
            (Some(space), _) => space.clone(),
            (None, 3) => std::sync::Arc::new(Space::Rgb),
            (None, 4) => std::sync::Arc::new(Space::Cmyk),
            (None, _) => std::sync::Arc::new(Space::Gray),
        };
        if samples.components != space.components() {
            return Err(format!(
                "holds {} components a sample where its space has {}",
                samples.components,
                space.components()
            ));
        }
        let curves = curves(decode.as_deref(), &space, image.bits, samples.components);
        let samples = SpacedSamples { samples: &samples, space: &space, curves, overprint: overprint.of_samples() };
        let Inked { order, values, touches } = samples.inked(inker);
        let (width, height) = (samples.samples.width, samples.samples.height);
        Ok(Self { width, height, order, values, veil, stencil: None, touches })
    }

    /// A stencil painted in one colour.
    pub(super) fn stencil(image: &Image, tints: Tints, most: usize) -> Result<Self, String> {
        let veil = of_stencil(image, most)?;
        let touches = tints.touches;
        Ok(Self {
            width: 1,
            height: 1,
            order: Vec::new(),
            values: Vec::new(),
            veil: Some(veil),
            stencil: Some(tints),
            touches,
        })
    }

    /// Bytes that it takes.
    pub(super) fn size(&self) -> usize {
        self.values.len() + self.veil.as_ref().map_or(0, |v| v.values.len())
    }

    /// The amounts for a row of pixels from a centre on; `matrix` leads from pixels to the unit square.
    pub(super) fn row(&self, matrix: Affine, from: Point, planes: &mut [Vec<u8>], alpha: &mut [u8]) {
        let [a, b, c, d, ..] = matrix.as_coeffs();
        let start = matrix * from;
        // What one pixel covers of the picture, as shares of it.
        let (wide, high) = (a.abs() + c.abs(), b.abs() + d.abs());
        let mut means = vec![0; self.order.len()];
        for (n, alpha) in alpha.iter_mut().enumerate() {
            let n_f = n as f64;
            // The top row of samples lies at y = 1.
            let (u, v) = (start.x + a * n_f, 1.0 - (start.y + b * n_f));
            // Beside it, where the pixel's edge alone is covered, the nearest samples count.
            if !(-wide..=1.0 + wide).contains(&u) || !(-high..=1.0 + high).contains(&v) {
                *alpha = 0;
                continue;
            }
            if let Some(veil) = &self.veil {
                let part = Part::of((u, v), (wide, high), (veil.width, veil.height));
                let mut mean = [0];
                part.means(&veil.values, veil.width, &mut mean);
                *alpha = mean.first().copied().unwrap_or(0);
                if *alpha == 0 {
                    continue;
                }
            }
            if let Some(tints) = &self.stencil {
                for (plane, values) in planes.iter_mut().enumerate() {
                    if let Some(place) = values.get_mut(n) {
                        *place = tints.at(plane);
                    }
                }
                continue;
            }
            Part::of((u, v), (wide, high), (self.width, self.height)).means(&self.values, self.width, &mut means);
            for (plane, mean) in self.order.iter().zip(&means) {
                if let Some(place) = planes.get_mut(*plane).and_then(|p| p.get_mut(n)) {
                    *place = *mean;
                }
            }
        }
    }
}

/// The samples that a pixel covers: from, to and the step across and down.
struct Part {
    across: (usize, usize, usize),
    down: (usize, usize, usize),
}

impl Part {
    /// About a place in a picture, in shares of it; the sample at the place alone where less than one and a half are covered.
    fn of((u, v): (f64, f64), (wide, high): (f64, f64), (width, height): (usize, usize)) -> Self {
        let span = |at: f64, part: f64, count: usize| {
            let middle = at * count as f64;
            let reach = part * count as f64 / 2.0;
            let last = count.saturating_sub(1);
            if reach < 0.75 {
                let at = nearest(middle, last);
                return (at, at, 1);
            }
            let low = nearest(middle - reach + 0.5, last);
            let high = nearest(middle + reach - 0.5, last).max(low);
            (low, high, ((high - low + 1) / MOST_AVERAGED).max(1))
        };
        Self { across: span(u, wide, width), down: span(v, high, height) }
    }

    /// The mean of each component.
    fn means(&self, values: &[u8], width: usize, means: &mut [u8]) {
        let step = means.len();
        let ((x0, x1, dx), (y0, y1, dy)) = (self.across, self.down);
        if x0 == x1 && y0 == y1 {
            let from = (y0 * width + x0) * step;
            if let Some(sample) = values.get(from..from + step) {
                means.copy_from_slice(sample);
            }
            return;
        }
        let count = u32::try_from(((x1 - x0) / dx + 1) * ((y1 - y0) / dy + 1)).unwrap_or(u32::MAX);
        for (component, mean) in means.iter_mut().enumerate() {
            let mut sum = 0_u32;
            for y in (y0..=y1).step_by(dy) {
                let row = values.get((y * width + x0) * step..(y * width + x1 + 1) * step).unwrap_or_default();
                sum += row.iter().skip(component).step_by(step * dx).map(|v| u32::from(*v)).sum::<u32>();
            }
            *mean = u8::try_from((sum + count / 2) / count).unwrap_or(u8::MAX);
        }
    }
}

/// A place among `last` + 1 samples.
fn nearest(v: f64, last: usize) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to the samples")]
    {
        v.clamp(0.0, last as f64) as usize
    }
}
