use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use moxcms::{ColorProfile, DataColorSpace, Layout, RenderingIntent, TransformF32Executor, TransformOptions};
use palette::Xyz;
use palette::white_point::D50;

use super::{Colour, Condition, Ink, Lab, SpotInk, condition};
use crate::fault::{Fault, Result, Source};

/// The PCS illuminant of every profile (ICC.1:2010, 7.2.16).
const PCS_WHITE: [f64; 3] = [0.9642, 1.0, 0.8249];

/// Tells what a colour looks like when it is printed in a condition. The tables are read once and kept.
#[derive(Clone)]
pub struct Judge {
    transform: Arc<TransformF32Executor>,
    /// What takes media-relative XYZ to absolute (ICC.1:2010, 6.3.2.2 and annex D.6): paper over PCS white.
    paper_factor: [f64; 3],
    paper: Lab,
    spots: BTreeMap<Arc<str>, Lab>,
}

impl Judge {
    /// Reads the profile of `condition`. Faults where it cannot be read or holds no table from inks to colour.
    pub fn new(condition: &Condition) -> Result<Self> {
        Self::named(condition, &condition.name)
    }

    /// The same, a fault naming `file`.
    pub(super) fn named(condition: &Condition, file: &str) -> Result<Self> {
        let fault = |message: String| {
            Fault::new(Source::File(file.to_owned()), message)
                .hint("ask the printer for a complete CMYK output profile of the press and paper")
        };
        let profile = condition::read(file, &condition.profile)?;
        let white = profile
            .media_white_point
            .filter(|w| w.x > 0.0 && w.y > 0.0 && w.z > 0.0)
            .ok_or_else(|| fault("this ICC profile does not state the white of its paper (`wtpt`)".to_owned()))?;
        // Relative here and taken to the paper below: absolute intent is not the transform's business.
        let options = TransformOptions {
            rendering_intent: RenderingIntent::RelativeColorimetric,
            prefer_fixed_point: false,
            ..TransformOptions::default()
        };
        // Its Lab profile names XYZ as its connection space, which leads the tables of some profiles nowhere.
        let mut to_lab = ColorProfile::new_lab();
        to_lab.pcs = DataColorSpace::Lab;
        let transform = profile
            .create_transform_f32(Layout::Rgba, &to_lab, Layout::Rgb, options)
            .map_err(|e| fault(format!("this ICC profile holds no usable table from inks to colour: {e}")))?;
        let [wx, wy, wz] = PCS_WHITE;
        let mut judge = Self {
            transform,
            paper_factor: [white.x / wx, white.y / wy, white.z / wz],
            paper: Lab::default(),
            spots: BTreeMap::new(),
        };
        judge.paper = judge
            .through_profile(&[[0.0; 4]])
            .and_then(|labs| labs.first().copied())
            .filter(|lab| lab.l.is_finite() && lab.a.is_finite() && lab.b.is_finite())
            .ok_or_else(|| fault("this ICC profile gives no colour for bare paper".to_owned()))?;
        Ok(judge)
    }

    /// The same judge knowing the measured solids of `spots`; those without a Lab value are left to their looks.
    pub fn with_spots<'a>(mut self, spots: impl IntoIterator<Item = &'a SpotInk>) -> Self {
        let measured = spots.into_iter().filter_map(|s| Some((Arc::clone(&s.name), Lab::from(s.lab?))));
        self.spots.extend(measured);
        self
    }

    /// The same judge knowing solids by their looks, of spots that it does not know yet.
    pub fn with_looks<'a>(mut self, looks: impl IntoIterator<Item = (&'a Ink, &'a Colour)>) -> Self {
        for (ink, look) in looks {
            if let Ink::Spot(name) = ink
                && !self.spots.contains_key(name)
            {
                let lab = self.lab(look);
                self.spots.insert(Arc::clone(name), lab);
            }
        }
        self
    }

    /// The bare paper.
    pub const fn paper(&self) -> Lab {
        self.paper
    }

    /// How `colour` looks on the paper, absolute colorimetric under D50.
    ///
    /// Process tints go through the profile. Spots that the judge knows print as measured; others, and inks together with
    /// them, as the look that the artwork gives. RGB is read as sRGB and set on the paper: its white is bare paper. Lab stands
    /// as it is.
    pub fn lab(&self, colour: &Colour) -> Lab {
        match colour {
            Colour::Gray(g) => self.process([0.0, 0.0, 0.0, 1.0 - g]),
            Colour::Cmyk(cmyk) => self.process(*cmyk),
            Colour::Rgb(rgb) => self.on_paper(Lab::from_srgb(rgb.map(|v| v.clamp(0.0, 1.0))).to_xyz()),
            Colour::Lab(lab) => Lab::from(*lab),
            Colour::Calibrated { plain, .. } => self.lab(plain),
            Colour::Inks { tints, look } => self.inks(tints).unwrap_or_else(|| self.lab(look)),
        }
    }

    /// Many process colours at once (C, M, Y, K from 0 to 1), in their order.
    pub fn labs(&self, cmyk: &[[f64; 4]]) -> Vec<Lab> {
        self.through_profile(cmyk).unwrap_or_else(|| vec![self.paper; cmyk.len()])
    }

    fn process(&self, cmyk: [f64; 4]) -> Lab {
        self.labs(&[cmyk]).first().copied().unwrap_or(self.paper)
    }

    /// `None` only where the transform refuses its own layout, which [`Judge::named`] has tried out.
    fn through_profile(&self, cmyk: &[[f64; 4]]) -> Option<Vec<Lab>> {
        #[expect(clippy::cast_possible_truncation, reason = "a tint from 0 to 1 needs no more than f32")]
        let tints: Vec<f32> = cmyk.iter().flatten().map(|v| v.clamp(0.0, 1.0) as f32).collect();
        // PCS Lab as ICC.1:2010, 6.3.4.2 encodes it in eight bits: L* over 100, a* and b* over 255 from -128.
        let mut encoded = vec![0.0_f32; cmyk.len() * 3];
        self.transform.transform(&tints, &mut encoded).ok()?;
        let (triples, _) = encoded.as_chunks::<3>();
        Some(
            triples
                .iter()
                .map(|encoded| {
                    let [l, a, b] = encoded.map(f64::from);
                    self.on_paper(Lab::new(l * 100.0, a * 255.0 - 128.0, b * 255.0 - 128.0).to_xyz())
                })
                .collect(),
        )
    }

    /// From media-relative to absolute.
    fn on_paper(&self, relative: Xyz<D50, f64>) -> Lab {
        let [fx, fy, fz] = self.paper_factor;
        Lab::from_xyz(Xyz::new(relative.x * fx, relative.y * fy, relative.z * fz))
    }

    /// Separation and DeviceN tints by what is known of their inks; `None` where a spot is not.
    ///
    /// A tint of a spot lies on the straight line in Lab from paper to solid, which is where a press keeps it that runs spots to
    /// even spot colour tone values (ISO 20654; from memory). Inks over each other darken as filters do, factor by factor in XYZ;
    /// for opaque inks that is too dark.
    fn inks(&self, tints: &[(Ink, f64)]) -> Option<Lab> {
        let mut cmyk = [0.0_f64; 4];
        let mut over = Vec::new();
        for (ink, tint) in tints.iter().filter(|(_, t)| *t > 0.0) {
            match ink {
                Ink::None => {}
                Ink::All => cmyk = cmyk.map(|v| v.max(*tint)),
                Ink::Spot(name) => over.push(self.paper.mix(*self.spots.get(name)?, tint.min(1.0))),
                process => {
                    if let Some((_, v)) = Ink::PROCESS.iter().zip(&mut cmyk).find(|(p, _)| *p == process) {
                        *v = v.max(*tint);
                    }
                }
            }
        }
        let base = self.process(cmyk);
        let [first, rest @ ..] = over.as_slice() else { return Some(base) };
        if rest.is_empty() && cmyk.iter().all(|v| *v <= 0.0) {
            return Some(*first);
        }
        let paper = self.paper.to_xyz();
        let stacked = over.iter().fold(base.to_xyz(), |below, lab| {
            let ink = lab.to_xyz();
            Xyz::new(below.x * ink.x / paper.x, below.y * ink.y / paper.y, below.z * ink.z / paper.z)
        });
        Some(Lab::from_xyz(stacked))
    }
}

/// The paper and the spots; the tables are left out.
impl fmt::Debug for Judge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Judge").field("paper", &self.paper).field("spots", &self.spots).finish_non_exhaustive()
    }
}
