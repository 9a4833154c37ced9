use std::collections::BTreeMap;

use super::whole::{header, output_profile};
use super::{Look, Scope, Standard, in_objects};
use crate::artwork::Artwork;
use crate::card::{Breach, Element, Face, Mark, Paint, PaintSpace, PictureSpace, Side};
use crate::fault::Result;
use crate::ink::Colour;

/// Things told of one rule on one page; the rest is counted.
const MOST_TOLD: usize = 20;

/// Everything in a file that is against `standard`, by object and by what the pages paint; sorted by page and object.
///
/// # Errors
/// A page that cannot be read.
pub fn in_artwork(artwork: &Artwork, standard: Standard) -> Result<Vec<Breach>> {
    let document = artwork.document();
    let decode = |stream: &lopdf::Stream| artwork.stream_bytes(stream);
    let mut found = in_objects(document, &document.version, standard, Scope::Used, &decode);
    let mut look = Look { document, standard, scope: Scope::Used, decode: &decode, found: Vec::new() };
    let rgb_print = output_profile(&look).as_deref().and_then(header).is_some_and(|(_, n)| n == 3);
    for number in 1..=artwork.page_count() {
        let face = artwork.face(number, Side::Outside)?;
        page(&mut look, &face, rgb_print);
    }
    found.append(&mut look.found);
    found.sort();
    Ok(found)
}

fn page(look: &mut Look, face: &Face, rgb_print: bool) {
    let on = Some(face.page);
    for font in face.fonts.iter().filter(|f| f.painted && !f.embedded && f.kind != "Type3") {
        look.say("fonts-embedded", on, font.object, format!("the font {} is not embedded", font.name));
    }
    let mut told: BTreeMap<&str, usize> = BTreeMap::new();
    for element in &face.elements {
        for (rule, what) in against(look.standard, element, rgb_print) {
            let so_far = told.entry(rule).or_default();
            *so_far += 1;
            if *so_far > MOST_TOLD {
                continue;
            }
            let at = element.bounds.reach_text();
            look.say(rule, on, element.object, format!("{} {what}, {at}", element.words()));
        }
    }
    for (rule, all) in told.into_iter().filter(|(_, all)| *all > MOST_TOLD) {
        look.say(rule, on, None, format!("{} more things are painted so", all - MOST_TOLD));
    }
}

/// The spaces that an element paints with, each with whether it overprints.
fn spaces(element: &Element) -> Vec<(PaintSpace, bool)> {
    let (fills, strokes) = (element.blend.overprint_fill, element.blend.overprint_stroke);
    let of = |paint: Option<&Paint>, over: bool| -> Vec<(PaintSpace, bool)> {
        match paint {
            Some(Paint::Flat(Colour::Inks { .. })) | None => Vec::new(),
            Some(Paint::Flat(colour)) => vec![(PaintSpace::of(colour), over)],
            Some(Paint::Pattern(pattern)) => pattern.spaces.iter().map(|s| (s.clone(), over)).collect(),
        }
    };
    match &element.mark {
        Mark::Text(t) => [of(t.fill.as_ref(), fills), of(t.stroke.as_ref().map(|s| &s.paint), strokes)].concat(),
        Mark::Path(p) => [of(p.fill.as_ref(), fills), of(p.stroke.as_ref().map(|s| &s.paint), strokes)].concat(),
        Mark::Picture(p) => vec![(PaintSpace { family: p.space.clone(), calibrated: p.calibrated }, fills)],
        Mark::Shading(space) => vec![(space.clone(), fills)],
    }
}

/// What of an element is against the standard: the rule and the words.
fn against(standard: Standard, element: &Element, rgb_print: bool) -> Vec<(&'static str, &'static str)> {
    let mut found = Vec::new();
    for (space, overprints) in spaces(element) {
        let rgb = space.family == PictureSpace::Rgb;
        match standard {
            Standard::X1a if space.calibrated => {
                found.push(("device-colour", "has colour by a profile or calibration"));
            }
            Standard::X1a if rgb => found.push(("device-colour", "is in RGB")),
            Standard::X1a if space.family == PictureSpace::Lab => found.push(("device-colour", "is in Lab")),
            Standard::X4 if rgb && !space.calibrated && !rgb_print => {
                found.push(("device-colour", "is in DeviceRGB, which the output intent does not define"));
            }
            Standard::X4
                if space.calibrated
                    && space.family == PictureSpace::Cmyk
                    && overprints
                    && element.blend.overprint_mode == 1 =>
            {
                found.push(("profile-overprint", "overprints by OPM 1 in CMYK by a profile"));
            }
            _ => {}
        }
    }
    found.dedup();
    found
}
