//! # What it checks
//!
//! Whether lengths fall from tee to tee on every hole. Tees are ranked by their totals; of two tees that follow
//! each other, the longer one may not be shorter on any hole. As a note: whether the tees stand on the card in the
//! order of their lengths.
//!
//! # Why it matters
//!
//! Tees lie behind each other on one line of play. A hole that gets longer towards the front is nearly always two
//! digits swapped or a number in the wrong row.
//!
//! # What to do
//!
//! Compare the two lengths with the measured ones. Where a tee really lies off to the side, waive it with that reason.
//!
//! # Source of the limit
//!
//! Common practice in setting out tees.

use super::numbers::{self, hole, place};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::{Part, Scorecard, Sum, longest_first, shorter_on, sum};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "tee-order",
    title: "Lengths in order from tee to tee",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("tee_order.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    if numbers.tees.len() < 2 {
        return Outcome::skipped("there are no two tees to compare");
    }
    let order = longest_first(&numbers.tees, numbers.holes);
    let mut found: Vec<Finding> = unread(cx, numbers);
    for pair in order.windows(2) {
        if let [(longer, _), (shorter, _)] = pair {
            found.extend(compare(cx, numbers, *longer, *shorter));
        }
    }
    found.extend(out_of_order(cx, numbers, &order));
    Outcome::from(found)
}

/// Tees that cannot be ranked.
fn unread(cx: &Context<'_>, numbers: &Scorecard) -> Vec<Finding> {
    let lacking = numbers.tees.iter().enumerate().filter_map(|(n, tee)| {
        let Some(Sum::Lacks(lacks)) = sum(&tee.lengths, numbers.holes, Part::Total) else { return None };
        let place = place(cx.card, numbers, &RowRole::Tee(n), None);
        let holes = numbers::holes(&lacks);
        let message = format!("\"{}\" was not compared with the other tees: {holes} has no length", tee.name);
        Some(CHECK.finding(place, message, format!("compare it by eye, or give {holes} a length that can be read")))
    });
    lacking.collect()
}

fn compare(cx: &Context<'_>, numbers: &Scorecard, longer: usize, shorter: usize) -> Vec<Finding> {
    let (Some(long), Some(short)) = (numbers.tees.get(longer), numbers.tees.get(shorter)) else { return Vec::new() };
    let inverted = shorter_on(long, short).into_iter().map(|(at, a, b)| {
        let place = place(cx.card, numbers, &RowRole::Tee(longer), Some(&hole(at)));
        let message = format!(
            "hole {at} is {a} from \"{}\" and {b} from \"{}\", which is the shorter tee over the round",
            long.name, short.name
        );
        let advice = format!("compare both with the measured lengths: one is off by {} or more", b - a);
        CHECK.finding(place, message, advice).with(Limit::AtLeast(Quantity::Count(b)).read(Quantity::Count(a)))
    });
    inverted.collect()
}

/// The first tee that breaks the order of the card, where that falls or rises otherwise.
fn out_of_order(cx: &Context<'_>, numbers: &Scorecard, order: &[(usize, i64)]) -> Option<Finding> {
    let mut rows = order.to_vec();
    rows.sort_unstable();
    let rising = rows.first()?.1 < rows.last()?.1;
    let broken = rows.windows(2).find_map(|pair| match pair {
        [(before, a), (tee, b)] if a != b && (a < b) != rising => Some((*before, *a, *tee, *b)),
        _ => None,
    });
    let (before, a, tee, b) = broken?;
    let name = |n: usize| numbers.tees.get(n).map(|t| t.name.as_str()).unwrap_or_default();
    let way = if rising { "shortest to longest" } else { "longest to shortest" };
    let message =
        format!("the tees run from {way}, but \"{}\" ({b}) stands after \"{}\" ({a})", name(tee), name(before));
    let place = place(cx.card, numbers, &RowRole::Tee(tee), None);
    Some(CHECK.finding(place, message, "print the tees in the order of their totals").at(Severity::Note))
}
