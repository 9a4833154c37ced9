//! # What it checks
//!
//! The names of all spot inks, wherever one hides: in mixed colours, pictures, tables, blends, patterns and stamps, and in the
//! card file. Names that differ only by case, blanks or signs; names that differ only by a paper's suffix; names that mean
//! a process ink and are not spelt as one; two names for one colour; and one name with two colours. The spots of
//! artwork are listed in a note.
//!
//! # Why it matters
//!
//! Every name is a plate. "Otterby Heath" and "otterby heath" are two plates, two washes and twice the ink, and the
//! fault is found on the press. One name that looks like two colours leaves open which of them was approved.
//!
//! # What to do
//!
//! Merge the swatches in the layout program under the name that the ink maker gives.
//!
//! # Source of the limit
//!
//! - Names that differ only by case or suffix, and two names for one tint: Ghent Workgroup 2022 specification.
//! - That suffixes such as C and U name a paper and no ink: common practice.
//! - Looks count as one within a colour difference (CIEDE2000) of 1, and as two from 3 on: judgement.

use super::frame::Finding;
use super::frame::file_place;
use super::plates::{Spot, ink_place, spots};
use super::{Bound, Check, Context, Outcome, Severity};
use crate::ink::{Colour, Ink, delta_e2000};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "spot-names",
    title: "Spot inks under several names, or several under one",
    severity: Severity::Error,
    bounds: &[SAME, APART],
    doc: include_str!("spot_names.rs"),
    run,
};

const SAME: Bound = Bound::same(
    "spot-names.same",
    "colour difference that two spots of different names must have more of",
    Quantity::DeltaE(1.0),
    "Ghent Workgroup 2022; the value: judgement",
);
const APART: Bound = Bound::same(
    "spot-names.apart",
    "colour difference between two definitions of one spot",
    Quantity::DeltaE(3.0),
    "judgement",
);

fn run(cx: &Context<'_>) -> Outcome {
    let spots = spots(cx.card);
    let mut found: Vec<Finding> = spots.iter().filter_map(|spot| defined_twice(cx, spot)).collect();
    found.extend(spots.iter().filter_map(|spot| meant_as_process(cx, spot)));
    for (n, one) in spots.iter().enumerate() {
        for other in spots.iter().skip(n + 1) {
            found.extend(alike(cx, one, other));
        }
    }
    found.extend(listed(cx, &spots));
    Outcome::from(found)
}

/// The spots of artwork, which nobody has named otherwise.
fn listed(cx: &Context<'_>, spots: &[Spot<'_>]) -> Option<Finding> {
    let mut names: Vec<&str> = spots.iter().filter(|spot| spot.face.is_some()).map(|spot| spot.name).collect();
    names.sort_unstable();
    let message = match names.as_slice() {
        _ if cx.card.facts.set_here => return None,
        [] => return None,
        [one] => format!("one spot ink, a plate of its own: {one}"),
        several => format!("{} spot inks, a plate each: {}", several.len(), several.join(", ")),
    };
    Some(CHECK.finding(file_place(cx.card), message, "see that the printer runs these inks").at(Severity::Note))
}

/// A spot by name that is a process ink to everybody.
fn meant_as_process(cx: &Context<'_>, spot: &Spot<'_>) -> Option<Finding> {
    let letters = letters(spot.name);
    let bare = letters.strip_prefix("process").unwrap_or(&letters);
    let ink = Ink::PROCESS.into_iter().find(|ink| ink.name().to_lowercase() == bare)?;
    let message = format!("the spot \"{}\" makes a plate of its own beside {ink}", spot.name);
    let place = ink_place(cx.card, spot.face, &Ink::from_colorant(spot.name));
    Some(CHECK.finding(place, message, format!("set it in the process ink {ink}")))
}

/// One name that looks like two colours.
fn defined_twice(cx: &Context<'_>, spot: &Spot<'_>) -> Option<Finding> {
    let (first, rest) = spot.solids.split_first()?;
    let lab = |colour: &Colour| cx.judge.lab(colour);
    let (far, other) = rest
        .iter()
        .map(|other| (delta_e2000(lab(first), lab(other)), other))
        .max_by(|(a, _), (b, _)| a.total_cmp(b))?;
    let reading = Limit::AtMost(cx.limit(&APART)).broken_by(Quantity::DeltaE(far))?;
    let message = format!(
        "the spot \"{}\" is defined as {first} and as {other}, {} apart; {}",
        spot.name,
        reading.measured(),
        reading.limit()
    );
    let advice = "merge the two swatches, so that the name means one colour";
    let place = ink_place(cx.card, spot.face, &Ink::from_colorant(spot.name));
    Some(CHECK.finding(place, message, advice).with(reading).at(Severity::Warning))
}

/// Two spots that are likely one.
fn alike(cx: &Context<'_>, one: &Spot<'_>, other: &Spot<'_>) -> Option<Finding> {
    let (a, b) = (one.name, other.name);
    let place = || ink_place(cx.card, other.face.or(one.face), &Ink::from_colorant(b));
    let merge = format!("merge them under one name; as they are, \"{a}\" and \"{b}\" are two plates");
    if letters(a) == letters(b) {
        let message = format!("the spots \"{a}\" and \"{b}\" differ only by case, blanks or signs");
        return Some(CHECK.finding(place(), message, merge));
    }
    if stem(a) == stem(b) {
        let message = format!("the spots \"{a}\" and \"{b}\" differ only by the suffix for a paper");
        return Some(CHECK.finding(place(), message, merge));
    }
    let (first, second) = (one.solids.first()?, other.solids.first()?);
    let apart = Quantity::DeltaE(delta_e2000(cx.judge.lab(first), cx.judge.lab(second)));
    let reading = Limit::MoreThan(cx.limit(&SAME)).broken_by(apart)?;
    // Varnish and cutting lines are shown in any colour that comes to hand.
    if [a, b].into_iter().any(|name| super::technical_inks::kind(name).is_some()) {
        return None;
    }
    let (measured, limit) = (reading.measured(), reading.limit());
    let message = format!("the spots \"{a}\" and \"{b}\" name one colour, {first}: {measured} apart; {limit}");
    let advice = format!("{merge}; where they are two inks, give each its own look");
    Some(CHECK.finding(place(), message, advice).with(reading).at(Severity::Warning))
}

/// What is left of a name without case, blanks and signs.
fn letters(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Words at the end of a name that tell the paper: coated, uncoated, matte, and process simulations of them.
const SUFFIXES: [&str; 13] =
    ["c", "u", "m", "cp", "up", "cv", "cvc", "cvu", "pc", "coated", "uncoated", "matt", "matte"];

/// The letters of a name without a suffix for a paper.
fn stem(name: &str) -> String {
    let lower = name.trim().to_lowercase();
    let cut = lower.rsplit_once(|c: char| !c.is_alphanumeric()).filter(|(_, last)| SUFFIXES.contains(last));
    letters(cut.map_or(lower.as_str(), |(stem, _)| stem))
}
