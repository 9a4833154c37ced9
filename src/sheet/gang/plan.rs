//! What was planned: forms, their runs, and what every lot comes to.

use super::polish::Found;
use super::request::GangRequest;

/// One form of a gang run.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GangForm {
    /// Its pattern, as its place in the request.
    pub pattern: usize,
    /// Stations of each lot, in the order of the request.
    pub stations: Vec<u32>,
    /// Stations that stay blank.
    pub blank: u32,
    /// How often it runs.
    pub impressions: u64,
}

/// What one lot comes to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LotTally {
    /// Copies made.
    pub made: u64,
    /// Copies past its quantity.
    pub over: u64,
    /// Copies short of its quantity.
    pub under: u64,
}

/// A gang run.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GangPlan {
    /// Its forms, the longest run first.
    pub forms: Vec<GangForm>,
    /// What each lot comes to, in the order of the request.
    pub lots: Vec<LotTally>,
    /// Cost of forms, impressions and overs, in the unit of the request.
    pub cost: u64,
    /// No plan of this request costs less.
    pub bound: u64,
}

impl GangPlan {
    /// Whether no plan costs less.
    pub fn proven(&self) -> bool {
        self.cost == self.bound
    }

    /// Impressions of all forms.
    pub fn impressions(&self) -> u64 {
        self.forms.iter().map(|form| form.impressions).sum()
    }
}

/// The plan that was found, tallied.
pub(super) fn plan(ask: &GangRequest, found: &Found, bound: u64) -> GangPlan {
    let forms = found.patterns.iter().zip(&found.runs).zip(&found.stations).map(|((pattern, run), stations)| {
        let offered: u32 = ask.patterns.get(*pattern).map_or(0, |pattern| pattern.stations.iter().sum());
        let blank = offered.saturating_sub(stations.iter().sum());
        GangForm { pattern: *pattern, stations: stations.clone(), blank, impressions: *run }
    });
    let mut forms: Vec<GangForm> = forms.collect();
    forms.sort_by_key(|form| std::cmp::Reverse(form.impressions));
    let tally = |(at, lot): (usize, &super::Lot)| {
        let of = |form: &GangForm| form.stations.get(at).map_or(0, |n| u64::from(*n) * form.impressions);
        let made: u64 = forms.iter().map(of).sum();
        LotTally { made, over: made.saturating_sub(lot.quantity), under: lot.quantity.saturating_sub(made) }
    };
    let lots = ask.lots.iter().enumerate().map(tally).collect();
    GangPlan { forms, lots, cost: found.cost, bound }
}
