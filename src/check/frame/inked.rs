use super::seen::quoted;
use crate::card::{Card, Element, Face, Mark, Paint, Painted, Place, TextRun};
use crate::check::Context;
use crate::unit::Length;

/// One paint that a mark on the finished card lays down.
#[derive(Clone, Copy)]
pub(crate) struct Inked<'a> {
    /// Its face.
    pub(crate) face: &'a Face,
    /// Its number in the face's painting order.
    pub(crate) index: usize,
    /// Its element.
    pub(crate) element: &'a Element,
    /// What is laid down.
    pub(crate) paint: &'a Paint,
    /// By what.
    pub(crate) by: By<'a>,
}

/// What lays ink down.
#[derive(Clone, Copy)]
pub(crate) enum By<'a> {
    /// The inside of letters.
    Text(&'a TextRun),
    /// The outline of letters.
    Outline(&'a TextRun),
    /// The inside of a path.
    Fill,
    /// A line of this weight.
    Line(Length),
}

impl<'a> Context<'a> {
    /// Every paint of letters and paths with ink inside the trim.
    pub(crate) fn inked(&self) -> impl Iterator<Item = Inked<'a>> + use<'a> {
        let trim = self.card.format.trim();
        self.card.faces.iter().flat_map(move |face| {
            let within = move |e: &Element| e.bounds.intersect(trim).is_some() || trim.contains(e.bounds);
            face.elements.iter().enumerate().filter(move |(_, e)| within(e)).flat_map(move |(index, element)| {
                paints(element).map(move |(paint, by)| Inked { face, index, element, paint, by })
            })
        })
    }
}

/// The paints of an element with what lays them down.
fn paints(element: &Element) -> impl Iterator<Item = (&Paint, By<'_>)> {
    let (fill, stroke) = match &element.mark {
        Mark::Text(run) if !run.text.trim().is_empty() => {
            let fill = matches!(run.painted, Painted::Fill | Painted::Both);
            let stroke = matches!(run.painted, Painted::Stroke | Painted::Both);
            let stroked = run.stroke.as_ref().filter(|_| stroke).map(|s| (&s.paint, By::Outline(run)));
            (run.fill.as_ref().filter(|_| fill).map(|p| (p, By::Text(run))), stroked)
        }
        Mark::Path(path) => {
            let stroked = path.stroke.as_ref().map(|s| (&s.paint, By::Line(s.width)));
            (path.fill.as_ref().map(|p| (p, By::Fill)), stroked)
        }
        Mark::Text(_) | Mark::Picture(_) | Mark::Shading => (None, None),
    };
    fill.into_iter().chain(stroke)
}

impl Inked<'_> {
    /// Whether it is set to overprint.
    pub(crate) fn overprints(&self) -> bool {
        match self.by {
            By::Text(_) | By::Fill => self.element.blend.overprint_fill,
            By::Outline(_) | By::Line(_) => self.element.blend.overprint_stroke,
        }
    }

    /// `text`, `a line`, `a fill`.
    pub(crate) const fn words(&self) -> &'static str {
        match self.by {
            By::Text(_) | By::Outline(_) => "text",
            By::Fill => "a fill",
            By::Line(_) => "a line",
        }
    }

    /// Where it stands; text in its own words where the card file does not say what it is.
    pub(crate) fn place(&self, card: &Card) -> Place {
        let mut place = card.place(self.face.side, self.element.bounds, self.element.object);
        if let By::Text(run) | By::Outline(run) = self.by {
            place.what.get_or_insert_with(|| quoted(&run.text));
        }
        place
    }
}

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
