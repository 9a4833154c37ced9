use super::super::Edge;
use crate::unit::{Length, Rect};

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
}

/// Where a pile is cut this way, from its lower or left end: at both ends of everything that no cut this way parts.
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
