//! # What it checks
//!
//! Whether text keeps the card's safe margin from every side of the trim, and whether rules, boxes, symbols and
//! pictures that are not meant to run off the card keep it too. What reaches the trim, or stops within 1/64 in of
//! it, is taken as meant to bleed and left to the check `bleed`. Text past the trim is an error.
//!
//! # Why it matters
//!
//! The knife may stand up to a thirty-second of an inch off. Text close to the edge is cut into, and a frame close
//! to it shows at a glance that the card is cut crooked.
//!
//! # What to do
//!
//! Move it inwards by the stated amount, or let a background run off the card with full bleed.
//!
//! # Source of the limit
//!
//! The card's own safe margin; 1/8 in at the least and better 1/4 in is common practice. Trim tolerance ± 1/32 to
//! 1/16 in: common practice.

use super::bleed::{TOUCHES, is_inked, past};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Mark, Place};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "safe-margin",
    title: "Matter too close to the trim",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("safe_margin.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let trim = cx.card.format.trim();
    let mut found = Vec::new();
    for text in cx.texts() {
        for (side, over) in past(text.element.bounds, trim) {
            found.extend(judge(cx, "text", side, -over, || text.place(cx.card)));
        }
    }
    for (face, element) in cx.marks() {
        let what = match &element.mark {
            Mark::Path(path) if is_inked(path) => "a drawn mark",
            Mark::Picture(_) => "a picture",
            Mark::Path(_) | Mark::Text(_) | Mark::Shading => continue,
        };
        for (side, over) in past(element.bounds, trim).into_iter().filter(|(_, over)| *over < -TOUCHES) {
            found.extend(judge(cx, what, side, -over, || cx.card.place(face.side, element.bounds, element.object)));
        }
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, what: &str, side: &str, gap: Length, place: impl FnOnce() -> Place) -> Option<Finding> {
    let safe = cx.card.format.safe;
    let reading = Limit::AtLeast(Quantity::Length(safe)).broken_by(Quantity::Length(gap))?;
    let advice = format!("move it inwards by {} from the {side}", safe - gap);
    if gap < Length::ZERO {
        let message = format!("{what} runs {} past the trim at the {side} and will be cut off", -gap);
        return Some(CHECK.finding(place(), message, advice).with(reading).at(Severity::Error));
    }
    let message = format!("{what} stands {gap} from the trim at the {side}; {}", reading.limit());
    Some(CHECK.finding(place(), message, advice).with(reading))
}
