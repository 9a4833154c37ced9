//! # What it checks
//!
//! How the stroke index of an eighteen-hole card follows the published advice for allocating it:
//!
//! - odd numbers on one nine and even ones on the other;
//! - the lowest number of each nine in its middle triad (holes 4 to 6, 13 to 15), or on the hole before or after that;
//! - the second lowest of each nine in another of its triads, the first or the third;
//! - numbers of 6 or less not on consecutive holes;
//! - strokes spread over the six triads: none without one of the numbers 1 to 9.
//!
//! # Why it matters
//!
//! Strokes that come early, late or in a bunch decide a match before they can be used. These are recommendations: a
//! club may have its reasons, and the difficulty of the holes, which is not on the card, counts too.
//!
//! # What to do
//!
//! Show the note to the club's Handicap Committee before the next printing. Never change a stroke index without it.
//!
//! # Source of the limit
//!
//! Rules of Handicapping, Appendix E. It asks for an even spread without a number; one of the first nine strokes in
//! every triad is judgement.

use super::numbers::{self, hole, holes, listed, place};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::{Advice, Scorecard, Who, allocation_advice, permutation};

pub(super) const CHECK: Check = Check {
    id: "stroke-allocation",
    title: "Stroke indexes against the published advice",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("stroke_allocation.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    if numbers.holes != 18 {
        return Outcome::skipped("the published advice is for eighteen holes");
    }
    let whole = |list: &Vec<Option<i64>>| permutation(list, 18).is_ok();
    if !numbers.stroke_index.iter().any(|(_, list)| whole(list)) {
        return Outcome::skipped("the card has no complete row of stroke indexes");
    }
    let advice = numbers
        .stroke_index
        .iter()
        .flat_map(|(who, list)| allocation_advice(list).into_iter().map(|advice| finding(cx, numbers, *who, &advice)));
    Outcome::from(advice.collect::<Vec<_>>())
}

fn finding(cx: &Context<'_>, numbers: &Scorecard, who: Who, advice: &Advice) -> Finding {
    let whose = match who {
        Who::Everyone => String::new(),
        Who::Men | Who::Women => format!(" for {who}"),
    };
    let (at, message, advice) = match advice {
        Advice::Mixed { holes: at, front_odd } => {
            let (front, back) = if *front_odd { ("odd", "even") } else { ("even", "odd") };
            let message =
                format!("{} hold the other kind: the front nine is {front} and the back nine {back}", holes(at));
            (at.first().copied(), message, "keep odd numbers on one nine and even ones on the other".to_owned())
        }
        Advice::LowestAtTheEnd { nine, index, hole } => {
            let message = format!("{index}, the lowest of the {}, stands on hole {hole}", nine.name());
            let (first, last) = nine.middle();
            (Some(*hole), message, format!("move it to a hard hole from {first} to {last}, or to the hole beside them"))
        }
        Advice::SecondBesideLowest { nine, index, hole } => {
            let message = format!(
                "{index}, the second lowest of the {}, stands on hole {hole}, in its middle triad or in that of the lowest",
                nine.name()
            );
            (Some(*hole), message, "move it to the first or the third triad of that nine".to_owned())
        }
        Advice::LowInARow { holes: low } => {
            let at: Vec<usize> = low.iter().map(|(hole, _)| *hole).collect();
            let indexes: Vec<String> = low.iter().map(|(_, index)| index.to_string()).collect();
            let message = format!("{} have {}: low numbers on consecutive holes", holes(&at), listed(&indexes));
            (at.first().copied(), message, "part numbers of 6 or less by at least one hole".to_owned())
        }
        Advice::NoStrokes { first } => {
            let message = format!("holes {first} to {} have none of the numbers 1 to 9", first + 2);
            (Some(*first), message, "spread the strokes over all six triads".to_owned())
        }
    };
    let column = at.map(hole);
    let place = place(cx.card, numbers, &RowRole::StrokeIndex(who), column.as_ref());
    CHECK.finding(
        place,
        format!("in the stroke index{whose}, {message}"),
        format!("{advice}; ask the Handicap Committee"),
    )
}
