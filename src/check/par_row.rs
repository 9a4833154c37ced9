//! # What it checks
//!
//! Whether each row of pars has one par a hole, each from 3 to 6, and whether its Out, In and Total are what its holes
//! add up to.
//!
//! # Why it matters
//!
//! Net scores, Stableford points and the Course Handicap are all counted from par.
//!
//! # What to do
//!
//! Correct the par or the total that the message names. A par 7, should there be one, is allowed in the limits file.
//!
//! # Source of the limit
//!
//! Pars of 3 to 6: Rules of Handicapping, Appendix F, which knows no others. The totals: arithmetic.

use super::numbers::{self, Line, hole, place, totals};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::Scorecard;
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "par-row",
    title: "Pars: one a hole, and their totals",
    severity: Severity::Error,
    bounds: &[LEAST, MOST],
    doc: include_str!("par_row.rs"),
    run,
};

const LEAST: Bound =
    Bound::same("par-row.least", "lowest par of a hole", Quantity::Count(3), "Rules of Handicapping, Appendix F");
const MOST: Bound =
    Bound::same("par-row.most", "highest par of a hole", Quantity::Count(6), "Rules of Handicapping, Appendix F");

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    if numbers.par.is_empty() {
        return Outcome::skipped("the card has no row of pars");
    }
    let mut found = Vec::new();
    for (n, (who, list)) in numbers.par.iter().enumerate() {
        let row = RowRole::Par(*who);
        found.extend(counted(cx, numbers, &row, list.len()));
        for (at, par) in list.iter().enumerate().take(numbers.holes) {
            found.extend(judge(cx, numbers, &row, at + 1, *par));
        }
        let printed = numbers.par_printed.get(n).copied().unwrap_or_default();
        found.extend(totals(&CHECK, cx, numbers, &Line { row, list, printed }));
    }
    Outcome::from(found)
}

fn counted(cx: &Context<'_>, numbers: &Scorecard, row: &RowRole, count: usize) -> Option<Finding> {
    let quantity = |n: usize| Quantity::Count(i64::try_from(n).unwrap_or(i64::MAX));
    let reading = Limit::Exactly(quantity(numbers.holes)).broken_by(quantity(count))?;
    let message = format!("there are {count} pars for {} holes", numbers.holes);
    let advice = "give each hole one par";
    Some(CHECK.finding(place(cx.card, numbers, row, None), message, advice).with(reading))
}

fn judge(cx: &Context<'_>, numbers: &Scorecard, row: &RowRole, at: usize, par: Option<i64>) -> Option<Finding> {
    let place = || place(cx.card, numbers, row, Some(&hole(at)));
    let Some(par) = par else {
        let message = format!("hole {at} has no par that could be read");
        return Some(CHECK.finding(place(), message, "give it one"));
    };
    let reading = Limit::Within(cx.limit(&LEAST), cx.limit(&MOST)).broken_by(Quantity::Count(par))?;
    let message = format!("hole {at} is a par {par}; pars are {}", reading.limit());
    Some(CHECK.finding(place(), message, "correct the par").with(reading))
}
