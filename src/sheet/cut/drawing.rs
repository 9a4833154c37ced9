use super::super::Edge;
use super::lines::Way;
use super::{Cut, CutPlan, Parting, PileFor};
use crate::unit::{Length, Point, Rect};

/// One stroke of a picture of the plan, on the sheet as its front is looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CutLine {
    /// The number of the cut, from 1, as in the words of the plan.
    pub number: usize,
    /// The lower or left end.
    pub from: Point,
    /// The upper or right end.
    pub to: Point,
}

impl CutPlan {
    /// The plan as lines with numbers. Piles that are cut at one setting and in one line give one line, unless a card that this cut
    /// misses lies between them.
    pub fn drawing(&self) -> Vec<CutLine> {
        let cards: Vec<Rect> =
            self.piles.iter().filter(|pile| matches!(pile.for_what, PileFor::Card(_))).map(|pile| pile.rect).collect();
        self.cuts.iter().enumerate().flat_map(|(n, cut)| self.strokes_of(n + 1, cut, &cards)).collect()
    }

    fn strokes_of(&self, number: usize, cut: &Cut, cards: &[Rect]) -> Vec<CutLine> {
        let way = Way::from(cut.edge);
        let mut strokes: Vec<(Length, Length, Length)> =
            cut.partings.iter().filter_map(|parting| self.stroke(way, cut.edge, parting)).collect();
        strokes.sort_unstable();
        let mut joined: Vec<(Length, Length, Length)> = Vec::new();
        for (across, from, to) in strokes {
            let misses = |end: Length| cards.iter().any(|card| passes(way, *card, across, (end, from)));
            match joined.last_mut() {
                Some((same, _, end)) if *same == across && !misses(*end) => *end = to,
                _ => joined.push((across, from, to)),
            }
        }
        let line = |(across, from, to)| CutLine { number, from: way.point(across, from), to: way.point(across, to) };
        joined.into_iter().map(line).collect()
    }

    /// Where a pile is parted: across the cut, then from and to along it.
    fn stroke(&self, way: Way, edge: Edge, parting: &Parting) -> Option<(Length, Length, Length)> {
        let back = self.piles.get(parting.back)?.rect;
        let (begin, end) = way.span(back);
        let across = if matches!(edge, Edge::Bottom | Edge::Left) { end } else { begin };
        let (from, to) = way.other().span(back);
        Some((across, from, to))
    }
}

/// Whether a line across there, from one place to another, would go through a card.
fn passes(way: Way, card: Rect, across: Length, (from, to): (Length, Length)) -> bool {
    let (begin, end) = way.span(card);
    let (low, high) = way.other().span(card);
    begin < across && across < end && low < to && from < high
}
