//! Centre, registration, gripper edge and side guide marks: what the press is set by.

use super::super::{FormSide, Remark, WorkStyle};
use super::mark::{Edge, Line, Mark, MarkKind};
use super::room::Room;
use crate::unit::{Length, Point, Rect, Size};

/// Lengths of a centre mark, the best first: 1/4, 1/8, 1/16 in.
const CENTRE: [Length; 3] = [Length::inches(1, 4), Length::inches(1, 8), Length::inches(1, 16)];
/// Sizes of a registration mark, the best first: 1/4, 3/16, 1/8 in.
const REGISTER: [Length; 3] = [Length::inches(1, 4), Length::inches(3, 16), Length::inches(1, 8)];
/// Sizes of a triangle, the best first: 1/8 and 1/16 in.
const TRIANGLE: [Length; 2] = [Length::inches(1, 8), Length::inches(1, 16)];

/// A line at the middle of every edge, inwards from the edge of the printable area.
pub(super) fn centre(room: &mut Room, sheet: Size, remarks: &mut Vec<Remark>) {
    let middle = sheet.at_origin().centre();
    for edge in Edge::ALL {
        let outer = room.on_edge(edge, middle);
        let line = CENTRE.into_iter().map(|length| {
            let from = match edge {
                Edge::Top => outer.moved(Length::ZERO, -length),
                Edge::Bottom => outer.moved(Length::ZERO, length),
                Edge::Right => outer.moved(-length, Length::ZERO),
                Edge::Left => outer.moved(length, Length::ZERO),
            };
            Line { from, to: outer }
        });
        match line.into_iter().find(|l| room.is_free(l.bounds())) {
            Some(line) => room.put(Mark::Centre(line)),
            None => remarks.push(no_room(room, MarkKind::Centre, edge, Length::inches(1, 16))),
        }
    }
}

/// How far from the middle of an edge the registration mark stands, beside the centre mark: 1/2 in.
const BESIDE: Length = Length::inches(1, 2);

/// A circle and cross beside the middle of every edge.
pub(super) fn register(room: &mut Room, remarks: &mut Vec<Remark>) {
    for edge in Edge::ALL {
        let middle = room.length(edge).half() + BESIDE;
        let place = REGISTER.into_iter().find_map(|size| room.nearest(edge, size, size, middle));
        match place {
            Some(rect) => room.put(Mark::Register { centre: rect.centre(), arm: rect.width().half() }),
            None => remarks.push(no_room(room, MarkKind::Register, edge, Length::inches(1, 8))),
        }
    }
}

/// Triangles that point to the gripper edge and to the side guide. The front is laid with its left side to the guide; turned over
/// its side, the same edge of the paper stands at the right, which is why the guide changes. A form that prints both sides carries
/// the marks of both passes.
pub(super) fn guides(room: &mut Room, style: WorkStyle, side: FormSide, remarks: &mut Vec<Remark>) {
    let both = side == FormSide::Both;
    let mut grippers = vec![Edge::Bottom];
    let mut guides = vec![if side == FormSide::Back && !style.changes_gripper() { Edge::Right } else { Edge::Left }];
    if both && style.changes_gripper() {
        grippers.push(Edge::Top);
    }
    if both && !style.changes_gripper() {
        guides.push(Edge::Right);
    }
    for edge in grippers {
        let quarter = room.length(edge) / 4;
        for middle in [quarter, quarter * 3] {
            triangle(room, edge, middle, MarkKind::Gripper, remarks);
        }
    }
    for edge in guides {
        let near = room.length(edge) / 4;
        triangle(room, edge, near, MarkKind::SideGuide, remarks);
    }
}

fn triangle(room: &mut Room, edge: Edge, middle: Length, kind: MarkKind, remarks: &mut Vec<Remark>) {
    let place = TRIANGLE.into_iter().find_map(|size| room.nearest(edge, size, size, middle));
    let Some(rect) = place else {
        let remark = no_room(room, kind, edge, Length::inches(1, 16));
        if !remarks.contains(&remark) {
            remarks.push(remark);
        }
        return;
    };
    let points = pointing(rect, edge);
    room.put(if kind == MarkKind::Gripper { Mark::Gripper(points) } else { Mark::SideGuide(points) });
}

/// The triangle in `rect` whose tip points to `edge`.
fn pointing(rect: Rect, edge: Edge) -> [Point; 3] {
    let (x0, x1, y0, y1, m) = (rect.x0, rect.x1, rect.y0, rect.y1, rect.centre());
    match edge {
        Edge::Top => [Point::new(x0, y0), Point::new(x1, y0), Point::new(m.x, y1)],
        Edge::Bottom => [Point::new(x0, y1), Point::new(x1, y1), Point::new(m.x, y0)],
        Edge::Right => [Point::new(x0, y0), Point::new(x0, y1), Point::new(x1, m.y)],
        Edge::Left => [Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, m.y)],
    }
}

/// How much deeper the band would have to be; where it is deep enough and other marks fill it, the whole depth.
fn no_room(room: &Room, mark: MarkKind, edge: Edge, depth: Length) -> Remark {
    let there = room.depth(edge).max(Length::ZERO);
    let missing = if there < depth { depth - there } else { depth };
    Remark::NoRoom { mark, edge: Some(edge), missing }
}
