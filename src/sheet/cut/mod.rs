//! The cut plan: the edge-to-edge cuts of a guillotine, in order, that part a printed sheet into cards at their trims.
//!
//! Every gauge is the distance from the backgauge to the knife, so it is measured from the edge of the pile that lies against the
//! backgauge. The first cut each way is measured from the edge of the sheet that the press laid to its grippers or its side guide, for
//! the print stands true to these. Trims with a gutter between them get a cut each, and the strip of bleed between is waste; trims that
//! touch share one. What the backgauge cannot come near enough to is cut after the pile was turned half round.

mod drawing;
mod lifts;
mod lines;
mod order;
mod words;

use super::{Edge, Sheet};
use crate::fault::{Fault, Faults, Result, Source};
use crate::unit::{Length, Rect, Size, Turn};

pub use drawing::CutLine;
pub use lifts::{LIFT_HEIGHT, Lifts, lifts};
use order::Stuck;

/// What every page says that leads to a guillotine, a press or a folder.
pub const CAUTION: &str = "Guillotines, presses and folders are run by trained operators, by the maker's instructions and the local \
                           safety rules, with every guard in place.";

/// The nearest that a backgauge comes to the knife where the machine's own figure is not stated: 1 in (common practice; it differs by
/// machine and grows with a false clamp plate).
pub const LEAST_GAUGE: Length = Length::inches(1, 1);

/// What is to be cut.
#[derive(Clone, Copy, Debug)]
pub struct CutRequest<'a> {
    /// The sheet as its front form is looked at: lower edge in the grippers, left edge at the side guide.
    pub sheet: Size,
    /// Every trim on it.
    pub trims: &'a [Rect],
    /// The nearest that the backgauge comes to the knife; see [`LEAST_GAUGE`].
    pub least_gauge: Length,
}

/// What a pile is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PileFor {
    /// More cuts.
    Cutting,
    /// A finished card: the number of its trim in the request, from zero.
    Card(usize),
    /// The waste bin.
    Waste,
}

/// The sheet or a part of it, as many sheets high as the lift.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pile {
    /// Its place on the sheet.
    pub rect: Rect,
    /// The trims that it holds, by their numbers in the request, from zero.
    pub cards: Vec<usize>,
    /// What it is for.
    pub for_what: PileFor,
}

/// One pile under the knife.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Parting {
    /// The pile, by its number in [`CutPlan::piles`].
    pub pile: usize,
    /// How it is turned since it last lay under the knife, counter-clockwise, seen from above. The sheet is loaded face up, with the
    /// edge of the first cut against the backgauge.
    pub turn: Turn,
    /// What stays between knife and backgauge.
    pub back: usize,
    /// What falls before the knife.
    pub front: usize,
}

/// One setting of the backgauge and the piles that are cut at it: side by side where the table is wide enough, else one after the
/// other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cut {
    /// Which edge of the piles, as the sheet's front is looked at, lies against the backgauge.
    pub edge: Edge,
    /// From there to the knife.
    pub gauge: Length,
    /// The piles that are cut so.
    pub partings: Vec<Parting>,
}

/// The cuts in order and everything that they make.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutPlan {
    /// The cuts, first to last.
    pub cuts: Vec<Cut>,
    /// Every pile in the order in which they come to be; the whole sheet is the first.
    pub piles: Vec<Pile>,
}

impl CutPlan {
    /// The plan of a planned press sheet; trims are numbered as its stations, less one.
    ///
    /// # Errors
    /// As [`cut_plan`].
    pub fn of_sheet(sheet: &Sheet, least_gauge: Length) -> Result<Self> {
        let stations = sheet.forms.first().map_or(&[][..], |form| &form.stations);
        let trims: Vec<Rect> = stations.iter().map(|station| station.trim).collect();
        cut_plan(&CutRequest { sheet: sheet.size, trims: &trims, least_gauge })
    }

    /// How often the knife comes down on each lift where piles are cut one by one.
    pub fn strokes(&self) -> usize {
        self.cuts.iter().map(|cut| cut.partings.len()).sum()
    }

    /// How often a pile is turned.
    pub fn turns(&self) -> usize {
        self.cuts.iter().flat_map(|cut| &cut.partings).filter(|parting| parting.turn != Turn::None).count()
    }

    /// Piles on the table after so many cuts, without waste.
    pub fn piles_after(&self, cuts: usize) -> usize {
        let partings = self.cuts.iter().take(cuts).flat_map(|cut| &cut.partings);
        let waste = |n: usize| usize::from(self.piles.get(n).is_some_and(|pile| pile.for_what == PileFor::Waste));
        partings.fold(1, |piles, parting| piles + 1 - waste(parting.back) - waste(parting.front))
    }

    /// The piles that a card lies in, from the whole sheet to the card alone.
    pub fn way_of(&self, card: usize) -> Vec<usize> {
        let holds = |(n, pile): (usize, &Pile)| pile.cards.contains(&card).then_some(n);
        self.piles.iter().enumerate().filter_map(holds).collect()
    }
}

/// Plans the cuts of any layout that a guillotine can cut. All cuts of a pile that run one way are made together, the largest gauge
/// first, and piles that are cut alike share a setting. Of the two ways for the first cut it takes the one with fewer settings and
/// turns, then with fewer strokes, then the one from the gripper edge.
///
/// # Errors
/// No trim; a trim that is not on the sheet; trims that overlap; trims that no edge-to-edge cut parts; trims that could only be parted
/// nearer to the backgauge than it comes to the knife.
pub fn cut_plan(ask: &CutRequest) -> Result<CutPlan> {
    sound(ask)?;
    let mut stuck = Vec::new();
    let mut best: Option<CutPlan> = None;
    let rank = |plan: &CutPlan| (plan.cuts.len() + plan.turns(), plan.strokes());
    for first in [Edge::Bottom, Edge::Left] {
        match order::plan(ask, first) {
            Ok(plan) if best.as_ref().is_none_or(|best| rank(&plan) < rank(best)) => best = Some(plan),
            Ok(_) => {}
            Err(why) => stuck.push(why),
        }
    }
    best.ok_or_else(|| told(stuck.into_iter().min().unwrap_or(Stuck::Locked), ask.least_gauge).into())
}

fn told(stuck: Stuck, least: Length) -> Fault {
    match stuck {
        Stuck::Narrow(widest) => {
            let message = format!(
                "a pile would have to be cut at a gauge of {widest}, and the backgauge comes no nearer to the knife than {least}"
            );
            Fault::new(Source::Nowhere, message)
                .hint("give the nearest gauge of the machine that will cut it")
                .hint("or lay the cards so that a wider strip is left to the last")
        }
        Stuck::Locked => {
            let message = "no cut from edge to edge parts these cards without going through one of them";
            Fault::new(Source::Nowhere, message)
                .hint("lay them in a grid, or in blocks that stand side by side or one above the other")
        }
    }
}

fn sound(ask: &CutRequest) -> Result<()> {
    let mut faults = Faults::new();
    let sheet = ask.sheet.at_origin();
    if ask.trims.is_empty() {
        faults.push(Fault::new(Source::Nowhere, "there is no card on the sheet to cut").hint("plan the sheet first"));
    }
    for (n, trim) in ask.trims.iter().enumerate() {
        if trim.x0 >= trim.x1 || trim.y0 >= trim.y1 || !sheet.contains(*trim) {
            let message = format!("trim {} does not lie on the sheet of {}", n + 1, ask.sheet.sheet_text());
            faults.push(Fault::new(Source::Nowhere, message).hint("move it, or take a larger sheet"));
        }
        if let Some(other) = ask.trims.iter().take(n).position(|other| other.intersect(*trim).is_some()) {
            let message = format!("trims {} and {} overlap", other + 1, n + 1);
            faults.push(Fault::new(Source::Nowhere, message).hint("move one of them"));
        }
    }
    faults.or(())
}
