//! Runs for settled stations.

use super::task::Task;

/// Stations of every lot on each form, and how often each form runs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Found {
    /// Cost of forms, impressions and overs.
    pub(super) cost: u64,
    /// The pattern of each form, as its place in the request.
    pub(super) patterns: Vec<usize>,
    /// How often each form runs.
    pub(super) runs: Vec<u64>,
    /// By form, then by lot as in the request.
    pub(super) stations: Vec<Vec<u32>>,
}

/// What a lot wants, and its stations on each form.
pub(super) struct Wanted {
    /// Its place in the request.
    pub(super) lot: usize,
    /// The fewest copies.
    pub(super) least: u64,
    /// Copies wanted.
    pub(super) quantity: u64,
    /// The most copies.
    pub(super) most: u64,
    /// Stations on each form.
    pub(super) stations: Vec<u64>,
}

impl Wanted {
    fn made(&self, runs: &[u64]) -> u64 {
        self.stations.iter().zip(runs).map(|(stations, run)| stations * run).sum()
    }
}

/// The cheapest plan found for these stations from runs that make enough, by shortening one run after the other in every turn of
/// the forms; none where the lots then come to more than their most.
pub(super) fn polished(task: &Task, lots: &[Wanted], from: &[u64]) -> Option<Found> {
    let forms = from.len();
    let turns = (0..forms).flat_map(|first| [(first, false), (first, true)]);
    let plans = turns.filter_map(|(first, back)| {
        let mut runs = from.to_vec();
        for step in 0..forms {
            let at = if back { (first + forms - step) % forms } else { (first + step) % forms };
            shorten(lots, &mut runs, at);
        }
        priced(task, lots, runs)
    });
    plans.min_by_key(|found| found.cost)
}

/// Makes one run as short as the others let it be.
fn shorten(lots: &[Wanted], runs: &mut [u64], at: usize) {
    let Some(run) = runs.get(at).copied() else { return };
    let needed = lots.iter().filter_map(|lot| {
        let stations = lot.stations.get(at).copied().filter(|stations| *stations > 0)?;
        let others = lot.made(runs) - stations * run;
        Some(lot.least.saturating_sub(others).div_ceil(stations))
    });
    let shortest = needed.max().unwrap_or(0);
    if let Some(place) = runs.get_mut(at) {
        *place = shortest.min(run);
    }
}

/// The plan with its cost, without forms that do not run.
fn priced(task: &Task, lots: &[Wanted], runs: Vec<u64>) -> Option<Found> {
    let (mut impressions, mut overs) = (0, 0);
    for lot in lots {
        let made = lot.made(&runs);
        if made < lot.least || made > lot.most {
            return None;
        }
        overs += made.saturating_sub(lot.quantity);
    }
    impressions += runs.iter().sum::<u64>();
    let idle = u64::try_from(runs.iter().filter(|run| **run == 0).count()).ok()?;
    let per_form = task.forms_cost / u64::try_from(runs.len()).ok()?;
    let cost = task.forms_cost - idle * per_form + task.per_impression * impressions + task.per_over * overs;
    let row = |form: usize| {
        let mut row = vec![0; lots.len()];
        for lot in lots {
            if let (Some(place), Some(stations)) = (row.get_mut(lot.lot), lot.stations.get(form)) {
                *place = u32::try_from(*stations).unwrap_or(0);
            }
        }
        row
    };
    let running: Vec<usize> = runs.iter().enumerate().filter(|(_, run)| **run > 0).map(|(form, _)| form).collect();
    Some(Found {
        cost,
        patterns: running.iter().filter_map(|form| task.patterns.get(*form)).copied().collect(),
        stations: running.iter().map(|form| row(*form)).collect(),
        runs: runs.into_iter().filter(|run| *run > 0).collect(),
    })
}
