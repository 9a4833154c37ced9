use std::collections::BTreeMap;

use super::super::Edge;
use super::lines::{Way, lines};
use super::{Cut, CutPlan, CutRequest, Parting, Pile, PileFor};
use crate::unit::{Length, Rect, Turn};

/// The plan whose first cut is measured from this edge; `None` where it comes to an end that is no card.
pub(super) fn plan(ask: &CutRequest, first: Edge) -> Option<CutPlan> {
    let all = (0..ask.trims.len()).collect();
    let mut table = Table { ask, cuts: Vec::new(), piles: Vec::new() };
    let sheet = table.pile(Lying { rect: ask.sheet.at_origin(), trims: all, edge: Edge::Top });
    let mut way = if first.level() { Way::Level } else { Way::Upright };
    let mut left: Vec<usize> = sheet.into_iter().collect();
    let mut idle = 0;
    while !left.is_empty() {
        let (strokes, piles) = (table.cuts.len(), left.len());
        left = table.level(way, &left);
        idle = if table.cuts.len() == strokes && left.len() == piles { idle + 1 } else { 0 };
        if idle == 2 {
            return None;
        }
        way = way.other();
    }
    let piles = table.piles.iter().map(|lying| Pile { rect: lying.rect, for_what: lying.for_what(ask) }).collect();
    Some(CutPlan { cuts: table.cuts, piles })
}

/// A pile on the table, with the edge that lay last against the backgauge.
#[derive(Clone)]
struct Lying {
    rect: Rect,
    trims: Vec<usize>,
    edge: Edge,
}

impl Lying {
    fn for_what(&self, ask: &CutRequest) -> PileFor {
        match *self.trims.as_slice() {
            [] => PileFor::Waste,
            [one] if ask.trims.get(one) == Some(&self.rect) => PileFor::Card(one),
            _ => PileFor::Cutting,
        }
    }
}

struct Table<'a> {
    ask: &'a CutRequest<'a>,
    cuts: Vec<Cut>,
    piles: Vec<Lying>,
}

/// One cut of one pile that is still to be made: the line, and the place of the pile's edge at the gauge.
type Due = BTreeMap<Length, Vec<(usize, Length)>>;

impl Table<'_> {
    /// Lays down a pile; its number where it is still to be cut.
    fn pile(&mut self, lying: Lying) -> Option<usize> {
        let cutting = lying.for_what(self.ask) == PileFor::Cutting;
        self.piles.push(lying);
        cutting.then_some(self.piles.len() - 1)
    }

    /// Cuts every pile one way wherever it can be cut; what is left to be cut the other way. First everything that the gauge reaches
    /// with the true edge against it, from the far end to the near one; then, half turned, what lay too near.
    fn level(&mut self, way: Way, piles: &[usize]) -> Vec<usize> {
        let mut left = Vec::new();
        let (mut far, mut near) = (Due::new(), Due::new());
        for number in piles {
            let Some(lying) = self.piles.get(*number) else { continue };
            let trims: Vec<Rect> = lying.trims.iter().filter_map(|n| self.ask.trims.get(*n)).copied().collect();
            let lines = lines(way, lying.rect, &trims);
            if lines.is_empty() {
                left.push(*number);
                continue;
            }
            let (begin, mut end) = way.span(lying.rect);
            for line in lines.iter().rev().take_while(|line| **line - begin >= self.ask.least_gauge) {
                far.entry(*line - begin).or_default().push((*number, *line));
                end = *line;
            }
            for line in lines.iter().filter(|line| **line - begin < self.ask.least_gauge) {
                near.entry(end - *line).or_default().push((*number, *line));
            }
        }
        let (edge, opposite) = way.edges();
        // What is left of each pile between knife and backgauge.
        let mut rest: BTreeMap<usize, usize> = piles.iter().map(|n| (*n, *n)).collect();
        for (edge, due) in [(edge, far), (opposite, near)] {
            for (gauge, lines) in due.into_iter().rev() {
                let partings = lines.into_iter().filter_map(|(pile, line)| {
                    let now = rest.get_mut(&pile)?;
                    let (parting, front) = self.part(way, *now, edge, line)?;
                    *now = parting.back;
                    left.extend(front);
                    Some(parting)
                });
                let partings = partings.collect();
                self.cuts.push(Cut { edge, gauge, below_least: gauge < self.ask.least_gauge, partings });
            }
        }
        let whole = |n: &usize| !left.contains(n);
        let rests = rest.into_values().filter(whole).filter(|n| {
            self.piles.get(*n).is_some_and(|lying| lying.for_what(self.ask) == PileFor::Cutting)
        });
        let rests: Vec<usize> = rests.collect();
        left.extend(rests);
        left.sort_unstable();
        left
    }

    /// Parts one pile at a line with an edge against the backgauge; with the front part where that is still to be cut.
    fn part(&mut self, way: Way, number: usize, edge: Edge, line: Length) -> Option<(Parting, Option<usize>)> {
        let lying = self.piles.get(number)?.clone();
        let (begin, end) = way.span(lying.rect);
        let (low, high) = (way.part(lying.rect, begin, line), way.part(lying.rect, line, end));
        let (back, front) = if matches!(edge, Edge::Bottom | Edge::Left) { (low, high) } else { (high, low) };
        let turn = Turn::quarters(quarter(edge) - quarter(lying.edge));
        let within = |rect: Rect| -> Vec<usize> {
            let holds = |n: &usize| self.ask.trims.get(*n).is_some_and(|trim| rect.contains(*trim));
            lying.trims.iter().copied().filter(holds).collect()
        };
        let (back, front) = (
            Lying { rect: back, trims: within(back), edge },
            Lying { rect: front, trims: within(front), edge },
        );
        self.pile(back);
        let at = self.piles.len() - 1;
        let still = self.pile(front);
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
