use crate::card::{Card, Face, Place};

/// The whole page of a face.
pub(crate) fn page_place(card: &Card, face: &Face) -> Place {
    let mut place = card.place(face.side, face.boxes.trim, None);
    place.panel = None;
    place.what = None;
    place.source = crate::fault::Source::Pdf { file: card.file.clone(), page: Some(face.page), object: None };
    place
}

/// The file as a whole.
pub(crate) fn file_place(card: &Card) -> Place {
    Place { source: crate::fault::Source::File(card.file.clone()), ..Place::default() }
}
