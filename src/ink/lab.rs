use palette::chromatic_adaptation::AdaptIntoUnclamped;
use palette::color_difference::{Ciede2000, Wcag21RelativeContrast};
use palette::convert::FromColorUnclamped;
use palette::white_point::{D50, D65};
use palette::{LinSrgb, Srgb, Xyz};

/// CIE L*a*b* under D50, absolute: white paper has its own value, not 100/0/0.
#[derive(Clone, Copy, PartialEq, Debug, Default)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Green (negative) to red.
    pub a: f64,
    /// Blue (negative) to yellow.
    pub b: f64,
}

impl Lab {
    /// From its three numbers.
    pub const fn new(l: f64, a: f64, b: f64) -> Self {
        Self { l, a, b }
    }

    /// The point `t` of the way to `other` on a straight line; 0 is here, 1 is there.
    pub fn mix(self, other: Self, t: f64) -> Self {
        let between = |from: f64, to: f64| from + (to - from) * t;
        Self::new(between(self.l, other.l), between(self.a, other.a), between(self.b, other.b))
    }

    pub(super) fn palette(self) -> palette::Lab<D50, f64> {
        palette::Lab::new(self.l, self.a, self.b)
    }

    pub(super) fn to_xyz(self) -> Xyz<D50, f64> {
        Xyz::from_color_unclamped(self.palette())
    }

    pub(super) fn from_xyz(xyz: Xyz<D50, f64>) -> Self {
        let lab = palette::Lab::<D50, f64>::from_color_unclamped(xyz);
        Self::new(lab.l, lab.a, lab.b)
    }

    /// Linear sRGB, adapted from D50 to D65 by Bradford and not clipped, since saturated inks lie outside sRGB.
    pub(super) fn to_linear(self) -> LinSrgb<f64> {
        let d65: Xyz<D65, f64> = self.to_xyz().adapt_into_unclamped();
        LinSrgb::from_color_unclamped(d65)
    }

    pub(super) fn from_linear(rgb: LinSrgb<f64>) -> Self {
        let d65 = Xyz::<D65, f64>::from_color_unclamped(rgb);
        Self::from_xyz(d65.adapt_into_unclamped())
    }

    /// Of an sRGB colour with components from 0 to 1.
    pub fn from_srgb([r, g, b]: [f64; 3]) -> Self {
        Self::from_linear(Srgb::new(r, g, b).into_linear())
    }
}

impl From<[f64; 3]> for Lab {
    fn from([l, a, b]: [f64; 3]) -> Self {
        Self::new(l, a, b)
    }
}

/// `55.0/-37.1/-50.0`.
impl std::fmt::Display for Lab {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:.1}/{:.1}/{:.1}", self.l, self.a, self.b)
    }
}

/// sRGB of a printed colour for a screen, components from 0 to 1, clipped to what a screen shows.
pub fn srgb(lab: Lab) -> [f64; 3] {
    let rgb: Srgb<f64> = Srgb::from_linear(lab.to_linear());
    [rgb.red, rgb.green, rgb.blue].map(|v| v.clamp(0.0, 1.0))
}

/// Contrast ratio of two printed colours, 1 to 21, in either order: (L1 + 0.05) / (L2 + 0.05) of WCAG 2.2 with L the relative
/// luminance of linear sRGB. It is not clipped to sRGB, so that a luminance is that of the ink and not of its nearest screen
/// colour; paper counts as the white it is, so that nothing on paper of L* 95 reaches 21.
pub fn contrast(one: Lab, other: Lab) -> f64 {
    one.to_linear().relative_contrast(other.to_linear())
}

/// Contrast ratio of two sRGB colours with components from 0 to 1 (WCAG 2.2, success criterion 1.4.3).
pub fn wcag_contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    // Relative luminance with the weights that WCAG prints, which are rounded; exact ones differ in the third decimal.
    let luminance = |[r, g, b]: [f64; 3]| {
        let linear: LinSrgb<f64> = Srgb::new(r, g, b).into_linear();
        0.2126 * linear.red + 0.7152 * linear.green + 0.0722 * linear.blue
    };
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// How far apart two colours are in L*, 0 to 100.
pub fn lightness_difference(one: Lab, other: Lab) -> f64 {
    (one.l - other.l).abs()
}

/// CIEDE2000 colour difference (Sharma, Wu, Dalal 2005; CIE 142-2001), weights 1.
pub fn delta_e2000(one: Lab, other: Lab) -> f64 {
    one.palette().difference(other.palette())
}
