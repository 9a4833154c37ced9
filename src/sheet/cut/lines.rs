use super::super::Edge;
use crate::unit::{Length, Point, Rect};

/// Which way a cut runs.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Way {
    /// Along x: it parts what lies above from what lies below.
    Level,
    /// Along y: it parts what lies at the left from what lies at the right.
    Upright,
}

impl Way {
    pub(super) const fn other(self) -> Self {
        match self {
            Self::Level => Self::Upright,
            Self::Upright => Self::Level,
        }
    }

    /// How cuts run that are measured from an edge.
    pub(super) const fn from(edge: Edge) -> Self {
        match edge {
            Edge::Bottom | Edge::Top => Self::Level,
            Edge::Left | Edge::Right => Self::Upright,
        }
    }

    /// The edge that the press laid true, and the one opposite.
    pub(super) const fn edges(self) -> (Edge, Edge) {
        match self {
            Self::Level => (Edge::Bottom, Edge::Top),
            Self::Upright => (Edge::Left, Edge::Right),
        }
    }

    /// Begin and end across the cut.
    pub(super) const fn span(self, rect: Rect) -> (Length, Length) {
        match self {
            Self::Level => (rect.y0, rect.y1),
            Self::Upright => (rect.x0, rect.x1),
        }
    }

    /// The part of a rectangle from one place to another across the cut.
    pub(super) const fn part(self, rect: Rect, from: Length, to: Length) -> Rect {
        match self {
            Self::Level => Rect { y0: from, y1: to, ..rect },
            Self::Upright => Rect { x0: from, x1: to, ..rect },
        }
    }

    /// The place that is so far across the cut and so far along it.
    pub(super) const fn point(self, across: Length, along: Length) -> Point {
        match self {
            Self::Level => Point::new(along, across),
            Self::Upright => Point::new(across, along),
        }
    }
}

/// Where a pile is cut this way, from its lower or left end: at both ends of everything that no cut this way parts. What touches is
/// parted by one cut.
pub(super) fn lines(way: Way, pile: Rect, trims: &[Rect]) -> Vec<Length> {
    let mut spans: Vec<(Length, Length)> = trims.iter().map(|trim| way.span(*trim)).collect();
    spans.sort_unstable();
    let mut lines = Vec::new();
    let mut open: Option<(Length, Length)> = None;
    for (from, to) in spans {
        open = match open {
            Some((begin, end)) if from < end => Some((begin, end.max(to))),
            past => {
                lines.extend(past.map(|(begin, end)| [begin, end]).into_iter().flatten());
                Some((from, to))
            }
        };
    }
    lines.extend(open.map(|(begin, end)| [begin, end]).into_iter().flatten());
    lines.dedup();
    let (begin, end) = way.span(pile);
    lines.retain(|line| *line > begin && *line < end);
    lines
}

/// The strip that stays against the backgauge to the last: of those that are wide enough the nearest to the true edge, so that as
/// many cuts as can be are measured from there. What lies past it is cut first, from the true edge; what lies before it after half a
/// turn. A strip that is too narrow falls before the knife, held by what is left behind.
///
/// # Errors
/// The widest strip, where none is wide enough: the last cut would have to leave it.
pub(super) fn kept(
    (begin, end): (Length, Length),
    lines: &[Length],
    least: Length,
) -> Result<(Length, Length), Length> {
    let from = std::iter::once(begin).chain(lines.iter().copied());
    let to = lines.iter().copied().chain([end]);
    let strips: Vec<(Length, Length)> = from.zip(to).collect();
    let widest = strips.iter().map(|(from, to)| *to - *from).max().unwrap_or_default();
    strips.into_iter().find(|(from, to)| *to - *from >= least).ok_or(widest)
}
