//! Pictures as what their samples put on the planes.

use kurbo::{Affine, Point};

use super::inks::{Inker, Overprint, PlaneSet, Tints};
use crate::artwork::{Image, PictureMask, Samples, Space};
use crate::ink::Colour;

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

/// What makes parts of a picture see-through: 255 shows.
#[derive(Clone, Debug)]
struct Veil {
    width: usize,
    height: usize,
    values: Vec<u8>,
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
        let veil = veil(image, &samples, most)?;
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
        let (order, values, touches) = inked(&samples, &space, &curves, inker, overprint.of_samples());
        Ok(Self { width: samples.width, height: samples.height, order, values, veil, stencil: None, touches })
    }

    /// A stencil painted in one colour.
    pub(super) fn stencil(image: &Image, tints: Tints, most: usize) -> Result<Self, String> {
        let veil = stencil_veil(image, most)?;
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

/// For each component, what its 256 values are as numbers of the space from 0 to 1, or as indices.
fn curves(decode: Option<&[(f64, f64)]>, space: &Space, bits: u8, components: usize) -> Vec<Vec<f64>> {
    let indexed = matches!(space, Space::Indexed { .. });
    let most = f64::from((1_u32 << u32::from(bits.clamp(1, 16))) - 1).min(255.0);
    (0..components)
        .map(|n| {
            let stated = decode.and_then(|d| d.get(n)).copied();
            (0..=255_u8)
                .map(|v| match (stated, indexed) {
                    (Some((low, high)), true) => low + f64::from(v) * (high - low) / most,
                    (None, true) => f64::from(v),
                    (Some((low, high)), false) => low + f64::from(v) / 255.0 * (high - low),
                    (None, false) => f64::from(v) / 255.0,
                })
                .collect()
        })
        .collect()
}

/// Samples as amounts: the planes in order, the amounts, and the planes they touch.
fn inked(
    samples: &Samples,
    space: &Space,
    curves: &[Vec<f64>],
    inker: &mut Inker,
    overprint: Overprint,
) -> (Vec<usize>, Vec<u8>, PlaneSet) {
    let n = samples.components;
    let plain = |space: &Space| match space {
        Space::Calibrated { plain, .. } => (**plain).clone(),
        other => other.clone(),
    };
    let touched = |inker: &mut Inker, colour: &Colour| inker.tints(colour, overprint).touches;
    match plain(space) {
        // Components that are plates already, but for their curves.
        Space::Cmyk => {
            let tables = tables(curves, |v| v);
            (vec![0, 1, 2, 3], through(samples, &tables), touched(inker, &Colour::Cmyk([1.0; 4])))
        }
        Space::Gray => {
            let tables = tables(curves, |v| 1.0 - v);
            let values = through(samples, &tables);
            // Cyan, magenta and yellow are touched and bare.
            (vec![3], values, touched(inker, &Colour::Gray(0.0)))
        }
        Space::Inks { inks, .. } => {
            let colour = space.colour(&vec![1.0; n]);
            let touches = touched(inker, &colour);
            let order: Vec<usize> = inks.iter().filter_map(|ink| inker.planes.of(ink)).collect();
            if order.len() == n {
                let tables = tables(curves, |v| v);
                return (order, through(samples, &tables), touches);
            }
            one_by_one(samples, space, curves, inker, overprint)
        }
        Space::Rgb => {
            let tables = tables(curves, |v| v);
            let rgb = through(samples, &tables);
            (vec![0, 1, 2, 3], inker.rgb_row(&rgb), touched(inker, &Colour::Rgb([0.0; 3])))
        }
        _ => one_by_one(samples, space, curves, inker, overprint),
    }
}

fn tables(curves: &[Vec<f64>], bend: impl Fn(f64) -> f64) -> Vec<Vec<u8>> {
    curves.iter().map(|c| c.iter().map(|v| super::inks::amount(bend(*v))).collect()).collect()
}

/// All samples, each component through its table.
fn through(samples: &Samples, tables: &[Vec<u8>]) -> Vec<u8> {
    let mut values = samples.values.clone();
    for sample in values.chunks_exact_mut(samples.components.max(1)) {
        for (value, table) in sample.iter_mut().zip(tables) {
            *value = table.get(usize::from(*value)).copied().unwrap_or(*value);
        }
    }
    values
}

/// Each distinct sample through its colour.
fn one_by_one(
    samples: &Samples,
    space: &Space,
    curves: &[Vec<f64>],
    inker: &mut Inker,
    overprint: Overprint,
) -> (Vec<usize>, Vec<u8>, PlaneSet) {
    let mut known: std::collections::BTreeMap<&[u8], Tints> = std::collections::BTreeMap::new();
    let mut touches = if overprint.on { 0 } else { super::inks::ALL };
    for sample in samples.values.chunks_exact(samples.components) {
        if known.contains_key(sample) {
            continue;
        }
        let parts: Vec<f64> =
            sample.iter().zip(curves).map(|(v, c)| c.get(usize::from(*v)).copied().unwrap_or(0.0)).collect();
        let parts = if matches!(space, Space::Indexed { .. }) { parts } else { space.spread(&parts) };
        let tints = inker.tints(&space.colour(&parts), overprint);
        touches |= tints.touches;
        known.insert(sample, tints);
    }
    let planes = inker.planes.inks().len();
    let amounts =
        |s: &[u8]| known.get(s).map(|t| (0..planes).map(|p| t.at(p)).collect::<Vec<u8>>()).unwrap_or_default();
    let values = samples.values.chunks_exact(samples.components).flat_map(amounts).collect();
    ((0..planes).collect(), values, touches)
}

/// Where a picture shows.
fn veil(image: &Image, samples: &Samples, most: usize) -> Result<Option<Veil>, String> {
    Ok(match image.mask() {
        Some(PictureMask::Soft(soft)) => {
            let own = soft.samples(most).map_err(|why| format!("has a soft mask that {why}"))?;
            let turned = soft.decode().and_then(|d| d.first().copied()).is_some_and(|(low, high)| low > high);
            let values = own.values.chunks_exact(own.components).filter_map(|s| s.first().copied());
            let values = values.map(|v| if turned { 255 - v } else { v }).collect();
            Some(Veil { width: own.width, height: own.height, values })
        }
        Some(PictureMask::Stencil(stencil)) => {
            Some(stencil_veil(&stencil, most).map_err(|why| format!("has a mask that {why}"))?)
        }
        Some(PictureMask::Key(ranges)) => {
            let scale = if image.is_indexed() || image.bits == 8 {
                1.0
            } else {
                f64::from((1_u32 << u32::from(image.bits.clamp(1, 16))) - 1) / 255.0
            };
            let out = |(v, (low, high)): (&u8, &(u32, u32))| {
                let raw = f64::from(*v) * scale;
                raw > f64::from(*low) - 0.5 && raw < f64::from(*high) + 0.5
            };
            let values = samples.values.chunks_exact(samples.components);
            let values = values.map(|s| if s.iter().zip(&ranges).all(out) { 0 } else { 255 }).collect();
            Some(Veil { width: samples.width, height: samples.height, values })
        }
        None => samples.alpha.clone().map(|values| Veil { width: samples.width, height: samples.height, values }),
    })
}

/// A stencil paints where its samples are 0, or 1 where Decode turns it (ISO 32000-1, 8.9.6.2).
fn stencil_veil(image: &Image, most: usize) -> Result<Veil, String> {
    let samples = image.samples(most)?;
    let turned = image.decode().and_then(|d| d.first().copied()).is_some_and(|(low, high)| low > high);
    let values = samples.values.iter().map(|v| if (*v >= 128) == turned { 255 } else { 0 }).collect();
    Ok(Veil { width: samples.width, height: samples.height, values })
}
