//! # What it checks
//!
//! Whether every text of the card file found room in its cell or block. Nothing is shrunk or cut to make it fit, so
//! what is too long hangs out and is told here, with the amount.
//!
//! # Why it matters
//!
//! Text that hangs out runs into its neighbour or off the panel.
//!
//! # What to do
//!
//! Shorten the text, set it smaller (mind `text-size`), or give its cell or block the stated room.
//!
//! # Source of the limit
//!
//! The room that the card file itself gives. Artwork made elsewhere shows only what is there, so this check does
//! not run on it.

use super::frame::quoted;
use super::{Check, Context, Outcome, Severity};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "overset",
    title: "Text that does not fit",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("overset.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let trace = &cx.card.trace;
    if cx.card.oversets.is_empty() && trace.parts.is_empty() && trace.settings.is_empty() {
        return Outcome::skipped("artwork shows only what is there; text that was left out leaves no trace");
    }
    let found = cx.card.oversets.iter().map(|overset| {
        let (way, more) = if overset.in_height { ("high", "lower") } else { ("wide", "narrower") };
        let limit = Limit::AtMost(Quantity::Length(overset.room));
        let message = format!(
            "{} needs {} and has {}: it is {} too {way}",
            quoted(&overset.text),
            overset.needs,
            overset.room,
            overset.needs - overset.room
        );
        let advice = format!("make it {} {more}, or give it that much more room", overset.needs - overset.room);
        CHECK.finding(overset.place.clone(), message, advice).with(limit.read(Quantity::Length(overset.needs)))
    });
    Outcome::from(found.collect::<Vec<_>>())
}
