//! # What it checks
//!
//! Whether any mark is painted while a transfer function is set, which changes its tints on the way to the plate.
//!
//! # Why it matters
//!
//! Tints stated in the file are not those that print, and every machine treats such curves in its own way.
//!
//! # What to do
//!
//! Export the artwork without transfer functions; apply the curve to the picture itself where it is wanted.
//!
//! # Source of the limit
//!
//! ISO 15930-4 and 15930-7 (PDF/X) forbid transfer functions other than the default; restated.

use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "transfer-curves",
    title: "Curves that change tints on the press",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("transfer_curves.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let bent = cx.marks().filter(|(_, element)| element.blend.transfer);
    let found = bent.map(|(face, element)| {
        let place = cx.card.place(face.side, element.bounds, element.object);
        let message = "a transfer function changes the tints of what is painted here on the way to the plate";
        CHECK.finding(place, message, "export the artwork without transfer functions")
    });
    Outcome::from(found.collect::<Vec<_>>())
}
