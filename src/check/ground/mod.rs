//! What lies under a mark on the paper: the fills below it, laid one on another as the plates print them.

use kurbo::{ParamCurveNearest, Point, Shape};

use crate::card::{Element, Face, Mark, Paint, PathMark, PictureMark};
use crate::ink::{Colour, Overprint, layered};
use crate::unit::{Length, Rect};

/// What lies under one spot.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Ground {
    /// One colour; [`Colour::WHITE`] is bare paper.
    Flat(Colour),
    /// Something that is no one colour, in words.
    Unclear(&'static str),
}

/// The different grounds within `rect` under element number `below` of a face, by sampling; bare paper where nothing lies
/// there. Text and thin rules below are no ground.
pub(crate) fn grounds(face: &Face, below: usize, rect: Rect) -> Vec<Ground> {
    grounds_at(face, below, rect, samples(rect))
}

/// The different grounds at these spots, which lie in or about `rect`, under element number `below` of a face.
pub(crate) fn grounds_at(face: &Face, below: usize, rect: Rect, spots: impl IntoIterator<Item = Point>) -> Vec<Ground> {
    // A level or upright rule may have no height or width; it still lies on something.
    let rect = rect.grown(Length::um(10));
    let under: Vec<&Element> =
        face.elements.iter().take(below).filter(|e| e.bounds.intersect(rect).is_some()).collect();
    let mut grounds = Vec::new();
    for at in spots {
        let ground = at_spot(&under, at);
        if !grounds.contains(&ground) {
            grounds.push(ground);
        }
    }
    grounds
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

fn at_spot(under: &[&Element], at: Point) -> Ground {
    let mut ground = Ground::Flat(Colour::WHITE);
    for element in under.iter().filter(|e| holds(e.bounds, at)) {
        let blend = &element.blend;
        let through = blend.mode.is_some() || blend.soft_mask;
        let lay = |ground: &mut Ground, paint: &Paint, alpha: f64, over: bool| {
            *ground = match paint {
                Paint::Pattern(_) => Ground::Unclear("a pattern"),
                Paint::Flat(_) if through || alpha < 1.0 => Ground::Unclear("something transparent"),
                Paint::Flat(top) => laid(top, ground, Overprint::of(over, blend.overprint_mode)),
            };
        };
        match &element.mark {
            Mark::Path(path) => {
                if let Some(fill) = path.fill.as_ref().filter(|_| inside(path, at)) {
                    lay(&mut ground, fill, blend.alpha_fill, blend.overprint_fill);
                }
                if let Some(stroke) = path.stroke.as_ref().filter(|s| strokes(path, s.width, at)) {
                    lay(&mut ground, &stroke.paint, blend.alpha_stroke, blend.overprint_stroke);
                }
            }
            Mark::Picture(picture) if covers(picture, at) => ground = Ground::Unclear("a picture"),
            Mark::Shading(_) => ground = Ground::Unclear("a blend of colours"),
            Mark::Picture(_) | Mark::Text(_) => {}
        }
    }
    ground
}

/// A flat colour laid on a ground.
fn laid(top: &Colour, ground: &Ground, overprint: Overprint) -> Ground {
    match (overprint, ground) {
        (_, Ground::Flat(under)) => Ground::Flat(layered(top, under, overprint)),
        (Overprint::KnockOut, Ground::Unclear(_)) => Ground::Flat(top.clone()),
        (_, unclear) => unclear.clone(),
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
