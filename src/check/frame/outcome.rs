use super::{Finding, Severity};
use crate::card::{Card, FacePlates, Place, Side};
use crate::check::ground::{Floor, Ground};
use crate::check::{Bound, Limits, Waiver};
use crate::fault::Fault;
use crate::ink::Judge;
use crate::unit::{Length, Quantity, Rect};

/// What a check sees.
#[derive(Clone, Copy)]
pub struct Context<'a> {
    /// The card.
    pub card: &'a Card,
    /// The limits in force.
    pub limits: &'a Limits,
    /// How inks look on the card's paper.
    pub judge: &'a Judge,
    /// Waivers that no finding has met so far; complete for the last check only.
    pub unmet: &'a [&'a Waiver],
    /// What can be a ground, face by face.
    pub(crate) floors: &'a [Floor<'a>],
}

impl Context<'_> {
    /// The different grounds within `rect` under element number `below` of a side.
    pub(crate) fn grounds(&self, side: Side, below: usize, rect: Rect) -> Vec<Ground> {
        self.floor(side).map(|floor| floor.within(below, rect)).unwrap_or_default()
    }

    /// What can be a ground on a side.
    pub(crate) fn floor(&self, side: Side) -> Option<&Floor<'_>> {
        self.floors.iter().find(|floor| floor.side() == side)
    }

    /// The plates of a side, where they were drawn and all of it was.
    pub(crate) fn plates(&self, side: Side) -> Option<&FacePlates> {
        self.card.plates.whole(side).ok()
    }

    /// The value of a limit in force.
    pub fn limit(&self, bound: &Bound) -> Quantity {
        self.limits.value(bound)
    }

    /// The length of a limit in force; zero where the limit is not a length.
    pub fn length(&self, bound: &Bound) -> Length {
        match self.limits.value(bound) {
            Quantity::Length(l) | Quantity::Points(l) => l,
            _ => Length::ZERO,
        }
    }

    /// The bare number of a limit in force, in the unit of its kind (millimetres for lengths, points for type).
    pub fn number(&self, bound: &Bound) -> f64 {
        self.limits.value(bound).value()
    }
}

/// What a check has to say about a card.
#[derive(Clone, PartialEq, Debug)]
pub enum Outcome {
    /// It ran and found nothing.
    Clean,
    /// It ran and found these; never empty.
    Found(Vec<Finding>),
    /// It could not run on this card, and why (completes "skipped, because …"); this never counts as passed.
    Skipped(String),
    /// It should have run and could not.
    Broken(Fault),
}

impl Outcome {
    /// It could not run, because of `why`.
    pub fn skipped(why: impl Into<String>) -> Self {
        Self::Skipped(why.into())
    }
}

/// Clean where there are none.
impl From<Vec<Finding>> for Outcome {
    fn from(findings: Vec<Finding>) -> Self {
        if findings.is_empty() { Self::Clean } else { Self::Found(findings) }
    }
}

/// One check.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Its id, which is its file's name with hyphens.
    pub id: &'static str,
    /// What it is about, in a few words.
    pub title: &'static str,
    /// What its findings weigh unless it says otherwise.
    pub severity: Severity,
    /// The limits it holds things against.
    pub bounds: &'static [Bound],
    /// The text of its own file, whose header explains it.
    pub doc: &'static str,
    /// The check itself.
    pub run: fn(&Context<'_>) -> Outcome,
}

impl Check {
    /// A finding of this check at its usual severity.
    pub fn finding(&self, place: Place, message: impl Into<String>, advice: impl Into<String>) -> Finding {
        Finding {
            check: self.id,
            severity: self.severity,
            reading: None,
            place,
            message: message.into(),
            advice: advice.into(),
        }
    }
}
