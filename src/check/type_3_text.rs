//! # What it checks
//!
//! Text set in a Type 3 font, whose letters are little drawings or pictures inside the file and no font program. Where
//! the letters are pictures, their resolution at the size they are set in is held against the limits of one-bit
//! pictures.
//!
//! # Why it matters
//!
//! Letters made of pixels show their steps in print, and those of a Type 3 font cannot be measured, hinted or mended.
//! Such fonts come from printing to PDF through an old driver, or from spreadsheet charts.
//!
//! # What to do
//!
//! Export the artwork again from the layout program itself, with OpenType or TrueType fonts, or turn this text to
//! outlines.
//!
//! # Source of the limit
//!
//! - That a Type 3 font's letters are content streams: ISO 32000-1, 9.6.5. That they are a warning: common practice.
//! - Resolution as of one-bit pictures: Ghent Workgroup 2022 specification, sheetfed offset | digital.

use super::fonts_embedded::font_place;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Face, FontUse};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "type-3-text",
    title: "Text whose letters are drawings or pictures",
    severity: Severity::Warning,
    bounds: &[DOTS, DOTS_LEAST],
    doc: include_str!("type_3_text.rs"),
    run,
};

const GWG: &str = "Ghent Workgroup 2022, sheetfed offset | digital, for one-bit pictures";
const DOTS: Bound = Bound::by_press(
    "type-3-text.dots",
    "letters that are pictures must have more",
    (Quantity::Ppi(799.0), Quantity::Ppi(599.0)),
    GWG,
);
const DOTS_LEAST: Bound = Bound::by_press(
    "type-3-text.dots-least",
    "letters that are pictures must have more, or it is an error",
    (Quantity::Ppi(549.0), Quantity::Ppi(349.0)),
    GWG,
);

fn run(cx: &Context<'_>) -> Outcome {
    let fonts = cx.card.faces.iter().flat_map(|face| face.fonts.iter().map(move |font| (face, font)));
    let shown = fonts.filter(|(_, font)| font.kind == "Type3" && font.painted);
    Outcome::from(shown.map(|(face, font)| judge(cx, face, font)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, face: &Face, font: &FontUse) -> Finding {
    let place = font_place(cx, face, font);
    let broken = font.dots.and_then(|dots| {
        [(&DOTS_LEAST, Severity::Error), (&DOTS, CHECK.severity)].into_iter().find_map(|(bound, weighs)| {
            Some((Limit::MoreThan(cx.limit(bound)).broken_by(Quantity::Ppi(dots))?, weighs))
        })
    });
    let again = "export the artwork again with OpenType or TrueType fonts, or turn this text to outlines";
    match broken {
        Some((reading, severity)) => {
            let (measured, limit) = (reading.measured(), reading.limit());
            let message = format!("letters of a Type 3 font are pictures of {measured} here; {limit}");
            CHECK.finding(place, message, again).with(reading).at(severity)
        }
        None => {
            CHECK.finding(place, "text is set in a Type 3 font, whose letters are drawings and no font program", again)
        }
    }
}
