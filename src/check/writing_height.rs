//! # What it checks
//!
//! How high the boxes of each player are between their rules, as the grid is read. On a grid that reads down, where
//! a player has a column and each hole a line, it is the lowest of these lines.
//!
//! # Why it matters
//!
//! People write these figures standing, with a short pencil, in the wind. Under a quarter of an inch the figures
//! run into the rules.
//!
//! # What to do
//!
//! Give the lines the room of a row that can be merged or moved (the notes of `row-economy` say which and how much
//! each gives), print fewer player lines, or choose a taller card.
//!
//! # Source of the limit
//!
//! - Ruled paper for handwriting: narrow 1/4 in, college 9/32 in, wide 11/32 in (published stationery rulings);
//!   printed forms: three lines an inch (published forms-design rule).
//! - Cards are often tighter: under 1/4 in is a warning and under 0.20 in an error here (judgement).

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Direction, RowRole};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "writing-height",
    title: "Player lines too low to write in",
    severity: Severity::Warning,
    bounds: &[EASY, LEAST],
    doc: include_str!("writing_height.rs"),
    run,
};

const EASY: Bound = Bound::same(
    "writing-height.easy",
    "height of a player line",
    Quantity::Length(Length::inches(1, 4)),
    "narrow ruling of US writing paper, 1/4 in (published stationery rulings); judgement",
);
const LEAST: Bound = Bound::same(
    "writing-height.least",
    "height of a player line; below it is an error",
    Quantity::Length(Length::inches(1, 5)),
    "judgement",
);

fn run(cx: &Context<'_>) -> Outcome {
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    let mut found = Vec::new();
    for (index, row) in grid.rows.iter().enumerate() {
        let RowRole::Player(number) = row.role else { continue };
        let cells = grid.cells.iter().filter(|c| c.row == index).map(|c| c.rect);
        let down = matches!(grid.direction, Direction::Down { .. });
        let high = |rect: crate::unit::Rect| if down { rect.width() } else { rect.height() };
        let height = cells.map(high).min().unwrap_or_else(|| high(row.rect));
        let mut place = cx.card.place(grid.side, row.rect, None);
        place.what = Some(format!("player {}", number + 1));
        found.extend(judge(cx, place, height, down));
    }
    if grid.players() == 0 {
        return Outcome::skipped("the grid has no player lines");
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, place: crate::card::Place, height: Length, down: bool) -> Option<Finding> {
    let measured = Quantity::Length(height);
    let (limit, severity) = [(&LEAST, Severity::Error), (&EASY, CHECK.severity)]
        .map(|(bound, severity)| (Limit::AtLeast(cx.limit(bound)), severity))
        .into_iter()
        .find(|(limit, _)| limit.broken_by(measured).is_some())?;
    let message =
        format!("{} {height} high; {limit}", if down { "a hole's line to write in is" } else { "a player's line is" });
    let short = cx.length(&EASY) - height;
    let advice = if down {
        format!("find {short} for each hole's line: leave out a sum nobody fills in, or choose a longer card")
    } else {
        format!("find {short} for each line: merge or move a row, or print fewer lines")
    };
    Some(CHECK.finding(place, message, advice).with(limit.read(measured)).at(severity))
}
