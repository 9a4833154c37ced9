//! What makes parts of a picture see-through.

use crate::artwork::{Image, PictureMask, Samples};

/// Where a picture shows: 255 shows.
#[derive(Clone, Debug)]
pub(super) struct Veil {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) values: Vec<u8>,
}

/// Where a picture shows.
pub(super) fn of_picture(image: &Image, samples: &Samples, most: usize) -> Result<Option<Veil>, String> {
    Ok(match image.mask() {
        Some(PictureMask::Soft(soft)) => {
            let own = soft.samples(most).map_err(|why| format!("has a soft mask that {why}"))?;
            let turned = soft.decode().and_then(|d| d.first().copied()).is_some_and(|(low, high)| low > high);
            let values = own.values.chunks_exact(own.components).filter_map(|s| s.first().copied());
            let values = values.map(|v| if turned { 255 - v } else { v }).collect();
            Some(Veil { width: own.width, height: own.height, values })
        }
        Some(PictureMask::Stencil(stencil)) => {
            Some(of_stencil(&stencil, most).map_err(|why| format!("has a mask that {why}"))?)
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
pub(super) fn of_stencil(image: &Image, most: usize) -> Result<Veil, String> {
    let samples = image.samples(most)?;
    let turned = image.decode().and_then(|d| d.first().copied()).is_some_and(|(low, high)| low > high);
    let values = samples.values.iter().map(|v| if (*v >= 128) == turned { 255 } else { 0 }).collect();
    Ok(Veil { width: samples.width, height: samples.height, values })
}
