use super::WorkStyle;
use crate::unit::{Length, Rect, Sides, Size};

/// The margins of a sheet that a press cannot print.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Press {
    /// At the edge that the grippers hold; the lower edge of every form.
    pub gripper: Length,
    /// At the opposite edge.
    pub tail: Length,
    /// At either side.
    pub sides: Length,
}

/// Gripper 3/8 in, tail 1/4 in, sides 1/4 in: inside the published ranges of 5/16–1/2, 1/4–3/8 and 1/4 in.
impl Default for Press {
    fn default() -> Self {
        Self { gripper: Length::inches(3, 8), tail: Length::inches(1, 4), sides: Length::inches(1, 4) }
    }
}

impl Press {
    /// A press that prints to every edge, for a page that another printer will impose.
    pub const NO_MARGINS: Self = Self { gripper: Length::ZERO, tail: Length::ZERO, sides: Length::ZERO };

    /// What a form of this size can print, where the sheet passes the press once with its lower edge in the grippers and,
    /// for styles that change the gripper edge, once with its upper edge.
    pub fn printable(self, sheet: Size, style: WorkStyle) -> Rect {
        let far = if style.changes_gripper() { self.gripper.max(self.tail) } else { self.tail };
        let near = if style.changes_gripper() { far } else { self.gripper };
        sheet.at_origin().grown_by(Sides { top: -far, right: -self.sides, bottom: -near, left: -self.sides })
    }
}
