//! Marks around and beside numbers, drawn as outlines: no font here has them all.

use kurbo::{BezPath, Point, Rect, Shape};

use crate::model::ComboShown;

/// How far a ring or lozenge keeps from the number inside it, against the height of its digits. Judgement by eye.
const AIR: f64 = 0.36;

/// The outline of a combination's mark around digits that stand in `digits` (points); `limit` is the cell, which it does not leave.
/// A circle widens into a ring with round ends where the number is wide. The arrow is to be filled, the others stroked.
pub(super) fn around(shown: ComboShown, digits: Rect, limit: Rect) -> Option<BezPath> {
    let air = digits.height() * AIR;
    let high = digits.inflate(0.0, air).intersect(limit);
    match shown {
        ComboShown::Row => None,
        ComboShown::Circle => {
            let ring = high.inflate(((high.height() - digits.width()) / 2.0).max(air), 0.0).intersect(limit);
            Some(ring.to_rounded_rect(ring.height() / 2.0).to_path(0.001))
        }
        ComboShown::Diamond => {
            let middle = digits.center();
            let (left, right) = (high.x0 - air * 2.2, high.x1 + air * 2.2);
            let shoulder = air * 0.4;
            let mut path = BezPath::new();
            path.move_to((left.max(limit.x0), middle.y));
            path.line_to((high.x0 + shoulder, high.y1));
            path.line_to((high.x1 - shoulder, high.y1));
            path.line_to((right.min(limit.x1), middle.y));
            path.line_to((high.x1 - shoulder, high.y0));
            path.line_to((high.x0 + shoulder, high.y0));
            path.close_path();
            Some(path)
        }
        ComboShown::Arrow => {
            let half = digits.height() * 0.36;
            let tip = Point::new(digits.x0 - air, digits.center().y);
            let mut path = BezPath::new();
            path.move_to(tip);
            path.line_to((tip.x - half * 1.5, tip.y + half));
            path.line_to((tip.x - half * 1.5, tip.y - half));
            path.close_path();
            Some(path)
        }
    }
}

/// The width and height that a mark takes with the digits inside or beside it, the digits in its middle.
pub(super) fn needs(shown: ComboShown, digits: Rect) -> (f64, f64) {
    let air = digits.height() * AIR;
    match shown {
        ComboShown::Row => (digits.width(), digits.height()),
        ComboShown::Circle => (digits.width() + air * 2.0, digits.height() + air),
        ComboShown::Diamond => (digits.width() + air * 3.0, digits.height() + air),
        ComboShown::Arrow => (digits.width() + digits.height() * 1.08 + air * 2.0, digits.height()),
    }
}

/// A five-pointed star inside a circle of `radius` around `middle`: the mark of a signature hole.
pub(super) fn star(middle: Point, radius: f64) -> BezPath {
    // The inner corners of a regular pentagram lie at (3 − √5)/2 of its radius.
    let inner = radius * (3.0 - 5.0_f64.sqrt()) / 2.0;
    let mut path = BezPath::new();
    for n in 0..10 {
        let turn = std::f64::consts::PI * (0.5 + f64::from(n) / 5.0);
        let r = if n % 2 == 0 { radius } else { inner };
        let at = middle + kurbo::Vec2::new(turn.cos(), turn.sin()) * r;
        if n == 0 { path.move_to(at) } else { path.line_to(at) }
    }
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_hold_the_number_and_stay_in_the_cell() {
        let (digits, cell) = (Rect::new(20.0, 10.0, 33.0, 16.5), Rect::new(8.0, 4.0, 45.0, 22.0));
        for shown in [ComboShown::Circle, ComboShown::Diamond] {
            let mark = around(shown, digits, cell).unwrap();
            for corner in [(20.0, 10.0), (33.0, 10.0), (33.0, 16.5), (20.0, 16.5)] {
                assert!(mark.contains(Point::from(corner)), "{shown:?}");
            }
            let b = mark.bounding_box();
            assert!(cell.x0 <= b.x0 && b.x1 <= cell.x1 && cell.y0 <= b.y0 && b.y1 <= cell.y1, "{shown:?}");
        }
        let arrow = around(ComboShown::Arrow, digits, cell).unwrap().bounding_box();
        assert!(arrow.x1 < digits.x0 && arrow.x0 > cell.x0);
    }

    #[test]
    fn a_narrow_number_gets_a_true_circle() {
        let (digits, cell) = (Rect::new(20.0, 10.0, 24.0, 16.0), Rect::new(0.0, 0.0, 44.0, 26.0));
        let b = around(ComboShown::Circle, digits, cell).unwrap().bounding_box();
        assert!((b.width() - b.height()).abs() < 0.01);
    }
}
