//! # What it checks
//!
//! The weight of every printed line after all scaling: strokes, the strokes of letters that are not filled, and filled
//! rectangles, turned or not, that are so thin that they are lines. Lines in one ink, and lines that are bare paper or
//! need several inks, have limits of their own. Hairlines, and lines of no width at all, are errors.
//!
//! # Why it matters
//!
//! A line thinner than a plate can hold prints broken or not at all. Lines of several inks show coloured edges as
//! soon as the plates are off by a hair, and bare-paper lines close up. A stroke of width 0 is one dot wide on
//! whatever device draws it: visible on a screen, gone on a plate.
//!
//! # What to do
//!
//! Draw the line heavier, or print it in one ink.
//!
//! # Source of the limit
//!
//! - 0.25 pt for bare-paper and multi-ink lines, and that thin filled rectangles count as lines: Ghent Workgroup
//!   2022 specification.
//! - 0.2 pt for one ink in offset, 0.25 pt on uncoated paper and digital presses: common practice.
//! - 0.1 pt as the least whatever the ink: common practice, three dots of a plate of 2400 dots to the inch.
//! - That a width of 0 is the thinnest line of the device: ISO 32000-1, 8.4.3.2; that a fill without area is too:
//!   8.5.3.3.

use super::frame::{Inking, bars, line_place};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Mark, Paint, Painted};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "rule-weight",
    title: "Rules too thin to hold",
    severity: Severity::Warning,
    bounds: &[ONE_INK, MULTI_INK, LEAST],
    doc: include_str!("rule_weight.rs"),
    run,
};

/// Hundredths of a point.
const fn pt100(n: i64) -> Quantity {
    Quantity::Points(Length::units(Length::PER_PT * n / 100))
}

const ONE_INK: Bound = Bound {
    name: "rule-weight.one-ink",
    what: "thinnest line in one ink",
    coated: pt100(20),
    uncoated: pt100(25),
    digital: pt100(25),
    source: "practice",
};
const MULTI_INK: Bound = Bound::same(
    "rule-weight.multi-ink",
    "thinnest line left as bare paper or in several inks",
    pt100(25),
    "Ghent Workgroup 2022",
);
const LEAST: Bound = Bound::same(
    "rule-weight.least",
    "thinnest line of all; below it is an error",
    pt100(10),
    "practice: three dots of a plate of 2400 to the inch",
);

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for (face, element) in cx.marks() {
        match &element.mark {
            Mark::Path(path) => {
                if let Some(stroke) = &path.stroke {
                    found.extend(judge(cx, face, element, &stroke.paint, stroke.width));
                }
                if let (Some(fill), Some(weight)) = (&path.fill, bars(&path.outline).thinnest) {
                    found.extend(judge(cx, face, element, fill, weight));
                }
            }
            // Letters that are stroked and not filled are made of lines.
            Mark::Text(run) if run.painted == Painted::Stroke && !run.text.trim().is_empty() => {
                if let Some(stroke) = &run.stroke {
                    found.extend(judge(cx, face, element, &stroke.paint, stroke.width));
                }
            }
            Mark::Text(_) | Mark::Picture(_) | Mark::Shading(_) => {}
        }
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, face: &Face, element: &Element, paint: &Paint, weight: Length) -> Option<Finding> {
    let place = || line_place(cx.card, face, element);
    let inking = Inking::of(paint);
    let bound = if inking == Inking::One { &ONE_INK } else { &MULTI_INK };
    let limit = Limit::AtLeast(cx.limit(bound));
    if weight <= Length::ZERO {
        let message = "a line of width 0 prints one dot wide on whatever device draws it, or not at all";
        let reading = limit.read(Quantity::Points(Length::ZERO));
        let advice = format!("give it {} or more", cx.limit(bound));
        return Some(CHECK.finding(place(), message, advice).with(reading).at(Severity::Error));
    }
    let measured = Quantity::Points(weight);
    if let Some(reading) = Limit::AtLeast(cx.limit(&LEAST)).broken_by(measured) {
        let message = format!("a hairline is {measured} thick; {} whatever its ink", reading.limit());
        let advice = format!("draw it {} or heavier", cx.limit(bound));
        return Some(CHECK.finding(place(), message, advice).with(reading).at(Severity::Error));
    }
    let reading = limit.broken_by(measured)?;
    let message = format!("a line {} is {measured} thick; {}", inking.words(), reading.limit());
    let advice = match inking {
        Inking::One => format!("draw it {} or heavier", cx.limit(bound)),
        _ => format!("draw it {} or heavier, or print it in one ink", cx.limit(bound)),
    };
    Some(CHECK.finding(place(), message, advice).with(reading))
}
