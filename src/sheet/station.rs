use crate::card::Side;
use crate::unit::{Length, Point, Rect, Size, Turn};

/// One card up on a form: where its trim lies, how it is turned, and which face is up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Station {
    /// From 1, row by row from the lower left of the front; the same card has the same number on the back.
    pub number: usize,
    /// The face that prints here.
    pub face: Side,
    /// The trim on the form.
    pub trim: Rect,
    /// How the face is turned, counter-clockwise.
    pub turn: Turn,
}

impl Station {
    /// The size of the face before it was turned.
    pub fn flat(&self) -> Size {
        self.trim.size().turned(self.turn.back())
    }

    /// Where a place of the face lies on the form; places outside the trim follow.
    pub fn on_form(&self, at: Point) -> Point {
        self.turn.apply(at, self.flat()).moved(self.trim.x0, self.trim.y0)
    }

    /// Where a rectangle of the face lies on the form.
    pub fn rect_on_form(&self, rect: Rect) -> Rect {
        rect.turned_on(self.flat(), self.turn).moved(self.trim.x0, self.trim.y0)
    }

    /// Trim plus bleed on the form.
    pub fn piece(&self, bleed: Length) -> Rect {
        self.trim.grown(bleed)
    }
}
