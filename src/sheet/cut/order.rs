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

/// The cuts of one pile one way, in order: the edge at the backgauge and the gauge.
type Settings = Vec<(Edge, Length)>;

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

    /// Cuts every pile one way wherever it can be cut; gives what is left to be cut the other way. A pile gets all its cuts before the
    /// next one; piles that are cut alike lie together.
    fn cut(&mut self, way: Way, piles: &[usize]) -> Result<Vec<usize>, Stuck> {
        let mut waiting = Vec::new();
        let mut alike: Vec<(Settings, Vec<usize>)> = Vec::new();
        for number in piles {
            let settings = self.settings(way, *number)?;
            if settings.is_empty() {
                waiting.push(*number);
                continue;
            }
            match alike.iter_mut().find(|(same, _)| *same == settings) {
                Some((_, piles)) => piles.push(*number),
                None => alike.push((settings, vec![*number])),
            }
        }
        // The largest gauge first; of equals the pile that came to be first.
        alike.sort_by_key(|(settings, _)| std::cmp::Reverse(settings.first().map(|(_, gauge)| *gauge)));
        for (settings, mut piles) in alike {
            for (edge, gauge) in settings {
                let mut partings = Vec::new();
                for pile in &mut piles {
                    let Some((parting, front)) = self.part(*pile, edge, gauge) else { continue };
                    *pile = parting.back;
                    waiting.extend(front);
                    partings.push(parting);
                }
                self.cuts.push(Cut { edge, gauge, partings });
            }
            let cutting = |n: &usize| self.piles.get(*n).is_some_and(|pile| pile.for_what == PileFor::Cutting);
            waiting.extend(piles.into_iter().filter(cutting));
        }
        waiting.sort_unstable();
        Ok(waiting)
    }

    /// The settings that cut a pile one way: the largest gauge first from its true edge, then half turned what lies too near to that.
    fn settings(&self, way: Way, number: usize) -> Result<Settings, Stuck> {
        let Some(pile) = self.piles.get(number) else { return Ok(Vec::new()) };
        let trims: Vec<Rect> = pile.cards.iter().filter_map(|n| self.ask.trims.get(*n)).copied().collect();
        let (span, lines) = (way.span(pile.rect), lines(way, pile.rect, &trims));
        if lines.is_empty() {
            return Ok(Vec::new());
        }
        let (from, to) = kept(span, &lines, self.ask.least_gauge).map_err(Stuck::Narrow)?;
        let (edge, opposite) = way.edges();
        let far = lines.iter().rev().filter(|line| **line > from).map(|line| (edge, *line - span.0));
        let near = lines.iter().filter(|line| **line <= from).map(|line| (opposite, to - *line));
        Ok(far.chain(near).collect())
    }

    /// Parts one pile with an edge against the backgauge; gives the front part too where that is still to be cut.
    fn part(&mut self, number: usize, edge: Edge, gauge: Length) -> Option<(Parting, Option<usize>)> {
        let (pile, lay) = (self.piles.get(number)?.clone(), *self.lying.get(number)?);
        let turn = lay.map_or(Turn::None, |lay| Turn::quarters(quarter(edge) - quarter(lay)));
        let way = Way::from(edge);
        let (begin, end) = way.span(pile.rect);
        let from_begin = matches!(edge, Edge::Bottom | Edge::Left);
        let line = if from_begin { begin + gauge } else { end - gauge };
        let (low, high) = (way.part(pile.rect, begin, line), way.part(pile.rect, line, end));
        let (back, front) = if from_begin { (low, high) } else { (high, low) };
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
