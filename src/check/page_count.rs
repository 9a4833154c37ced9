//! # What it checks
//!
//! Whether the file has a page for each face and no more, and whether the page that prints as the inside is the one
//! with the grid.
//!
//! # Why it matters
//!
//! A card is printed from its outside and its inside. A page too many is usually a proof or an old version, and a
//! grid on the outside usually means that the pages stand the other way round.
//!
//! # What to do
//!
//! Export the outside as page 1 and the inside as page 2, or say which page is which: `--outside 2 --inside 1`.
//!
//! # Source of the limit
//!
//! Common practice.

use super::frame::file_place;
use super::{Check, Context, Outcome, Severity};
use crate::card::Side;

pub(super) const CHECK: Check = Check {
    id: "page-count",
    title: "Pages against faces",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("page_count.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    if cx.card.facts.set_here {
        // Set from the card file, a page for each face.
        return Outcome::Clean;
    }
    let (pages, faces) = (cx.card.facts.pages as usize, &cx.card.faces);
    let mut found = Vec::new();
    if let [only] = faces.as_slice() {
        let message =
            format!("the card prints on one side: page {} is its {}, and there is no other face", only.page, only.side);
        found.push(CHECK.finding(file_place(cx.card), message, "add the second page, where the card has two sides"));
    }
    if pages > faces.len() {
        let message = format!("the file has {pages} pages, of which {} print", faces.len());
        found.push(CHECK.finding(
            file_place(cx.card),
            message,
            "see that the right ones were named, and take out the others",
        ));
    }
    if let (Some(grid), true) = (cx.card.grid.as_ref().filter(|g| g.side == Side::Outside), faces.len() > 1) {
        let message = "the grid stands on the outside, and the inside has none";
        let advice = "swap the pages, --outside 2 --inside 1, where they stand the other way round";
        found.push(CHECK.finding(cx.card.place(grid.side, grid.bounds, None), message, advice).at(Severity::Warning));
    }
    Outcome::from(found)
}
