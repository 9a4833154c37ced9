//! # What it checks
//!
//! Whether the program of every font that shows text is in the file, that of annotations included. A font that is only
//! named, shows nothing but blanks, or sets invisible text only, is a note.
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
//! ISO 15930-4 and 15930-7 (PDF/X): all fonts are embedded; restated. That text rendering mode 3 paints nothing: ISO
//! 32000-1, 9.3.6.

use super::{Check, Context, Outcome, Severity};
use crate::card::{Face, FontUse, Mark, Painted, Place};
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
            return CHECK.finding(place, message, "export the artwork again with all fonts embedded");
        }
        let does = if font.hidden { "sets invisible text only" } else { "is named, shows nothing" };
        let message = format!("the font {} {does} and is not in the file", font.name);
        CHECK.finding(place, message, "nothing to do for this card").at(Severity::Note)
    });
    Outcome::from(found.collect::<Vec<_>>())
}

/// A font's place: the first text of the face that is set in it, and its object.
pub(super) fn font_place(cx: &Context<'_>, face: &Face, font: &FontUse) -> Place {
    let source = Source::Pdf { file: cx.card.file.clone(), page: Some(face.page), object: font.object };
    let what = if font.name.is_empty() { "a font without a name".to_owned() } else { format!("font {}", font.name) };
    let first = face.elements.iter().find(|element| match &element.mark {
        Mark::Text(run) => run.font == font.name && (run.painted != Painted::Invisible || !font.painted),
        _ => false,
    });
    let rect = first.map(|element| element.bounds);
    let panel = rect.and_then(|rect| cx.card.panel_at(face.side, rect)).map(|panel| panel.number);
    Place { side: Some(face.side), panel, what: Some(what), rect, source }
}
