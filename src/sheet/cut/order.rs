use std::collections::BTreeMap;

use super::super::Edge;
use super::lines::{Way, kept, lines};
use super::{Cut, CutPlan, CutRequest, Parting, Pile, PileFor};
use crate::unit::{Length, Rect, Turn};

/// Why there is no plan.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Stuck {
    /// A pile whose every strip is narrower than the backgauge comes near; the widest one.
    Narrow(Length),
    /// A pile that no cut parts.
    Locked,
}

/// The plan whose first cut is measured from this edge or the one opposite. One way after the other, every pile is cut wherever it can
/// be; what can be cut at all is found so, for a cut that misses every card takes no other cut away.
pub(super) fn plan(ask: &CutRequest, first: Edge) -> Result<CutPlan, Stuck> {
    let all = (0..ask.trims.len()).collect();
    let mut table = Table { ask, cuts: Vec::new(), piles: Vec::new(), lying: Vec::new() };
    let mut waiting = Vec::new();
    waiting.extend(table.lay(ask.sheet.at_origin(), all, None));
    let mut way = Way::from(first);
    let mut idle = false;
    while !waiting.is_empty() {
        let before = table.cuts.len();
        waiting = table.cut(way, &waiting)?;
        let nothing = table.cuts.len() == before;
        if nothing && idle {
            return Err(Stuck::Locked);
        }
        idle = nothing;
        way = way.other();
    }
    Ok(CutPlan { cuts: table.cuts, piles: table.piles })
}

/// Cuts that are due: by gauge the piles, each with the place of the cut on the sheet.
type Due = BTreeMap<Length, Vec<(usize, Length)>>;

struct Table<'a> {
    ask: &'a CutRequest<'a>,
    cuts: Vec<Cut>,
    piles: Vec<Pile>,
    /// Of every pile the edge that lay last against the backgauge; none before the first cut, to which the sheet is loaded.
    lying: Vec<Option<Edge>>,
}

impl Table<'_> {
    /// Lays down a pile; its number where it is still to be cut.
    fn lay(&mut self, rect: Rect, cards: Vec<usize>, edge: Option<Edge>) -> Option<usize> {
        let for_what = match *cards.as_slice() {
            [] => PileFor::Waste,
            [one] if self.ask.trims.get(one) == Some(&rect) => PileFor::Card(one),
            _ => PileFor::Cutting,
        };
        self.piles.push(Pile { rect, cards, for_what });
        self.lying.push(edge);
        (for_what == PileFor::Cutting).then_some(self.piles.len() - 1)
    }

    /// Cuts every pile one way wherever it can be; gives what is left to be cut the other way.
    fn cut(&mut self, way: Way, piles: &[usize]) -> Result<Vec<usize>, Stuck> {
        let (edge, opposite) = way.edges();
        let mut waiting = Vec::new();
        let (mut first, mut turned) = (Due::new(), Due::new());
        // What is left of each pile between knife and backgauge.
        let mut rest: BTreeMap<usize, usize> = BTreeMap::new();
        for number in piles {
            let Some(pile) = self.piles.get(*number) else { continue };
            let trims: Vec<Rect> = pile.cards.iter().filter_map(|n| self.ask.trims.get(*n)).copied().collect();
            let (span, lines) = (way.span(pile.rect), lines(way, pile.rect, &trims));
            if lines.is_empty() {
                waiting.push(*number);
                continue;
            }
            let (from, to) = kept(span, &lines, self.ask.least_gauge).map_err(Stuck::Narrow)?;
            for line in lines {
                let (due, gauge) = if line > from { (&mut first, line - span.0) } else { (&mut turned, to - line) };
                due.entry(gauge).or_default().push((*number, line));
            }
            rest.insert(*number, *number);
        }
        for (edge, due) in [(edge, first), (opposite, turned)] {
            for (gauge, lines) in due.into_iter().rev() {
                let mut partings = Vec::new();
                for (pile, line) in lines {
                    let Some(now) = rest.get_mut(&pile) else { continue };
                    let Some((parting, front)) = self.part(way, *now, edge, line) else { continue };
                    *now = parting.back;
                    waiting.extend(front);
                    partings.push(parting);
                }
                self.cuts.push(Cut { edge, gauge, partings });
            }
        }
        let cutting = |n: &usize| self.piles.get(*n).is_some_and(|pile| pile.for_what == PileFor::Cutting);
        waiting.extend(rest.into_values().filter(cutting));
        waiting.sort_unstable();
        Ok(waiting)
    }

    /// Parts one pile with an edge against the backgauge; gives the front part too where that is still to be cut.
    fn part(&mut self, way: Way, number: usize, edge: Edge, line: Length) -> Option<(Parting, Option<usize>)> {
        let (pile, lay) = (self.piles.get(number)?.clone(), *self.lying.get(number)?);
        let turn = lay.map_or(Turn::None, |lay| Turn::quarters(quarter(edge) - quarter(lay)));
        let (begin, end) = way.span(pile.rect);
        let (low, high) = (way.part(pile.rect, begin, line), way.part(pile.rect, line, end));
        let (back, front) = if matches!(edge, Edge::Bottom | Edge::Left) { (low, high) } else { (high, low) };
        let holds = |n: &usize| self.ask.trims.get(*n).is_some_and(|trim| back.contains(*trim));
        let (at_back, at_front) = pile.cards.iter().copied().partition(holds);
        self.lay(back, at_back, Some(edge));
        let at = self.piles.len() - 1;
        let still = self.lay(front, at_front, Some(edge));
        Some((Parting { pile: number, turn, back: at, front: at + 1 }, still))
    }
}

/// How many quarter turns, counter-clockwise, bring an edge to the far side, where the backgauge is.
const fn quarter(edge: Edge) -> i64 {
    match edge {
        Edge::Top => 0,
        Edge::Right => 1,
        Edge::Bottom => 2,
        Edge::Left => 3,
    }
}
