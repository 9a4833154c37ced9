//! # What it checks
//!
//! Whether every ink that touches the trim, or stops within 1/64 in of it, runs past it as far as the card's bleed
//! on that side. Text is left to `safe-margin`, and bare paper needs no bleed. Where no element falls short, the plates
//! are looked at too: what a clip, a mask or a blend leaves of the bleed is what prints.
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

use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, FacePlates, Mark, Paint, PathMark, Pixels};
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
    if found.is_empty() {
        found.extend(cx.card.plates.drawn().flat_map(|plates| on_plates(cx, plates)));
    }
    Outcome::from(found)
}

/// How much ink counts as ink at the trim, in percent of all inks together.
const INKED: f32 = 5.0;
/// How long a stretch of the edge must be before it is told.
const STRETCH: Length = Length::mm(2);

/// Edges where ink lies right inside the trim on the plates and bare paper within the bleed: what clips, masks and blends leave of a bleed
/// that the elements have.
fn on_plates(cx: &Context<'_>, plates: &FacePlates) -> Vec<Finding> {
    let (trim, bleed) = (cx.card.format.trim(), cx.card.format.bleed);
    let pixel = Length::from_in(1.0 / plates.ppi);
    let totals = plates.totals();
    let inked = |x: usize, y: usize| totals.get(y * plates.size.0 + x).is_some_and(|t| *t >= INKED);
    let mut found = Vec::new();
    for side in ["left", "right", "bottom", "top"] {
        // A line of pixels along the edge, one pixel inside, and the strip of bleed outside, one pixel off its end.
        let (edge, strip) = strips(trim, bleed, pixel, side);
        let (edge, strip) = (plates.inside(edge), plates.inside(strip));
        let upright = matches!(side, "left" | "right");
        let (lines, ink) = if upright { (strip.across, edge.across) } else { (strip.down, edge.down) };
        // How many lines of pixels outside are inked from the trim on; `None` where nothing lies at the trim, or all of them are.
        let there = |along: usize| {
            let at = |n: usize| if upright { inked(n, along) } else { inked(along, n) };
            let outwards: &mut dyn Iterator<Item = usize> = match side {
                "left" | "top" => &mut (lines.0..lines.1).rev(),
                _ => &mut (lines.0..lines.1),
            };
            let inked = outwards.take_while(|n| at(*n)).count();
            ((ink.0..ink.1).any(at) && inked < lines.1 - lines.0).then_some(inked)
        };
        let (from, to) = if upright { edge.down } else { edge.across };
        let short: Vec<(usize, usize)> = (from..to).filter_map(|n| Some((n, there(n)?))).collect();
        let (Some((first, _)), Some((last, _))) = (short.first(), short.last()) else { continue };
        let lengths = |n: usize| pixel * i64::try_from(n).unwrap_or(0);
        if lengths(short.len()) < STRETCH {
            continue;
        }
        let least = lengths(short.iter().map(|(_, inked)| *inked).min().unwrap_or(0));
        let reading = Limit::AtLeast(Quantity::Length(bleed)).read(Quantity::Length(least));
        let part = (*first, last + 1);
        let pixels =
            if upright { Pixels { across: edge.across, down: part } } else { Pixels { across: part, down: edge.down } };
        let rect = plates.rect(pixels);
        let message = format!(
            "ink lies at the trim at the {side} and runs {least} past it before bare paper, over a length of up to {}; {}",
            rect.width().max(rect.height()),
            reading.limit()
        );
        let missing = bleed - least;
        let advice =
            format!("extend what is printed there by {missing} at the {side}; look at clips, masks and blends");
        found.push(CHECK.finding(cx.card.place(plates.side, rect, None), message, advice).with(reading));
    }
    found
}

/// The line inside the trim and the strip outside it, at a side; corners are left out.
fn strips(trim: Rect, bleed: Length, pixel: Length, side: &str) -> (Rect, Rect) {
    let (x0, x1, y0, y1) = (trim.x0, trim.x1, trim.y0, trim.y1);
    let (near, far) = (pixel * 3, bleed - pixel * 2);
    match side {
        "left" => (Rect::new(x0 + pixel, y0, x0 + near, y1), Rect::new(x0 - far, y0, x0, y1)),
        "right" => (Rect::new(x1 - near, y0, x1 - pixel, y1), Rect::new(x1, y0, x1 + far, y1)),
        "bottom" => (Rect::new(x0, y0 + pixel, x1, y0 + near), Rect::new(x0, y0 - far, x1, y0)),
        _ => (Rect::new(x0, y1 - near, x1, y1 - pixel), Rect::new(x0, y1, x1, y1 + far)),
    }
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
