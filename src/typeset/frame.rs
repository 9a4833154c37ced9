use kurbo::{Affine, BezPath};

use crate::unit::{Length, Point, Rect, Size, Turn};

/// A panel as its content sees it: an upright piece that is read from its top left, however it is turned on the face.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Frame {
    /// The panel on the face.
    pub(super) panel: Rect,
    /// How the content is turned on it, counter-clockwise.
    pub(super) turn: Turn,
}

impl Frame {
    pub(super) const fn new(panel: Rect, turn: Turn) -> Self {
        Self { panel, turn }
    }

    /// The size of the upright piece.
    pub(super) fn size(self) -> Size {
        self.panel.size().turned(self.turn)
    }

    /// A place counted from the top left downwards, as a point of the face.
    pub(super) fn point(self, x: Length, y: Length) -> Point {
        let size = self.size();
        let at = self.turn.apply(Point::new(x, size.height - y), size);
        at.moved(self.panel.x0, self.panel.y0)
    }

    /// A box counted from the top left, as a rectangle of the face.
    pub(super) fn rect(self, x: Length, y: Length, size: Size) -> Rect {
        let (a, b) = (self.point(x, y), self.point(x + size.width, y + size.height));
        Rect::new(a.x, a.y, b.x, b.y)
    }

    /// The frame of a box on the face, turned like this one.
    pub(super) const fn inner(self, place: Rect) -> Self {
        Self { panel: place, turn: self.turn }
    }

    /// A path in points, y up from the lower left of the upright piece, brought to the face.
    pub(super) fn path(self, path: &BezPath) -> BezPath {
        self.affine() * path.clone()
    }

    /// From points of the upright piece, y up from its lower left, to points of the face.
    pub(super) fn affine(self) -> Affine {
        let size = self.size();
        let (w, h) = (size.width.to_pt(), size.height.to_pt());
        let turned = match self.turn {
            Turn::None => Affine::IDENTITY,
            Turn::Left => Affine::new([0.0, 1.0, -1.0, 0.0, h, 0.0]),
            Turn::Half => Affine::new([-1.0, 0.0, 0.0, -1.0, w, h]),
            Turn::Right => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, w]),
        };
        Affine::translate((self.panel.x0.to_pt(), self.panel.y0.to_pt())) * turned
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ways_to_the_face_agree() {
        let panel = Rect::new(Length::pt(100), Length::pt(50), Length::pt(300), Length::pt(450));
        for turn in Turn::ALL {
            let frame = Frame::new(panel, turn);
            let height = frame.size().height;
            let at = frame.point(Length::pt(30), Length::pt(70));
            let same = frame.affine() * kurbo::Point::new(30.0, height.to_pt() - 70.0);
            assert_eq!((Length::from_pt(same.x), Length::from_pt(same.y)), (at.x, at.y));
        }
    }

    #[test]
    fn a_panel_turned_left_begins_at_its_lower_left() {
        // Its head points left, so its top edge is the panel's left edge and its left edge is the panel's bottom edge.
        let panel = Rect::new(Length::ZERO, Length::ZERO, Length::pt(200), Length::pt(400));
        let frame = Frame::new(panel, Turn::Left);
        assert_eq!(frame.point(Length::ZERO, Length::ZERO), Point::new(Length::ZERO, Length::ZERO));
        assert_eq!(frame.size(), Size::new(Length::pt(400), Length::pt(200)));
    }
}
