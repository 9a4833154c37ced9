//! Boxes of runs: how often each form may run, the longest first, and how often all of them together.

/// From the shortest to the longest run of one form.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Run {
    /// The shortest.
    pub(super) lo: u64,
    /// The longest.
    pub(super) hi: u64,
}

/// A box of runs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Runs {
    /// Of each form; later forms run no longer than earlier ones.
    pub(super) forms: Vec<Run>,
    /// Of all forms together.
    pub(super) total: Run,
}

impl Runs {
    /// Every run from one impression.
    pub(super) fn new(forms: usize, longest: u64, total: Run) -> Self {
        Self { forms: vec![Run { lo: 1, hi: longest }; forms], total }
    }

    /// Impressions of all forms at their shortest.
    pub(super) fn shortest(&self) -> u64 {
        self.forms.iter().map(|run| run.lo).sum()
    }

    /// Impressions of all forms at their longest.
    pub(super) fn longest(&self) -> u64 {
        self.forms.iter().map(|run| run.hi).sum()
    }

    /// The fewest impressions that the box allows.
    pub(super) fn least_total(&self) -> u64 {
        self.shortest().max(self.total.lo)
    }

    /// What all forms together may run past their shortest.
    pub(super) fn slack(&self) -> u64 {
        self.total.hi.saturating_sub(self.shortest())
    }

    /// What all forms together must run past their shortest.
    pub(super) fn need(&self) -> u64 {
        self.total.lo.saturating_sub(self.shortest())
    }

    /// The most copies that stations make at any runs of the box, or a little more.
    pub(super) fn most_made(&self, stations: &[u64]) -> u64 {
        let made = |end: fn(&Run) -> u64| self.forms.iter().map(end).zip(stations).map(|(run, n)| run * n).sum::<u64>();
        let peak = stations.iter().max().copied().unwrap_or(0);
        made(|run| run.hi).min(made(|run| run.lo) + self.slack() * peak)
    }

    /// The fewest copies that stations make at all runs of the box, or a little less.
    pub(super) fn least_made(&self, stations: &[u64]) -> u64 {
        let made: u64 = self.forms.iter().zip(stations).map(|(run, n)| run.lo * n).sum();
        made + self.need() * stations.iter().min().copied().unwrap_or(0)
    }

    /// Whether it holds one set of runs only.
    pub(super) fn single(&self) -> bool {
        self.forms.iter().all(|run| run.lo == run.hi)
    }

    /// Draws the box in by the totals and the order of runs; whether anything is left of it.
    pub(super) fn drawn_in(&mut self) -> bool {
        loop {
            let before = self.forms.clone();
            self.by_order();
            if !self.by_totals() {
                return false;
            }
            if self.forms == before {
                return true;
            }
        }
    }

    fn by_order(&mut self) {
        let mut hi = u64::MAX;
        for run in &mut self.forms {
            hi = hi.min(run.hi);
            run.hi = hi;
        }
        let mut lo = 0;
        for run in self.forms.iter_mut().rev() {
            lo = lo.max(run.lo);
            run.lo = lo;
        }
    }

    fn by_totals(&mut self) -> bool {
        let (shortest, longest, total) = (self.shortest(), self.longest(), self.total);
        if shortest > total.hi || longest < total.lo {
            return false;
        }
        // Runs up to a form are no shorter than its own, those from it on no longer.
        let (mut after, mut before) = (shortest, 0);
        let (mut nth, mut left) = (0, u64::try_from(self.forms.len()).unwrap_or(1));
        for run in &mut self.forms {
            after -= run.lo;
            nth += 1;
            let was = *run;
            run.hi = run.hi.min(total.hi - (shortest - was.lo)).min((total.hi - after) / nth);
            let must = total.lo.saturating_sub(longest - was.hi);
            run.lo = run.lo.max(must).max(total.lo.saturating_sub(before).div_ceil(left));
            before += was.hi;
            left -= 1;
            if run.lo > run.hi {
                return false;
            }
        }
        true
    }

    /// Both halves of the widest run, the shorter one first, and its place; none of a single set of runs.
    pub(super) fn halves(&self) -> Option<(Self, Self, usize)> {
        let (at, run) = self.forms.iter().enumerate().rev().max_by_key(|(_, run)| run.hi - run.lo)?;
        if run.lo == run.hi {
            return None;
        }
        let middle = run.lo + (run.hi - run.lo) / 2;
        let (mut short, mut long) = (self.clone(), self.clone());
        short.forms.get_mut(at)?.hi = middle;
        long.forms.get_mut(at)?.lo = middle + 1;
        Some((short, long, at))
    }
}
