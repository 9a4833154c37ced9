use kurbo::{BezPath, PathEl, Point, Rect, Shape};

use super::state::{State, scales};

/// Paths with more elements than this get their stroke's box by growing, not by outlining the stroke.
const MOST_OUTLINED: usize = 400;

/// Strokes that reach further than this, in points, are not outlined: no sheet is that large, and it would take forever.
const FAR: f64 = 100_000.0;

/// What two boxes share, which may be a line or a point; `None` where they lie apart.
pub(super) fn shared(a: Rect, b: Rect) -> Option<Rect> {
    let apart = a.x0 > b.x1 || b.x0 > a.x1 || a.y0 > b.y1 || b.y0 > a.y1;
    (!apart && a.is_finite()).then(|| a.intersect(b))
}

/// The box of what a fill of this path covers; subpaths of one point count, a last move that draws nothing does not.
pub(super) fn of_fill(path: &BezPath) -> Option<Rect> {
    let lines = path.segments().next().map(|_| path.bounding_box());
    let points = points(path)
        .into_iter()
        .fold(None, |b: Option<Rect>, p| Some(b.map_or(Rect::from_points(p, p), |b| b.union_pt(p))));
    match (lines, points) {
        (Some(a), Some(b)) => Some(a.union(b)),
        (a, b) => a.or(b),
    }
    .filter(Rect::is_finite)
}

/// Closed subpaths of a single point.
fn points(path: &BezPath) -> Vec<Point> {
    let elements = path.elements();
    let closed = |pair: &[PathEl]| match *pair {
        [PathEl::MoveTo(p), PathEl::ClosePath] => Some(p),
        _ => None,
    };
    elements.windows(2).filter_map(closed).collect()
}

/// The box of a stroke's ink in face points, caps and joins included. A subpath of one point leaves ink only under round
/// caps (ISO 32000-1, 8.5.3.2); a stroke that leaves none has no box.
pub(super) fn of_stroke(path: &BezPath, state: &State) -> Option<Rect> {
    let half = state.line_width / 2.0 * scales(state.ctm).0;
    let grown = |rect: Rect| rect.inflate(half, half);
    let on_face = state.ctm * path.clone();
    let lines = path.segments().any(|s| !is_point(s));
    let dots = if state.cap == 1 { points(&on_face) } else { Vec::new() };
    let dots = dots.into_iter().map(|p| grown(Rect::from_points(p, p))).reduce(|a, b| a.union(b));
    if !lines {
        let still = path.segments().next().filter(|_| state.cap == 1).map(|_| grown(on_face.bounding_box()));
        return still.into_iter().chain(dots).reduce(|a, b| a.union(b));
    }
    let around = grown(on_face.bounding_box());
    let far = [around.x0, around.y0, around.x1, around.y1, half].iter().any(|v| v.abs() > FAR || !v.is_finite());
    let inked = if state.line_width <= 0.0 || path.elements().len() > MOST_OUTLINED || far {
        around
    } else {
        outlined(path, state).unwrap_or(around)
    };
    Some(dots.map_or(inked, |d| inked.union(d))).filter(Rect::is_finite)
}

fn is_point(segment: kurbo::PathSeg) -> bool {
    let bounds = segment.bounding_box();
    bounds.width() <= 0.0 && bounds.height() <= 0.0
}

/// The box of the outline of a stroke.
fn outlined(path: &BezPath, state: &State) -> Option<Rect> {
    let solid = kurbo::Stroke { dash_pattern: kurbo::Dashes::default(), ..state.pen() };
    let tolerance = 0.001 / scales(state.ctm).0.max(1.0e-6);
    let inked = kurbo::stroke(path.iter(), &solid, &kurbo::StrokeOpts::default(), tolerance);
    let bounds = (state.ctm * inked).bounding_box();
    (bounds.is_finite() && bounds.area() > 0.0).then_some(bounds)
}
