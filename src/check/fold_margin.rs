//! # What it checks
//!
//! What stands at a fold: text within the margin of it or across it, edges of pictures within the margin, and boxes
//! to write in that the fold runs through.
//!
//! Fine, because meant: fills and rules that run across, pictures that run across with both edges clear of the
//! margin, and pictures that end exactly on the fold because they fill their panel.
//!
//! # Why it matters
//!
//! Folding cracks the ink of small letters, and the fold itself wanders by up to a sixteenth of an inch: what
//! stands close to it turns up on the other panel. Nobody can write across a ridge.
//!
//! # What to do
//!
//! Move it away from the fold by the stated amount, or let the fold run between two columns of the grid.
//!
//! # Source of the limit
//!
//! 3/32 in from a fold: common practice. Fold tolerance ± 1/32 to 1/16 in: common practice. A picture's edge within
//! 0.1 mm of the fold counts as being on it: judgement.

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Face, Mark, Place};
use crate::unit::{Length, Limit, Quantity, Rect};

pub(super) const CHECK: Check = Check {
    id: "fold-margin",
    title: "Matter at a fold",
    severity: Severity::Warning,
    bounds: &[MARGIN],
    doc: include_str!("fold_margin.rs"),
    run,
};

const MARGIN: Bound = Bound::same(
    "fold-margin.margin",
    "room on either side of a fold",
    Quantity::Length(Length::inches(3, 32)),
    "practice",
);

/// An edge this close to a fold stands on it.
const ON_IT: Length = Length::um(100);

fn run(cx: &Context<'_>) -> Outcome {
    let format = &cx.card.format;
    if format.fold.panels.len() < 2 {
        return Outcome::skipped("the card does not fold");
    }
    let mut found = Vec::new();
    for text in cx.texts() {
        for fold in format.fold.lines(text.face.side) {
            found.extend(near(cx, "text", text.element.bounds, fold, || text.place(cx.card)));
        }
    }
    for (face, element) in cx.marks().filter(|(_, e)| matches!(e.mark, Mark::Picture(_))) {
        for fold in format.fold.lines(face.side) {
            let place = || cx.card.place(face.side, element.bounds, element.object);
            found.extend(picture_edge(cx, element.bounds, fold, place));
        }
    }
    found.extend(cut_boxes(cx));
    Outcome::from(found)
}

/// Text within the margin of a fold, or across it.
fn near(cx: &Context<'_>, what: &str, bounds: Rect, fold: Length, place: impl FnOnce() -> Place) -> Option<Finding> {
    let margin = cx.length(&MARGIN);
    // Room on the nearer side; negative by how much it reaches across.
    let (left, right) = (fold - bounds.x1, bounds.x0 - fold);
    let gap = left.max(right);
    let reading = Limit::AtLeast(cx.limit(&MARGIN)).broken_by(Quantity::Length(gap))?;
    let side = if left >= right { "left" } else { "right" };
    let advice = format!("move it {} to the {side}", margin - gap);
    let at = fold.in_text();
    let message = if gap < Length::ZERO {
        format!("{what} runs across the fold at {at} from the left")
    } else {
        format!("{what} stands {gap} from the fold at {at} from the left; {}", reading.limit())
    };
    Some(CHECK.finding(place(), message, advice).with(reading))
}

/// An edge of a picture within the margin of a fold, but not on it.
fn picture_edge(cx: &Context<'_>, bounds: Rect, fold: Length, place: impl FnOnce() -> Place) -> Option<Finding> {
    let margin = cx.length(&MARGIN);
    let (edge, gap) = [("left", bounds.x0), ("right", bounds.x1)]
        .map(|(e, x)| (e, (x - fold).abs()))
        .into_iter()
        .min_by_key(|e| e.1)?;
    let reading = Limit::AtLeast(cx.limit(&MARGIN)).broken_by(Quantity::Length(gap)).filter(|_| gap > ON_IT)?;
    let at = fold.in_text();
    let message =
        format!("a picture's {edge} edge stands {gap} from the fold at {at} from the left; {}", reading.limit());
    let advice = format!("end it on the fold, or keep that edge {} further from it", margin - gap);
    Some(CHECK.finding(place(), message, advice).with(reading))
}

/// Boxes to write in that a fold runs through.
fn cut_boxes(cx: &Context<'_>) -> Vec<Finding> {
    let Some(grid) = &cx.card.grid else { return Vec::new() };
    let Some(face) = cx.card.face(grid.side) else { return Vec::new() };
    let written = |row: usize| grid.rows.get(row).is_some_and(|r| r.role.is_written());
    let mut found = Vec::new();
    for cell in grid.cells.iter().filter(|c| written(c.row)) {
        for fold in cx.card.format.fold.lines(face.side) {
            let inside = (fold - cell.rect.x0).min(cell.rect.x1 - fold);
            if inside > ON_IT {
                found.push(cut_box(cx, face, cell.rect, fold, inside));
            }
        }
    }
    found
}

fn cut_box(cx: &Context<'_>, face: &Face, rect: Rect, fold: Length, inside: Length) -> Finding {
    let message = format!("the fold at {} from the left runs through a box to write in", fold.in_text());
    let advice = format!("shift the columns by {inside} so that a rule lies on the fold");
    CHECK.finding(cx.card.place(face.side, rect, None), message, advice)
}
