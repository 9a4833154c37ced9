use std::fmt;
use std::sync::Arc;

/// What one plate prints.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Ink {
    /// Process cyan.
    Cyan,
    /// Process magenta.
    Magenta,
    /// Process yellow.
    Yellow,
    /// Process black.
    Black,
    /// A named spot ink; the name is the plate's.
    Spot(Arc<str>),
    /// Registration: every plate (ISO 32000-1, 8.6.6.4, colorant `All`).
    All,
    /// No plate at all (ISO 32000-1, 8.6.6.4, colorant `None`).
    None,
}

impl Ink {
    /// The four process inks in the order of DeviceCMYK.
    pub const PROCESS: [Self; 4] = [Self::Cyan, Self::Magenta, Self::Yellow, Self::Black];

    /// The ink of a Separation or DeviceN colorant name.
    pub fn from_colorant(name: &str) -> Self {
        match name {
            "Cyan" => Self::Cyan,
            "Magenta" => Self::Magenta,
            "Yellow" => Self::Yellow,
            "Black" => Self::Black,
            "All" => Self::All,
            "None" => Self::None,
            spot => Self::Spot(Arc::from(spot)),
        }
    }

    /// Its colorant name in a PDF, which is also the plate's.
    pub fn name(&self) -> &str {
        match self {
            Self::Cyan => "Cyan",
            Self::Magenta => "Magenta",
            Self::Yellow => "Yellow",
            Self::Black => "Black",
            Self::Spot(name) => name,
            Self::All => "All",
            Self::None => "None",
        }
    }

    /// Whether it is a named spot.
    pub const fn is_spot(&self) -> bool {
        matches!(self, Self::Spot(_))
    }
}

impl fmt::Display for Ink {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// A colour in its own space, exactly as the artwork states it. All components run from 0 to 1 except [`Colour::Lab`].
#[derive(Clone, PartialEq, Debug)]
pub enum Colour {
    /// DeviceGray: 0 is black, 1 is white; prints on the black plate.
    Gray(f64),
    /// DeviceRGB.
    Rgb([f64; 3]),
    /// DeviceCMYK.
    Cmyk([f64; 4]),
    /// CIE L*a*b*, D50.
    Lab([f64; 3]),
    /// Separation or DeviceN: one tint for each colorant, and what the tint transform makes of them.
    Inks {
        /// Colorants in the order of the space.
        tints: Vec<(Ink, f64)>,
        /// The look through the alternate space: Gray, Rgb, Cmyk or Lab.
        look: Box<Self>,
    },
    /// CalGray, CalRGB or ICCBased: the components read as the device space of the same family.
    Calibrated {
        /// What the space calls itself, such as `ICCBased` or `CalRGB`.
        space: Arc<str>,
        /// The same numbers as Gray, Rgb, Cmyk or Lab.
        plain: Box<Self>,
    },
}

impl Colour {
    /// Black ink alone, solid.
    pub const BLACK: Self = Self::Cmyk([0.0, 0.0, 0.0, 1.0]);
    /// No process ink.
    pub const WHITE: Self = Self::Cmyk([0.0; 4]);

    /// The plates this prints on and how much of each, without the empty ones. `None` where the colour has no plates of
    /// its own yet (RGB and Lab).
    pub fn tints(&self) -> Option<Vec<(Ink, f64)>> {
        let all: Vec<(Ink, f64)> = match self {
            Self::Gray(g) => vec![(Ink::Black, 1.0 - g)],
            Self::Cmyk(cmyk) => Ink::PROCESS.into_iter().zip(*cmyk).collect(),
            Self::Inks { tints, .. } => tints.clone(),
            Self::Calibrated { plain, .. } => return plain.tints(),
            Self::Rgb(_) | Self::Lab(_) => return None,
        };
        Some(all.into_iter().filter(|(ink, t)| *t > 0.0 && *ink != Ink::None).collect())
    }

    /// How many plates it prints on; RGB and Lab count as three, which is what they become at the least.
    pub fn ink_count(&self) -> usize {
        self.tints().map_or(3, |t| t.len())
    }

    /// Sum of all tints in percent; `None` for RGB and Lab.
    pub fn total_ink(&self) -> Option<f64> {
        self.tints().map(|t| t.iter().map(|(_, v)| v * 100.0).sum())
    }

    /// As process tints, where it is Cmyk or Gray.
    pub fn process(&self) -> Option<[f64; 4]> {
        match self {
            Self::Cmyk(cmyk) => Some(*cmyk),
            Self::Gray(g) => Some([0.0, 0.0, 0.0, 1.0 - g]),
            Self::Calibrated { plain, .. } => plain.process(),
            Self::Rgb(_) | Self::Lab(_) | Self::Inks { .. } => None,
        }
    }

    /// Whether it puts no ink on the paper.
    pub fn is_paper(&self) -> bool {
        match self {
            Self::Rgb(rgb) => rgb.iter().all(|v| *v >= 1.0),
            Self::Lab([l, ..]) => *l >= 100.0,
            Self::Calibrated { plain, .. } => plain.is_paper(),
            other => other.tints().is_some_and(|t| t.is_empty()),
        }
    }

    /// Whether it is black ink alone, at any tint above none.
    pub fn is_black_only(&self) -> bool {
        self.tints().is_some_and(|t| matches!(t.as_slice(), [(Ink::Black, _)]))
    }
}

/// In the trade's words: `C 60 M 0 Y 80 K 20`, `Otterby Heron 40 %`, `RGB 1 0 0`.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Gray(g) => write!(f, "K {:.0}", (1.0 - g) * 100.0),
            Self::Rgb([r, g, b]) => write!(f, "RGB {r:.2} {g:.2} {b:.2}"),
            Self::Cmyk([c, m, y, k]) => {
                write!(f, "C {:.0} M {:.0} Y {:.0} K {:.0}", c * 100.0, m * 100.0, y * 100.0, k * 100.0)
            }
            Self::Lab([l, a, b]) => write!(f, "Lab {l:.1} {a:.1} {b:.1}"),
            Self::Inks { tints, .. } => {
                for (n, (ink, t)) in tints.iter().enumerate() {
                    write!(f, "{}{ink} {:.0} %", if n > 0 { " + " } else { "" }, t * 100.0)?;
                }
                Ok(())
            }
            Self::Calibrated { space, plain } => write!(f, "{space} {plain}"),
        }
    }
}

/// A named spot ink as a card file defines it.
#[derive(Clone, PartialEq, Debug)]
pub struct SpotInk {
    /// The plate's name.
    pub name: Arc<str>,
    /// What stands for the solid where the ink is not there, 0 to 1.
    pub cmyk: [f64; 4],
    /// The solid on paper as measured, D50, where it is known.
    pub lab: Option<[f64; 3]>,
}

impl SpotInk {
    /// This ink at `tint` (0 to 1), its look being the alternate scaled by the tint.
    pub fn at(&self, tint: f64) -> Colour {
        Colour::Inks {
            tints: vec![(Ink::Spot(Arc::clone(&self.name)), tint)],
            look: Box::new(Colour::Cmyk(self.cmyk.map(|v| v * tint))),
        }
    }
}
