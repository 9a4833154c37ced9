//! # What it checks
//!
//! Every ICC profile that colours on the card name: whether it can be read, and whether it is for as many components as
//! its stream says (N).
//!
//! # Why it matters
//!
//! A CMYK profile that says it is for three components is refused by one program and read as RGB by the next; colours
//! come out wrong or the file does not print at all.
//!
//! # What to do
//!
//! Export the artwork again; where it happens again, take the profile off the picture or the swatch that carries it and
//! assign a sound one.
//!
//! # Source of the limit
//!
//! ISO 32000-1, 8.6.5.5: N is required and matches the profile; ICC.1:2010, 7.2.6: the header names the colour space.

use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Face, Place, ProfileUse};
use crate::fault::Source;
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "icc-profile",
    title: "Colour profiles that contradict themselves",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("icc_profile.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let profiles = cx.card.faces.iter().flat_map(|face| face.profiles.iter().map(move |profile| (face, profile)));
    Outcome::from(profiles.filter_map(|(face, profile)| judge(cx, face, profile)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, face: &Face, profile: &ProfileUse) -> Option<Finding> {
    let source = Source::Pdf { file: cx.card.file.clone(), page: Some(face.page), object: profile.object };
    let place = Place { side: Some(face.side), what: Some("a colour profile".to_owned()), source, ..Place::default() };
    let again = "export the artwork again, or assign a sound profile to what carries this one";
    let Some(held) = profile.held.and_then(|n| i64::try_from(n).ok()) else {
        return Some(CHECK.finding(place, "the ICC profile is damaged and no program can follow it", again));
    };
    let limit = Limit::Exactly(Quantity::Count(held));
    if let Some(stated) = profile.stated.filter(|n| matches!(n, 1 | 3 | 4)) {
        let reading = limit.broken_by(Quantity::Count(stated))?;
        let message = format!("the ICC profile is for {held} components and says that it has {stated} (N)");
        return Some(CHECK.finding(place, message, again).with(reading));
    }
    let message = format!("the ICC profile does not say its number of components (N); {held} was read from its header");
    Some(CHECK.finding(place, message, again).at(Severity::Warning))
}
