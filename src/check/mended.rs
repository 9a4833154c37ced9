//! # What it checks
//!
//! What was wrong in the file and how it was read all the same: damaged tables and objects, numbers and operators
//! that are not as they should be, boxes that lie outside the page. What could in no way be read, and is left out,
//! or what contradicts itself, is an error.
//!
//! # Why it matters
//!
//! Programs mend files in different ways. What is seen here may not be what the next machine makes of it.
//!
//! # What to do
//!
//! Export the artwork again. Where that does not help, tell the maker of the program what is named here.
//!
//! # Source of the limit
//!
//! ISO 32000-1, as far as the file breaks it.

use super::{Check, Context, Outcome, Severity};
use crate::card::{Place, Side};
use crate::fault::Source;

pub(super) const CHECK: Check = Check {
    id: "mended",
    title: "Damage that was mended",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("mended.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let side =
        |page: Option<u32>| -> Option<Side> { cx.card.faces.iter().find(|f| Some(f.page) == page).map(|f| f.side) };
    let found = cx.card.facts.repairs.iter().map(|repair| {
        let page = if let Source::Pdf { page, .. } = &repair.source { *page } else { None };
        let place = Place { side: side(page), source: repair.source.clone(), ..Place::default() };
        let finding = CHECK.finding(place, repair.message.clone(), "export the artwork again");
        if repair.lost { finding.at(Severity::Error) } else { finding }
    });
    Outcome::from(found.collect::<Vec<_>>())
}
