//! What keeps a card out of PDF/X-1a: each object, with its page, its kind and where it lies.

use super::Standard;
use crate::card::{Card, Element, Face, Mark, PictureMark};
use crate::fault::{Fault, Faults, Result, Source};

/// Faults that are listed of one kind on one face; the rest is counted.
const MOST_LISTED: usize = 20;

/// Whether a card can be what a standard asks for.
///
/// # Errors
/// Everything that cannot be, object by object (ISO 15930-4, restated: gray, process colour and spots only; no transparency, no layers,
/// fonts embedded, no JPEG 2000 and no LZW).
pub fn can_be(card: &Card, standard: Standard) -> Result<()> {
    let mut faults = Faults::new();
    if standard == Standard::X1a {
        for face in &card.faces {
            on_face(card, face, &mut faults);
        }
        for layer in &card.facts.layers {
            let source = Source::Pdf { file: card.file.clone(), page: None, object: Some(layer.object) };
            let fault = Fault::new(source, format!("the layer `{}` cannot stand in PDF/X-1a", layer.name));
            faults.push(fault.hint("export the artwork without layers, what does not print left out"));
        }
    }
    faults.or(())
}

fn on_face(card: &Card, face: &Face, faults: &mut Faults) {
    let source = |object: Option<u32>| Source::Pdf { file: card.file.clone(), page: Some(face.page), object };
    let mut told = 0;
    for element in &face.elements {
        for (what, way_out) in hindrances(element) {
            told += 1;
            if told > MOST_LISTED {
                continue;
            }
            let at = element.bounds.reach_text();
            let message = format!("{} {what}, {at} on the {}, cannot stand in PDF/X-1a", element.words(), face.side);
            faults.push(Fault::new(source(element.object), message).hint(way_out));
        }
    }
    if told > MOST_LISTED {
        let message = format!("{} more things on the {} cannot stand in PDF/X-1a", told - MOST_LISTED, face.side);
        faults.push(Fault::new(source(None), message));
    }
    for group in &face.groups {
        let message = format!("a transparency group on the {} cannot stand in PDF/X-1a", face.side);
        faults.push(Fault::new(source(group.object), message).hint(FLATTEN));
    }
    for font in face.fonts.iter().filter(|f| f.painted && !f.embedded) {
        let message = format!("the font {} is not embedded, as PDF/X-1a needs it", font.name);
        faults.push(Fault::new(source(font.object), message).hint("embed it, or set the text in another font"));
    }
}

const FLATTEN: &str = "flatten the transparency in the layout program, or write PDF/X-4";
const CONVERT: &str = "convert it to the inks of the print condition in the layout program, or write PDF/X-4";
const RECODE: &str = "export the picture compressed in another way, or write PDF/X-4";

/// What of an element cannot stand there, and the way out.
fn hindrances(element: &Element) -> Vec<(&'static str, &'static str)> {
    let mut found = Vec::new();
    let blend = &element.blend;
    if blend.mode.is_some() {
        found.push(("that blends with what lies below", FLATTEN));
    } else if blend.soft_mask {
        found.push(("with a soft mask", FLATTEN));
    } else if blend.alpha_fill < 1.0 || blend.alpha_stroke < 1.0 {
        found.push(("that is see-through", FLATTEN));
    }
    if element.spaces().iter().any(|space| !space.is_in_inks()) {
        found.push(("in RGB, Lab or colour by a profile", CONVERT));
    }
    if let Mark::Picture(picture) = &element.mark {
        found.extend(coded(picture));
    }
    found
}

/// A picture whose coding PDF 1.4 or the standard does not have.
fn coded(picture: &PictureMark) -> Option<(&'static str, &'static str)> {
    let by = |name: &str| picture.filters.iter().any(|f| f == name);
    if by("JPXDecode") {
        return Some(("compressed by JPEG 2000", RECODE));
    }
    if by("LZWDecode") {
        return Some(("compressed by LZW", RECODE));
    }
    (picture.bits > 8).then_some(("of more than eight bits a component", RECODE))
}
