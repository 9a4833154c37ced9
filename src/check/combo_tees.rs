//! # What it checks
//!
//! Whether each combination of tees leads to tees of the card: every tee that it names is there, there is one for
//! each hole, and a length that is printed on its row is that of the tee it names. On artwork, where no tee is
//! named, the length of each hole must be one of a tee's. (Its totals: see `totals`.)
//!
//! # Why it matters
//!
//! A combination is rated hole by hole from given tees. A length from nowhere means that the row was not brought up
//! to date with its tees, and then its rating is not valid either.
//!
//! # What to do
//!
//! Correct the name or the length that the message gives.
//!
//! # Source of the limit
//!
//! The tees of the card itself.

use super::limits::nearest;
use super::numbers::{self, hole, place};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::{Scorecard, Stray, strays};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "combo-tees",
    title: "Combinations that lead to no tee",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("combo_tees.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    if numbers.combos.is_empty() {
        return Outcome::skipped("the card has no combination tees");
    }
    let mut found = Vec::new();
    for (n, combo) in numbers.combos.iter().enumerate() {
        let strays = strays(combo, &numbers.tees, numbers.holes);
        found.extend(strays.into_iter().map(|stray| finding(cx, numbers, n, &combo.name, &stray)));
    }
    Outcome::from(found)
}

fn finding(cx: &Context<'_>, numbers: &Scorecard, n: usize, combo: &str, stray: &Stray) -> Finding {
    let at = |column| place(cx.card, numbers, &RowRole::Combo(n), column);
    match stray {
        Stray::NoTee { hole: h, name } => {
            let message = format!("hole {h} of \"{combo}\" plays from \"{name}\", and the card has no such tee");
            let advice = match nearest(name, numbers.tees.iter().map(|t| t.name.as_str())) {
                Some(near) => format!("the nearest is \"{near}\""),
                None => "name one of the tees of the card".to_owned(),
            };
            CHECK.finding(at(Some(&hole(*h))), message, advice)
        }
        Stray::Unnamed { hole: h, length: Some(length) } => {
            let message = format!("hole {h} of \"{combo}\" is {length}, and no tee of the card has that length there");
            CHECK.finding(at(Some(&hole(*h))), message, "bring the row up to date with its tees")
        }
        Stray::Unnamed { hole: h, length: None } => {
            let message = format!("hole {h} of \"{combo}\" has no tee and no length that could be read");
            CHECK.finding(at(Some(&hole(*h))), message, "name its tee").at(Severity::Warning)
        }
        Stray::OtherLength { hole: h, tee, length, of_tee } => {
            let message = format!("hole {h} of \"{combo}\" is {length}; it plays from \"{tee}\", which is {of_tee}");
            let reading = Limit::Exactly(Quantity::Count(*of_tee)).read(Quantity::Count(*length));
            CHECK.finding(at(Some(&hole(*h))), message, format!("print {of_tee}, or name the right tee")).with(reading)
        }
        Stray::Count(count) => {
            let message = format!("\"{combo}\" names {count} tees for {} holes", numbers.holes);
            CHECK.finding(at(None), message, "name one tee for each hole")
        }
    }
}
