//! # What it checks
//!
//! Gray and CMYK that carry a profile of their own (ICCBased, CalGray), also as the default of a page: black text and fine
//! lines are a warning, everything else is a note. CMYK with a profile that overprints in mode 1 is an error.
//!
//! # Why it matters
//!
//! Ink amounts with a profile are a colour and no longer an order to the plates: a press that converts them to its own
//! profile turns black figures into four inks, and pure tints into mixed ones. Overprint mode 1 speaks of plain
//! DeviceCMYK only; whether it holds for CMYK with a profile differs from one machine to the next.
//!
//! # What to do
//!
//! Export without profiles on gray and CMYK ("leave numbers unchanged"), so that ink amounts reach the plates as they
//! are.
//!
//! # Source of the limit
//!
//! - No ICCBased CMYK that overprints in mode 1: ISO 15930-7, restated.
//! - That conversion does not keep black alone: ISO 32000-1, 8.6.5.5, and common practice.

use super::frame::Coat;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Mark, Paint, PaintSpace, PictureSpace, Place};
use crate::ink::Overprint;

pub(super) const CHECK: Check = Check {
    id: "calibrated-colour",
    title: "Ink amounts that carry a profile",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("calibrated_colour.rs"),
    run,
};

/// What to do about all of it.
const ADVICE: &str = "export gray and CMYK without profiles, their numbers unchanged";

fn run(cx: &Context<'_>) -> Outcome {
    let coats = cx.coats().filter_map(|coat| judge_coat(cx, &coat));
    let others = cx.marks().filter_map(|(face, element)| {
        let (words, space, object) = match &element.mark {
            Mark::Picture(picture) => {
                let space = PaintSpace { family: picture.space.clone(), calibrated: picture.calibrated };
                ("a picture", space, picture.object.or(element.object))
            }
            Mark::Shading(space) => ("a blend of colours", space.clone(), element.object),
            Mark::Text(_) | Mark::Path(_) => return None,
        };
        noted(cx.card.place(face.side, element.bounds, object), words, &space)
    });
    Outcome::from(coats.chain(others).collect::<Vec<_>>())
}

fn judge_coat(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    let words = coat.shape.words();
    let colour = match coat.paint {
        Paint::Flat(colour) => colour,
        Paint::Pattern(pattern) => {
            return pattern.spaces.iter().find_map(|space| noted(coat.place(cx.card), "a pattern", space));
        }
    };
    let space = PaintSpace::of(colour);
    let family = family(&space)?;
    if space.family == PictureSpace::Cmyk && coat.overprint() == Overprint::Mode1 {
        let message = format!("{words} in CMYK with a profile overprints in mode 1, which PDF/X does not take");
        return Some(CHECK.finding(coat.place(cx.card), message, ADVICE).at(Severity::Error));
    }
    if colour.is_black_only() && coat.shape.is_fine() {
        let message = format!("black {words} in {family} may become four inks on the press");
        let message = message.replace("black a line", "a black line");
        return Some(CHECK.finding(coat.place(cx.card), message, "set it in plain black, 0/0/0/100 without a profile"));
    }
    noted(coat.place(cx.card), words, &space)
}

fn noted(place: Place, words: &str, space: &PaintSpace) -> Option<Finding> {
    let message = format!("{words} in {} may be converted once more on the press", family(space)?);
    Some(CHECK.finding(place, message, ADVICE).at(Severity::Note))
}

/// The name of a space of ink amounts with a profile.
fn family(space: &PaintSpace) -> Option<&'static str> {
    match (&space.family, space.calibrated) {
        (PictureSpace::Gray, true) => Some("gray with a profile"),
        (PictureSpace::Cmyk, true) => Some("CMYK with a profile"),
        _ => None,
    }
}
