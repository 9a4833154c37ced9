//! What the number checks share: the numbers of a card, where each of them stands on it, and how its totals are
//! held against its holes.

mod place;
mod totals;

pub(super) use place::{column_of, hole, name_of, place};
pub(super) use totals::{Line, totals};

use super::{Context, Outcome};
use crate::scorecard::Scorecard;

/// The numbers of the card.
///
/// # Errors
/// The outcome that says why there are none.
pub(super) fn of<'a>(cx: &Context<'a>) -> Result<&'a Scorecard, Outcome> {
    let none = || Outcome::skipped("the card states no numbers of a course, or none that could be read");
    cx.card.numbers.as_ref().ok_or_else(none)
}

/// Holes in words: `hole 4`, `holes 4 and 7`, `holes 4, 7 and 9`.
pub(super) fn holes(holes: &[usize]) -> String {
    let named: Vec<String> = holes.iter().map(ToString::to_string).collect();
    let noun = if named.len() == 1 { "hole" } else { "holes" };
    format!("{noun} {}", listed(&named))
}

/// Items in a sentence: `a`, `a and b`, `a, b and c`.
pub(super) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [all @ .., last] => format!("{} and {last}", all.join(", ")),
    }
}
