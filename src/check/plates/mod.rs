//! Which inks the card's faces print in, how each is defined, and where it is met first.

use crate::card::{Card, Element, Face, Mark, Paint, PaintSpace, PictureSpace, Place};
use crate::fault::Source;
use crate::ink::{Colour, Ink};

/// A spot ink of the card.
#[derive(Clone, Debug)]
pub(crate) struct Spot<'a> {
    /// Its name.
    pub(crate) name: &'a str,
    /// What its solid looks like, once for each way in which a face defines it.
    pub(crate) solids: Vec<&'a Colour>,
    /// The face that it is met on first; `None` where only the card file names it.
    pub(crate) face: Option<&'a Face>,
}

/// Every spot ink of the card, face by face in order of name, then those that only the card file names.
pub(crate) fn spots(card: &Card) -> Vec<Spot<'_>> {
    let mut spots: Vec<Spot<'_>> = Vec::new();
    for face in &card.faces {
        for used in face.inks.iter().filter(|used| used.ink.is_spot()) {
            let name = used.ink.name();
            let at = spots.iter().position(|spot| spot.name == name).unwrap_or_else(|| {
                spots.push(Spot { name, solids: Vec::new(), face: Some(face) });
                spots.len() - 1
            });
            if let (Some(spot), Some(solid)) = (spots.get_mut(at), &used.solid)
                && !spot.solids.contains(&solid)
            {
                spot.solids.push(solid);
            }
        }
    }
    for stated in &card.spots {
        if !spots.iter().any(|spot| spot.name == &*stated.name) {
            spots.push(Spot { name: &stated.name, solids: Vec::new(), face: None });
        }
    }
    spots
}

/// The place of an ink: the first mark of a face that prints in it, else the face.
pub(crate) fn ink_place(card: &Card, face: Option<&Face>, ink: &Ink) -> Place {
    let what = Some(format!("ink \"{ink}\""));
    let Some(face) = face else {
        return Place { what, source: Source::File(card.file.clone()), ..Place::default() };
    };
    if let Some(element) = face.elements.iter().find(|element| prints_in(element, ink)) {
        return Place { what, ..card.place(face.side, element.bounds, element.object) };
    }
    let source = Source::Pdf { file: card.file.clone(), page: Some(face.page), object: None };
    Place { side: Some(face.side), what, source, ..Place::default() }
}

/// Whether a mark prints in an ink, be it through a pattern, a picture or a shading.
pub(crate) fn prints_in(element: &Element, ink: &Ink) -> bool {
    let paint = |paint: &Paint| match paint {
        Paint::Flat(colour) => colour.tints().is_some_and(|tints| tints.iter().any(|(other, _)| other == ink)),
        Paint::Pattern(pattern) => pattern.spaces.iter().any(|space| names(&space.family, ink)),
    };
    match &element.mark {
        Mark::Text(run) => run.fill.as_ref().is_some_and(paint) || run.stroke.as_ref().is_some_and(|s| paint(&s.paint)),
        Mark::Path(path) => {
            path.fill.as_ref().is_some_and(paint) || path.stroke.as_ref().is_some_and(|s| paint(&s.paint))
        }
        Mark::Picture(picture) => names(&picture.space, ink),
        Mark::Shading(PaintSpace { family, .. }) => names(family, ink),
    }
}

fn names(family: &PictureSpace, ink: &Ink) -> bool {
    matches!(family, PictureSpace::Inks(inks) if inks.contains(ink))
}
