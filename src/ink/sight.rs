use std::fmt;

use palette::LinSrgb;

use super::Lab;

/// How a golfer sees colours.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Sight {
    /// All three kinds of cones.
    Normal,
    /// Without the long-wave cones (protanopia): red darkens.
    Protan,
    /// Without the middle-wave cones (deuteranopia): red and green meet.
    Deutan,
}

impl Sight {
    /// All three, the common one first.
    pub const ALL: [Self; 3] = [Self::Normal, Self::Protan, Self::Deutan];

    /// What becomes of linear sRGB: Machado, Oliveira and Fernandes (2009), severity 1.
    const fn matrix(self) -> [[f64; 3]; 3] {
        match self {
            Self::Normal => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            Self::Protan => [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
            Self::Deutan => [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
        }
    }
}

/// `normal`, `protan`, `deutan`.
impl fmt::Display for Sight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Normal => "normal",
            Self::Protan => "protan",
            Self::Deutan => "deutan",
        })
    }
}

/// The colour that someone of normal sight would have to see to see what `sight` sees. The matrix works on linear sRGB that
/// is not clipped, so that two inks outside sRGB stay apart as far as they are.
pub fn as_seen(lab: Lab, sight: Sight) -> Lab {
    if sight == Sight::Normal {
        return lab;
    }
    let rgb = lab.to_linear();
    let [red, green, blue] = sight.matrix().map(|[r, g, b]| r * rgb.red + g * rgb.green + b * rgb.blue);
    Lab::from_linear(LinSrgb::new(red, green, blue))
}
