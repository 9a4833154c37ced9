use crate::card::{Card, Element, Face, Mark, Paint, Painted, Place, TextRun};
use crate::check::Context;
use crate::ink::{Colour, Ink};

/// A run of text that can be seen on the finished card.
#[derive(Clone, Copy)]
pub(crate) struct SeenText<'a> {
    /// Its face.
    pub(crate) face: &'a Face,
    /// Its number in the face's painting order.
    pub(crate) index: usize,
    /// Its element.
    pub(crate) element: &'a Element,
    /// The run.
    pub(crate) run: &'a TextRun,
}

impl<'a> Context<'a> {
    /// Every painted, non-blank run of text with ink inside the trim.
    pub(crate) fn texts(&self) -> impl Iterator<Item = SeenText<'a>> + use<'a> {
        let trim = self.card.format.trim();
        self.card.faces.iter().flat_map(move |face| {
            face.elements.iter().enumerate().filter_map(move |(index, element)| {
                let Mark::Text(run) = &element.mark else { return None };
                let seen = run.painted != Painted::Invisible
                    && !run.text.trim().is_empty()
                    && element.bounds.intersect(trim).is_some();
                seen.then_some(SeenText { face, index, element, run })
            })
        })
    }

    /// Every element with ink inside the trim, with its face.
    pub(crate) fn marks(&self) -> impl Iterator<Item = (&'a Face, &'a Element)> + use<'a> {
        self.numbered_marks().map(|(face, _, element)| (face, element))
    }

    /// The same, with the element's number in the face's painting order.
    pub(crate) fn numbered_marks(&self) -> impl Iterator<Item = (&'a Face, usize, &'a Element)> + use<'a> {
        let trim = self.card.format.trim();
        self.card.faces.iter().flat_map(move |face| {
            // A level or upright rule may have no height or width; its bounds still touch.
            let within = move |e: &Element| e.bounds.intersect(trim).is_some() || trim.contains(e.bounds);
            let numbered = face.elements.iter().enumerate().filter(move |(_, e)| within(e));
            numbered.map(move |(index, element)| (face, index, element))
        })
    }
}

impl<'a> SeenText<'a> {
    /// What paints it: the fill, the stroke, or both.
    pub(crate) fn paints(&self) -> impl Iterator<Item = &'a Paint> + use<'a> {
        let (fill, stroke) = match self.run.painted {
            Painted::Fill => (true, false),
            Painted::Stroke => (false, true),
            Painted::Both => (true, true),
            Painted::Invisible => (false, false),
        };
        let fill = self.run.fill.as_ref().filter(|_| fill);
        let stroke = self.run.stroke.as_ref().filter(|_| stroke).map(|s| &s.paint);
        fill.into_iter().chain(stroke)
    }

    /// How it is inked.
    pub(crate) fn inking(&self) -> Inking {
        self.paints().map(Inking::of).max().unwrap_or(Inking::One)
    }

    /// Where it stands; in its own words where the card file does not say what it is.
    pub(crate) fn place(&self, card: &Card) -> Place {
        let mut place = card.place(self.face.side, self.element.bounds, self.element.object);
        place.what.get_or_insert_with(|| quoted(&self.run.text));
        place
    }
}

/// A text in quotes, cut after some thirty letters.
pub(crate) fn quoted(text: &str) -> String {
    let text = text.trim();
    let short: String = text.chars().take(32).collect();
    if short.len() < text.len() { format!("\"{}…\"", short.trim_end()) } else { format!("\"{text}\"") }
}

/// How many plates must meet for a small shape to be whole.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(crate) enum Inking {
    /// One plate: nothing to meet.
    One,
    /// Bare paper in what lies below: its counters may close.
    Paper,
    /// Several plates, or a pattern.
    Several,
}

impl Inking {
    /// The inking of a paint.
    pub(crate) fn of(paint: &Paint) -> Self {
        let Some(colour) = paint.flat() else { return Self::Several };
        if colour.is_paper() {
            return Self::Paper;
        }
        let everywhere = colour.tints().is_some_and(|t| t.iter().any(|(ink, _)| *ink == Ink::All));
        if everywhere || colour.ink_count() > 1 { Self::Several } else { Self::One }
    }

    /// `in one ink`, `in bare paper`, `in several inks`.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::One => "in one ink",
            Self::Paper => "left as bare paper",
            Self::Several => "in several inks",
        }
    }
}

/// A colour as people name it: `bare paper`, `black 60 %`, or its inks.
pub(crate) fn named(colour: &Colour) -> String {
    match colour.tints().as_deref() {
        Some([]) => "bare paper".to_owned(),
        Some([(Ink::Black, tint)]) if *tint >= 1.0 => "black".to_owned(),
        Some([(Ink::Black, tint)]) => format!("black {:.0} %", tint * 100.0),
        _ => colour.to_string(),
    }
}
