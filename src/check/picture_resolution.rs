//! # What it checks
//!
//! The effective resolution of every picture on the card, after all scaling, in its weaker direction: colour and
//! gray pictures against one pair of limits, one-bit pictures (line art, stencils) against another. Pictures of 16
//! pixels or less on a side are left out.
//!
//! # Why it matters
//!
//! Below some 150 pixels to the inch the pixels show; one-bit pictures have no grays to soften their steps and need
//! several times as many.
//!
//! # What to do
//!
//! Place the picture smaller, or get the original; enlarging the pixels in an editor adds none. Line art is better
//! drawn as vectors.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification, sheetfed offset | digital: more than 149 (error) and 224 (warning) | 95 and
//! 149 ppi; one-bit pictures more than 549 and 799 | 349 and 599 ppi; pictures of 16 px or less a side excepted,
//! here: on either side.

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Mark, PictureMark, PictureSpace};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "picture-resolution",
    title: "Pictures with too few pixels",
    severity: Severity::Warning,
    bounds: &[TONES, TONES_LEAST, ONE_BIT, ONE_BIT_LEAST],
    doc: include_str!("picture_resolution.rs"),
    run,
};

const GWG: &str = "Ghent Workgroup 2022, sheetfed offset | digital";
const fn ppi(offset: u16, digital: u16) -> (Quantity, Quantity) {
    (Quantity::Ppi(offset as f64), Quantity::Ppi(digital as f64))
}

const TONES: Bound =
    Bound::by_press("picture-resolution.tones", "colour and gray pictures must have more", ppi(224, 149), GWG);
const TONES_LEAST: Bound = Bound::by_press(
    "picture-resolution.tones-least",
    "colour and gray pictures must have more, or it is an error",
    ppi(149, 95),
    GWG,
);
const ONE_BIT: Bound =
    Bound::by_press("picture-resolution.one-bit", "one-bit pictures must have more", ppi(799, 599), GWG);
const ONE_BIT_LEAST: Bound = Bound::by_press(
    "picture-resolution.one-bit-least",
    "one-bit pictures must have more, or it is an error",
    ppi(549, 349),
    GWG,
);

/// Pictures of no more pixels than this on a side are swatches and dots, not pictures.
pub(super) const SWATCH: u32 = 16;

fn run(cx: &Context<'_>) -> Outcome {
    let found = cx.marks().filter_map(|(face, element)| match &element.mark {
        Mark::Picture(picture) => judge(cx, face, element, picture),
        _ => None,
    });
    Outcome::from(found.collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, face: &Face, element: &Element, picture: &PictureMark) -> Option<Finding> {
    if picture.pixels.0 <= SWATCH || picture.pixels.1 <= SWATCH {
        return None;
    }
    let one_bit = is_one_bit(picture);
    let (kind, good, least) =
        if one_bit { ("a one-bit picture", &ONE_BIT, &ONE_BIT_LEAST) } else { ("a picture", &TONES, &TONES_LEAST) };
    let weaker = picture.ppi.0.min(picture.ppi.1);
    let measured = Quantity::Ppi(weaker);
    let (limit, severity) = [(least, Severity::Error), (good, CHECK.severity)]
        .map(|(bound, severity)| (Limit::MoreThan(cx.limit(bound)), severity))
        .into_iter()
        .find(|(limit, _)| limit.broken_by(measured).is_some())?;
    let message = format!("{kind} of {} x {} px has {measured} here; {limit}", picture.pixels.0, picture.pixels.1);
    // The share of its present size at which it has what is wanted.
    let share = (weaker / cx.number(good) * 100.0).floor();
    let times = cx.number(good) / weaker.max(0.1);
    let wide = (f64::from(picture.pixels.0) * times).ceil();
    let advice = format!("place it at {share:.0} % of its size here, or use an original of {wide:.0} px in width");
    let place = cx.card.place(face.side, element.bounds, picture.object.or(element.object));
    Some(CHECK.finding(place, message, advice).with(limit.read(measured)).at(severity))
}

/// Whether a picture has two tones only: a stencil, or one bit of gray or of one ink.
pub(super) fn is_one_bit(picture: &PictureMark) -> bool {
    match &picture.space {
        PictureSpace::Stencil => true,
        PictureSpace::Gray => picture.bits == 1,
        PictureSpace::Inks(inks) => picture.bits == 1 && inks.len() == 1,
        _ => false,
    }
}
