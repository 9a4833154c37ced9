//! # What it checks
//!
//! Whether every ink that touches the trim, or stops within 1/64 in of it, runs past it as far as the card's bleed
//! on that side. Text is left to `safe-margin`, and bare paper needs no bleed.
//!
//! # Why it matters
//!
//! A stack of sheets shifts a little under the knife. Where the ink stops at the trim, every second card shows a
//! white sliver along its edge.
//!
//! # What to do
//!
//! Extend the fill or picture past the trim by the whole bleed, and let the page's boxes hold it; or pull it back
//! inside the safe margin so that the white edge is meant.
//!
//! # Source of the limit
//!
//! The card's own bleed. No standard sets one: 1/8 in or 3 mm is common practice, and the two differ, so the unit
//! stays as stated. A shortfall of up to 0.02 mm counts as rounding of the file (judgement).

use super::{Check, Context, Outcome, Severity};
use crate::card::{Element, Mark, Paint, PathMark};
use crate::unit::{Length, Limit, Quantity, Rect};

pub(super) const CHECK: Check = Check {
    id: "bleed",
    title: "Ink at the trim without bleed",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("bleed.rs"),
    run,
};

/// Ink this close to the trim is meant to reach it.
pub(super) const TOUCHES: Length = Length::inches(1, 64);
/// What the rounding of coordinates in a file may take away.
const ROUNDING: Length = Length::um(20);

fn run(cx: &Context<'_>) -> Outcome {
    let trim = cx.card.format.trim();
    let bleed = cx.card.format.bleed;
    let limit = Limit::AtLeast(Quantity::Length(bleed));
    let mut found = Vec::new();
    for (face, element) in cx.marks().filter(|(_, e)| is_ground(e)) {
        for (side, over) in past(element.bounds, trim) {
            if over < -TOUCHES || over >= bleed - ROUNDING {
                continue;
            }
            let there = over.max(Length::ZERO);
            let reading = limit.read(Quantity::Length(there));
            let message = format!("ink that touches the trim at the {side} runs {there} past it; {limit}");
            let advice = format!("extend it by {} at the {side}, or pull it back inside the safe margin", bleed - over);
            let place = cx.card.place(face.side, element.bounds, element.object);
            found.push(CHECK.finding(place, message, advice).with(reading));
        }
    }
    Outcome::from(found)
}

/// How far bounds run past each side of the trim; negative where they stay inside.
pub(super) fn past(bounds: Rect, trim: Rect) -> [(&'static str, Length); 4] {
    [
        ("left", trim.x0 - bounds.x0),
        ("right", bounds.x1 - trim.x1),
        ("bottom", trim.y0 - bounds.y0),
        ("top", bounds.y1 - trim.y1),
    ]
}

/// Whether an element lays ink that may run to the trim: anything but text and bare paper.
pub(super) fn is_ground(element: &Element) -> bool {
    match &element.mark {
        Mark::Text(_) => false,
        Mark::Picture(_) | Mark::Shading(_) => true,
        Mark::Path(path) => is_inked(path),
    }
}

/// Whether a path lays any ink.
pub(super) fn is_inked(path: &PathMark) -> bool {
    let inked = |paint: &Paint| paint.flat().is_none_or(|colour| !colour.is_paper());
    path.fill.as_ref().is_some_and(inked) || path.stroke.as_ref().is_some_and(|s| inked(&s.paint))
}
