//! # What it checks
//!
//! Whether every waiver of the limits file covers at least one finding.
//!
//! # Why it matters
//!
//! A waiver that covers nothing any more is a hole: it would hide the next finding of its kind without anyone
//! having decided that.
//!
//! # What to do
//!
//! Take the waiver out of the limits file, or correct its `place` or `contains` so that it covers what it was
//! written for.
//!
//! # Source of the limit
//!
//! Judgement: an exception that is no longer needed should say so.

use super::{Check, Context, Outcome, Severity};
use crate::card::Place;

pub(super) const CHECK: Check = Check {
    id: "waiver-unused",
    title: "Waivers that cover nothing",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("waiver_unused.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let unmet = cx.unmet.iter().map(|waiver| {
        let place = Place { source: waiver.source.clone(), ..Place::default() };
        let message = format!("the waiver for `{}` covers no finding ({})", waiver.check, waiver.reason);
        CHECK.finding(place, message, "take the waiver out, or correct its place or words")
    });
    Outcome::from(unmet.collect::<Vec<_>>())
}
