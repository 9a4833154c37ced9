use kurbo::{BezPath, ParamCurve};

use super::SeenText;
use crate::card::{Card, Element, Face, Mark, Paint, PathMark, Place};
use crate::check::Context;
use crate::check::ground::{Ground, inside, samples};
use crate::ink::{Colour, Overprint};
use crate::unit::Length;

use super::bars::{BAR, bars};

/// One coat of paint inside the trim: the fill or the stroke of a text or a path.
#[derive(Clone, Copy)]
pub(crate) struct Coat<'a> {
    /// Its face.
    pub(crate) face: &'a Face,
    /// Its element's number in the face's painting order.
    pub(crate) index: usize,
    /// Its element.
    pub(crate) element: &'a Element,
    /// What it lays down.
    pub(crate) paint: &'a Paint,
    /// What it makes.
    pub(crate) shape: Shape,
    /// Whether it is a stroke.
    stroke: bool,
}

/// What a coat of paint makes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Shape {
    /// Letters of a size.
    Text(Length),
    /// A line of a weight: a stroke, or filled rectangles that are lines.
    Line(Length),
    /// Anything else that is filled.
    Area,
}

impl Shape {
    /// `text`, `a line`, `an area`.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Text(_) => "text",
            Self::Line(_) => "a line",
            Self::Area => "an area",
        }
    }

    /// Whether it is so fine that plates must meet for it to look whole: any text, and lines up to 2 pt.
    pub(crate) fn is_fine(self) -> bool {
        match self {
            Self::Text(_) => true,
            Self::Line(weight) => weight < BAR,
            Self::Area => false,
        }
    }
}

impl<'a> Context<'a> {
    /// Every coat of paint inside the trim, in painting order.
    pub(crate) fn coats(&self) -> impl Iterator<Item = Coat<'a>> + use<'a> {
        self.numbered_marks().flat_map(|(face, index, element)| {
            let coat = |paint, shape, stroke| Coat { face, index, element, paint, shape, stroke };
            let (fill, stroke) = match &element.mark {
                Mark::Text(run) if !run.text.trim().is_empty() => {
                    let shape = Shape::Text(run.size);
                    (
                        run.fill.as_ref().map(|p| coat(p, shape, false)),
                        run.stroke.as_ref().map(|s| coat(&s.paint, shape, true)),
                    )
                }
                Mark::Path(path) => (
                    path.fill.as_ref().map(|p| coat(p, filled(path), false)),
                    path.stroke.as_ref().map(|s| coat(&s.paint, Shape::Line(s.width), true)),
                ),
                Mark::Text(_) | Mark::Picture(_) | Mark::Shading(_) => (None, None),
            };
            [fill, stroke].into_iter().flatten()
        })
    }
}

fn filled(path: &PathMark) -> Shape {
    let bars = bars(&path.outline);
    bars.thinnest.filter(|_| bars.nothing_else).map_or(Shape::Area, Shape::Line)
}

impl<'a> Coat<'a> {
    /// Its colour, where it is one colour all over that lets nothing through.
    pub(crate) fn opaque(&self) -> Option<&'a Colour> {
        let blend = &self.element.blend;
        let alpha = if self.stroke { blend.alpha_stroke } else { blend.alpha_fill };
        self.paint.flat().filter(|_| blend.mode.is_none() && !blend.soft_mask && alpha >= 1.0)
    }

    /// How it meets the plates below.
    pub(crate) fn overprint(&self) -> Overprint {
        let blend = &self.element.blend;
        let on = if self.stroke { blend.overprint_stroke } else { blend.overprint_fill };
        Overprint::of(on, blend.overprint_mode)
    }

    /// The different grounds under it, where it really lies: within its letters' box, along its line, inside its outline.
    pub(crate) fn grounds(&self, cx: &Context<'_>) -> Vec<Ground> {
        let bounds = self.element.bounds;
        let spots = match (&self.element.mark, self.shape) {
            (Mark::Path(path), Shape::Line(_)) => {
                along(&path.outline).filter(|p| bounds.grown(BAR).holds(at(*p))).collect()
            }
            (Mark::Path(path), _) => samples(bounds).filter(|p| inside(path, *p)).collect(),
            _ => Vec::new(),
        };
        let spots: Vec<kurbo::Point> = if spots.is_empty() { samples(bounds).collect() } else { spots };
        let floor = cx.floor(self.face.side);
        let mut grounds = floor.map(|floor| floor.at(self.index, spots)).unwrap_or_default();
        // A stroke lies half on the fill of its own path.
        if let (Mark::Path(PathMark { fill: Some(fill), .. }), true) = (&self.element.mark, self.stroke) {
            let own = fill.flat().map_or(Ground::Unclear("a pattern"), |colour| Ground::Flat(colour.clone()));
            if !grounds.contains(&own) {
                grounds.push(own);
            }
        }
        grounds
    }

    /// Where it stands; text in its own words where the card file does not say what it is.
    pub(crate) fn place(&self, card: &Card) -> Place {
        match &self.element.mark {
            Mark::Text(run) => SeenText { face: self.face, index: self.index, element: self.element, run }.place(card),
            _ if self.shape != Shape::Area => line_place(card, self.face, self.element),
            _ => card.place(self.face.side, self.element.bounds, self.element.object),
        }
    }
}

/// Where a line stands; the rules of the grid belong to the grid and not to one of the rows that they part.
pub(crate) fn line_place(card: &Card, face: &Face, element: &Element) -> Place {
    let mut place = card.place(face.side, element.bounds, element.object);
    let grid = card.grid.as_ref().filter(|g| g.side == face.side);
    if grid.is_some_and(|g| g.bounds.grown(BAR).contains(element.bounds)) {
        place.what = Some("rules of the grid".to_owned());
        let stated = ["grid.rule", "grid"].into_iter().find_map(|path| card.trace.setting(path));
        if let Some(span) = stated {
            place.source = span.clone().into();
        }
    }
    place
}

fn at(p: kurbo::Point) -> crate::unit::Point {
    crate::unit::Point::new(Length::from_pt(p.x), Length::from_pt(p.y))
}

/// Spots along an outline are taken from this many of its segments at the most.
const MOST_SEGMENTS: usize = 100;

/// Spots along an outline, five to a segment.
fn along(outline: &BezPath) -> impl Iterator<Item = kurbo::Point> {
    let segments: Vec<_> = outline.segments().collect();
    let step = segments.len().div_ceil(MOST_SEGMENTS).max(1);
    segments.into_iter().step_by(step).flat_map(|s| [0.1, 0.3, 0.5, 0.7, 0.9].map(|t| s.eval(t)))
}
