//! The cut plan: the edge-to-edge cuts of a guillotine, in order, that part a printed sheet into cards at their trims.
//!
//! Every distance is measured from an edge of the pile that lies against the backgauge. The first cut each way is measured from the
//! edge of the sheet that the press laid against its grippers or its side guide, for the print stands true to these; they keep lying
//! there for as long as they are part of the pile. Trims with a gutter between them get a cut each, and the strip of bleed between is
//! waste; trims that touch share one.

mod lines;
mod order;

use super::{Edge, Sheet};
use crate::fault::{Fault, Result, Source};
use crate::unit::{Length, Rect, Size, Turn};

/// What every docket that leads to a guillotine says.
pub const CAUTION: &str = "Guillotines, presses and folders are run by trained operators, by the maker's instructions and local safety rules.";

/// What is to be cut.
#[derive(Clone, Copy, Debug)]
pub struct CutRequest<'a> {
    /// The sheet as its front form is looked at: lower edge in the grippers, left edge at the side guide.
    pub sheet: Size,
    /// Every trim on it.
    pub trims: &'a [Rect],
    /// The nearest that the backgauge comes to the knife; what is nearer to an edge is cut with the pile turned half round.
    pub least_gauge: Length,
}

/// The nearest that a backgauge comes to the knife where the machine's own figure is not stated: 1 in (common practice; it differs by
/// machine and false clamp plate).
pub const LEAST_GAUGE: Length = Length::inches(1, 1);

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
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Pile {
    /// Its place on the sheet.
    pub rect: Rect,
    /// What it is for.
    pub for_what: PileFor,
}

/// One pile under the knife.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Parting {
    /// The pile, by its number in [`CutPlan::piles`].
    pub pile: usize,
    /// How it is turned since it last lay under the knife, counter-clockwise, seen from above. The sheet lies at first as its front is
    /// looked at, with the grippers' edge towards the operator.
    pub turn: Turn,
    /// What stays between knife and backgauge.
    pub back: usize,
    /// What falls before the knife.
    pub front: usize,
}

/// One setting of the backgauge and the piles that are cut at it, one after the other.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cut {
    /// Which edge of the piles, as the sheet's front is looked at, lies against the backgauge.
    pub edge: Edge,
    /// From there to the knife.
    pub gauge: Length,
    /// Whether the gauge would have to come nearer to the knife than it can: cut by other means.
    pub below_least: bool,
    /// The piles that are cut so.
    pub partings: Vec<Parting>,
}

/// The cuts in order and everything that they make.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutPlan {
    /// The cuts, first to last.
    pub cuts: Vec<Cut>,
    /// Every pile; the whole sheet is the first.
    pub piles: Vec<Pile>,
}

impl CutPlan {
    /// The plan of a planned press sheet.
    ///
    /// # Errors
    /// No guillotine can cut it.
    pub fn of_sheet(sheet: &Sheet, least_gauge: Length) -> Result<Self> {
        let stations = sheet.forms.first().map_or(&[][..], |form| &form.stations);
        let trims: Vec<Rect> = stations.iter().map(|station| station.trim).collect();
        cut_plan(&CutRequest { sheet: sheet.size, trims: &trims, least_gauge })
    }

    /// How often the backgauge is set.
    pub fn settings(&self) -> usize {
        self.cuts.len()
    }

    /// How often the knife comes down on each lift.
    pub fn strokes(&self) -> usize {
        self.cuts.iter().map(|cut| cut.partings.len()).sum()
    }

    /// How often a pile is turned.
    pub fn turns(&self) -> usize {
        self.cuts.iter().flat_map(|cut| &cut.partings).filter(|parting| parting.turn != Turn::None).count()
    }

    /// Lifts that a run of sheets takes, each at most `most` high; one where the stock's thickness is nothing.
    pub fn lifts(sheets: u64, caliper: Length, most: Length) -> u64 {
        let each = most.times(caliper).max(1).unsigned_abs();
        if caliper > Length::ZERO { sheets.div_ceil(each) } else { 1 }
    }
}

/// Plans the cuts of any layout that a guillotine can cut. Piles that are cut alike lie together, so that the gauge is set once for
/// all of them and moves one way only between turns. Of the two directions for the first cut the one that needs fewer settings and
/// turns, then fewer strokes.
///
/// # Errors
/// A trim past the edge of the sheet, trims that overlap, or trims that no edge-to-edge cut parts.
pub fn cut_plan(ask: &CutRequest) -> Result<CutPlan> {
    let sheet = ask.sheet.at_origin();
    if let Some(n) = ask.trims.iter().position(|trim| !sheet.contains(*trim) || trim.intersect(*trim).is_none()) {
        let message = format!("trim {} does not lie on the sheet of {}", n + 1, ask.sheet.sheet_text());
        return Err(Fault::new(Source::Nowhere, message).hint("move it, or take a larger sheet").into());
    }
    let plans = [Edge::Bottom, Edge::Left].map(|first| order::plan(ask, first));
    let best = plans.into_iter().flatten().min_by_key(|plan| (plan.settings() + plan.turns(), plan.strokes()));
    best.ok_or_else(|| {
        let message = "no cut from edge to edge parts these cards without going through one of them";
        Fault::new(Source::Nowhere, message)
            .hint("lay them in a grid, or in blocks that stand side by side or one above the other")
            .into()
    })
}
