//! # What it checks
//!
//! How many plates each face needs: process inks and every spot that is named anywhere on it. The finding lists them.
//!
//! # Why it matters
//!
//! A press has so many units and each takes one plate. One spot too many means another pass, another make-ready and
//! another error of register; often it is a swatch that was left in by mistake.
//!
//! # What to do
//!
//! Turn spots that are not needed into process tints or into tints of one spot.
//!
//! # Source of the limit
//!
//! Common practice: sheetfed presses have up to six units without special equipment, digital presses four, some a fifth.
//! RGB counts as four, which it becomes.

use std::collections::BTreeSet;

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Place};
use crate::fault::Source;
use crate::ink::Ink;
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "plate-count",
    title: "More plates than a press has units",
    severity: Severity::Warning,
    bounds: &[UNITS],
    doc: include_str!("plate_count.rs"),
    run,
};

const UNITS: Bound = Bound::by_press(
    "plate-count.units",
    "most plates of one face",
    (Quantity::Count(6), Quantity::Count(5)),
    "practice: units of a press",
);

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.card.faces.iter().filter_map(|face| judge(cx, face)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, face: &Face) -> Option<Finding> {
    let mut plates: BTreeSet<&Ink> =
        face.inks.iter().map(|used| &used.ink).filter(|ink| !matches!(ink, Ink::All | Ink::None)).collect();
    if face.elements.iter().flat_map(Element::spaces).any(|space| space.lacks_inks()) {
        plates.extend(&Ink::PROCESS);
    }
    let count = i64::try_from(plates.len()).unwrap_or(i64::MAX);
    let reading = Limit::AtMost(cx.limit(&UNITS)).broken_by(Quantity::Count(count))?;
    let names: Vec<&str> = plates.iter().map(|ink| ink.name()).collect();
    let (names, limit) = (names.join(", "), reading.limit());
    let message = format!("the {} needs {count} plates: {names}; {limit}", face.side);
    let most = cx.number(&UNITS);
    let advice = format!("turn {:.0} of them into process tints or tints of another", count as f64 - most);
    let source = Source::Pdf { file: cx.card.file.clone(), page: Some(face.page), object: None };
    let place = Place { side: Some(face.side), source, ..Place::default() };
    Some(CHECK.finding(place, message, advice).with(reading))
}
