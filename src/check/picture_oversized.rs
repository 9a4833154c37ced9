//! # What it checks
//!
//! Pictures whose effective resolution, in its weaker direction, is far above what the press can show: colour and
//! gray pictures, and one-bit pictures, each by a limit of their own. Pictures below one megapixel are left out.
//!
//! # Why it matters
//!
//! The pixels cost time at every step and are thrown away on the plate; fine patterns may even come out coarser
//! than from a picture of the right size.
//!
//! # What to do
//!
//! Let the layout program resample pictures on export to twice the screen ruling, which is about 300 pixels to the
//! inch.
//!
//! # Source of the limit
//!
//! 600 ppi for colour and gray, twice the usual 300, and 2400 ppi for one-bit pictures, the resolution of a plate:
//! common practice and judgement.

use super::picture_resolution::is_one_bit;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Element, Face, Mark, PictureMark};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "picture-oversized",
    title: "Pictures with far too many pixels",
    severity: Severity::Note,
    bounds: &[TONES, ONE_BIT],
    doc: include_str!("picture_oversized.rs"),
    run,
};

const TONES: Bound = Bound::same(
    "picture-oversized.tones",
    "most for colour and gray pictures",
    Quantity::Ppi(600.0),
    "practice and judgement",
);
const ONE_BIT: Bound = Bound::same(
    "picture-oversized.one-bit",
    "most for one-bit pictures",
    Quantity::Ppi(2400.0),
    "practice and judgement",
);

/// Smaller pictures weigh nothing whatever their resolution.
const SMALL: u64 = 1_000_000;

fn run(cx: &Context<'_>) -> Outcome {
    let found = cx.marks().filter_map(|(face, element)| match &element.mark {
        Mark::Picture(picture) => judge(cx, face, element, picture),
        _ => None,
    });
    Outcome::from(found.collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, face: &Face, element: &Element, picture: &PictureMark) -> Option<Finding> {
    let (width, height) = picture.pixels;
    if u64::from(width) * u64::from(height) < SMALL {
        return None;
    }
    let bound = if is_one_bit(picture) { &ONE_BIT } else { &TONES };
    let weaker = picture.ppi.0.min(picture.ppi.1);
    let reading = Limit::AtMost(cx.limit(bound)).broken_by(Quantity::Ppi(weaker))?;
    let message = format!("a picture of {width} x {height} px has {} here; {}", reading.measured(), reading.limit());
    let half = cx.number(bound) / 2.0;
    let wide = (f64::from(width) * half / weaker).ceil();
    let advice = format!("{wide:.0} px in width are {half:.0} ppi here; let the layout program resample it on export");
    let place = cx.card.place(face.side, element.bounds, picture.object.or(element.object));
    Some(CHECK.finding(place, message, advice).with(reading))
}
