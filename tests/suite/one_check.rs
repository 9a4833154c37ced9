//! One check at a time, on a card built by hand.

use fairfold::card::Card;
use fairfold::check::{CHECKS, Finding, LimitSet, Limits, Outcome, Severity, run_one};

/// What one check says under a built-in set.
pub(super) fn outcome(id: &str, card: &Card, set: LimitSet) -> Outcome {
    let check = CHECKS.iter().find(|c| c.id == id).unwrap();
    run_one(check, card, &Limits::new(set)).unwrap()
}

pub(super) fn found(id: &str, card: &Card) -> Vec<Finding> {
    found_in(id, card, LimitSet::CoatedOffset)
}

pub(super) fn found_in(id: &str, card: &Card, set: LimitSet) -> Vec<Finding> {
    match outcome(id, card, set) {
        Outcome::Clean => Vec::new(),
        Outcome::Found(found) => found,
        other => panic!("{id} did not run: {other:?}"),
    }
}

pub(super) fn skipped(id: &str, card: &Card) -> String {
    match outcome(id, card, LimitSet::CoatedOffset) {
        Outcome::Skipped(why) => why,
        other => panic!("{id} ran: {other:?}"),
    }
}

/// The only finding, whose message and advice hold these words.
#[track_caller]
pub(super) fn one(found: &[Finding], severity: Severity, words: &[&str]) {
    assert_eq!(found.len(), 1, "{found:#?}");
    let text = format!("{} = {}", found[0].message, found[0].advice);
    for word in words {
        assert!(text.contains(word), "`{word}` is not in: {text}");
    }
    assert_eq!(found[0].severity, severity);
}
