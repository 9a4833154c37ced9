use lopdf::Object;

use crate::unit::{Length, Rect};

/// `length` in points as a PDF number: the fewest decimals (six at most) that lie within a quarter of a unit of it, so that every
/// reader rounds to the same length, however it treats halves; no exponent, no trailing zeros. Six are enough since half a millionth
/// of a point is a sixteenth of a unit.
pub fn decimal(length: Length) -> String {
    let (units, per) = (i128::from(length.get()), i128::from(Length::PER_PT));
    let mut scale = 1_i128;
    for places in 0..=6_usize {
        let scaled = nearest(units * scale, per);
        if places == 6 || (scaled * per - units * scale).abs() * 4 <= scale {
            return spell(scaled, scale, places);
        }
        scale *= 10;
    }
    String::from("0")
}

/// A plain number with at most `places` decimals and no trailing zeros; what is not finite becomes 0.
pub(super) fn plain(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return String::from("0");
    }
    let text = format!("{value:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" || text.is_empty() { String::from("0") } else { text.to_owned() }
}

/// A box as four numbers: left, bottom, right, top. Whole points are integers; others are reals, which `lopdf` keeps as `f32`, to
/// about 1/10 000 of a point on the largest sheets.
pub fn rect_object(rect: Rect) -> Object {
    Object::Array([rect.x0, rect.y0, rect.x1, rect.y1].map(length_object).to_vec())
}

/// A length in points as an object.
#[expect(clippy::cast_possible_truncation, reason = "the writer knows no wider real than f32")]
pub(super) fn length_object(length: Length) -> Object {
    if length.get() % Length::PER_PT == 0 {
        Object::Integer(length.get() / Length::PER_PT)
    } else {
        Object::Real(length.to_pt() as f32)
    }
}

/// A plain number as an object.
#[expect(clippy::cast_possible_truncation, reason = "the writer knows no wider real than f32")]
pub(super) fn real(value: f64) -> Object {
    if value.fract().abs() < f64::EPSILON && value.abs() < 1e9 {
        Object::Integer(value as i64)
    } else {
        Object::Real(value as f32)
    }
}

/// `a / b` to the nearest, halves away from zero; `b` is positive.
fn nearest(a: i128, b: i128) -> i128 {
    (a.abs() * 2 + b) / (b * 2) * a.signum()
}

fn spell(scaled: i128, scale: i128, places: usize) -> String {
    let sign = if scaled < 0 { "-" } else { "" };
    let (whole, part) = (scaled.abs() / scale, scaled.abs() % scale);
    if part == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part:0places$}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Reads digits alone, as a reader of PDF would, and rounds once.
    fn read(text: &str) -> i128 {
        let (sign, digits) = text.strip_prefix('-').map_or((1, text), |t| (-1, t));
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        let scale = 10_i128.pow(u32::try_from(part.len()).unwrap());
        let all: i128 = format!("{whole}{part}").parse().unwrap();
        sign * nearest(all * 127_000, scale)
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back_as_the_same_length(units in -40_000_000_000_i64..40_000_000_000) {
            let text = decimal(Length::units(units));
            prop_assert_eq!(read(&text), i128::from(units));
            prop_assert!(text.bytes().all(|b| b.is_ascii_digit() || b == b'.' || b == b'-'));
            prop_assert!(!text.contains('.') || text.ends_with(|last| ('1'..='9').contains(&last)));
        }
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!(decimal(Length::inches(1, 8)), "9");
        assert_eq!(decimal(Length::pt(-1).half()), "-0.5");
        assert_eq!(decimal(Length::units(1)), "0.000008");
        // 72 / 25.4 = 2.8346457 by definition; five decimals would be 4.3e-6 off, more than half a unit.
        assert_eq!(decimal(Length::mm(1)), "2.834646");
        assert_eq!(plain(0.0, 5), "0");
        assert_eq!(plain(-0.000_000_1, 5), "0");
        assert_eq!(plain(100.0, 0), "100");
    }
}
