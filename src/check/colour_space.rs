//! # What it checks
//!
//! Text, lines, areas, pictures and blends in RGB or Lab, whether plain or with a profile, also inside patterns. Black and
//! gray are told apart; in text and fine lines they are errors. So is plain RGB of any kind. Other colour with a
//! profile is a warning.
//!
//! # Why it matters
//!
//! RGB and Lab have no plates. Somebody turns them into inks later, out of sight: a bright green goes dull, and black
//! figures become four inks that must meet within a hair and never do.
//!
//! # What to do
//!
//! Set black and gray text in black ink alone. Choose process inks or a spot for everything else in the layout
//! program, and place pictures that were turned into the CMYK of the press's profile.
//!
//! # Source of the limit
//!
//! - That plain RGB needs an RGB output intent, which no press for cards has: ISO 15930-7, restated.
//! - That RGB black text is told apart: common practice. A colour counts as gray where its red, green and blue differ by
//!   no more than 2 %, or its a* and b* are no more than 2: judgement.

use super::frame::Coat;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Mark, Paint, PaintSpace, PictureSpace};
use crate::ink::Colour;

pub(super) const CHECK: Check = Check {
    id: "colour-space",
    title: "Colour that has no inks of its own",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("colour_space.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let coats = cx.coats().filter_map(|coat| judge_coat(cx, &coat));
    let others = cx.marks().filter_map(|(face, element)| judge_other(cx, face, element));
    Outcome::from(coats.chain(others).collect::<Vec<_>>())
}

fn judge_coat(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    let shape = coat.shape.words();
    let (space, shown) = match coat.paint {
        Paint::Flat(colour) => (PaintSpace::of(colour), colour.to_string()),
        Paint::Pattern(pattern) => {
            let space = pattern.spaces.iter().find(|space| family(space).is_some())?;
            (space.clone(), format!("a pattern ({}) in {}", pattern.kind, family(space)?))
        }
    };
    let name = family(&space)?;
    if let Some(gray) = coat.paint.flat().and_then(gray) {
        let (which, instead) = if gray < 0.5 {
            ("black", "set it in black ink alone, 0/0/0/100".to_owned())
        } else {
            ("gray", format!("set it in black ink alone, about {:.0} %", 100.0 - gray))
        };
        let message = format!("{shape} in {which} of {name} is not black ink; it becomes four inks on the press");
        let severity = if coat.shape.is_fine() || is_plain(&space) { Severity::Error } else { CHECK.severity };
        return Some(CHECK.finding(coat.place(cx.card), message, instead).at(severity));
    }
    Some(told(cx, coat.place(cx.card), &format!("{shape} in {shown}"), &space, false))
}

fn judge_other(cx: &Context<'_>, face: &Face, element: &Element) -> Option<Finding> {
    let (words, space, object, picture) = match &element.mark {
        Mark::Picture(picture) => {
            ("a picture", element.spaces().into_iter().next()?, picture.object.or(element.object), true)
        }
        Mark::Shading(space) => ("a blend of colours", space.clone(), element.object, false),
        Mark::Text(_) | Mark::Path(_) => return None,
    };
    let words = format!("{words} in {}", family(&space)?);
    Some(told(cx, cx.card.place(face.side, element.bounds, object), &words, &space, picture))
}

fn told(cx: &Context<'_>, place: crate::card::Place, words: &str, space: &PaintSpace, picture: bool) -> Finding {
    let paper = &cx.card.condition.name;
    let advice = if picture {
        format!("place a picture in the CMYK of the press (here: {paper})")
    } else {
        "choose process inks or a spot for it in the layout program".to_owned()
    };
    let (message, severity) = if is_plain(space) {
        (format!("{words} has neither inks nor a profile; PDF/X does not take it"), Severity::Error)
    } else {
        (format!("{words} has no inks of its own; which it gets is decided later"), CHECK.severity)
    };
    CHECK.finding(place, message, advice).at(severity)
}

/// Whether it is RGB without a profile.
fn is_plain(space: &PaintSpace) -> bool {
    !space.calibrated && space.family == PictureSpace::Rgb
}

/// The name of a space without plates.
fn family(space: &PaintSpace) -> Option<&'static str> {
    match (&space.family, space.calibrated) {
        (PictureSpace::Rgb, false) => Some("RGB"),
        (PictureSpace::Rgb, true) => Some("RGB with a profile"),
        (PictureSpace::Lab, _) => Some("Lab"),
        _ => None,
    }
}

/// How light a black or gray is in percent, black being 0; `None` for colours, and for white, which takes no ink.
fn gray(colour: &Colour) -> Option<f64> {
    match colour {
        Colour::Rgb(rgb) => {
            let (most, least) = rgb.iter().fold((0.0_f64, 1.0_f64), |(m, l), v| (m.max(*v), l.min(*v)));
            (most - least <= 0.02 && least < 0.99).then_some(most * 100.0)
        }
        Colour::Lab([l, a, b]) => (a.abs() <= 2.0 && b.abs() <= 2.0 && *l < 99.0).then_some(*l),
        Colour::Calibrated { plain, .. } => gray(plain),
        Colour::Gray(_) | Colour::Cmyk(_) | Colour::Inks { .. } => None,
    }
}
