//! # What it checks
//!
//! The weight of every printed line: strokes, and filled rectangles that are so thin that they are lines. Lines in
//! one ink, and lines that are bare paper or need several inks, have limits of their own. A stroke of no width at
//! all is an error.
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
//! - That a width of 0 is the thinnest line of the device: ISO 32000-1, 8.4.3.2.

use kurbo::{BezPath, PathEl, Shape};

use super::frame::Inking;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Mark, Paint, PathMark, Place};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "rule-weight",
    title: "Rules too thin to hold",
    severity: Severity::Warning,
    bounds: &[ONE_INK, MULTI_INK],
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

/// A filled rectangle is a line where it is at most this thick and at least five times as long.
const LINE: Length = Length::pt(2);

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for (face, element) in cx.marks() {
        match &element.mark {
            Mark::Path(path) => {
                if let Some(stroke) = &path.stroke {
                    found.extend(judge(cx, face, element, &stroke.paint, stroke.width));
                }
                if let (Some(fill), Some(weight)) = (&path.fill, bar(path)) {
                    found.extend(judge(cx, face, element, fill, weight));
                }
            }
            Mark::Text(_) | Mark::Picture(_) | Mark::Shading => {}
        }
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, face: &Face, element: &Element, paint: &Paint, weight: Length) -> Option<Finding> {
    let place = || place(cx, face, element);
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
    let reading = limit.broken_by(measured)?;
    let message = format!("a line {} is {measured} thick; {}", inking.words(), reading.limit());
    let advice = match inking {
        Inking::One => format!("draw it {} or heavier", cx.limit(bound)),
        _ => format!("draw it {} or heavier, or print it in one ink", cx.limit(bound)),
    };
    Some(CHECK.finding(place(), message, advice).with(reading))
}

/// Where a line stands; the rules of the grid belong to the grid and not to one of the rows that they part.
fn place(cx: &Context<'_>, face: &Face, element: &Element) -> Place {
    let mut place = cx.card.place(face.side, element.bounds, element.object);
    let grid = cx.card.grid.as_ref().filter(|g| g.side == face.side);
    if grid.is_some_and(|g| g.bounds.grown(LINE).contains(element.bounds)) {
        place.what = Some("rules of the grid".to_owned());
        let stated = ["grid.rule", "grid"].into_iter().find_map(|path| cx.card.trace.setting(path));
        if let Some(span) = stated {
            place.source = span.clone().into();
        }
    }
    place
}

/// The thickness of a filled rectangle that is a line.
fn bar(path: &PathMark) -> Option<Length> {
    if !upright(&path.outline) {
        return None;
    }
    let bounds = path.outline.bounding_box();
    let (thin, long) = (bounds.width().min(bounds.height()), bounds.width().max(bounds.height()));
    let thin = Length::from_pt(thin);
    (thin <= LINE && Length::from_pt(long) >= thin * 5).then_some(thin)
}

/// Whether an outline is one upright rectangle.
fn upright(outline: &BezPath) -> bool {
    let mut corners = Vec::new();
    for part in outline.elements() {
        match part {
            PathEl::MoveTo(p) if corners.is_empty() => corners.push(*p),
            PathEl::LineTo(p) => corners.push(*p),
            PathEl::ClosePath => {}
            _ => return false,
        }
    }
    if corners.len() == 5 && corners.first() == corners.last() {
        corners.pop();
    }
    let bounds = outline.bounding_box();
    let near = |a: f64, b: f64| (a - b).abs() < 0.001;
    corners.len() == 4
        && corners
            .iter()
            .all(|p| (near(p.x, bounds.x0) || near(p.x, bounds.x1)) && (near(p.y, bounds.y0) || near(p.y, bounds.y1)))
}
