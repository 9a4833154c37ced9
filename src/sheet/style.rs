use std::fmt;

use crate::unit::{Point, Rect, Size, Turn};

/// How the two faces come onto the sheet, and which way it is turned between them (published glossaries of the trade).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum WorkStyle {
    /// Two forms; the sheet turns over its side, the gripper edge stays.
    Sheetwise,
    /// One form carries both faces, left and right; the sheet turns over its side, the gripper edge stays and the side guide
    /// changes.
    WorkAndTurn,
    /// One form carries both faces, near and far; the sheet turns over its gripper edge, which changes.
    WorkAndTumble,
    /// Two forms in one pass; the sheet turns over its gripper edge, which changes.
    Perfecting,
    /// One form, nothing on the back.
    OneSide,
}

impl WorkStyle {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::Sheetwise, Self::WorkAndTurn, Self::WorkAndTumble, Self::Perfecting, Self::OneSide];

    /// Whether the second pass is held by the other long edge.
    pub const fn changes_gripper(self) -> bool {
        matches!(self, Self::WorkAndTumble | Self::Perfecting)
    }

    /// Whether one form carries both faces.
    pub const fn one_form_for_both(self) -> bool {
        matches!(self, Self::WorkAndTurn | Self::WorkAndTumble)
    }

    /// Whether both sides of the sheet are printed.
    pub const fn two_sided(self) -> bool {
        !matches!(self, Self::OneSide)
    }

    /// Where a place on one side of the sheet comes to lie when the turned sheet is looked at: over the side, x counts from the
    /// other end; over the gripper edge, y does. The same law leads back.
    pub fn behind(self, at: Point, sheet: Size) -> Point {
        if self.changes_gripper() {
            Point::new(at.x, sheet.height - at.y)
        } else {
            Point::new(sheet.width - at.x, at.y)
        }
    }

    /// The rectangle behind a rectangle.
    pub fn rect_behind(self, rect: Rect, sheet: Size) -> Rect {
        let a = self.behind(Point::new(rect.x0, rect.y0), sheet);
        let b = self.behind(Point::new(rect.x1, rect.y1), sheet);
        Rect::new(a.x, a.y, b.x, b.y)
    }

    /// How the face behind must stand so that the card, which turns over its upright axis as a page does, is right on both
    /// sides: the turn is undone, and heads point the other way where the sheet tumbles.
    pub fn turn_behind(self, turn: Turn) -> Turn {
        if self.changes_gripper() { Turn::Half.then(turn.back()) } else { turn.back() }
    }
}

impl fmt::Display for WorkStyle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Sheetwise => "sheetwise",
            Self::WorkAndTurn => "work-and-turn",
            Self::WorkAndTumble => "work-and-tumble",
            Self::Perfecting => "perfecting",
            Self::OneSide => "one side",
        })
    }
}

/// How rows of cards meet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Rows {
    /// All heads point the same way.
    #[default]
    HeadToFoot,
    /// Heads of neighbouring rows meet.
    HeadToHead,
}
