use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length as a whole number of 1/360 µm.
///
/// 1 mm = 360 000, 1 pt (1/72 in) = 127 000, 1 in = 9 144 000 units, all exact (1 in = 25.4 mm by definition,
/// international yard and pound agreement of 1959). The range is about ± 25 000 km.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// Units in a millimetre.
    pub const PER_MM: i64 = 360_000;
    /// Units in a point of 1/72 inch.
    pub const PER_PT: i64 = 127_000;
    /// Units in an inch.
    pub const PER_IN: i64 = 9_144_000;

    /// `n` units of 1/360 µm.
    pub const fn units(n: i64) -> Self {
        Self(n)
    }

    /// `n` whole millimetres, exact.
    pub const fn mm(n: i64) -> Self {
        Self(n * Self::PER_MM)
    }

    /// `n` whole micrometres, exact.
    pub const fn um(n: i64) -> Self {
        Self(n * Self::PER_MM / 1000)
    }

    /// `n` whole points of 1/72 inch, exact.
    pub const fn pt(n: i64) -> Self {
        Self(n * Self::PER_PT)
    }

    /// `n/d` inches; exact for every `d` that divides 9 144 000, which holds for halves down to 1/64.
    /// A zero `d` counts as one.
    pub const fn inches(n: i64, d: i64) -> Self {
        let d = if d == 0 { 1 } else { d };
        Self(n * Self::PER_IN / d)
    }

    /// The nearest length to `v` millimetres. NaN gives zero, and the range is kept.
    pub fn from_mm(v: f64) -> Self {
        Self::nearest(v * 360_000.0)
    }

    /// The nearest length to `v` points of 1/72 inch. NaN gives zero, and the range is kept.
    pub fn from_pt(v: f64) -> Self {
        Self::nearest(v * 127_000.0)
    }

    /// The nearest length to `v` inches. NaN gives zero, and the range is kept.
    pub fn from_in(v: f64) -> Self {
        Self::nearest(v * 9_144_000.0)
    }

    #[expect(clippy::cast_possible_truncation, reason = "`as` keeps the range and turns NaN into zero, as documented")]
    fn nearest(v: f64) -> Self {
        Self(v.round() as i64)
    }

    /// The count of 1/360 µm.
    pub const fn get(self) -> i64 {
        self.0
    }

    /// In millimetres.
    pub fn to_mm(self) -> f64 {
        self.0 as f64 / 360_000.0
    }

    /// In points of 1/72 inch.
    pub fn to_pt(self) -> f64 {
        self.0 as f64 / 127_000.0
    }

    /// In inches.
    pub fn to_in(self) -> f64 {
        self.0 as f64 / 9_144_000.0
    }

    /// Without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Half of it, rounded towards zero by at most one unit.
    pub const fn half(self) -> Self {
        Self(self.0 / 2)
    }

    /// How many whole times `other` goes into this; zero where `other` is not positive.
    pub const fn times(self, other: Self) -> i64 {
        if other.0 <= 0 { 0 } else { self.0.div_euclid(other.0) }
    }

    /// Whether the two differ by no more than `tolerance`.
    pub fn near(self, other: Self, tolerance: Self) -> bool {
        (self - other).abs() <= tolerance
    }

    /// This length scaled by `factor` and rounded to the nearest unit.
    pub fn scaled(self, factor: f64) -> Self {
        Self::nearest(self.0 as f64 * factor)
    }

    /// In inches as text, at most four decimals, no trailing zeros: `0.125 in`.
    pub fn in_text(self) -> String {
        format!("{} in", trimmed(self.0, Self::PER_IN, 4))
    }

    /// In millimetres as text, at most two decimals, no trailing zeros: `3.18 mm`.
    pub fn mm_text(self) -> String {
        format!("{} mm", trimmed(self.0, Self::PER_MM, 2))
    }
}

/// `units / per` with at most `places` decimals (halves go away from zero) and no trailing zeros.
fn trimmed(units: i64, per: i64, places: u32) -> String {
    let scale = 10_i128.pow(places);
    let scaled = (i128::from(units.abs()) * scale * 2 + i128::from(per)) / (i128::from(per) * 2);
    let sign = if units < 0 && scaled > 0 { "-" } else { "" };
    let (whole, part) = (scaled / scale, scaled % scale);
    let text = format!("{sign}{whole}.{part:0width$}", width = places as usize);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Inches and millimetres together, for people: `0.125 in (3.18 mm)`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.in_text(), self.mm_text())
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}pt", trimmed(self.0, Self::PER_PT, 4))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}

/// Rounds towards zero by less than one unit; dividing by zero gives the length itself.
impl Div<i64> for Length {
    type Output = Self;
    fn div(self, n: i64) -> Self {
        Self(self.0 / if n == 0 { 1 } else { n })
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_millimetres_and_points_meet_exactly() {
        // 1 in = 25.4 mm = 72 pt, by definition.
        assert_eq!(Length::inches(1, 1) * 10, Length::mm(254));
        assert_eq!(Length::inches(1, 1), Length::pt(72));
        assert_eq!(Length::inches(1, 64) * 64, Length::inches(1, 1));
        assert_eq!(Length::from_in(0.125), Length::inches(1, 8));
        assert_eq!(Length::from_mm(25.4), Length::inches(1, 1));
    }

    #[test]
    fn text_has_both_units_and_no_trailing_zeros() {
        assert_eq!(Length::inches(1, 8).to_string(), "0.125 in (3.18 mm)");
        assert_eq!(Length::mm(-3).mm_text(), "-3 mm");
        assert_eq!(Length::units(-1).mm_text(), "0 mm");
    }
}
