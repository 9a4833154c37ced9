//! # What it checks
//!
//! What is printed under the boxes of the player lines: the sum of all ink there, in percent, and that no picture, pattern or blend lies there.
//!
//! # Why it matters
//!
//! Pencil is gray. On a tint of more than about a seventh it stops being legible, and a solid tint takes pencil badly.
//!
//! # What to do
//!
//! Make the tint lighter, or leave the boxes as bare paper and tint only the name cells or every other hole.
//!
//! # Source of the limit
//!
//! About 15 % and less under writing: common practice.

use super::ground::{Ground, grounds};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::GridPlan;
use crate::unit::{Limit, Quantity, Rect};

pub(super) const CHECK: Check = Check {
    id: "tint-under-writing",
    title: "Tints too dark to write on",
    severity: Severity::Warning,
    bounds: &[TINT],
    doc: include_str!("tint_under_writing.rs"),
    run,
};

const TINT: Bound = Bound::same(
    "tint-under-writing.ink",
    "sum of all ink under a box to write in",
    Quantity::Percent(15.0),
    "practice: about 15 % and less",
);

fn run(cx: &Context<'_>) -> Outcome {
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    let Some(face) = cx.card.face(grid.side) else {
        return Outcome::skipped("the face with the grid is not there");
    };
    if grid.players() == 0 {
        return Outcome::skipped("the grid has no player lines");
    }
    let mut found = Vec::new();
    for (index, row) in grid.rows.iter().enumerate().filter(|(_, row)| row.role.is_written()) {
        let mut told: Vec<Ground> = Vec::new();
        for cell in grid.cells.iter().filter(|c| c.row == index) {
            for ground in grounds(face, face.elements.len(), cell.rect) {
                if !told.contains(&ground) {
                    found.extend(judge(cx, grid, cell.rect, &row.label, &ground));
                    told.push(ground);
                }
            }
        }
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, grid: &GridPlan, rect: Rect, label: &str, ground: &Ground) -> Option<Finding> {
    let mut place = cx.card.place(grid.side, rect, None);
    place.what = Some(if label.is_empty() { "player lines".to_owned() } else { format!("player line \"{label}\"") });
    let colour = match ground {
        Ground::Flat(colour) if colour.is_paper() => return None,
        Ground::Flat(colour) => colour,
        Ground::Unclear(what) => {
            let message = format!("{what} lies under the boxes to write in; nobody can say how dark it is");
            return Some(CHECK.finding(place, message, "leave these boxes as bare paper or a light flat tint"));
        }
    };
    let Some(total) = colour.total_ink() else {
        let message = format!("{colour} lies under the boxes to write in and has no ink of its own to measure");
        return Some(CHECK.finding(place, message, "state the tint as process or spot ink"));
    };
    let reading = Limit::AtMost(cx.limit(&TINT)).broken_by(Quantity::Percent(total))?;
    let message =
        format!("{colour} lies under the boxes to write in, {} of ink; {}", reading.measured(), reading.limit());
    let share = cx.number(&TINT) / total * 100.0;
    let advice = format!("bring the tint down to {share:.0} % of what it is, or leave the boxes as bare paper");
    Some(CHECK.finding(place, message, advice).with(reading))
}
