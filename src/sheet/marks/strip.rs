//! The colour strip and the room for the slug line.

use super::super::Remark;
use super::mark::{Edge, Mark, MarkKind};
use super::room::Room;
use crate::ink::Ink;
use crate::unit::{Length, Turn};

/// Depth of the strip: 3/16 in (common practice).
const DEPTH: Length = Length::inches(3, 16);
/// Length of one patch along the edge: 1/4 in.
const PATCH: Length = Length::inches(1, 4);
/// Room for the slug line: one line of 1/8 in, two where there is room.
const SLUG: [Length; 2] = [Length::inches(1, 4), Length::inches(1, 8)];
/// The slug line takes no more of an edge than this, 8 in, and is of no use below 1 1/2 in.
const SLUG_MOST: Length = Length::inches(8, 1);
const SLUG_LEAST: Length = Length::inches(3, 2);

/// The tail first, where most presses carry it, then the gripper side, then the sides.
const EDGES: [Edge; 4] = [Edge::Top, Edge::Bottom, Edge::Left, Edge::Right];

/// A solid and a 50 % patch of every ink, over and over along the edge, whole rounds only.
pub(super) fn strip(room: &mut Room, inks: &[Ink], remarks: &mut Vec<Remark>) {
    let patches: Vec<(&Ink, u8)> = inks
        .iter()
        .filter(|ink| !matches!(ink, Ink::All | Ink::None))
        .flat_map(|ink| [(ink, 100), (ink, 50)])
        .collect();
    if patches.is_empty() {
        return;
    }
    for edge in EDGES {
        let places = room.places(edge, PATCH, DEPTH);
        let rounds = places.len() / patches.len();
        for (rect, (ink, percent)) in places.into_iter().zip(patches.iter().cycle()).take(rounds * patches.len()) {
            room.put(Mark::Patch { rect, ink: (*ink).clone(), percent: *percent });
        }
        if rounds > 0 {
            return;
        }
    }
    remarks.push(no_room(room, MarkKind::Strip, DEPTH));
}

/// The longest run of free edge: below first, where the gripper side usually has most room.
pub(super) fn slug(room: &mut Room, remarks: &mut Vec<Remark>) {
    for depth in SLUG {
        let runs = [Edge::Bottom, Edge::Top, Edge::Left, Edge::Right]
            .into_iter()
            .filter_map(|edge| Some((edge, room.longest(edge, depth, SLUG_MOST)?)));
        // Of equals the first: `max_by_key` keeps the last, so the order is turned.
        let all: Vec<_> = runs.collect();
        let best = all.into_iter().rev().max_by_key(|(_, rect)| rect.width().max(rect.height()));
        if let Some((edge, rect)) = best.filter(|(_, rect)| rect.width().max(rect.height()) >= SLUG_LEAST) {
            let turn = if edge.level() { Turn::None } else { Turn::Left };
            room.put(Mark::Slug { rect, turn });
            return;
        }
    }
    remarks.push(no_room(room, MarkKind::Slug, Length::inches(1, 8)));
}

fn no_room(room: &Room, mark: MarkKind, depth: Length) -> Remark {
    let there = EDGES.into_iter().map(|e| room.depth(e)).max().unwrap_or(Length::ZERO).max(Length::ZERO);
    let missing = if there < depth { depth - there } else { depth };
    Remark::NoRoom { mark, edge: None, missing }
}
