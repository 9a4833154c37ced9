//! # What it checks
//!
//! The size of every text, in points and by the height of its letters: the x-height where it has lower-case
//! letters, the height of its capitals or figures where it has none. Text in one ink, text left as bare paper in a
//! printed ground, and text that needs several inks have limits of their own. Any text below the least size is an
//! error.
//!
//! # Why it matters
//!
//! Two faces of one point size may differ by a third in the height of their letters, and golfers read at arm's
//! length in a moving cart. Bare-paper letters fill in when ink spreads; letters of several inks blur when the
//! plates do not meet exactly.
//!
//! # What to do
//!
//! Set the text larger, choose a face with taller lower-case letters, or print it in one ink on bare paper.
//!
//! # Source of the limit
//!
//! - 8 pt (offset) and 5 pt (digital) for bare-paper and multi-ink text: Ghent Workgroup 2022 specification,
//!   sheetfed offset and digital. It sets none for one ink.
//! - 5 pt for one ink, 6 pt on uncoated paper, which spreads ink more: common practice (5 to 6 pt).
//! - Letter height 1.2 mm, and 0.9 mm for one ink and digital presses: the x-heights that Regulation (EU) No
//!   1169/2011, Article 13 (2) and (3), asks of usual and of small packs, taken over as a yardstick.
//! - 4 pt as the least: judgement.

use super::frame::{Inking, SeenText};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "text-size",
    title: "Type too small to read or to print",
    severity: Severity::Warning,
    bounds: &[ONE_INK, REVERSED, MULTI_INK, ONE_INK_X, REVERSED_X, MULTI_INK_X, LEAST],
    doc: include_str!("text_size.rs"),
    run,
};

const fn pt(n: i64) -> Quantity {
    Quantity::Points(Length::pt(n))
}

const fn um(n: i64) -> Quantity {
    Quantity::Length(Length::um(n))
}

const GWG: &str = "Ghent Workgroup 2022, sheetfed offset | digital";
const EU: &str = "Regulation (EU) No 1169/2011, Article 13 (2) and (3), as a yardstick";

const ONE_INK: Bound = Bound {
    name: "text-size.one-ink",
    what: "smallest type in one ink",
    coated: pt(5),
    uncoated: pt(6),
    digital: pt(5),
    source: "practice: 5 to 6 pt",
};
const REVERSED: Bound =
    Bound::by_press("text-size.reversed", "smallest type left as bare paper in a printed ground", (pt(8), pt(5)), GWG);
const MULTI_INK: Bound = Bound::by_press("text-size.multi-ink", "smallest type in several inks", (pt(8), pt(5)), GWG);
const ONE_INK_X: Bound = Bound::same("text-size.one-ink-height", "lowest letters in one ink", um(900), EU);
const REVERSED_X: Bound =
    Bound::by_press("text-size.reversed-height", "lowest letters left as bare paper", (um(1200), um(900)), EU);
const MULTI_INK_X: Bound =
    Bound::by_press("text-size.multi-ink-height", "lowest letters in several inks", (um(1200), um(900)), EU);
const LEAST: Bound = Bound::same("text-size.least", "smallest type of all; below it is an error", pt(4), "judgement");

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.texts().filter_map(|text| judge(cx, &text)).collect::<Vec<_>>())
}

/// The size first; where it holds, the height of the letters.
fn judge(cx: &Context<'_>, text: &SeenText<'_>) -> Option<Finding> {
    let inking = text.inking();
    let (size, height) = match inking {
        Inking::One => (&ONE_INK, &ONE_INK_X),
        Inking::Paper => (&REVERSED, &REVERSED_X),
        Inking::Several => (&MULTI_INK, &MULTI_INK_X),
    };
    let measured = Quantity::Points(text.run.size);
    let inked = inking.words();
    if let Some(reading) = Limit::AtLeast(cx.limit(&LEAST)).broken_by(measured) {
        let message = format!("text {inked} is {measured} high; {} whatever its ink", reading.limit());
        let advice = format!("set it in {} or more", cx.limit(size));
        return Some(CHECK.finding(text.place(cx.card), message, advice).with(reading).at(Severity::Error));
    }
    if let Some(reading) = Limit::AtLeast(cx.limit(size)).broken_by(measured) {
        let message = format!("text {inked} is {measured}; {}", reading.limit());
        let more = Quantity::Points(cx.length(size) - text.run.size);
        let advice = match inking {
            Inking::One => format!("set it {more} larger"),
            _ => format!("set it {more} larger, or print it in one ink on bare paper"),
        };
        return Some(CHECK.finding(text.place(cx.card), message, advice).with(reading));
    }
    let lower = text.run.text.chars().any(char::is_lowercase);
    let (part, letters) = if lower {
        ("the lower-case letters", text.run.x_height?)
    } else {
        ("the capitals and figures", text.run.cap_height?)
    };
    let reading = Limit::AtLeast(cx.limit(height)).broken_by(Quantity::Length(letters))?;
    let message = format!("{part} of text {inked} are {letters} high; {}", reading.limit());
    let needed = text.run.size.scaled(cx.length(height).to_mm() / letters.to_mm().max(0.01));
    let advice = format!("set this face in {} or more", Quantity::Points(needed));
    Some(CHECK.finding(text.place(cx.card), message, advice).with(reading))
}
