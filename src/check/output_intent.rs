//! # What it checks
//!
//! Whether the artwork names the print condition it was made for, whether that is a condition of four inks, and
//! whether it is the one that the card is judged and printed for.
//!
//! # Why it matters
//!
//! The same tints look different on coated and on uncoated paper. Artwork that was prepared for another condition
//! prints too dark, too light or off in colour.
//!
//! # What to do
//!
//! Export the artwork for the condition of the job, or name the condition that it was made for with `--condition`.
//!
//! # Source of the limit
//!
//! ISO 15930-7 (output intents of PDF/X), restated; Ghent Workgroup 2022: output intent CMYK.

use super::frame::file_place;
use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "output-intent",
    title: "The print condition that the file names",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("output_intent.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    if cx.card.facts.set_here {
        // Set for the card's own condition.
        return Outcome::Clean;
    }
    let condition = &cx.card.condition;
    let mut found = Vec::new();
    for intent in &cx.card.facts.intents {
        if let Some(components) = intent.profile.filter(|n| *n != 4) {
            let message = format!("the file is prepared for a condition of {components} colours, not of four inks");
            let advice = "export it for the print condition of the job";
            found.push(CHECK.finding(file_place(cx.card), message, advice).at(Severity::Warning));
        } else if !intent.condition.is_empty() && intent.condition != condition.identifier {
            let message = format!(
                "the file is prepared for {}; it is judged and printed for {}",
                intent.condition, condition.identifier
            );
            let advice = "name the right condition with --condition, or export the artwork for this one";
            found.push(CHECK.finding(file_place(cx.card), message, advice).at(Severity::Warning));
        }
    }
    if cx.card.facts.intents.is_empty() {
        let message =
            format!("the file names no print condition; it is judged and printed for {}", condition.identifier);
        found.push(CHECK.finding(file_place(cx.card), message, "see that the artwork was made for that"));
    }
    Outcome::from(found)
}
