//! # What it checks
//!
//! Whether any text is set in a Type 3 font, whose letters are little drawings or dot pictures and no outlines.
//!
//! # Why it matters
//!
//! Dot letters print with steps at the edge of every stroke, carry no hints and no size, and some machines set them
//! coarsely.
//!
//! # What to do
//!
//! Export the artwork with outline fonts; a program that only prints to Type 3 needs another way of exporting.
//!
//! # Source of the limit
//!
//! Common practice; PDF/X allows Type 3 fonts.

use super::fonts_embedded::font_place;
use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "type-3-text",
    title: "Text drawn as pictures of letters",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("type_3_text.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let fonts = cx.card.faces.iter().flat_map(|face| face.fonts.iter().map(move |font| (face, font)));
    let drawn = fonts.filter(|(_, font)| font.painted && font.kind == "Type3");
    let found = drawn.map(|(face, font)| {
        let message = format!("the font {} is of Type 3: its letters are drawings, not outlines", font.name);
        CHECK.finding(font_place(cx, face, font), message, "export the artwork again with outline fonts")
    });
    Outcome::from(found.collect::<Vec<_>>())
}
