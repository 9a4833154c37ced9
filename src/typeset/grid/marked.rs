//! Marks at numbers: combinations in the tee rows, and the star of a signature hole.

use kurbo::Rect;

use super::Setting;
use crate::card::{ColumnRole, RowRole};
use crate::ink::Colour;
use crate::model::ComboShown;
use crate::typeset::frame::Frame;
use crate::typeset::marks;
use crate::typeset::page::Page;
use crate::unit::{Length, Size};

/// A number in its cell, as the grid is read: points from the cell's lower left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub(super) frame: Frame,
    pub(super) digits: Rect,
}

/// Strokes of marks. Ghent Workgroup 2022: a line of more than one ink below a quarter point is a warning; this is well above.
const STROKE: Length = Length::units(Length::PER_PT * 7 / 10);

impl Setting<'_> {
    /// Combinations shown as marks at this tee's number. Where one has too little room: what it needs and what there is.
    pub(super) fn draw_marks(
        &self,
        page: &mut Page,
        (row, column): (usize, usize),
        number: Number,
        text: &Colour,
    ) -> Option<(Length, Length)> {
        let mut short = None;
        let (Some(RowRole::Tee(tee)), Some(ColumnRole::Hole(hole))) =
            (self.rows.get(row).map(|r| &r.ask.role), self.columns.get(column).map(|c| &c.ask.role))
        else {
            return None;
        };
        let tee = self.model.file.tees.get(*tee)?;
        let at = usize::from(*hole).saturating_sub(1);
        for combo in &self.model.file.combos {
            if combo.tees.get(at) != Some(&tee.name) {
                continue;
            }
            let limit = limit(number.frame.size(), self.rule());
            let Some(path) = marks::around(combo.shown, number.digits, limit) else { continue };
            let (wide, high) = marks::needs(combo.shown, number.digits);
            if wide > limit.width() || high > limit.height() {
                let (needs, room) = if wide - limit.width() > high - limit.height() {
                    (wide, limit.width())
                } else {
                    (high, limit.height())
                };
                short = Some((Length::from_pt(needs), Length::from_pt(room)));
            }
            let colour = combo.colour.as_ref().map_or_else(|| text.clone(), |c| self.model.colour(c));
            let path = number.frame.path(&path);
            match combo.shown {
                ComboShown::Arrow => page.fill(path, &colour),
                _ => page.stroke(path, STROKE, &colour),
            }
        }
        short
    }

    /// Whether a star stands at this number.
    pub(super) fn is_signature(&self, row: usize, column: usize) -> bool {
        let signature = self.model.file.course.as_ref().map_or(&[][..], |c| &c.signature);
        match (self.rows.get(row).map(|r| &r.ask.role), self.columns.get(column).map(|c| &c.ask.role)) {
            (Some(RowRole::Holes), Some(ColumnRole::Hole(hole))) => signature.contains(hole),
            _ => false,
        }
    }
}

/// Where a mark may reach: the cell without its rules and a little air.
fn limit(cell: Size, rule: Length) -> Rect {
    let all = Rect::new(0.0, 0.0, cell.width.to_pt(), cell.height.to_pt());
    let inset = (rule.half() + STROKE.half()).to_pt() + 0.5;
    all.inset(-inset)
}

/// How large a signature hole's star is, and how far it stands from its number, against the size of the capitals.
pub(super) const STAR: f64 = 0.34;
pub(super) const STAR_GAP: f64 = 0.22;

/// The star beside a hole number, at its upper right.
pub(super) fn star(page: &mut Page, number: Number, colour: &Colour) {
    let Number { frame, digits } = number;
    let radius = digits.height() * STAR;
    let middle = kurbo::Point::new(digits.x1 + digits.height() * STAR_GAP + radius, digits.y1 - radius * 0.8);
    page.fill(frame.path(&marks::star(middle, radius)), colour);
}
