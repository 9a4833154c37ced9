use std::fmt;

use super::{Length, Size};

/// Why a text is not a length or a size; says what is allowed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MeasureError {
    /// What is wrong, without the place.
    pub message: String,
    /// What to write instead.
    pub hint: String,
}

impl MeasureError {
    fn new(message: impl Into<String>, hint: &str) -> Self {
        Self { message: message.into(), hint: hint.to_owned() }
    }
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; {}", self.message, self.hint)
    }
}

impl std::error::Error for MeasureError {}

const LENGTH_HINT: &str = "write a number and a unit: \"1/8 in\", \"3 mm\", \"0.5 pt\", \"4 1/2 in\"";
const SIZE_HINT: &str = "write height x width and a unit: \"6 x 12 in\", \"152.4 x 304.8 mm\", \"4 1/2 x 12 in\"";

/// Longest length that is taken, either sign: 10 m, far past any sheet.
const LONGEST: f64 = 10_000.0;

/// A length such as `1/8 in`, `3 mm`, `0.25pt`, `4 1/2 in`, `-1/16 in` or `2 cm`; the unit is needed, except that
/// a bare `0` is zero. Fractions are exact.
///
/// # Errors
/// Names what is wrong (number, unit, range) and what to write.
pub fn parse_length(text: &str) -> Result<Length, MeasureError> {
    let text = text.trim();
    let (number, unit) = split_unit(text);
    if number.is_empty() {
        return Err(MeasureError::new(format!("`{text}` has no number"), LENGTH_HINT));
    }
    let number =
        parse_number(number).ok_or_else(|| MeasureError::new(format!("`{number}` is not a number"), LENGTH_HINT))?;
    if unit.is_empty() && number.is_zero() {
        return Ok(Length::ZERO);
    }
    number.with_unit(unit, text, LENGTH_HINT)
}

/// A size as the trade writes cards, height x width: `6 x 12 in`, `4.5x12 in`, `152.4 × 304.8 mm`. One unit after the
/// second number serves both; each number may also have its own.
///
/// # Errors
/// Names what is wrong and what to write; both sides must be above zero.
pub fn parse_size(text: &str) -> Result<Size, MeasureError> {
    let text = text.trim();
    let wrong = || MeasureError::new(format!("`{text}` is not a size"), SIZE_HINT);
    let lower = text.to_lowercase();
    let mut halves = lower.split(['x', '×']);
    let (Some(first), Some(second), None) = (halves.next(), halves.next(), halves.next()) else {
        return Err(wrong());
    };
    let (n1, u1) = split_unit(first.trim());
    let (n2, u2) = split_unit(second.trim());
    let (Some(height), Some(width)) = (parse_number(n1), parse_number(n2)) else {
        return Err(wrong());
    };
    let height = height.with_unit(if u1.is_empty() { u2 } else { u1 }, text, SIZE_HINT)?;
    let width = width.with_unit(u2, text, SIZE_HINT)?;
    if height <= Length::ZERO || width <= Length::ZERO {
        return Err(MeasureError::new(format!("`{text}` has a side that is not above zero"), SIZE_HINT));
    }
    Ok(Size::new(width, height))
}

/// A number as a fraction `top / under`, plus whether decimals made it inexact.
struct Number {
    value: f64,
    fraction: Option<(i64, i64)>,
}

impl Number {
    fn is_zero(&self) -> bool {
        self.value.abs() < f64::EPSILON
    }

    fn with_unit(&self, unit: &str, text: &str, hint: &str) -> Result<Length, MeasureError> {
        let per = match unit.to_lowercase().as_str() {
            "in" | "inch" | "inches" | "\"" | "″" => Length::PER_IN,
            "mm" => Length::PER_MM,
            "cm" => Length::PER_MM * 10,
            "m" => Length::PER_MM * 1000,
            "pt" | "point" | "points" => Length::PER_PT,
            "um" | "µm" | "μm" => Length::PER_MM / 1000,
            "" => return Err(MeasureError::new(format!("`{text}` has no unit"), hint)),
            other => {
                let message = format!("`{other}` is not a unit of length here (in, mm, cm, pt, µm)");
                return Err(MeasureError::new(message, hint));
            }
        };
        let length = Length::from_mm(self.value * (per as f64 / Length::PER_MM as f64));
        if length.to_mm().abs() > LONGEST {
            return Err(MeasureError::new(format!("`{text}` is longer than 10 m"), hint));
        }
        match self.fraction {
            Some((top, under)) if under != 0 => top
                .checked_mul(per)
                .map(|n| Length::units(n / under))
                .ok_or_else(|| MeasureError::new(format!("`{text}` is longer than 10 m"), hint)),
            _ => Ok(length),
        }
    }
}

/// Splits `1/8 in` into `1/8` and `in`.
fn split_unit(text: &str) -> (&str, &str) {
    let at = text.find(|c: char| c.is_alphabetic() || matches!(c, '"' | '″')).unwrap_or(text.len());
    let (number, unit) = text.split_at(at);
    (number.trim(), unit.trim())
}

/// `3`, `-2.5`, `1/8`, `4 1/2`, `4-1/2`; decimals with up to six places stay exact.
fn parse_number(text: &str) -> Option<Number> {
    let (sign, body) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (-1_i32, rest.trim_start()),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    if let Some((left, under)) = body.split_once('/') {
        let (whole, top) = match left.trim().rsplit_once([' ', '-']) {
            Some((whole, top)) => (digits(whole.trim())?, digits(top.trim())?),
            None => (0, digits(left.trim())?),
        };
        let under = digits(under.trim()).filter(|u| *u > 0)?;
        let top = i64::from(sign) * whole.checked_mul(under)?.checked_add(top)?;
        return Some(Number { value: top as f64 / under as f64, fraction: Some((top, under)) });
    }
    let (whole, part) = body.split_once('.').unwrap_or((body, ""));
    if whole.is_empty() && part.is_empty() {
        return None;
    }
    let all_digits = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
    if !all_digits(whole) || !all_digits(part) {
        return None;
    }
    let value = body.parse::<f64>().ok().filter(|v| v.is_finite())? * f64::from(sign);
    let fraction = if part.len() <= 6 && whole.len() <= 6 {
        let under = 10_i64.pow(u32::try_from(part.len()).ok()?);
        let top =
            if whole.is_empty() { 0 } else { digits(whole)? } * under + if part.is_empty() { 0 } else { digits(part)? };
        Some((i64::from(sign) * top, under))
    } else {
        None
    };
    Some(Number { value, fraction })
}

/// A plain whole number of at most nine digits.
fn digits(text: &str) -> Option<i64> {
    let fits = !text.is_empty() && text.len() <= 9 && text.bytes().all(|b| b.is_ascii_digit());
    if fits { text.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_people_write() {
        for (text, want) in [
            ("1/8 in", Length::inches(1, 8)),
            ("4 1/2 in", Length::inches(9, 2)),
            ("4-1/2\"", Length::inches(9, 2)),
            ("3 mm", Length::mm(3)),
            ("3mm", Length::mm(3)),
            (".25pt", Length::units(31_750)),
            ("-1/16 in", Length::inches(-1, 16)),
            ("2 cm", Length::mm(20)),
            ("100 µm", Length::um(100)),
            ("0", Length::ZERO),
            ("3.6875 in", Length::inches(59, 16)),
        ] {
            assert_eq!(parse_length(text), Ok(want), "{text}");
        }
    }

    #[test]
    fn bad_lengths_say_what_to_write() {
        for text in
            ["", "in", "3", "three mm", "1/0 in", "3 furlongs", "1e9 mm", "--3 mm", "99999999 m", "NaN mm", "1.2.3 mm"]
        {
            let fault = parse_length(text).unwrap_err();
            assert!(fault.hint.contains("1/8 in"), "{text}: {fault}");
        }
    }

    #[test]
    fn sizes_are_height_by_width() {
        let want = Size::new(Length::inches(12, 1), Length::inches(9, 2));
        for text in ["4.5x12 in", "4.5 x 12 in", "4 1/2 × 12in", "4.5 in x 12 in", "114.3 x 304.8 mm"] {
            assert_eq!(parse_size(text), Ok(want), "{text}");
        }
        for text in ["6 x 12", "6 in", "6 x 12 x 3 in", "0 x 12 in", "-6 x 12 in", "a x b in"] {
            assert!(parse_size(text).is_err(), "{text}");
        }
    }
}
