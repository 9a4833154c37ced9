//! # What it checks
//!
//! Text, rules, fills and pictures whose colour is not stated in the inks of the press: RGB, Lab, and spaces tied
//! to an ICC profile or calibrated. Gray and black among them are named apart, for they would print in four inks.
//! Colours of a profile for CMYK or gray are a note.
//!
//! # Why it matters
//!
//! A press prints plates. What is stated as light is turned into inks by whoever comes next, with settings that
//! nobody on your side has seen; black text in RGB comes out as four inks, with coloured edges as soon as the
//! plates are off by a hair.
//!
//! # What to do
//!
//! Convert the document to CMYK for the print condition before it is exported, with black text in black ink alone;
//! export pictures in CMYK.
//!
//! # Source of the limit
//!
//! ISO 15930-4 (PDF/X-1a: gray, CMYK and spots only) and ISO 15930-7 (PDF/X-4: RGB and Lab only through profiles,
//! no DeviceRGB under a CMYK output intent), restated. Ghent Workgroup 2022: CMYK and spots for sheetfed offset.

use super::frame::Inked;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Mark, PictureMark, PictureSpace};
use crate::ink::Colour;

pub(super) const CHECK: Check = Check {
    id: "colour-space",
    title: "Colours without plates of their own",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("colour_space.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let mut found: Vec<Finding> = cx.inked().filter_map(|inked| colour(cx, &inked)).collect();
    for (face, element) in cx.marks() {
        if let Mark::Picture(picture) = &element.mark {
            found.extend(self::picture(cx, face, element, picture));
        }
    }
    Outcome::from(found)
}

/// What a colour is stated in, and how much that weighs; nothing where it is stated in inks.
fn stated(colour: &Colour) -> Option<(String, Severity)> {
    match colour {
        Colour::Rgb(_) => Some(("RGB".to_owned(), Severity::Error)),
        Colour::Lab(_) => Some(("Lab".to_owned(), Severity::Warning)),
        Colour::Calibrated { space, plain } => match **plain {
            Colour::Rgb(_) => Some((format!("RGB by {space}"), Severity::Warning)),
            Colour::Lab(_) => Some((format!("Lab by {space}"), Severity::Warning)),
            Colour::Cmyk(_) => Some((format!("CMYK by {space}"), Severity::Note)),
            _ => Some((format!("gray by {space}"), Severity::Note)),
        },
        Colour::Gray(_) | Colour::Cmyk(_) | Colour::Inks { .. } => None,
    }
}

/// Whether an RGB colour is a gray or black.
fn is_gray(colour: &Colour) -> bool {
    match colour {
        Colour::Rgb([r, g, b]) => (r - g).abs() < 0.01 && (g - b).abs() < 0.01 && *r < 1.0,
        Colour::Calibrated { plain, .. } => is_gray(plain),
        _ => false,
    }
}

fn colour(cx: &Context<'_>, inked: &Inked<'_>) -> Option<Finding> {
    let colour = inked.paint.flat()?;
    let (space, severity) = stated(colour)?;
    let words = inked.words();
    let (message, advice) = if is_gray(colour) {
        (
            format!(
                "{words} is {} in {space} and would print in four inks",
                if is_black(colour) { "black" } else { "gray" }
            ),
            "set it in black ink alone, C 0 M 0 Y 0 and its tint of K",
        )
    } else if severity == Severity::Note {
        (
            format!("{words} is stated in {space}"),
            "state it in plain inks, unless the profile is that of the print condition",
        )
    } else {
        (
            format!("{words} is stated in {space}, not in inks"),
            "convert it to CMYK for the print condition, or set it in a spot ink",
        )
    };
    Some(CHECK.finding(inked.place(cx.card), message, advice).at(severity))
}

fn is_black(colour: &Colour) -> bool {
    match colour {
        Colour::Rgb([r, ..]) => *r < 0.2,
        Colour::Calibrated { plain, .. } => is_black(plain),
        _ => false,
    }
}

fn picture(cx: &Context<'_>, face: &Face, element: &Element, picture: &PictureMark) -> Option<Finding> {
    let profile = if picture.calibrated { " by a profile" } else { "" };
    let (space, severity) = match (&picture.space, picture.calibrated) {
        (PictureSpace::Rgb, false) => ("RGB", Severity::Error),
        (PictureSpace::Rgb, true) => ("RGB", Severity::Warning),
        (PictureSpace::Lab, _) => ("Lab", Severity::Warning),
        (PictureSpace::Cmyk, true) => ("CMYK", Severity::Note),
        (PictureSpace::Gray, true) => ("gray", Severity::Note),
        _ => return None,
    };
    let message = format!("a picture of {} x {} px is in {space}{profile}", picture.pixels.0, picture.pixels.1);
    let advice = match severity {
        Severity::Note => "export it in plain inks, unless the profile is that of the print condition",
        _ => "export it in CMYK for the print condition",
    };
    let place = cx.card.place(face.side, element.bounds, picture.object.or(element.object));
    Some(CHECK.finding(place, message, advice).at(severity))
}
