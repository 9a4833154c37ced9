use super::gather::gather;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::Card;
use crate::check::ground::Floor;
use crate::check::{CHECKS, Limits, Override, Waiver};
use crate::fault::Result;
use crate::ink::Judge;

/// A finding that a waiver took out of the count, and the reason given.
#[derive(Clone, PartialEq, Debug)]
pub struct Waived {
    /// The finding.
    pub finding: Finding,
    /// Why it may stay.
    pub reason: String,
}

/// What all checks said about a card.
#[derive(Clone, Debug)]
pub struct Checked {
    /// Each check and its outcome, in the order of [`CHECKS`]; findings here are those that count.
    pub results: Vec<(&'static Check, Outcome)>,
    /// All findings that count, heaviest first, then by place.
    pub findings: Vec<Finding>,
    /// Findings that were waived, in the same order.
    pub waived: Vec<Waived>,
}

impl Checked {
    /// The heaviest finding's severity.
    pub fn worst(&self) -> Option<Severity> {
        self.findings.iter().map(|f| f.severity).max()
    }

    /// How many findings of a severity.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|f| f.severity == severity).count()
    }

    /// Checks that did not run, and why.
    pub fn skipped(&self) -> impl Iterator<Item = (&'static Check, &str)> {
        self.results.iter().filter_map(|(check, outcome)| match outcome {
            Outcome::Skipped(why) => Some((*check, why.as_str())),
            _ => None,
        })
    }

    /// Checks that should have run and could not.
    pub fn broken(&self) -> impl Iterator<Item = (&'static Check, &crate::fault::Fault)> {
        self.results.iter().filter_map(|(check, outcome)| match outcome {
            Outcome::Broken(fault) => Some((*check, fault)),
            _ => None,
        })
    }

    /// The exit code: 0 nothing at or above `failing`, 1 findings, 2 a check could not run.
    pub fn exit_code(&self, failing: Severity) -> u8 {
        if self.broken().next().is_some() { 2 } else { u8::from(self.worst().is_some_and(|worst| worst >= failing)) }
    }
}

/// Runs all checks over a card.
///
/// # Errors
/// The print condition's profile cannot be used for judging colour.
pub fn run(card: &Card, limits: &Limits) -> Result<Checked> {
    let judge = judge(card)?;
    let floors: Vec<Floor<'_>> = card.faces.iter().map(Floor::of).collect();
    let mut met = vec![false; limits.waivers.len()];
    let mut checked = Checked { results: Vec::new(), findings: Vec::new(), waived: Vec::new() };
    for check in CHECKS {
        let outcome = if limits.severity(check.id) == Some(Override::Off) {
            Outcome::skipped("the limits file turns it off")
        } else {
            let unmet: Vec<&Waiver> =
                limits.waivers.iter().zip(&met).filter(|(_, met)| !**met).map(|(waiver, _)| waiver).collect();
            let context = Context { card, limits, judge: &judge, unmet: &unmet, floors: &floors };
            match (check.run)(&context) {
                Outcome::Found(found) => Outcome::from(sift(gather(found), limits, &mut met, &mut checked.waived)),
                other => other,
            }
        };
        if let Outcome::Found(found) = &outcome {
            checked.findings.extend(found.iter().cloned());
        }
        checked.results.push((check, outcome));
    }
    // Stable: findings at one place stay in the order of the checks.
    checked.findings.sort_by_key(Finding::order);
    checked.waived.sort_by_key(|w| w.finding.order());
    Ok(checked)
}

/// Runs one check alone, without severities and waivers of the limits file.
///
/// # Errors
/// As [`run`].
pub fn run_one(check: &Check, card: &Card, limits: &Limits) -> Result<Outcome> {
    let judge = judge(card)?;
    let floors: Vec<Floor<'_>> = card.faces.iter().map(Floor::of).collect();
    Ok(match (check.run)(&Context { card, limits, judge: &judge, unmet: &[], floors: &floors }) {
        Outcome::Found(found) => Outcome::Found(gather(found)),
        other => other,
    })
}

/// The judge of a card's print condition, knowing its spots.
fn judge(card: &Card) -> Result<Judge> {
    Ok(Judge::new(&card.condition)?.with_spots(&card.spots))
}

/// Sets severities, takes out what is waived and notes which waivers were met.
fn sift(found: Vec<Finding>, limits: &Limits, met: &mut [bool], waived: &mut Vec<Waived>) -> Vec<Finding> {
    let mut kept = Vec::new();
    for mut finding in found {
        if let Some(Override::Weighs(severity)) = limits.severity(finding.check) {
            finding.severity = severity;
        }
        let mut reason = None;
        for (waiver, met) in limits.waivers.iter().zip(met.iter_mut()) {
            if waiver.covers(&finding) {
                *met = true;
                reason.get_or_insert_with(|| waiver.reason.clone());
            }
        }
        match reason {
            Some(reason) => waived.push(Waived { finding, reason }),
            None => kept.push(finding),
        }
    }
    kept
}
