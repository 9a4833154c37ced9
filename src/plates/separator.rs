//! RGB and Lab as process tints of a print condition, for artwork that is not in inks.

use std::fmt;
use std::sync::Arc;

use moxcms::{ColorProfile, DataColorSpace, Layout, RenderingIntent, TransformF32Executor, TransformOptions};

use crate::fault::{Fault, Result, Source};
use crate::ink::Condition;

/// Separates colours by the profile of a condition, relative colorimetric: white becomes bare paper.
#[derive(Clone)]
pub struct Separator {
    from_rgb: Arc<TransformF32Executor>,
    from_lab: Arc<TransformF32Executor>,
}

impl Separator {
    /// Reads the profile of `condition`.
    ///
    /// # Errors
    /// It cannot be read, or holds no table from colour to inks.
    pub fn new(condition: &Condition) -> Result<Self> {
        let fault = |why: String| {
            let message = format!("this ICC profile holds no usable table from colour to inks: {why}");
            Fault::new(Source::File(condition.name.clone()), message)
                .hint("ask the printer for a complete CMYK output profile of the press and paper")
        };
        let profile = ColorProfile::new_from_slice(&condition.profile).map_err(|e| fault(e.to_string()))?;
        let options = TransformOptions {
            rendering_intent: RenderingIntent::RelativeColorimetric,
            prefer_fixed_point: false,
            ..TransformOptions::default()
        };
        let mut lab = ColorProfile::new_lab();
        lab.pcs = DataColorSpace::Lab;
        let to_inks = |from: &ColorProfile| from.create_transform_f32(Layout::Rgb, &profile, Layout::Rgba, options);
        Ok(Self {
            from_rgb: to_inks(&ColorProfile::new_srgb()).map_err(|e| fault(e.to_string()))?,
            from_lab: to_inks(&lab).map_err(|e| fault(e.to_string()))?,
        })
    }

    /// C, M, Y and K from 0 to 1 of a colour in sRGB.
    pub fn rgb(&self, rgb: [f64; 3]) -> [f64; 4] {
        through(&self.from_rgb, rgb)
    }

    /// C, M, Y and K from 0 to 1 of a colour in Lab (D50).
    pub fn lab(&self, [l, a, b]: [f64; 3]) -> [f64; 4] {
        through(&self.from_lab, [l / 100.0, (a + 128.0) / 255.0, (b + 128.0) / 255.0])
    }

    /// The same for a row of 8-bit RGB samples: four bytes for every three.
    pub fn rgb_row(&self, rgb: &[u8]) -> Vec<u8> {
        let from: Vec<f32> = rgb.iter().map(|v| f32::from(*v) / 255.0).collect();
        let mut inks = vec![0.0_f32; rgb.len() / 3 * 4];
        // The layouts are the transform's own; were it to refuse, the row stays bare.
        let _ = self.from_rgb.transform(&from, &mut inks);
        inks.iter().map(|v| super::inks::amount(f64::from(*v))).collect()
    }
}

fn through(transform: &Arc<TransformF32Executor>, colour: [f64; 3]) -> [f64; 4] {
    #[expect(clippy::cast_possible_truncation, reason = "a component needs no more than f32")]
    let from = colour.map(|v| v.clamp(0.0, 1.0) as f32);
    let mut inks = [0.0_f32; 4];
    let _ = transform.transform(&from, &mut inks);
    inks.map(|v| f64::from(v).clamp(0.0, 1.0))
}

impl fmt::Debug for Separator {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Separator").finish_non_exhaustive()
    }
}

/// The luminosity of a process colour as a soft mask takes it: the gray that the standard's own rule gives (ISO 32000-1, 10.3.4).
pub(super) fn gray_of([c, m, y, k]: [f64; 4]) -> f64 {
    1.0 - (0.3 * c + 0.59 * m + 0.11 * y + k).min(1.0)
}
