use kurbo::{PathEl, Point};

use super::view::{Seen, View};
use crate::card::{Face, Mark, PathMark};
use crate::unit::{Length, Rect};

/// How far two edges may lie apart and still be one: rules and the fills they border are drawn apart by less.
pub(super) const SAME: Length = Length::units(Length::PER_PT / 2);

/// A filled rectangle thinner than this is a rule.
const THIN: Length = Length::pt(2);

/// Edges shorter than this border no cell.
const SHORTEST: Length = Length::pt(4);

/// The straight edges of rules and boxes, as a view sees them.
#[derive(Default, Debug)]
pub(super) struct Edges {
    /// Along the rows: where (`v`), from and to (`u`).
    pub(super) along: Vec<(Length, Length, Length)>,
    /// Across the rows: where (`u`), from and to (`v`).
    pub(super) across: Vec<(Length, Length, Length)>,
}

/// Every edge of the face's rules, boxes and filled rectangles.
pub(super) fn edges(face: &Face, view: View) -> Edges {
    let mut edges = Edges::default();
    for element in &face.elements {
        let Mark::Path(path) = &element.mark else { continue };
        if path.stroke.is_some() {
            for (a, b) in segments(path) {
                edges.line(view.see(span(a, b)));
            }
        } else if path.fill.is_some() {
            // What was clipped away is not to be seen: the element's own bounds cut the rectangle.
            for rect in rectangles(path).into_iter().filter_map(|r| r.intersect(element.bounds.grown(SAME))) {
                edges.filled(view.see(rect));
            }
        }
    }
    edges
}

impl Edges {
    fn line(&mut self, s: Seen) {
        let (w, h) = (s.u1 - s.u0, s.v1 - s.v0);
        let (u, v) = s.middle();
        if h <= SAME && w >= SHORTEST {
            self.along.push((v, s.u0, s.u1));
        } else if w <= SAME && h >= SHORTEST {
            self.across.push((u, s.v0, s.v1));
        }
    }

    fn filled(&mut self, s: Seen) {
        let (w, h) = (s.u1 - s.u0, s.v1 - s.v0);
        let (u, v) = s.middle();
        if h < THIN && w >= SHORTEST {
            self.along.push((v, s.u0, s.u1));
        } else if w < THIN && h >= SHORTEST {
            self.across.push((u, s.v0, s.v1));
        } else if w >= SHORTEST && h >= SHORTEST {
            self.along.extend([(s.v0, s.u0, s.u1), (s.v1, s.u0, s.u1)]);
            self.across.extend([(s.u0, s.v0, s.v1), (s.u1, s.v0, s.v1)]);
        }
    }
}

fn span(a: Point, b: Point) -> Rect {
    let pt = Length::from_pt;
    Rect::new(pt(a.x), pt(a.y), pt(b.x), pt(b.y))
}

/// The straight pieces of a path.
fn segments(path: &PathMark) -> Vec<(Point, Point)> {
    let (mut start, mut at) = (Point::ZERO, Point::ZERO);
    let mut found = Vec::new();
    for el in path.outline.elements() {
        match *el {
            PathEl::MoveTo(p) => (start, at) = (p, p),
            PathEl::LineTo(p) => {
                found.push((at, p));
                at = p;
            }
            PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => at = p,
            PathEl::ClosePath => {
                found.push((at, start));
                at = start;
            }
        }
    }
    found
}

/// The upright rectangles among the closed parts of a path.
fn rectangles(path: &PathMark) -> Vec<Rect> {
    let mut found = Vec::new();
    let mut corners: Vec<Point> = Vec::new();
    let mut straight = true;
    let mut close = |corners: &mut Vec<Point>, straight: &mut bool| {
        corners.dedup_by(|a, b| a.distance(*b) < 1e-3);
        if corners.len() == 5 && corners.first().zip(corners.last()).is_some_and(|(a, b)| a.distance(*b) < 1e-3) {
            corners.pop();
        }
        if let (true, [a, b, c, d]) = (*straight, corners.as_slice()) {
            let level = |p: &Point, q: &Point| (p.y - q.y).abs() < 0.05;
            let upright = |p: &Point, q: &Point| (p.x - q.x).abs() < 0.05;
            let one = level(a, b) && upright(b, c) && level(c, d) && upright(d, a);
            let other = upright(a, b) && level(b, c) && upright(c, d) && level(d, a);
            if one || other {
                found.push(span(*a, *c));
            }
        }
        corners.clear();
        *straight = true;
    };
    for el in path.outline.elements() {
        match *el {
            PathEl::MoveTo(p) => {
                close(&mut corners, &mut straight);
                corners.push(p);
            }
            PathEl::LineTo(p) => corners.push(p),
            PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => {
                corners.push(p);
                straight = false;
            }
            PathEl::ClosePath => close(&mut corners, &mut straight),
        }
    }
    close(&mut corners, &mut straight);
    found
}
