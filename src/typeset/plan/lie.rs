use crate::card::Direction;
use crate::unit::{Length, Rect, Size, Turn};

/// How the grid lies on the flat face: from its own two axes to the face and back.
///
/// `along` runs from the name column over the holes to the totals, `down` from the hole numbers over tees to players; both
/// count from the trim edge at which the grid begins.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lie {
    pub(crate) direction: Direction,
    pub(crate) flat: Size,
}

/// A stretch of one axis.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(crate) struct Stretch {
    pub(crate) from: Length,
    pub(crate) to: Length,
}

impl Stretch {
    pub(crate) fn new(from: Length, to: Length) -> Self {
        Self { from, to }
    }

    pub(crate) fn length(self) -> Length {
        self.to - self.from
    }
}

impl Lie {
    /// Where a stretch of holes and a stretch of rows meet on the face.
    pub(crate) fn rect(self, along: Stretch, down: Stretch) -> Rect {
        let (w, h) = (self.flat.width, self.flat.height);
        match self.direction {
            Direction::Across => Rect::new(along.from, h - down.from, along.to, h - down.to),
            Direction::Down { top_at_left: true } => Rect::new(along.from, down.from, along.to, down.to),
            Direction::Down { top_at_left: false } => {
                Rect::new(w - along.from, h - down.from, w - along.to, h - down.to)
            }
        }
    }

    /// How text stands that is read with the grid.
    pub(crate) const fn turn(self) -> Turn {
        match self.direction {
            Direction::Across => Turn::None,
            Direction::Down { top_at_left: true } => Turn::Left,
            Direction::Down { top_at_left: false } => Turn::Right,
        }
    }

    pub(crate) const fn is_down(self) -> bool {
        matches!(self.direction, Direction::Down { .. })
    }

    /// Whether panels follow each other from right to left along the holes.
    pub(crate) const fn runs_left(self) -> bool {
        matches!(self.direction, Direction::Down { top_at_left: false })
    }
}
