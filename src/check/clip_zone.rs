//! # What it checks
//!
//! Where carts are used: whether the printed rows that golfers need (hole numbers, tee lengths, combinations, par,
//! stroke index) keep out of the strip that a cart's clip hides.
//!
//! The strip lies along the top of the open card as the cart holds it, on the face that carries the grid. For a
//! grid that reads across, that is the top of the face. For a grid that reads down, the card is held turned, so it
//! is the side at which the grid's top lies.
//!
//! # Why it matters
//!
//! The card stays under the clip all round. A row under it is read eighteen times by pulling the card out, and then
//! the card flies away.
//!
//! # What to do
//!
//! Move the grid down by the stated amount and let the strip carry what nobody needs while playing: the club's
//! name, a tint, a picture.
//!
//! # Source of the limit
//!
//! A clip hides about the top half inch of the open card: common practice.

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Direction, GridPlan, Row, RowRole};
use crate::unit::{Length, Limit, Quantity, Rect};

pub(super) const CHECK: Check = Check {
    id: "clip-zone",
    title: "Needed rows under a cart's clip",
    severity: Severity::Warning,
    bounds: &[DEPTH],
    doc: include_str!("clip_zone.rs"),
    run,
};

const DEPTH: Bound = Bound::same(
    "clip-zone.depth",
    "how far a cart's clip reaches over the open card",
    Quantity::Length(Length::inches(1, 2)),
    "practice",
);

fn run(cx: &Context<'_>) -> Outcome {
    if !cx.card.carts {
        return Outcome::skipped("the card does not say that carts are used");
    }
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    let needed = grid.rows.iter().filter(|row| is_needed(&row.role));
    Outcome::from(needed.filter_map(|row| judge(cx, grid, row)).collect::<Vec<_>>())
}

fn is_needed(role: &RowRole) -> bool {
    match role {
        RowRole::Holes
        | RowRole::Tee(_)
        | RowRole::Combo(_)
        | RowRole::Par(_)
        | RowRole::ParBoth
        | RowRole::StrokeIndex(_)
        | RowRole::StrokeIndexBoth => true,
        RowRole::Player(_) | RowRole::Pace | RowRole::Free(_) => false,
    }
}

/// The row's text as it is printed; its rectangle where no text of it was seen.
fn printed(cx: &Context<'_>, grid: &GridPlan, row: &Row) -> Rect {
    let texts = cx.texts().filter(|t| t.face.side == grid.side && row.rect.holds(t.element.bounds.centre()));
    texts.map(|t| t.element.bounds).reduce(Rect::union).unwrap_or(row.rect)
}

fn judge(cx: &Context<'_>, grid: &GridPlan, row: &Row) -> Option<Finding> {
    let trim = cx.card.format.trim();
    let text = printed(cx, grid, row);
    let (edge, gap) = match grid.direction {
        Direction::Across => ("top", trim.y1 - text.y1),
        Direction::Down { top_at_left: true } => ("left side, which is its top in the cart,", text.x0 - trim.x0),
        Direction::Down { top_at_left: false } => ("right side, which is its top in the cart,", trim.x1 - text.x1),
    };
    let reading = Limit::AtLeast(cx.limit(&DEPTH)).broken_by(Quantity::Length(gap))?;
    let mut place = cx.card.place(grid.side, row.rect, None);
    place.what.get_or_insert_with(|| format!("row \"{}\"", row.label));
    let message =
        format!("a needed row stands {gap} from the {edge} of the open card, under a cart's clip; {}", reading.limit());
    let advice = format!("move the grid away from that edge by {}", cx.length(&DEPTH) - gap);
    Some(CHECK.finding(place, message, advice).with(reading))
}
