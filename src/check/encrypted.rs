//! # What it checks
//!
//! Whether the file is encrypted, and whether its permissions allow it to be printed.
//!
//! # Why it matters
//!
//! PDF/X allows no encryption, and a press room's machine may refuse the file or print it coarsely.
//!
//! # What to do
//!
//! Export the artwork without security settings. The press file is written without them.
//!
//! # Source of the limit
//!
//! ISO 15930 (PDF/X: no encryption), restated; ISO 32000-1, table 22: permissions.

use super::frame::file_place;
use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "encrypted",
    title: "Files under lock",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("encrypted.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let facts = &cx.card.facts;
    if !facts.encrypted {
        return Outcome::Clean;
    }
    let advice = "export the artwork without security settings";
    let finding = if facts.may_print {
        CHECK.finding(file_place(cx.card), "the file is encrypted; it opens and may be printed", advice)
    } else {
        let message = "the file is encrypted and does not allow printing at full quality";
        CHECK.finding(file_place(cx.card), message, format!("{advice}, or ask its maker")).at(Severity::Error)
    };
    Outcome::from(vec![finding])
}
