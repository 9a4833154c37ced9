//! What lies under a mark on the paper: the fills below it, laid one on another as the plates print them. Text and thin rules
//! are no ground.

mod floor;

pub(crate) use floor::Floor;

use kurbo::{ParamCurveNearest, Point, Shape};

use crate::card::{Element, Mark, Paint, PathMark, PictureMark};
use crate::ink::{Colour, Ink, Overprint, layered};
use crate::unit::{Length, Rect};

/// What lies under one spot.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Ground {
    /// One colour; [`Colour::WHITE`] is bare paper.
    Flat(Colour),
    /// Something that is no one colour, in words.
    Unclear(&'static str),
}

/// Spots over a rectangle, clear of its edges by a tenth: three rows, and as many columns as make them about square.
pub(crate) fn samples(rect: Rect) -> impl Iterator<Item = Point> {
    let (x, y, w, h) = (rect.x0.to_pt(), rect.y0.to_pt(), rect.width().to_pt(), rect.height().to_pt());
    let share = |count: i64, n: i64| 0.1 + 0.8 * (n as f64) / ((count - 1) as f64);
    let along = |long: Length, short: Length| long.times(short).saturating_mul(3).clamp(3, 25);
    let columns = along(rect.width(), rect.height());
    let rows = along(rect.height(), rect.width());
    (0..rows)
        .flat_map(move |r| (0..columns).map(move |c| Point::new(x + w * share(columns, c), y + h * share(rows, r))))
}

/// The ground at a spot, of elements in painting order.
fn at_spot<'a>(under: impl DoubleEndedIterator<Item = &'a Element>, at: Point) -> Ground {
    // From the top down to what hides everything below it, then back up.
    let mut layers = Vec::new();
    for element in under.rev().filter(|e| holds(e.bounds, at)) {
        let below = layers.len();
        layers.extend(layers_at(element, at).into_iter().flatten());
        if layers.get(below..).unwrap_or_default().iter().any(Layer::hides) {
            break;
        }
    }
    layers.iter().rev().fold(Ground::Flat(Colour::WHITE), |ground, layer| layer.laid_on(ground))
}

/// One coat of a ground.
enum Layer<'a> {
    Flat(&'a Colour, Overprint),
    Unclear(&'static str),
}

impl Layer<'_> {
    /// Whether nothing below it matters.
    fn hides(&self) -> bool {
        match self {
            Self::Unclear(_) => true,
            // Separation None marks nothing, however it meets what lies below (ISO 32000-1, 8.6.6.4).
            Self::Flat(Colour::Inks { tints, .. }, _) if tints.iter().all(|(ink, _)| *ink == Ink::None) => false,
            Self::Flat(_, overprint) => *overprint == Overprint::KnockOut,
        }
    }

    fn laid_on(&self, ground: Ground) -> Ground {
        match (self, ground) {
            (Self::Unclear(why), _) => Ground::Unclear(why),
            (Self::Flat(top, overprint), Ground::Flat(under)) => Ground::Flat(layered(top, &under, *overprint)),
            (Self::Flat(top, Overprint::KnockOut), Ground::Unclear(_)) => Ground::Flat((*top).clone()),
            (Self::Flat(..), unclear) => unclear,
        }
    }
}

/// The coats of an element at a spot, the upper one first.
fn layers_at(element: &Element, at: Point) -> [Option<Layer<'_>>; 2] {
    let blend = &element.blend;
    let through = blend.mode.is_some() || blend.soft_mask;
    let coat = |paint, alpha: f64, over: bool| match paint {
        &Paint::Pattern(_) => Layer::Unclear("a pattern"),
        Paint::Flat(_) if through || alpha < 1.0 => Layer::Unclear("something transparent"),
        Paint::Flat(top) => Layer::Flat(top, Overprint::of(over, blend.overprint_mode)),
    };
    match &element.mark {
        Mark::Path(path) => {
            let fill = path.fill.as_ref().filter(|_| inside(path, at));
            let stroke = path.stroke.as_ref().filter(|s| strokes(path, s.width, at));
            [
                stroke.map(|s| coat(&s.paint, blend.alpha_stroke, blend.overprint_stroke)),
                fill.map(|paint| coat(paint, blend.alpha_fill, blend.overprint_fill)),
            ]
        }
        Mark::Picture(picture) if covers(picture, at) => [Some(Layer::Unclear("a picture")), None],
        Mark::Shading(_) => [Some(Layer::Unclear("a blend of colours")), None],
        Mark::Picture(_) | Mark::Text(_) => [None, None],
    }
}

fn holds(bounds: Rect, at: Point) -> bool {
    (bounds.x0.to_pt()..=bounds.x1.to_pt()).contains(&at.x) && (bounds.y0.to_pt()..=bounds.y1.to_pt()).contains(&at.y)
}

/// Whether a spot lies inside a filled outline.
pub(crate) fn inside(path: &PathMark, at: Point) -> bool {
    let winding = path.outline.winding(at);
    if path.even_odd { winding % 2 != 0 } else { winding != 0 }
}

/// Strokes thinner than this are rules and no ground.
const BROAD: Length = Length::pt(2);

fn strokes(path: &PathMark, width: Length, at: Point) -> bool {
    let reach = (width.to_pt() / 2.0).powi(2);
    width >= BROAD && path.outline.segments().any(|s| s.nearest(at, 0.01).distance_sq <= reach)
}

/// Whether a spot lies within a picture's four corners, which may be turned or slanted.
fn covers(picture: &PictureMark, at: Point) -> bool {
    let corners = picture.corners;
    let next = corners.iter().cycle().skip(1);
    let sides = corners.iter().zip(next).map(|(a, b)| (*b - *a).cross(at - *a));
    let (mut left, mut right) = (false, false);
    for side in sides {
        left |= side > 0.0;
        right |= side < 0.0;
    }
    !(left && right)
}
