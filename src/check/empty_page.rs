//! # What it checks
//!
//! Whether anything is painted inside the trim of each face.
//!
//! # Why it matters
//!
//! An empty page is most often one that lost its content on the way: a layer switched off, a link to a file that
//! was not there, a page too many.
//!
//! # What to do
//!
//! Look at the page in a viewer; name the right page, or export it again. A face that is to stay blank needs no
//! page: `--outside 1` alone.
//!
//! # Source of the limit
//!
//! Common practice.

use super::frame::page_place;
use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "empty-page",
    title: "Faces with nothing on them",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("empty_page.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let trim = cx.card.format.trim();
    let empty =
        cx.card.faces.iter().filter(|face| {
            !face.elements.iter().any(|e| e.bounds.intersect(trim).is_some() || trim.contains(e.bounds))
        });
    let found = empty.map(|face| {
        let message = format!("nothing is painted on the {}, page {}", face.side, face.page);
        CHECK.finding(
            page_place(cx.card, face),
            message,
            "look at the page in a viewer, and export it again where it is not meant to be blank",
        )
    });
    Outcome::from(found.collect::<Vec<_>>())
}
