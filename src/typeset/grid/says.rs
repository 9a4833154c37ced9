//! What each cell says.

use super::rows::{GridColumn, GridRow};
use crate::card::{ColumnRole, Half, RowRole};
use crate::scorecard::{ForWho, PrintedTotals, Rating, Scorecard, Who};

/// What the grid's cells are filled from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Facts<'a> {
    pub(super) numbers: &'a Scorecard,
    pub(super) pace: &'a [String],
}

impl Facts<'_> {
    /// The text of a cell; empty for a box to write in.
    pub(super) fn text(&self, row: &GridRow, columns: &[GridColumn], column: usize) -> String {
        let Some(at) = columns.get(column) else { return String::new() };
        let role = &at.ask.role;
        match (&row.ask.role, role) {
            (RowRole::Holes, ColumnRole::Name) if at.ask.heading.is_empty() => row.ask.label.clone(),
            (RowRole::Holes, _) => at.ask.heading.clone(),
            (_, ColumnRole::Name) => row.ask.label.clone(),
            (RowRole::Free(_), _) => free(row, columns, column),
            (RowRole::Pace, ColumnRole::Hole(n)) => hole(self.pace, *n).cloned().unwrap_or_default(),
            (RowRole::Tee(_) | RowRole::Combo(_), ColumnRole::Rating) => ratings(self.ratings(&row.ask.role)),
            (role_of_row, _) => self.number(role_of_row, role),
        }
    }

    fn ratings(&self, row: &RowRole) -> &ForWho<Rating> {
        const NONE: &ForWho<Rating> = &Vec::new();
        match row {
            RowRole::Tee(n) => self.numbers.tees.get(*n).map_or(NONE, |t| &t.ratings),
            RowRole::Combo(n) => self.numbers.combos.get(*n).map_or(NONE, |c| &c.ratings),
            _ => NONE,
        }
    }

    fn number(&self, row: &RowRole, column: &ColumnRole) -> String {
        let card = self.numbers;
        match row {
            RowRole::Tee(n) => card
                .tees
                .get(*n)
                .and_then(|t| Line::new(&t.lengths, t.printed).at(column))
                .map(text)
                .unwrap_or_default(),
            RowRole::Combo(n) => {
                let Some(combo) = card.combos.get(*n) else { return String::new() };
                let lengths = combo_lengths(card, *n);
                Line::new(&lengths, combo.printed).at(column).map(text).unwrap_or_default()
            }
            RowRole::Par(who) => of(&card.par, *who)
                .and_then(|(n, par)| Line::new(par, printed(card, n)).at(column))
                .map(text)
                .unwrap_or_default(),
            RowRole::ParBoth => self.pair(&card.par, column, true),
            RowRole::StrokeIndex(who) => of(&card.stroke_index, *who)
                .and_then(|(_, list)| Line::holes_only(list).at(column))
                .map(text)
                .unwrap_or_default(),
            RowRole::StrokeIndexBoth => self.pair(&card.stroke_index, column, false),
            RowRole::Holes | RowRole::Player(_) | RowRole::Pace | RowRole::Free(_) => String::new(),
        }
    }

    /// Men first, women after a slash where they differ.
    fn pair(&self, list: &ForWho<Vec<Option<i64>>>, column: &ColumnRole, summed: bool) -> String {
        let value = |who| {
            let (n, values) = of(list, who)?;
            let line = if summed { Line::new(values, printed(self.numbers, n)) } else { Line::holes_only(values) };
            line.at(column)
        };
        match (value(Who::Men), value(Who::Women)) {
            (Some(men), Some(women)) if men != women => format!("{men}/{women}"),
            (Some(one), _) | (None, Some(one)) => text(one),
            (None, None) => String::new(),
        }
    }
}

fn text(number: i64) -> String {
    number.to_string()
}

/// One gender's entry, or everyone's, and its index.
pub(super) fn of<T>(list: &ForWho<T>, who: Who) -> Option<(usize, &T)> {
    let find = |who: Who| list.iter().enumerate().find(|(_, (w, _))| *w == who).map(|(n, (_, v))| (n, v));
    find(who).or_else(|| find(Who::Everyone))
}

fn printed(card: &Scorecard, par: usize) -> PrintedTotals {
    card.par_printed.get(par).copied().unwrap_or_default()
}

/// The lengths of a combination: as stated, or from the tees that its holes play from.
pub(super) fn combo_lengths(card: &Scorecard, combo: usize) -> Vec<Option<i64>> {
    let Some(combo) = card.combos.get(combo) else { return Vec::new() };
    if !combo.lengths.is_empty() {
        return combo.lengths.clone();
    }
    let length = |(n, name): (usize, &String)| {
        let tee = card.tees.iter().find(|t| t.name == *name)?;
        tee.lengths.get(n).copied().flatten()
    };
    combo.tees.iter().enumerate().map(length).collect()
}

/// Values by hole and their totals; totals that are not typed are computed, and left out where a hole is missing.
struct Line<'a> {
    values: &'a [Option<i64>],
    printed: PrintedTotals,
    summed: bool,
}

impl<'a> Line<'a> {
    fn new(values: &'a [Option<i64>], printed: PrintedTotals) -> Self {
        Self { values, printed, summed: true }
    }

    fn holes_only(values: &'a [Option<i64>]) -> Self {
        Self { values, printed: PrintedTotals::default(), summed: false }
    }

    fn at(&self, column: &ColumnRole) -> Option<i64> {
        let all = self.values.len();
        match column {
            ColumnRole::Hole(n) => hole(self.values, *n).copied().flatten(),
            ColumnRole::Half(Half::Out) => self.printed.out.or_else(|| self.sum(0, all.min(9))),
            ColumnRole::Half(Half::In) => self.printed.inward.or_else(|| self.sum(9, all)),
            ColumnRole::Total => self.printed.total.or_else(|| self.sum(0, all)),
            _ => None,
        }
    }

    fn sum(&self, from: usize, to: usize) -> Option<i64> {
        let part = self.values.get(from..to).filter(|p| self.summed && !p.is_empty())?;
        part.iter().copied().sum()
    }
}

fn hole<T>(values: &[T], number: u8) -> Option<&T> {
    values.get(usize::from(number).checked_sub(1)?)
}

/// Cells of a free row stand in the columns from hole 1 on.
fn free(row: &GridRow, columns: &[GridColumn], column: usize) -> String {
    let first = columns.iter().position(|c| c.ask.role == ColumnRole::Hole(1)).unwrap_or(0);
    let at = column.checked_sub(first).and_then(|n| row.cells.get(n));
    at.cloned().unwrap_or_default()
}

/// `73.1/134`, or `M 69.3/122  W 75.4/133` where they go by gender.
fn ratings(list: &ForWho<Rating>) -> String {
    let one = |(who, rating): &(Who, Rating)| {
        let text = rating_text(rating);
        match who {
            Who::Everyone => text,
            Who::Men => format!("M {text}"),
            Who::Women => format!("W {text}"),
        }
    };
    list.iter().map(one).collect::<Vec<_>>().join("  ")
}

pub(in super::super) fn rating_text(rating: &Rating) -> String {
    match (rating.course, rating.slope) {
        (Some(course), Some(slope)) => format!("{course:.1}/{slope}"),
        (Some(course), None) => format!("{course:.1}"),
        (None, Some(slope)) => format!("–/{slope}"),
        (None, None) => String::new(),
    }
}
