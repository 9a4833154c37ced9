//! The numbers of stations that could make a lot somewhere in a box of runs.

use super::request::MOST_FORMS;
use super::runs::Runs;
use super::task::Alike;

/// Bits of one form in a number that holds the stations of all forms.
const LANE: u32 = 16;

/// Stations of one lot on each form.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Choice {
    /// On each form; none past the last.
    pub(super) stations: [u16; MOST_FORMS],
    /// The same in one number, the first form highest.
    pub(super) lanes: u128,
    /// Overs that no run of the box can spare.
    pub(super) over: u64,
    /// Overs in parts of what they may be, see [`super::pack`].
    pub(super) share: u64,
}

/// The stations of all forms in one number, each in its lane.
pub(super) fn lanes(stations: impl Iterator<Item = u16>) -> u128 {
    stations.fold(0, |all, number| all << LANE | u128::from(number))
}

/// A lane's highest bit, in each of the lanes.
pub(super) fn lane_tops(forms: usize) -> u128 {
    lanes((0..forms).map(|_| 1 << (LANE - 1)))
}

/// What is looked for: choices of one lot in a box, on forms that have so many stations.
pub(super) struct Choices<'a> {
    lot: &'a Alike,
    runs: &'a Runs,
    stations: &'a [u32],
    slack: u64,
    need: u64,
    count_overs: bool,
    found: Vec<Choice>,
}

/// A choice that is being made, and what it makes.
#[derive(Clone, Copy, Default)]
struct Partial {
    stations: [u16; MOST_FORMS],
    at: usize,
    /// At the shortest and the longest runs.
    lo: u64,
    hi: u64,
    /// The most stations on one form.
    peak: u64,
}

impl<'a> Choices<'a> {
    /// Every choice that can make the lot at some runs of the box and has no station to spare at any. Overs are counted where they cost.
    pub(super) fn of(lot: &'a Alike, runs: &'a Runs, stations: &'a [u32], count_overs: bool) -> Vec<Choice> {
        let (slack, need) = (runs.slack(), runs.need());
        let mut choices = Self { lot, runs, stations, slack, need, count_overs, found: Vec::new() };
        choices.next_form(Partial::default());
        choices.found
    }

    /// The most that can be made with so many copies at the shortest and at the longest runs.
    fn reach(&self, lo: u64, hi: u64, peak: u64) -> u64 {
        hi.min(lo + self.slack * peak)
    }

    fn next_form(&mut self, part: Partial) {
        let Some((run, most)) = self.runs.forms.get(part.at).zip(self.stations.get(part.at)) else { return };
        if part.at + 1 == self.runs.forms.len() {
            let Some(number) = self.fewest(part).filter(|number| *number <= u64::from(*most)) else { return };
            self.take(part.with(number, run.lo, run.hi));
            return;
        }
        for number in 0..=u64::from(*most) {
            let next = part.with(number, run.lo, run.hi);
            self.next_form(next);
            if self.reach(next.lo, next.hi, next.peak) >= self.lot.least || self.least_made(next) > self.lot.most {
                break;
            }
        }
    }

    /// The fewest stations of the last form that make up the lot.
    fn fewest(&self, part: Partial) -> Option<u64> {
        let run = self.runs.forms.last()?;
        let by_longest = self.lot.least.saturating_sub(part.hi).div_ceil(run.hi);
        let short = self.lot.least.saturating_sub(part.lo);
        let below_peak = short.saturating_sub(self.slack * part.peak).div_ceil(run.lo);
        let by_slack =
            if below_peak <= part.peak { below_peak } else { short.div_ceil(run.lo + self.slack).max(part.peak) };
        Some(by_longest.max(by_slack))
    }

    /// The fewest copies that the stations make: every form at its shortest, and more where all forms together must run longer.
    fn least_made(&self, part: Partial) -> u64 {
        let spare = part.stations.iter().take(self.runs.forms.len()).min().copied().unwrap_or(0);
        part.lo + self.need * u64::from(spare)
    }

    fn take(&mut self, part: Partial) {
        let made = self.least_made(part);
        if made > self.lot.most || self.to_spare(part) {
            return;
        }
        let over = if self.count_overs { made.saturating_sub(self.lot.quantity) } else { 0 };
        let lanes = lanes(part.stations.iter().take(self.runs.forms.len()).copied());
        self.found.push(Choice { stations: part.stations, lanes, over, share: 0 });
    }

    /// Whether it would do with one station less.
    fn to_spare(&self, part: Partial) -> bool {
        let peaks = part.stations.iter().filter(|number| u64::from(**number) == part.peak).count();
        part.stations.iter().zip(&self.runs.forms).any(|(number, run)| {
            let lowers_peak = u64::from(*number) == part.peak && peaks == 1;
            let peak = if lowers_peak { part.peak - 1 } else { part.peak };
            *number > 0 && self.reach(part.lo - run.lo, part.hi - run.hi, peak) >= self.lot.least
        })
    }
}

impl Partial {
    /// With so many stations on the next form.
    fn with(self, number: u64, lo: u64, hi: u64) -> Self {
        let mut next = self;
        if let Some(place) = next.stations.get_mut(self.at) {
            *place = u16::try_from(number).unwrap_or(u16::MAX);
        }
        next.at += 1;
        next.lo += number * lo;
        next.hi += number * hi;
        next.peak = next.peak.max(number);
        next
    }
}
