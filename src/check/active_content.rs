//! # What it checks
//!
//! Whether JavaScript, embedded files or form fields stand in the file.
//!
//! # Why it matters
//!
//! A press has no use for them, PDF/X forbids scripts, and some printers refuse such files unseen. None of it is
//! carried into the press file.
//!
//! # What to do
//!
//! Export the artwork for print, not for the screen.
//!
//! # Source of the limit
//!
//! ISO 15930-7 (PDF/X-4): no JavaScript and no actions; restated.

use super::frame::file_place;
use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "active-content",
    title: "What a press file has no use for",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("active_content.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let facts = &cx.card.facts;
    let mut found = Vec::new();
    let mut say = |message: &str, severity| {
        let advice = "export the artwork for print; it is left out of the press file";
        found.push(CHECK.finding(file_place(cx.card), message, advice).at(severity));
    };
    if facts.scripts {
        say("JavaScript stands in the file", Severity::Warning);
    }
    if facts.embedded_files {
        say("other files are embedded in the file", Severity::Note);
    }
    if facts.fields {
        say("the file is a form with fields to fill in", Severity::Note);
    }
    Outcome::from(found)
}
