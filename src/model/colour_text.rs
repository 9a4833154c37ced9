//! What a colour text says, before its ink is looked up.

use super::ColourText;
use crate::unit::MeasureError;

/// A colour text taken apart; tints run from 0 to 1.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum ColourWords<'a> {
    /// Bare paper.
    White,
    /// Process black at a tint.
    Black(f64),
    /// Process tints: cyan, magenta, yellow, black.
    Process([f64; 4]),
    /// An ink of `[inks]` at a tint.
    Ink {
        /// Its name.
        name: &'a str,
        /// How much of it.
        tint: f64,
    },
}

const HINT: &str = "write an ink of [inks] (\"heath\", \"heath 40 %\"), \"black\", \"black 60 %\", \"white\" for bare paper, or \
    process tints in percent (\"C 60 M 0 Y 80 K 20\")";

impl ColourText {
    /// Takes the text apart.
    ///
    /// # Errors
    /// Names what is wrong and what to write.
    pub(crate) fn words(&self) -> Result<ColourWords<'_>, MeasureError> {
        colour_words(&self.0)
    }
}

/// Takes a colour text apart.
pub(crate) fn colour_words(text: &str) -> Result<ColourWords<'_>, MeasureError> {
    let wrong = |message: String| MeasureError { message, hint: HINT.to_owned() };
    let text = text.trim();
    if text.is_empty() {
        return Err(wrong("a colour is missing".to_owned()));
    }
    if let Some(percents) = process(text) {
        if percents.iter().all(|v| (0.0..=100.0).contains(v)) {
            return Ok(ColourWords::Process(percents.map(|v| v / 100.0)));
        }
        return Err(wrong(format!("`{text}` has a tint that is not between 0 and 100 %")));
    }
    let (name, tint) = match text.strip_suffix('%') {
        Some(rest) => {
            let rest = rest.trim_end();
            let at = rest.rfind(|c: char| !(c.is_ascii_digit() || c == '.')).map_or(0, |at| at + 1);
            // `at` may lie inside a character of more bytes only if `rfind` found one there; step to its end.
            let at = (at..=rest.len()).find(|at| rest.is_char_boundary(*at)).unwrap_or(rest.len());
            let (name, number) = rest.split_at(at);
            let percent = number.parse::<f64>().ok().filter(|p| (0.0..=100.0).contains(p));
            let Some(percent) = percent.filter(|_| !name.ends_with(['-', '−'])) else {
                return Err(wrong(format!("`{text}` has a tint that is not between 0 and 100 %")));
            };
            (name.trim_end(), percent / 100.0)
        }
        None => (text, 1.0),
    };
    match name {
        "" => Err(wrong(format!("`{text}` names no ink"))),
        "white" if text == "white" => Ok(ColourWords::White),
        "white" => Err(wrong(format!("`{text}`: white is bare paper and has no tints"))),
        "black" => Ok(ColourWords::Black(tint)),
        name => Ok(ColourWords::Ink { name, tint }),
    }
}

/// Process tints in percent, such as `C 60 M 0 Y 80 K 20` or `K60`, each ink at most once. `None` where the text is not of this form.
fn process(text: &str) -> Option<[f64; 4]> {
    let mut tints = [None; 4];
    let mut rest = text;
    while !rest.is_empty() {
        let mut letters = rest.chars();
        let slot = match letters.next()? {
            'C' => 0,
            'M' => 1,
            'Y' => 2,
            'K' => 3,
            _ => return None,
        };
        rest = letters.as_str().trim_start();
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(rest.len());
        let (number, after) = rest.split_at(end);
        let value: f64 = number.parse().ok()?;
        let tint = tints.get_mut(slot).filter(|t| t.is_none())?;
        *tint = Some(value);
        rest = after.trim_start_matches([' ', ',', '%', '\t']);
    }
    Some(tints.map(|t| t.unwrap_or(0.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_as_people_write_them() {
        let ink = |name, tint| ColourWords::Ink { name, tint };
        for (text, want) in [
            ("heath", ink("heath", 1.0)),
            ("heath 40 %", ink("heath", 0.4)),
            ("heath 40%", ink("heath", 0.4)),
            ("Pale Heath 12.5 %", ink("Pale Heath", 0.125)),
            ("bruyère 5 %", ink("bruyère", 0.05)),
            ("black", ColourWords::Black(1.0)),
            ("black 60 %", ColourWords::Black(0.6)),
            ("white", ColourWords::White),
            ("C 60 M 0 Y 80 K 20", ColourWords::Process([0.6, 0.0, 0.8, 0.2])),
            ("C60 M0 Y80 K20", ColourWords::Process([0.6, 0.0, 0.8, 0.2])),
            ("K 50", ColourWords::Process([0.0, 0.0, 0.0, 0.5])),
        ] {
            assert_eq!(colour_words(text), Ok(want), "{text}");
        }
    }

    #[test]
    fn bad_colours_say_what_to_write() {
        for text in ["", "40 %", "heath 140 %", "heath -5 %", "white 40 %", "C 120 M 0 Y 0 K 0", "heath %", "é%"] {
            let fault = colour_words(text).unwrap_err();
            assert!(fault.hint.contains("[inks]"), "{text}: {fault}");
        }
    }
}
