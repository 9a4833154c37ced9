//! A gang run with the number of its forms and their patterns settled: what is left are stations and runs.

use std::collections::BTreeMap;

use super::request::GangRequest;

/// Lots that are alike in everything but their names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Alike {
    /// The fewest copies.
    pub(super) least: u64,
    /// Copies wanted.
    pub(super) quantity: u64,
    /// The most copies.
    pub(super) most: u64,
    /// Their places in the request.
    pub(super) lots: Vec<usize>,
}

/// All lots of one size and the room that they have.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct SizeTask {
    /// Stations on each form.
    pub(super) stations: Vec<u32>,
    /// Its lots, the largest first.
    pub(super) lots: Vec<Alike>,
}

/// Forms of settled patterns; the longest run comes first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Task {
    /// The pattern of each form, as its place in the request.
    pub(super) patterns: Vec<usize>,
    /// Its lots by size.
    pub(super) sizes: Vec<SizeTask>,
    /// Cost of all its forms.
    pub(super) forms_cost: u64,
    /// Cost of an impression.
    pub(super) per_impression: u64,
    /// Cost of a copy past the quantity.
    pub(super) per_over: u64,
    /// No form runs longer: so long that one station makes the largest lot.
    pub(super) longest: u64,
    /// Impressions that all forms together cannot do without.
    pub(super) least_total: u64,
}

impl Task {
    /// Number of forms.
    pub(super) fn forms(&self) -> usize {
        self.patterns.len()
    }

    /// No plan that is worth a look has more impressions.
    pub(super) fn most_total(&self) -> u64 {
        self.longest * u64::try_from(self.forms()).unwrap_or(1)
    }

    /// No plan costs less.
    pub(super) fn least_cost(&self) -> u64 {
        self.forms_cost + self.per_impression * self.least_total
    }

    /// No plan that is worth a look costs more.
    pub(super) fn most_cost(&self) -> u64 {
        let run = |form: usize| {
            let stations =
                self.sizes.iter().filter_map(|size| size.stations.get(form)).map(|n| u64::from(*n)).sum::<u64>();
            (self.per_impression + self.per_over * stations) * self.longest
        };
        self.forms_cost + (0..self.forms()).map(run).sum::<u64>()
    }
}

/// Every way to settle patterns for one form, then two and so on, as far as the lots have room on them.
pub(super) fn tasks(ask: &GangRequest) -> Vec<Task> {
    let sizes = sizes(ask);
    let mut rows: Vec<Vec<usize>> = vec![Vec::new()];
    let mut tasks = Vec::new();
    for _ in 0..ask.most_forms {
        let longer = |row: &Vec<usize>| {
            let row = row.clone();
            (0..ask.patterns.len()).map(move |pattern| row.iter().copied().chain([pattern]).collect())
        };
        rows = rows.iter().flat_map(longer).collect();
        tasks.extend(rows.iter().filter_map(|row| task(ask, &sizes, row)));
    }
    tasks
}

/// The fewest copies of a lot, those wanted, and the most.
type Limits = (u64, u64, u64);

/// Lots by size, those alike together.
fn sizes(ask: &GangRequest) -> BTreeMap<usize, Vec<Alike>> {
    let mut sorted: BTreeMap<usize, BTreeMap<Limits, Vec<usize>>> = BTreeMap::new();
    for (at, lot) in ask.lots.iter().enumerate() {
        let key = (lot.least, lot.quantity, lot.most.unwrap_or(u64::MAX));
        sorted.entry(lot.size).or_default().entry(key).or_default().push(at);
    }
    let alike = |((least, quantity, most), lots)| Alike { least, quantity, most, lots };
    sorted.into_iter().map(|(size, lots)| (size, lots.into_iter().rev().map(alike).collect())).collect()
}

fn task(ask: &GangRequest, sizes: &BTreeMap<usize, Vec<Alike>>, row: &[usize]) -> Option<Task> {
    let mut least_total = u64::try_from(row.len()).ok()?;
    let mut tasks = Vec::new();
    for (size, lots) in sizes {
        let stations: Vec<u32> = row.iter().filter_map(|at| ask.patterns.get(*at)).map(|form| form.of(*size)).collect();
        let number: usize = lots.iter().map(|alike| alike.lots.len()).sum();
        let room: u64 = stations.iter().map(|n| u64::from(*n)).sum();
        if room < u64::try_from(number).ok()? {
            return None;
        }
        let copies: u64 = lots.iter().map(|alike| alike.least * u64::try_from(alike.lots.len()).unwrap_or(1)).sum();
        let widest = stations.iter().max().copied().unwrap_or(1).max(1);
        least_total = least_total.max(copies.div_ceil(u64::from(widest)));
        tasks.push(SizeTask { stations, lots: lots.clone() });
    }
    Some(Task {
        patterns: row.to_vec(),
        forms_cost: ask.per_form * u64::try_from(row.len()).ok()?,
        per_impression: ask.per_impression,
        per_over: ask.per_over,
        longest: ask.lots.iter().map(|lot| lot.least).max()?,
        least_total,
        sizes: tasks,
    })
}
