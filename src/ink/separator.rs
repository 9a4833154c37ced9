//! RGB and Lab as process tints of a print condition, for artwork that is not in inks.

use std::fmt;
use std::sync::Arc;

use moxcms::{ColorProfile, DataColorSpace, Layout, RenderingIntent, TransformF32Executor, TransformOptions};

use super::{Condition, condition};
use crate::fault::{Fault, Result, Source};

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
        let profile = condition::read(&condition.name, &condition.profile)?;
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

    /// The same for 8-bit samples of RGB: four bytes for every three.
    pub fn rgb_samples(&self, rgb: &[u8]) -> Vec<u8> {
        through_samples(&self.from_rgb, rgb)
    }

    /// The same for 8-bit samples of Lab, L* from 0 to 100 and a* and b* from -128 to 127.
    pub fn lab_samples(&self, lab: &[u8]) -> Vec<u8> {
        through_samples(&self.from_lab, lab)
    }
}

/// Samples that are turned at a time; numbers of four bytes stand for each.
const AT_ONCE: usize = 1 << 12;

fn through_samples(transform: &Arc<TransformF32Executor>, samples: &[u8]) -> Vec<u8> {
    let mut all = Vec::with_capacity(samples.len() / 3 * 4);
    for some in samples.chunks(AT_ONCE * 3) {
        let from: Vec<f32> = some.iter().map(|v| f32::from(*v) / 255.0).collect();
        let mut inks = vec![0.0_f32; some.len() / 3 * 4];
        // The layouts are the transform's own; were it to refuse, the samples stay bare.
        let _ = transform.transform(&from, &mut inks);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to 0 to 255")]
        all.extend(inks.iter().map(|v| (v.clamp(0.0, 1.0) * 255.0).round() as u8));
    }
    all
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
