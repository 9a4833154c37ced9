//! # What it checks
//!
//! As notes: which rows of the grid could be merged or moved, and how much room that gives every player's line:
//!
//! - two rows of pars: one row does, with a slash where they differ;
//! - two rows of stroke indexes that differ on few holes: one row with a slash;
//! - a combination of tees on a row of its own: marks (circle, diamond, arrow) in the tee rows say the same;
//! - ratings in a column or rows of the grid: a small table elsewhere on the card does.
//!
//! The gain is the height of the row that goes, shared by the player lines. On a grid that reads down a player's line
//! is a column, and the gain is its width.
//!
//! # Why it matters
//!
//! The printed rows and the players share one height. Each row saved lets everybody write larger figures.
//!
//! # What to do
//!
//! Choose those that suit the club; gains add up. Nothing here is wrong with the card.
//!
//! # Source of the limit
//!
//! Common practice for all four. Up to 6 differing stroke indexes count as few: judgement.

use super::numbers::{self, holes, name_of};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{ColumnRole, Direction, GridPlan, Row, RowRole};
use crate::scorecard::{ForWho, Scorecard, Who};
use crate::unit::{Length, Quantity};

pub(super) const CHECK: Check = Check {
    id: "row-economy",
    title: "Rows that could give players more room",
    severity: Severity::Note,
    bounds: &[FEW],
    doc: include_str!("row_economy.rs"),
    run,
};

const FEW: Bound = Bound::same(
    "row-economy.few",
    "on how many holes stroke indexes may differ to be merged with a slash",
    Quantity::Count(6),
    "practice; the number is judgement",
);

/// How many kinds of marks can tell combinations apart in the tee rows: circle, diamond, arrow.
const MARKS: usize = 3;

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    if grid.players() == 0 {
        return Outcome::skipped("the grid has no player lines that could gain by it");
    }
    let economy = Economy { cx, numbers, grid };
    let mut found = Vec::new();
    found.extend(economy.pars());
    found.extend(economy.stroke_indexes());
    found.extend(economy.combinations());
    found.extend(economy.rating_rows());
    found.extend(economy.rating_column());
    Outcome::from(found)
}

struct Economy<'a> {
    cx: &'a Context<'a>,
    numbers: &'a Scorecard,
    grid: &'a GridPlan,
}

impl Economy<'_> {
    /// The note that a row could go, with what that gives.
    fn row(&self, row: &Row, why: &str, how: &str) -> Finding {
        let mut place = numbers::place(self.cx.card, self.numbers, &row.role, None);
        let name = if row.label.trim().is_empty() { name_of(self.numbers, &row.role) } else { row.label.clone() };
        place.what = Some(format!("row \"{name}\""));
        // Along the short way of the card, whichever way the grid reads (see `Direction`).
        let freed = row.rect.height();
        let players = self.grid.players();
        let each = freed / i64::try_from(players).unwrap_or(1);
        let room = match (self.grid.direction, players) {
            (Direction::Across, 1) => "to the player's line".to_owned(),
            (Direction::Across, n) => format!("in height to each of the {n} player lines"),
            (Direction::Down { .. }, 1) => "to the player's column".to_owned(),
            (Direction::Down { .. }, n) => format!("in width to each of the {n} players' columns"),
        };
        CHECK.finding(place, format!("{why}; without this row of {freed} there is {each} more {room}"), how)
    }

    /// The grid's own rows for men and for women.
    fn pair(&self, role: fn(Who) -> RowRole) -> Option<(&Row, &Row)> {
        let row = |who| self.grid.row(&role(who)).and_then(|n| self.grid.rows.get(n));
        row(Who::Men).zip(row(Who::Women))
    }

    fn pars(&self) -> Option<Finding> {
        let (_, women) = self.pair(RowRole::Par)?;
        let differ = differing(&self.numbers.par)?;
        let (why, how) = if differ.is_empty() {
            ("the two rows of pars are equal".to_owned(), "print one row of pars for everyone".to_owned())
        } else {
            let at = holes(&differ);
            let why = format!("the two rows of pars differ on {at} only");
            (why, format!("print one row of pars with a slash on {at}, men first"))
        };
        Some(self.row(women, &why, &how))
    }

    fn stroke_indexes(&self) -> Option<Finding> {
        let (_, women) = self.pair(RowRole::StrokeIndex)?;
        let differ = differing(&self.numbers.stroke_index)?;
        let count = Quantity::Count(i64::try_from(differ.len()).unwrap_or(i64::MAX));
        if count.value() > self.cx.number(&FEW) {
            return None;
        }
        let (why, how) = if differ.is_empty() {
            ("the two rows of stroke indexes are equal".to_owned(), "print one row for everyone".to_owned())
        } else {
            let at = holes(&differ);
            let why = format!("the two rows of stroke indexes differ on {at} only");
            (why, format!("print one row with a slash on {at}, men first"))
        };
        Some(self.row(women, &why, &how))
    }

    /// Combinations on rows of their own whose tees all have rows, as far as there are marks to tell them apart.
    fn combinations(&self) -> Vec<Finding> {
        let on_row = |n: usize| self.grid.row(&RowRole::Combo(n)).and_then(|at| self.grid.rows.get(at));
        let marked = (0..self.numbers.combos.len()).filter(|n| on_row(*n).is_none()).count();
        let rows = self.numbers.combos.iter().enumerate().filter_map(|(n, combo)| Some((combo, on_row(n)?)));
        let shown = |name: &String| {
            let tee = self.numbers.tees.iter().position(|t| t.name == *name);
            tee.is_some_and(|tee| self.grid.row(&RowRole::Tee(tee)).is_some())
        };
        let all_shown = rows.filter(|(combo, _)| !combo.tees.is_empty() && combo.tees.iter().all(shown));
        let how = "mark each of its holes in the row of the tee it plays from with a circle, a diamond or an arrow, and say \
                   below the grid what the mark means; its totals and ratings can stand there too";
        let why = |name: &str| format!("\"{name}\" repeats the lengths of its tees");
        all_shown.take(MARKS.saturating_sub(marked)).map(|(combo, row)| self.row(row, &why(&combo.name), how)).collect()
    }

    /// Rows that hold nothing but ratings.
    fn rating_rows(&self) -> Vec<Finding> {
        let rating = |row: &&Row| {
            let label = row.label.to_lowercase();
            matches!(row.role, RowRole::Free(_)) && (label.contains("rating") || label.contains("slope"))
        };
        let how = "print the ratings as a small table off the grid";
        self.grid.rows.iter().filter(rating).map(|row| self.row(row, "ratings take a row of the grid", how)).collect()
    }

    /// A column gives no height; it gives width to the boxes of the holes on its panel.
    fn rating_column(&self) -> Option<Finding> {
        let column = self.grid.columns.iter().find(|c| c.role == ColumnRole::Rating)?;
        let (card, side) = (self.cx.card, self.grid.side);
        let panel = card.panel_at(side, column.rect);
        let beside =
            |c: &&crate::card::Column| matches!(c.role, ColumnRole::Hole(_)) && card.panel_at(side, c.rect) == panel;
        let boxes = self.grid.columns.iter().filter(beside).count();
        let mut place = card.place(side, column.rect, None);
        place.what = Some("column of the ratings".to_owned());
        let freed = column.rect.width();
        let each: Length = freed / i64::try_from(boxes).unwrap_or(1);
        let gain = match boxes {
            0 => "that much is free for names".to_owned(),
            n => format!("that is {each} more for each of the {n} holes beside it, or for names"),
        };
        let message = format!("ratings take a column of {freed} on the grid; {gain}. It gives no height to write in");
        Some(CHECK.finding(place, message, "print the ratings as a small table off the grid"))
    }
}

/// The holes (from 1) on which men's and women's numbers differ; `None` where there are not both, whole and alike
/// in length.
fn differing(numbers: &ForWho<Vec<Option<i64>>>) -> Option<Vec<usize>> {
    let of = |who: Who| numbers.iter().find(|(w, _)| *w == who).map(|(_, list)| list);
    let (men, women) = of(Who::Men).zip(of(Who::Women))?;
    let whole = |list: &[Option<i64>]| list.iter().all(Option::is_some);
    if men.len() != women.len() || !whole(men) || !whole(women) {
        return None;
    }
    Some((1..).zip(men.iter().zip(women)).filter(|(_, (a, b))| a != b).map(|(hole, _)| hole).collect())
}
