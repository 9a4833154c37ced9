//! One face as a list of what will be drawn, in painting order and face coordinates.

use std::sync::Arc;

use kurbo::{BezPath, Shape};

use super::picture::Picture;
use crate::artwork::Artwork;
use crate::card::{Overset, Place, Side, Traced};
use crate::fault::{Fault, Faults, Source, Span};
use crate::font::ShapedLine;
use crate::ink::Colour;
use crate::unit::{Length, Point, Rect, Turn};

/// One thing to draw.
#[derive(Clone, Debug)]
pub(super) enum Drawn {
    /// A filled rectangle.
    Block { rect: Rect, colour: Colour },
    /// A filled outline, in points.
    Fill { path: BezPath, colour: Colour },
    /// A stroked outline, in points.
    Stroke { path: BezPath, weight: Length, colour: Colour },
    /// A straight rule with square ends.
    Rule { from: Point, to: Point, weight: Length, colour: Colour },
    /// A line of text with its baseline from `at`.
    Text { line: ShapedLine, at: Point, turn: Turn, colour: Colour },
    /// A picture on the parallelogram that the matrix makes of the unit square, in points; a stencil or gray one in `colour`.
    Picture { picture: Arc<Picture>, file: String, matrix: [f64; 6], clip: Option<Rect>, colour: Colour },
    /// A page of artwork; the matrix brings its trim's lower left corner, as it is shown, to its place, in points.
    Art { artwork: Arc<Artwork>, number: u32, matrix: [f64; 6], clip: Rect },
}

/// A face while it is set.
#[derive(Debug)]
pub(super) struct Page {
    pub(super) side: Side,
    pub(super) drawn: Vec<Drawn>,
    pub(super) parts: Vec<Traced>,
    pub(super) oversets: Vec<Overset>,
    pub(super) faults: Faults,
    /// What of the card file is being set.
    span: Option<Span>,
}

impl Page {
    pub(super) const fn new(side: Side) -> Self {
        Self { side, drawn: Vec::new(), parts: Vec::new(), oversets: Vec::new(), faults: Faults::new(), span: None }
    }

    /// Whether artwork is laid on it.
    pub(super) fn has_art(&self) -> bool {
        self.drawn.iter().any(|d| matches!(d, Drawn::Art { .. }))
    }

    /// A filled rectangle.
    pub(super) fn block(&mut self, rect: Rect, colour: &Colour) {
        self.drawn.push(Drawn::Block { rect, colour: colour.clone() });
    }

    /// A filled outline in points of the face.
    pub(super) fn fill(&mut self, path: BezPath, colour: &Colour) {
        self.drawn.push(Drawn::Fill { path, colour: colour.clone() });
    }

    /// A stroked outline in points of the face.
    pub(super) fn stroke(&mut self, path: BezPath, weight: Length, colour: &Colour) {
        self.drawn.push(Drawn::Stroke { path, weight, colour: colour.clone() });
    }

    /// A straight rule.
    pub(super) fn rule(&mut self, from: Point, to: Point, weight: Length, colour: &Colour) {
        self.drawn.push(Drawn::Rule { from, to, weight, colour: colour.clone() });
    }

    /// Says what of the card file is being set from here on.
    pub(super) fn set_from(&mut self, span: &Span) {
        self.span = Some(span.clone());
    }

    /// A line of text. Characters that its font does not have are a fault.
    pub(super) fn text(&mut self, line: ShapedLine, at: Point, turn: Turn, colour: &Colour) {
        if !line.is_complete() {
            let (font, missing) = match line.font.font() {
                Ok(font) => (font.name().to_owned(), font.missing(&line.text)),
                Err(_) => (line.font.word().to_owned(), Vec::new()),
            };
            let missing: Vec<String> = missing.into_iter().map(|c| format!("“{c}” (U+{:04X})", u32::from(c))).collect();
            let message = format!("the font {font} has no {} for “{}”", missing.join(", "), line.text);
            let source = self.span.clone().map_or(Source::Nowhere, Source::Span);
            self.faults
                .push(Fault::new(source, message).hint("write it with other characters, or draw it as a symbol"));
        }
        if !line.glyphs.is_empty() {
            self.drawn.push(Drawn::Text { line, at, turn, colour: colour.clone() });
        }
    }

    /// Notes which stretch of the card file made a part of the face.
    pub(super) fn trace(&mut self, rect: Rect, what: impl Into<String>, span: &Span) {
        self.parts.push(Traced { side: self.side, rect, what: what.into(), span: span.clone() });
    }

    /// Notes text that does not fit; it is drawn as it is.
    pub(super) fn overset(&mut self, at: &Spot<'_>, text: &str, room: Length, needs: Length, in_height: bool) {
        let place = Place {
            side: Some(self.side),
            panel: at.panel,
            what: Some(at.what.to_owned()),
            rect: Some(at.rect),
            source: at.span.clone().into(),
        };
        self.oversets.push(Overset { place, text: text.to_owned(), room, needs, in_height });
    }
}

/// A place on the face in words and in the card file.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot<'a> {
    pub(super) rect: Rect,
    pub(super) panel: Option<usize>,
    pub(super) what: &'a str,
    pub(super) span: &'a Span,
}

/// A rectangle as an outline in points.
pub(super) fn outline(rect: Rect, radius: Length) -> BezPath {
    let plain = kurbo::Rect::new(rect.x0.to_pt(), rect.y0.to_pt(), rect.x1.to_pt(), rect.y1.to_pt());
    // Curves are Bézier segments within a thousandth of a point of true arcs.
    if radius > Length::ZERO { plain.to_rounded_rect(radius.to_pt()).to_path(0.001) } else { plain.to_path(0.001) }
}
