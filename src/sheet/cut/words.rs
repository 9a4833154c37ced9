use std::collections::BTreeSet;

use super::super::Edge;
use super::{Cut, CutPlan, Parting, PileFor};
use crate::unit::Turn;

impl CutPlan {
    /// The plan as an operator reads it: one numbered line a cut. Cards have the numbers of their trims, from 1; a pile goes by the
    /// cards in it. Print [`super::CAUTION`] beside it.
    pub fn words(&self) -> Vec<String> {
        let mut edge = None;
        // Piles on the table that are still to be cut.
        let mut open = BTreeSet::from([0]);
        let mut lines = Vec::new();
        for (n, cut) in self.cuts.iter().enumerate() {
            let under: Vec<usize> = cut.partings.iter().map(|parting| parting.pile).collect();
            let named = || format!("{} at", capital(&self.who(&under, &open)));
            let (lead, who) = if edge == Some(cut.edge) {
                (String::new(), named())
            } else {
                let come = self.come(n, &open);
                let turning = if edge.is_none() { "Load face up".to_owned() } else { self.turning(&come, &open) };
                let lead = format!("{turning}: {} to the backgauge, {}. ", side(cut.edge), guide(cut.edge));
                (lead, if come.len() == under.len() { "At".to_owned() } else { named() })
            };
            let outcome = self.outcome(cut);
            let piles = match self.piles_after(n + 1) {
                1 => "1 pile".to_owned(),
                piles => format!("{piles} piles"),
            };
            lines.push(format!("{}. {lead}{who} {}: {outcome} {piles} on the table.", n + 1, cut.gauge));
            edge = Some(cut.edge);
            for Parting { pile, back, front, .. } in &cut.partings {
                open.remove(pile);
                open.extend([*back, *front].into_iter().filter(|n| self.for_what(*n) == Some(PileFor::Cutting)));
            }
        }
        lines
    }

    fn for_what(&self, pile: usize) -> Option<PileFor> {
        self.piles.get(pile).map(|pile| pile.for_what)
    }

    /// The piles that come under the knife with this cut and the next ones from the same edge, each as it comes.
    fn come(&self, from: usize, open: &BTreeSet<usize>) -> Vec<&Parting> {
        let edge = self.cuts.get(from).map(|cut| cut.edge);
        let same = self.cuts.iter().skip(from).take_while(|cut| Some(cut.edge) == edge);
        same.flat_map(|cut| &cut.partings).filter(|parting| open.contains(&parting.pile)).collect()
    }

    /// How they come to lie as the cuts need them.
    fn turning(&self, come: &[&Parting], open: &BTreeSet<usize>) -> String {
        let turn = come.first().map(|parting| parting.turn).filter(|turn| come.iter().all(|p| p.turn == *turn));
        let who = self.who(&come.iter().map(|parting| parting.pile).collect::<Vec<_>>(), open);
        match turn {
            Some(Turn::None) => format!("Leave {who} as it lies"),
            Some(Turn::Left) => format!("Turn {who} a quarter to the left"),
            Some(Turn::Half) => format!("Turn {who} half round"),
            Some(Turn::Right) => format!("Turn {who} a quarter to the right"),
            None => format!("Turn {who}"),
        }
    }

    /// Piles by name: all of those that are still to be cut, or by their cards.
    fn who(&self, piles: &[usize], open: &BTreeSet<usize>) -> String {
        if piles.len() == open.len() {
            return match piles.len() {
                1 => "the pile".to_owned(),
                2 => "both piles".to_owned(),
                n => format!("all {n} piles"),
            };
        }
        let names: Vec<String> =
            piles.iter().filter_map(|n| self.piles.get(*n)).map(|pile| numbers(pile.cards.clone())).collect();
        match names.as_slice() {
            [one] => format!("the pile of {}", cards(one)),
            _ => format!("the piles of {}", names.iter().map(|name| cards(name)).collect::<Vec<_>>().join(" and of ")),
        }
    }

    /// What falls before the knife, and what is finished.
    fn outcome(&self, cut: &Cut) -> String {
        let (mut waste, mut on, mut done) = (false, Vec::new(), Vec::new());
        for parting in &cut.partings {
            match self.piles.get(parting.front).map(|front| (front.for_what, &front.cards)) {
                Some((PileFor::Waste, _)) => waste = true,
                Some((PileFor::Cutting, cards)) => on.extend(cards.iter().copied()),
                Some((PileFor::Card(card), _)) => done.push(card),
                None => {}
            }
            if let Some(PileFor::Card(card)) = self.for_what(parting.back) {
                done.push(card);
            }
        }
        let mut words = Vec::new();
        if waste {
            words.push("waste falls in front".to_owned());
        }
        if !on.is_empty() {
            words.push(format!("{} in front, to be cut on", cards(&numbers(on))));
        }
        if !done.is_empty() {
            words.push(format!("finished {}", cards(&numbers(done))));
        }
        if words.is_empty() {
            words.push("waste stays behind".to_owned());
        }
        words.join("; ") + "."
    }
}

/// An edge as the press room names it.
const fn side(edge: Edge) -> &'static str {
    match edge {
        Edge::Bottom => "gripper side",
        Edge::Top => "tail side",
        Edge::Left => "guide side",
        Edge::Right => "side away from the guide",
    }
}

/// Where the other true edge lies then, left or right of the operator, who stands in front.
const fn guide(edge: Edge) -> &'static str {
    match edge {
        Edge::Bottom => "guide side on the right",
        Edge::Top => "guide side on the left",
        Edge::Left => "gripper side on the left",
        Edge::Right => "gripper side on the right",
    }
}

fn cards(numbers: &str) -> String {
    let one = numbers.chars().all(|c| c.is_ascii_digit());
    format!("{} {numbers}", if one { "card" } else { "cards" })
}

/// `1-3, 7`: numbers from 1, runs of three and more as ranges.
fn numbers(mut cards: Vec<usize>) -> String {
    cards.sort_unstable();
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for card in cards {
        match runs.last_mut() {
            Some((_, last)) if *last == card => *last = card + 1,
            _ => runs.push((card + 1, card + 1)),
        }
    }
    let run = |(from, to): &(usize, usize)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from}-{to}"),
    };
    runs.iter().map(run).collect::<Vec<_>>().join(", ")
}

fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map(|first| first.to_uppercase().chain(chars).collect()).unwrap_or_default()
}
