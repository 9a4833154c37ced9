use super::roles::whole;
use crate::card::{ColumnRole, GridPlan, Half, RowRole};
use crate::scorecard::{Combo, PrintedTotals, Rating, Scorecard, Tee, Who};

/// The scorecard's numbers as the cells of a plan state them; what does not read is `None`.
pub(super) fn read(plan: &GridPlan) -> Scorecard {
    let holes = plan.columns.iter().filter(|c| matches!(c.role, ColumnRole::Hole(_))).count();
    let mut card = Scorecard { holes, ..Scorecard::default() };
    for (n, row) in plan.rows.iter().enumerate() {
        let line = Line { plan, row: n, holes };
        match &row.role {
            RowRole::Tee(_) => {
                let (name, ratings) = named(&row.label, &line.text(&ColumnRole::Rating));
                card.tees.push(Tee { name, lengths: line.holes(0), printed: line.totals(0), ratings });
            }
            RowRole::Combo(_) => {
                let (name, ratings) = named(&row.label, &line.text(&ColumnRole::Rating));
                let lengths = line.holes(0);
                let tees = played(&card.tees, &lengths);
                card.combos.push(Combo { name, tees, lengths, printed: line.totals(0), ratings });
            }
            RowRole::Par(who) => {
                card.par.push((*who, line.holes(0)));
                card.par_printed.push(line.totals(0));
            }
            RowRole::ParBoth => {
                for (at, who) in [Who::Men, Who::Women].into_iter().enumerate() {
                    card.par.push((who, line.holes(at)));
                    card.par_printed.push(line.totals(at));
                }
            }
            RowRole::StrokeIndex(who) => card.stroke_index.push((*who, line.holes(0))),
            RowRole::StrokeIndexBoth => {
                card.stroke_index.extend([(Who::Men, line.holes(0)), (Who::Women, line.holes(1))]);
            }
            RowRole::Holes | RowRole::Player(_) | RowRole::Pace | RowRole::Free(_) => {}
        }
    }
    card
}

/// One row of a plan.
struct Line<'a> {
    plan: &'a GridPlan,
    row: usize,
    holes: usize,
}

impl Line<'_> {
    fn text(&self, column: &ColumnRole) -> String {
        let cell = self.plan.column(column).and_then(|c| self.plan.cell(self.row, c));
        cell.map(|c| c.text.clone()).unwrap_or_default()
    }

    /// The number in a column: the `at`th of a pair parted by a slash, or the only one.
    fn number(&self, column: &ColumnRole, at: usize) -> Option<i64> {
        let numbers = whole(&self.text(column));
        numbers.get(at).or_else(|| numbers.first().filter(|_| numbers.len() == 1)).copied()
    }

    fn holes(&self, at: usize) -> Vec<Option<i64>> {
        (1..=self.holes).map(|n| self.number(&ColumnRole::Hole(u8::try_from(n).ok()?), at)).collect()
    }

    fn totals(&self, at: usize) -> PrintedTotals {
        PrintedTotals {
            out: self.number(&ColumnRole::Half(Half::Out), at),
            inward: self.number(&ColumnRole::Half(Half::In), at),
            total: self.number(&ColumnRole::Total, at),
        }
    }
}

/// The tee whose length each hole repeats; empty where none does.
fn played(tees: &[Tee], lengths: &[Option<i64>]) -> Vec<String> {
    let of = |n: usize, v: &Option<i64>| {
        let tee = tees.iter().find(|t| v.is_some() && t.lengths.get(n) == Some(v));
        tee.map(|t| t.name.clone()).unwrap_or_default()
    };
    lengths.iter().enumerate().map(|(n, v)| of(n, v)).collect()
}

/// A tee's name and the ratings that stand behind it or in a column of their own, such as `73.1/134`.
fn named(label: &str, beside: &str) -> (String, Vec<(Who, Rating)>) {
    let (mut name, mut ratings) = (Vec::new(), Vec::new());
    for word in label.split_whitespace().chain(beside.split_whitespace()) {
        match rating(word) {
            Some(rating) => ratings.push(rating),
            None if beside.split_whitespace().all(|w| w != word) => name.push(word),
            None => {}
        }
    }
    let ratings = match ratings.as_slice() {
        [one] => vec![(Who::Everyone, *one)],
        [men, women] => vec![(Who::Men, *men), (Who::Women, *women)],
        _ => Vec::new(),
    };
    (name.join(" "), ratings)
}

fn rating(word: &str) -> Option<Rating> {
    let (course, slope) = word.trim_matches(|c: char| !c.is_ascii_digit()).split_once('/')?;
    let course = course.parse::<f64>().ok().filter(|v| course.contains('.') && (20.0..90.0).contains(v))?;
    Some(Rating { course: Some(course), slope: Some(slope.parse().ok()?) })
}
