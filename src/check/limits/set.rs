use std::collections::BTreeMap;

use super::{Bound, LimitSet, Waiver};
use crate::check::Severity;
use crate::unit::Quantity;

/// The limits in force: a built-in set and what a limits file changes.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Limits {
    /// The built-in set that holds where nothing else is said.
    pub set: LimitSet,
    /// Values of the limits file, by [`Bound::name`].
    pub values: BTreeMap<&'static str, Quantity>,
    /// Severities of the limits file, by check.
    pub severities: BTreeMap<&'static str, Override>,
    /// Findings that may stay, each with its reason.
    pub waivers: Vec<Waiver>,
}

/// What a limits file says about a check's severity.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Override {
    /// All its findings weigh this much.
    Weighs(Severity),
    /// It does not run, and the report says so.
    Off,
}

impl Limits {
    /// A built-in set as it is.
    pub fn new(set: LimitSet) -> Self {
        Self { set, ..Self::default() }
    }

    /// The same limits with one value changed.
    #[must_use]
    pub fn with(mut self, bound: &Bound, value: Quantity) -> Self {
        self.values.insert(bound.name, value);
        self
    }

    /// The value in force.
    pub fn value(&self, bound: &Bound) -> Quantity {
        self.values.get(bound.name).copied().unwrap_or_else(|| bound.value_in(self.set))
    }

    /// What is said about a check's severity.
    pub fn severity(&self, check: &str) -> Option<Override> {
        self.severities.get(check).copied()
    }
}
