//! Crop and fold marks: lines that lead outwards from the trim.

use super::super::{Remark, Station};
use super::mark::{Edge, Line, Mark, MarkKind};
use super::room::Room;
use crate::card::Format;
use crate::unit::{Length, Point};

/// Length of a crop or fold mark: 1/4 in (common practice).
const FULL: Length = Length::inches(1, 4);
/// A mark shorter than this is of no use: 1/16 in.
const LEAST: Length = Length::inches(1, 16);
/// Where there is no bleed, marks still keep away from the trim: 1/8 in.
const AWAY: Length = Length::inches(1, 8);

/// Four corners of every card, two marks each; where a neighbour is too near, the mark stands in the same line past the last
/// card, once for the whole row or column.
pub(super) fn crop(room: &mut Room, stations: &[Station], bleed: Length, remarks: &mut Vec<Remark>) {
    let mut lines = Lines::new(MarkKind::Crop);
    for station in stations {
        let flat = station.flat();
        for x in [Length::ZERO, flat.width] {
            lines.beside(room, station, Point::new(x, flat.height), (0, 1), bleed);
            lines.beside(room, station, Point::new(x, Length::ZERO), (0, -1), bleed);
        }
        for y in [Length::ZERO, flat.height] {
            lines.beside(room, station, Point::new(flat.width, y), (1, 0), bleed);
            lines.beside(room, station, Point::new(Length::ZERO, y), (-1, 0), bleed);
        }
    }
    lines.lay(room, remarks, Mark::Crop);
}

/// Every fold, at the head and at the foot.
pub(super) fn fold(room: &mut Room, stations: &[Station], format: &Format, remarks: &mut Vec<Remark>) {
    let mut lines = Lines::new(MarkKind::Fold);
    for station in stations {
        for x in format.fold.lines(station.face) {
            lines.beside(room, station, Point::new(x, station.flat().height), (0, 1), format.bleed);
            lines.beside(room, station, Point::new(x, Length::ZERO), (0, -1), format.bleed);
        }
    }
    lines.lay(room, remarks, Mark::Fold);
}

/// Lines that are to be laid, and where they came out short.
struct Lines {
    kind: MarkKind,
    laid: Vec<Line>,
    /// The room that was there, by edge of the form, where it was less than wanted.
    short: Vec<(Edge, Length)>,
}

impl Lines {
    fn new(kind: MarkKind) -> Self {
        Self { kind, laid: Vec::new(), short: Vec::new() }
    }

    /// A mark that leads away from `at` on the trim (in face coordinates) in direction `way`.
    fn beside(&mut self, room: &Room, station: &Station, at: Point, way: (i64, i64), bleed: Length) {
        let away = if bleed > Length::ZERO { bleed } else { AWAY };
        let out = |by: Length| station.on_form(at.moved(by * way.0, by * way.1));
        let mut line = Line { from: out(away), to: out(away + FULL) };
        let edge = if line.to.x > line.from.x {
            Edge::Right
        } else if line.to.x < line.from.x {
            Edge::Left
        } else if line.to.y > line.from.y {
            Edge::Top
        } else {
            Edge::Bottom
        };
        if room.on_a_piece(line.bounds()) {
            // A neighbour's bleed is in the way: the mark moves out in its own line, past the last card.
            line = room.past_the_cards(line, edge, away - bleed);
        }
        if !room.printable().contains(line.bounds()) {
            let end = room.on_edge(edge, line.from);
            let there =
                if room.printable().holds(line.from) { Line { to: end, ..line }.length() } else { Length::ZERO };
            let there = there.min(FULL);
            if !self.short.contains(&(edge, there)) {
                self.short.push((edge, there));
            }
            if there < LEAST {
                return;
            }
            line.to = end;
            if !room.printable().contains(line.bounds()) {
                return;
            }
        }
        if !self.laid.contains(&line) {
            self.laid.push(line);
        }
    }

    fn lay(self, room: &mut Room, remarks: &mut Vec<Remark>, mark: impl Fn(Line) -> Mark) {
        for line in self.laid {
            room.put(mark(line));
        }
        for (edge, there) in self.short {
            remarks.push(if there < LEAST {
                Remark::NoRoom { mark: self.kind, edge: Some(edge), missing: LEAST - there }
            } else {
                Remark::Shortened { mark: self.kind, edge, length: there }
            });
        }
    }
}
