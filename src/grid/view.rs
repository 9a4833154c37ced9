use crate::card::Direction;
use crate::unit::{Length, Rect};

/// A way of looking at a face so that holes run to the right and rows run down, whichever way the grid reads.
///
/// In a view, `u` grows along the holes and `v` grows from row to row.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum View {
    /// Holes run left to right, heads up.
    Across,
    /// Holes run left to right along the long way, heads to the left, rows from the bottom edge up.
    TopAtLeft,
    /// Holes run right to left, heads to the right, rows from the top edge down.
    TopAtRight,
}

/// All views, the usual one first.
pub(super) const ALL: [View; 3] = [View::Across, View::TopAtLeft, View::TopAtRight];

/// A rectangle as a view sees it, `u0 <= u1` and `v0 <= v1`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Seen {
    pub(super) u0: Length,
    pub(super) v0: Length,
    pub(super) u1: Length,
    pub(super) v1: Length,
}

impl Seen {
    pub(super) fn middle(self) -> (Length, Length) {
        (self.u0 + (self.u1 - self.u0).half(), self.v0 + (self.v1 - self.v0).half())
    }

    pub(super) fn holds(self, (u, v): (Length, Length)) -> bool {
        self.u0 <= u && u <= self.u1 && self.v0 <= v && v <= self.v1
    }
}

impl View {
    /// The direction that the grid reads in.
    pub(super) const fn direction(self) -> Direction {
        match self {
            Self::Across => Direction::Across,
            Self::TopAtLeft => Direction::Down { top_at_left: true },
            Self::TopAtRight => Direction::Down { top_at_left: false },
        }
    }

    /// The direction of the numbers' baselines, in degrees counter-clockwise.
    pub(super) const fn angle(self) -> f64 {
        match self {
            Self::Across => 0.0,
            Self::TopAtLeft => 90.0,
            Self::TopAtRight => 270.0,
        }
    }

    /// From the face to the view.
    pub(super) fn see(self, r: Rect) -> Seen {
        match self {
            Self::Across => Seen { u0: r.x0, v0: -r.y1, u1: r.x1, v1: -r.y0 },
            Self::TopAtLeft => Seen { u0: r.x0, v0: r.y0, u1: r.x1, v1: r.y1 },
            Self::TopAtRight => Seen { u0: -r.x1, v0: -r.y1, u1: -r.x0, v1: -r.y0 },
        }
    }

    /// From the view back to the face.
    pub(super) fn face(self, s: Seen) -> Rect {
        match self {
            Self::Across => Rect::new(s.u0, -s.v0, s.u1, -s.v1),
            Self::TopAtLeft => Rect::new(s.u0, s.v0, s.u1, s.v1),
            Self::TopAtRight => Rect::new(-s.u0, -s.v0, -s.u1, -s.v1),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_view_leads_back() {
        let rect = Rect::new(Length::pt(1), Length::pt(2), Length::pt(5), Length::pt(9));
        for view in ALL {
            assert_eq!(view.face(view.see(rect)), rect, "{view:?}");
        }
    }
}
