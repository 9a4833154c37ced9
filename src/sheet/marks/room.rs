use super::mark::{Edge, Line, Mark};
use crate::unit::{Length, Point, Rect};

/// Marks keep this far from each other: 1/32 in.
const CLEAR: Length = Length::inches(1, 32);
/// Rows beside an edge are tried in steps of 1/32 in, up to 1 in deep.
const STEP: Length = Length::inches(1, 32);
const DEEPEST: i64 = 32;

/// What is still free of a form.
pub(super) struct Room {
    printable: Rect,
    pieces: Vec<Rect>,
    all_pieces: Rect,
    pub(super) marks: Vec<Mark>,
}

impl Room {
    /// A form without marks.
    pub(super) fn new(printable: Rect, pieces: Vec<Rect>) -> Self {
        let all_pieces = pieces.iter().copied().reduce(Rect::union).unwrap_or(printable);
        Self { printable, pieces, all_pieces, marks: Vec::new() }
    }

    /// Lays a mark.
    pub(super) fn put(&mut self, mark: Mark) {
        self.marks.push(mark);
    }

    /// What can be printed.
    pub(super) const fn printable(&self) -> Rect {
        self.printable
    }

    /// Whether a bleed is touched.
    pub(super) fn on_a_piece(&self, rect: Rect) -> bool {
        self.all_pieces.intersect(rect).is_some() && self.pieces.iter().any(|p| p.intersect(rect).is_some())
    }

    /// Whether a mark may lie here: printable, outside every bleed, and clear of every other mark.
    pub(super) fn is_free(&self, rect: Rect) -> bool {
        let near = rect.grown(CLEAR);
        self.printable.contains(rect)
            && !self.on_a_piece(rect)
            && !self.marks.iter().any(|m| m.bounds().intersect(near).is_some())
    }

    /// How deep the band between the bleeds and the edge of the printable area is.
    pub(super) fn depth(&self, edge: Edge) -> Length {
        match edge {
            Edge::Top => self.printable.y1 - self.all_pieces.y1,
            Edge::Right => self.printable.x1 - self.all_pieces.x1,
            Edge::Bottom => self.all_pieces.y0 - self.printable.y0,
            Edge::Left => self.all_pieces.x0 - self.printable.x0,
        }
    }

    /// How long an edge of the printable area is.
    pub(super) fn length(&self, edge: Edge) -> Length {
        if edge.level() { self.printable.width() } else { self.printable.height() }
    }

    /// The rectangle at an edge that begins `along` from the edge's lower or left end, `inset` from the edge.
    fn at_edge(&self, edge: Edge, along: Length, inset: Length, length: Length, depth: Length) -> Rect {
        let p = self.printable;
        let (x, y) = match edge {
            Edge::Top => (p.x0 + along, p.y1 - inset - depth),
            Edge::Bottom => (p.x0 + along, p.y0 + inset),
            Edge::Right => (p.x1 - inset - depth, p.y0 + along),
            Edge::Left => (p.x0 + inset, p.y0 + along),
        };
        let (w, h) = if edge.level() { (length, depth) } else { (depth, length) };
        Rect::new(x, y, x + w, y + h)
    }

    /// The free runs of a row along an edge, each as its begin and end, counted along the edge.
    fn free_runs(&self, edge: Edge, inset: Length, depth: Length) -> Vec<(Length, Length)> {
        let row = self.at_edge(edge, Length::ZERO, inset, self.length(edge), depth);
        if !self.printable.contains(row) {
            return Vec::new();
        }
        let marks = self.marks.iter().map(|m| m.bounds().grown(CLEAR));
        let pieces = self.pieces.iter().copied();
        let mut taken: Vec<(Length, Length)> = marks
            .chain(pieces)
            .filter_map(|r| r.intersect(row))
            .map(|r| if edge.level() { (r.x0 - row.x0, r.x1 - row.x0) } else { (r.y0 - row.y0, r.y1 - row.y0) })
            .collect();
        taken.sort_unstable();
        let mut runs = Vec::new();
        let mut from = Length::ZERO;
        for (begin, end) in taken {
            if begin > from {
                runs.push((from, begin));
            }
            from = from.max(end);
        }
        if self.length(edge) > from {
            runs.push((from, self.length(edge)));
        }
        runs
    }

    /// Rows beside an edge from the outermost inwards.
    fn insets(&self, edge: Edge, depth: Length) -> impl Iterator<Item = Length> {
        let steps = (self.depth(edge) - depth).times(STEP).clamp(0, DEEPEST);
        (0..=steps).map(|n| STEP * n)
    }

    /// The free place for a mark of this length and depth at an edge that lies nearest to `middle`, counted along the edge; in
    /// the outermost row that has one.
    pub(super) fn nearest(&self, edge: Edge, length: Length, depth: Length, middle: Length) -> Option<Rect> {
        let wanted = middle - length.half();
        self.insets(edge, depth).find_map(|inset| {
            let runs = self.free_runs(edge, inset, depth).into_iter().filter(|(from, to)| *to - *from >= length);
            let places = runs.map(|(from, to)| wanted.clamp(from, to - length));
            let along = places.min_by_key(|along| (*along - wanted).abs())?;
            Some(self.at_edge(edge, along, inset, length, depth))
        })
    }

    /// The longest free run at an edge, `depth` deep and up to `most` long; of equals the outermost and then the first.
    pub(super) fn longest(&self, edge: Edge, depth: Length, most: Length) -> Option<Rect> {
        let mut best: Option<(Length, Rect)> = None;
        for inset in self.insets(edge, depth) {
            for (from, to) in self.free_runs(edge, inset, depth) {
                let run = (to - from).min(most);
                if best.is_none_or(|(longest, _)| run > longest) {
                    best = Some((run, self.at_edge(edge, from, inset, run, depth)));
                }
            }
        }
        best.map(|(_, rect)| rect)
    }

    /// Places of one length side by side along an edge, as many as are free in the outermost row.
    pub(super) fn places(&self, edge: Edge, length: Length, depth: Length) -> Vec<Rect> {
        let mut places = Vec::new();
        for (from, to) in self.free_runs(edge, Length::ZERO, depth) {
            let fitting = (to - from).times(length);
            places.extend((0..fitting).map(|n| self.at_edge(edge, from + length * n, Length::ZERO, length, depth)));
        }
        places
    }

    /// The same line moved outwards in its own direction until it begins `away` past the outermost bleed.
    pub(super) fn past_the_cards(&self, line: Line, edge: Edge, away: Length) -> Line {
        let all = self.all_pieces;
        let by = match edge {
            Edge::Top => Point::new(Length::ZERO, all.y1 + away - line.from.y),
            Edge::Bottom => Point::new(Length::ZERO, all.y0 - away - line.from.y),
            Edge::Right => Point::new(all.x1 + away - line.from.x, Length::ZERO),
            Edge::Left => Point::new(all.x0 - away - line.from.x, Length::ZERO),
        };
        Line { from: line.from.moved(by.x, by.y), to: line.to.moved(by.x, by.y) }
    }

    /// The point on an edge of the printable area nearest to `at`.
    pub(super) const fn on_edge(&self, edge: Edge, at: Point) -> Point {
        match edge {
            Edge::Top => Point::new(at.x, self.printable.y1),
            Edge::Bottom => Point::new(at.x, self.printable.y0),
            Edge::Right => Point::new(self.printable.x1, at.y),
            Edge::Left => Point::new(self.printable.x0, at.y),
        }
    }
}
