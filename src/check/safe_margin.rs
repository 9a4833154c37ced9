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
use crate::fault::Source;
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "safe-margin",
    title: "Matter too close to the trim",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("safe_margin.rs"),
    run,
};

/// Something too close to one side of the trim.
struct Close {
    side: &'static str,
    gap: Length,
    finding: Finding,
}

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
            Mark::Path(_) | Mark::Text(_) | Mark::Shading(_) => continue,
        };
        for (side, over) in past(element.bounds, trim).into_iter().filter(|(_, over)| *over < -TOUCHES) {
            let place = || cx.card.place(face.side, element.bounds, element.object);
            found.extend(judge(cx, what, side, -over, place));
        }
    }
    Outcome::from(nearest(found))
}

/// Of what one block of the card file puts too close to one side, the nearest speaks for all: moved by its amount, all
/// of it is clear.
fn nearest(found: Vec<Close>) -> Vec<Finding> {
    let mut told: Vec<Close> = Vec::new();
    for close in found {
        match told.iter_mut().find(|other| other.speaks_for(&close)) {
            Some(first) if close.gap < first.gap => *first = close,
            Some(_) => {}
            None => told.push(close),
        }
    }
    told.into_iter().map(|close| close.finding).collect()
}

impl Close {
    fn speaks_for(&self, other: &Self) -> bool {
        let by = |c: &Self| (c.side, c.finding.severity, c.finding.place.side, c.finding.place.panel);
        let source = &self.finding.place.source;
        by(self) == by(other) && matches!(source, Source::Span(_)) && *source == other.finding.place.source
    }
}

fn judge(
    cx: &Context<'_>,
    what: &str,
    side: &'static str,
    gap: Length,
    place: impl FnOnce() -> Place,
) -> Option<Close> {
    let safe = cx.card.format.safe;
    let reading = Limit::AtLeast(Quantity::Length(safe)).broken_by(Quantity::Length(gap))?;
    let advice = format!("move it inwards by {} from the {side}", safe - gap);
    let (severity, message) = if gap < Length::ZERO {
        (Severity::Error, format!("{what} runs {} past the trim at the {side} and will be cut off", -gap))
    } else {
        (CHECK.severity, format!("{what} stands {gap} from the trim at the {side}; {}", reading.limit()))
    };
    Some(Close { side, gap, finding: CHECK.finding(place(), message, advice).with(reading).at(severity) })
}
