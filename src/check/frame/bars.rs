use kurbo::{BezPath, PathEl, Point};

use crate::unit::Length;

/// A filled rectangle is a line where it is at most this thick and at least five times as long.
pub(crate) const BAR: Length = Length::pt(2);

/// The filled rectangles of an outline that are lines.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) struct Bars {
    /// The thickness of the thinnest one; zero where a filled shape has no area at all.
    pub(crate) thinnest: Option<Length>,
    /// Whether the outline is made of nothing else.
    pub(crate) nothing_else: bool,
}

/// Looks for lines among the subpaths of a filled outline, level, upright or turned.
pub(crate) fn bars(outline: &BezPath) -> Bars {
    let mut found = Bars { thinnest: None, nothing_else: true };
    let mut corners: Vec<Point> = Vec::new();
    let mut straight = true;
    let mut end = |corners: &mut Vec<Point>, straight: bool| {
        match thickness(corners).filter(|_| straight) {
            Some(thin) => found.thinnest = Some(found.thinnest.map_or(thin, |least| least.min(thin))),
            None => found.nothing_else &= corners.len() < 2,
        }
        corners.clear();
    };
    for part in outline.elements() {
        match *part {
            PathEl::MoveTo(p) => {
                end(&mut corners, straight);
                straight = true;
                corners.push(p);
            }
            PathEl::LineTo(p) => corners.push(p),
            PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => {
                straight = false;
                corners.push(p);
            }
            PathEl::ClosePath => {}
        }
    }
    end(&mut corners, straight);
    found
}

/// How near two corners, in points, count as one, and two sides as equal.
const NEAR: f64 = 0.001;

/// The thickness of a closed figure with these corners, where it is a line.
fn thickness(corners: &[Point]) -> Option<Length> {
    let mut corners = corners.to_vec();
    corners.dedup_by(|a, b| a.distance(*b) < NEAR);
    while corners.len() > 1 && corners.first().zip(corners.last()).is_some_and(|(a, b)| a.distance(*b) < NEAR) {
        corners.pop();
    }
    let (thin, long) = match corners[..] {
        [a, b] => (0.0, a.distance(b)),
        [a, b, c, d] => {
            let (one, two) = (b - a, c - b);
            let (three, four) = (d - c, a - d);
            let level = (one + three).hypot() < NEAR && (two + four).hypot() < NEAR;
            let square = one.dot(two).abs() <= 0.01 * one.hypot() * two.hypot();
            if !(level && square) {
                return None;
            }
            (one.hypot().min(two.hypot()), one.hypot().max(two.hypot()))
        }
        _ => return None,
    };
    let thin = Length::from_pt(thin);
    (thin <= BAR && Length::from_pt(long) >= thin * 5).then_some(thin)
}

#[cfg(test)]
mod tests {
    use kurbo::{Affine, Rect, Shape};

    use super::*;

    fn bar(width: f64, height: f64) -> BezPath {
        Rect::new(0.0, 0.0, width, height).to_path(0.1)
    }

    #[test]
    fn a_thin_rectangle_is_a_line_however_it_is_turned() {
        for degrees in [0.0_f64, 30.0, 90.0] {
            let found = bars(&(Affine::rotate(degrees.to_radians()) * bar(100.0, 0.2)));
            assert!(found.nothing_else && found.thinnest.unwrap().near(Length::from_pt(0.2), Length::um(1)));
        }
        assert_eq!(bars(&bar(100.0, 2.1)).thinnest, None);
        assert_eq!(bars(&bar(4.0, 1.0)).thinnest, None);
    }

    #[test]
    fn a_fill_without_area_is_a_line_of_no_weight() {
        for flat in [bar(100.0, 0.0), BezPath::from_svg("M0 0L100 50").unwrap()] {
            assert_eq!(bars(&flat), Bars { thinnest: Some(Length::ZERO), nothing_else: true });
        }
    }

    #[test]
    fn the_thinnest_of_many_counts_and_anything_else_is_told() {
        let mut many = bar(100.0, 1.0);
        many.extend(bar(100.0, 0.5));
        assert_eq!(bars(&many), Bars { thinnest: Some(Length::from_pt(0.5)), nothing_else: true });
        many.extend(bar(100.0, 50.0));
        assert!(!bars(&many).nothing_else);
        assert!(!bars(&BezPath::from_svg("M0 0C0 5 5 5 5 0Z").unwrap()).nothing_else);
    }
}
