//! Marks as data, with exact geometry: what is printed beside the cards so that they can be registered, cut, folded and judged.
//!
//! Every mark lies outside every bleed and inside the printable area. What finds no room is left out with a
//! [`Remark`] that says how much is missing.

mod edges;
mod guides;
mod mark;
mod room;
mod strip;

use super::layout::{FormSide, LayoutRequest};
use super::{Remark, Station};
use crate::unit::Rect;
use room::Room;

pub use mark::{Dash, Edge, FOLD_DASH, LINE_WEIGHT, Line, Mark, MarkKind, MarkSet};

/// What marks are laid on.
pub(super) struct Ground<'a> {
    pub(super) ask: &'a LayoutRequest<'a>,
    pub(super) printable: Rect,
}

impl Ground<'_> {
    /// The marks of the front, or of the one form for both sides.
    pub(super) fn first_form(&self, stations: &[Station], side: FormSide, remarks: &mut Vec<Remark>) -> Vec<Mark> {
        let mut room = self.room(stations);
        let wanted = self.ask.marks;
        if wanted.crop {
            edges::crop(&mut room, stations, self.ask.format.bleed, remarks);
        }
        if wanted.fold {
            edges::fold(&mut room, stations, self.ask.format, remarks);
        }
        if wanted.register {
            guides::centre(&mut room, self.ask.sheet, remarks);
            guides::register(&mut room, remarks);
        }
        self.the_rest(&mut room, side, remarks);
        room.marks
    }

    /// The marks of the back: what must register with the front lies exactly behind it, the rest is laid anew.
    pub(super) fn second_form(&self, stations: &[Station], front: &[Mark], remarks: &mut Vec<Remark>) -> Vec<Mark> {
        let mut room = self.room(stations);
        for mark in front.iter().filter(|m| m.backs_up()) {
            room.put(mark.behind(self.ask.style, self.ask.sheet));
        }
        self.the_rest(&mut room, FormSide::Back, remarks);
        room.marks
    }

    /// Guides, slug line and colour strip.
    fn the_rest(&self, room: &mut Room, side: FormSide, remarks: &mut Vec<Remark>) {
        if self.ask.marks.guides {
            guides::guides(room, self.ask.style, side, remarks);
        }
        if self.ask.marks.slug {
            strip::slug(room, remarks);
        }
        if self.ask.marks.strip {
            strip::strip(room, self.ask.inks, remarks);
        }
    }

    fn room(&self, stations: &[Station]) -> Room {
        Room::new(self.printable, stations.iter().map(|s| s.piece(self.ask.format.bleed)).collect())
    }
}
