//! # What it checks
//!
//! What each embedded font that shows text says of itself about embedding (`fsType` in its OS/2 table): whether it
//! may be embedded at all, and whether it may be cut down to the glyphs in use. Fonts that do not say are told
//! once, as a note.
//!
//! # Why it matters
//!
//! A press file carries the fonts to the printer. A font whose maker restricts that may not travel in it without
//! the maker's leave.
//!
//! # What to do
//!
//! Get the maker's leave and waive the finding with that reason, or set the text in a font that may be embedded.
//!
//! # Source of the limit
//!
//! OpenType specification, OS/2 table, `fsType`: 0x0002 restricted licence embedding, 0x0100 no subsetting, 0x0200
//! bitmap embedding only.

use super::fonts_embedded::font_place;
use super::{Check, Context, Outcome, Severity};
use crate::card::FontUse;

pub(super) const CHECK: Check = Check {
    id: "font-rights",
    title: "Fonts that may not be embedded",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("font_rights.rs"),
    run,
};

/// The low bits are one value; where several are set the least restrictive holds (OpenType 1.6 and before).
const RESTRICTED: u16 = 0x0002;
const PREVIEW_OR_EDIT: u16 = 0x0004 | 0x0008;
const NO_SUBSET: u16 = 0x0100;
const BITMAP_ONLY: u16 = 0x0200;

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for face in &cx.card.faces {
        for font in face.fonts.iter().filter(|f| f.embedded && f.painted) {
            if let Some(why) = forbidden(font) {
                let message = format!("the font {} {why}", font.name);
                let advice = "get the maker's leave and waive this with that reason, or use another font";
                found.push(CHECK.finding(font_place(cx, face, font), message, advice));
            } else if font.fs_type.is_none() && font.kind != "Type3" {
                let message = format!("the font {} does not say whether it may be embedded", font.name);
                let advice = "look at its licence";
                found.push(CHECK.finding(font_place(cx, face, font), message, advice).at(Severity::Note));
            }
        }
    }
    Outcome::from(found)
}

/// What a font's `fsType` forbids of what the file does.
fn forbidden(font: &FontUse) -> Option<&'static str> {
    let bits = font.fs_type?;
    if bits & RESTRICTED != 0 && bits & PREVIEW_OR_EDIT == 0 {
        Some("may not be embedded without its maker's leave (fsType: restricted licence)")
    } else if bits & BITMAP_ONLY != 0 {
        Some("may only be embedded as bitmaps (fsType: bitmap embedding only)")
    } else if bits & NO_SUBSET != 0 && font.subset {
        Some("may only be embedded whole and is cut down to a subset (fsType: no subsetting)")
    } else {
        None
    }
}
