//! # What it checks
//!
//! Whether each row of stroke indexes is a permutation: every number from 1 to the last hole once. On nine holes the
//! odd or the even numbers of an eighteen-hole allocation may stand instead.
//!
//! # Why it matters
//!
//! The stroke index says on which holes a player receives strokes. With a number doubled and another missing, two
//! holes claim the same stroke and one stroke is never given: no net match can be settled.
//!
//! # What to do
//!
//! Give one of the holes with the doubled number the one that is missing. Which of them: ask the club's Handicap
//! Committee.
//!
//! # Source of the limit
//!
//! Rules of Handicapping, Appendix E: stroke index allocation over eighteen holes, and for nine-hole play.

use super::numbers::{self, hole, holes, listed, place};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::{Scorecard, Scrambled, Who, permutation};

pub(super) const CHECK: Check = Check {
    id: "stroke-index",
    title: "Stroke indexes: each number once",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("stroke_index.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    if numbers.stroke_index.is_empty() {
        return Outcome::skipped("the card has no row of stroke indexes");
    }
    let scrambled = numbers.stroke_index.iter().filter_map(|(who, list)| {
        let wrong = permutation(list, numbers.holes).err()?;
        Some(finding(cx, numbers, *who, &wrong))
    });
    Outcome::from(scrambled.collect::<Vec<_>>())
}

fn finding(cx: &Context<'_>, numbers: &Scorecard, who: Who, wrong: &Scrambled) -> Finding {
    let column = first_hole(wrong).map(hole);
    let place = place(cx.card, numbers, &RowRole::StrokeIndex(who), column.as_ref());
    let whose = match who {
        Who::Everyone => "the stroke index".to_owned(),
        Who::Men | Who::Women => format!("the stroke index for {who}"),
    };
    let message = format!("{whose} does not give each hole its own number: {}", listed(&said(wrong)));
    CHECK.finding(place, message, advice(wrong))
}

/// Where the eye should go first.
fn first_hole(wrong: &Scrambled) -> Option<usize> {
    let doubled = wrong.doubled.first().and_then(|(_, holes)| holes.last().copied());
    doubled.or(wrong.outside.first().map(|(hole, _)| *hole)).or(wrong.unread.first().copied())
}

fn said(wrong: &Scrambled) -> Vec<String> {
    let mut said: Vec<String> =
        wrong.doubled.iter().map(|(index, at)| format!("{index} stands on {}", holes(at))).collect();
    said.extend(wrong.outside.iter().map(|(hole, index)| format!("hole {hole} has {index}")));
    if !wrong.unread.is_empty() {
        said.push(format!("{} cannot be read", holes(&wrong.unread)));
    }
    if wrong.beyond > 0 {
        said.push(format!("{} stand beyond the last hole", wrong.beyond));
    }
    if !wrong.missing.is_empty() {
        let missing: Vec<String> = wrong.missing.iter().map(ToString::to_string).collect();
        let verb = if missing.len() == 1 { "is" } else { "are" };
        said.push(format!("{} {verb} missing", listed(&missing)));
    }
    said
}

fn advice(wrong: &Scrambled) -> String {
    match (wrong.doubled.as_slice(), wrong.outside.as_slice(), wrong.missing.as_slice()) {
        ([(_, at)], [], [missing]) => format!("give one of {} the number {missing}", holes(at)),
        ([], [(hole, _)], [missing]) => format!("give hole {hole} the number {missing}"),
        _ => "give each hole its own number and leave none out".to_owned(),
    }
}
