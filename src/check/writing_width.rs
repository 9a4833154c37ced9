//! # What it checks
//!
//! How wide the boxes of the player lines are that people write in: the name, the initials, the score of each hole,
//! and the sums (the halves, the total, handicap and net). On a grid that reads down a box's width is that of the
//! player's column, and a name is written along the longer side of its box.
//!
//! # Why it matters
//!
//! A hole's score is one figure and sometimes two; a half's sum has two. Figures that do not fit are written across
//! the rules and added up wrongly.
//!
//! # What to do
//!
//! Give the narrow column the width of one that has more than it needs, leave out a column nobody fills in, or
//! choose a wider card.
//!
//! # Source of the limit
//!
//! - Five handwritten characters to the inch, so 0.2 in for a figure (published forms-design rule): the limit for a
//!   hole.
//! - 0.3 in for a sum or initials, two characters written a little closer, and 1 in for a name: judgement.

use super::{Bound, Check, Context, Outcome, Severity};
use crate::card::{ColumnRole, Direction, RowRole};
use crate::unit::{Length, Limit, Quantity, Rect};

pub(super) const CHECK: Check = Check {
    id: "writing-width",
    title: "Boxes too narrow to write in",
    severity: Severity::Warning,
    bounds: &[HOLE, SUM, NAME],
    doc: include_str!("writing_width.rs"),
    run,
};

const HOLE: Bound = Bound::same(
    "writing-width.hole",
    "width of the box for a hole's score",
    Quantity::Length(Length::inches(1, 5)),
    "five handwritten characters to the inch (published forms-design rule)",
);
const SUM: Bound = Bound::same(
    "writing-width.sum",
    "width of the box for a sum or initials",
    Quantity::Length(Length::inches(3, 10)),
    "judgement: two characters at five to the inch, a little closer",
);
const NAME: Bound = Bound::same(
    "writing-width.name",
    "width of the box for a player's name",
    Quantity::Length(Length::inches(1, 1)),
    "judgement",
);

fn run(cx: &Context<'_>) -> Outcome {
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    if grid.players() == 0 {
        return Outcome::skipped("the grid has no player lines");
    }
    let mut found = Vec::new();
    for (column, bound, what) in
        grid.columns.iter().enumerate().filter_map(|(n, c)| asked(&c.role).map(|(b, w)| (n, b, w)))
    {
        let written = |row: usize| grid.rows.get(row).is_some_and(|r| matches!(r.role, RowRole::Player(_)));
        let boxes = grid.cells.iter().filter(|c| c.column == column && written(c.row));
        let wide = |rect: Rect| match (grid.direction, bound == &NAME) {
            (Direction::Across, _) => rect.width(),
            (Direction::Down { .. }, false) => rect.height(),
            (Direction::Down { .. }, true) => rect.height().max(rect.width()),
        };
        // All boxes of a column are alike on a printed card; the narrowest speaks for it.
        let Some(cell) = boxes.min_by_key(|c| wide(c.rect)) else { continue };
        let measured = Quantity::Length(wide(cell.rect));
        let Some(reading) = Limit::AtLeast(cx.limit(bound)).broken_by(measured) else { continue };
        let mut place = cx.card.place(grid.side, cell.rect, None);
        place.what = Some(what);
        let short = cx.length(bound) - wide(cell.rect);
        let message = format!("the box to write in is {measured} wide; {}", reading.limit());
        found.push(CHECK.finding(place, message, format!("give the column {short} more")).with(reading));
    }
    Outcome::from(found)
}

/// The limit for a column, and its name.
fn asked(role: &ColumnRole) -> Option<(&'static Bound, String)> {
    let sum = |name: &str| Some((&SUM, format!("{name} column")));
    match role {
        ColumnRole::Hole(n) => Some((&HOLE, format!("hole {n}"))),
        ColumnRole::Name => Some((&NAME, "name column".to_owned())),
        ColumnRole::Half(crate::card::Half::Out) => sum("Out"),
        ColumnRole::Half(crate::card::Half::In) => sum("In"),
        ColumnRole::Initials => sum("initials"),
        ColumnRole::Total => sum("Total"),
        ColumnRole::Handicap => sum("handicap"),
        ColumnRole::Net => sum("net"),
        ColumnRole::Member | ColumnRole::Rating | ColumnRole::Free(_) => None,
    }
}
