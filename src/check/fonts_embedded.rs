//! # What it checks
//!
//! Whether the program of every font that shows text is in the file. A font that is only named and never shown is a
//! note.
//!
//! # Why it matters
//!
//! A font that is not in the file is replaced by whatever the printer's machine has. The figures change width and
//! the grid no longer fits.
//!
//! # What to do
//!
//! Export the artwork again with all fonts embedded, the "standard fourteen" included.
//!
//! # Source of the limit
//!
//! ISO 15930-4 and 15930-7 (PDF/X): all fonts are embedded; restated.

use super::{Check, Context, Outcome, Severity};
use crate::card::{Face, FontUse, Place};
use crate::fault::Source;

pub(super) const CHECK: Check = Check {
    id: "fonts-embedded",
    title: "Fonts that are not in the file",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("fonts_embedded.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let fonts = cx.card.faces.iter().flat_map(|face| face.fonts.iter().map(move |font| (face, font)));
    // The glyphs of a Type 3 font are content of the page itself.
    let missing = fonts.filter(|(_, font)| !font.embedded && font.kind != "Type3");
    let found = missing.map(|(face, font)| {
        let place = font_place(cx, face, font);
        if font.painted {
            let message = format!("the font {} shows text and is not in the file", font.name);
            CHECK.finding(place, message, "export the artwork again with all fonts embedded")
        } else {
            let message = format!("the font {} is named, shows nothing and is not in the file", font.name);
            CHECK.finding(place, message, "nothing to do for this card").at(Severity::Note)
        }
    });
    Outcome::from(found.collect::<Vec<_>>())
}

/// A font's place: its object on the page.
pub(super) fn font_place(cx: &Context<'_>, face: &Face, font: &FontUse) -> Place {
    let source = Source::Pdf { file: cx.card.file.clone(), page: Some(face.page), object: font.object };
    Place { side: Some(face.side), panel: None, what: Some(format!("font {}", font.name)), rect: None, source }
}
