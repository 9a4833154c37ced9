//! # What it checks
//!
//! Whether Out, In and Total of each tee and combination, as typed in the card file or printed on the artwork, are what
//! their holes add up to. A total that is not stated is not missed. Where a hole has no number that could be read,
//! its totals are named as not checked; Out and In are then still held against the Total. (Pars: see `par-row`.)
//!
//! # Why it matters
//!
//! A wrong total is the misprint that golfers find first, on the first tee, with the whole run already in the box.
//!
//! # What to do
//!
//! Print the sum that the message gives, or correct the hole that is wrong. In a card file, leave the totals out: they
//! are computed.
//!
//! # Source of the limit
//!
//! Arithmetic: Out is holes 1 to 9, In is holes 10 to 18, Total is the round.

use super::numbers::{self, Line, totals};
use super::{Check, Context, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::{Combo, PrintedTotals, Scorecard, derived};

pub(super) const CHECK: Check = Check {
    id: "totals",
    title: "Totals that are not the sum of their holes",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("totals.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    let stated = numbers.tees.iter().map(|t| t.printed).chain(numbers.combos.iter().map(|c| c.printed));
    if stated.into_iter().all(|printed| printed == PrintedTotals::default()) {
        return Outcome::skipped("no totals of tees are printed");
    }
    let mut found = Vec::new();
    for (n, tee) in numbers.tees.iter().enumerate() {
        let line = Line { row: RowRole::Tee(n), list: &tee.lengths, printed: tee.printed };
        found.extend(totals(&CHECK, cx, numbers, &line));
    }
    for (n, combo) in numbers.combos.iter().enumerate() {
        let list = lengths(combo, numbers);
        let line = Line { row: RowRole::Combo(n), list: &list, printed: combo.printed };
        found.extend(totals(&CHECK, cx, numbers, &line));
    }
    Outcome::from(found)
}

/// The lengths of a combination: as printed, or those of its tees where it is shown as marks.
fn lengths(combo: &Combo, numbers: &Scorecard) -> Vec<Option<i64>> {
    if combo.lengths.is_empty() { derived(combo, &numbers.tees) } else { combo.lengths.clone() }
}
