//! # What it checks
//!
//! Whether each hole's length is one that is recommended for its par, for those who play from that tee:
//!
//! - par 3: men up to 260 yards, women up to 220;
//! - par 4: men 240 to 490, women 200 to 420;
//! - par 5: men 450 to 710, women 370 to 600;
//! - par 6: men from 670, women from 570.
//!
//! The ranges overlap, and a length in two of them may have either par. Who plays from a tee is told by its ratings; a
//! card without any ratings is held against men's and women's ranges together. A tee without ratings on a card
//! that rates others, such as a junior tee, is not held against them; on a card without any ratings a tee with more than a
//! third of its holes outside is told of once, as a note. On a card in metres a length is inside where
//! either the published metres or the yards at 0.9144 m allow it.
//!
//! # Why it matters
//!
//! A par that does not suit its length is most often a slip: a digit, or a par in the wrong column. Where it is meant,
//! the club will know why.
//!
//! # What to do
//!
//! Compare length and par with the course's own records. Slope, wind and a forced lay-up may move a hole to the
//! next par: waive it with that reason.
//!
//! # Source of the limit
//!
//! Rules of Handicapping, Appendix F (recommended lengths, below 2000 ft above the sea). 1 yd = 0.9144 m exactly.

use super::numbers::{self, hole, listed, place};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::RowRole;
use crate::scorecard::{LengthRange, Scorecard, Tee, Units, Who, pars_for, recommended};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "par-length",
    title: "Par against length",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("par_length.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    if numbers.par.is_empty() || numbers.tees.is_empty() {
        return Outcome::skipped("the card has no pars or no tees to hold against each other");
    }
    let mut found = Vec::new();
    for (n, tee) in numbers.tees.iter().enumerate() {
        for who in players(numbers, tee) {
            let holes = (1..).zip(tee.lengths.iter().take(numbers.holes));
            let off: Vec<(usize, Finding)> = holes
                .filter_map(|(at, length)| {
                    Some((at, judge(cx, numbers, (n, who, at), (*length)?, &pars(numbers, who, at))?))
                })
                .collect();
            if who == Who::Everyone && off.len() > numbers.holes / MOST_OFF {
                let holes: Vec<usize> = off.iter().map(|(at, _)| *at).collect();
                found.push(another_kind(cx, numbers, n, &holes));
            } else {
                found.extend(off.into_iter().map(|(_, finding)| finding));
            }
        }
    }
    Outcome::from(found)
}

/// An unrated tee with more than this part of its holes off, a third, is told of once: it is for juniors or beginners (judgement).
const MOST_OFF: usize = 3;

/// One note on a tee that its pars were not made for.
fn another_kind(cx: &Context<'_>, numbers: &Scorecard, tee: usize, holes: &[usize]) -> Finding {
    let row = RowRole::Tee(tee);
    let holes: Vec<String> = holes.iter().map(ToString::to_string).collect();
    let message = format!(
        "holes {} of \"{}\" are outside the lengths recommended for their pars",
        listed(&holes),
        numbers::name_of(numbers, &row)
    );
    let advice =
        "leave it where these tees are for juniors or beginners, who have no par; else look at lengths and pars";
    CHECK.finding(place(cx.card, numbers, &row, None), message, advice).at(Severity::Note)
}

/// Who plays from a tee.
fn players(numbers: &Scorecard, tee: &Tee) -> Vec<Who> {
    if !numbers.rates() {
        return vec![Who::Everyone];
    }
    tee.ratings.iter().map(|(who, _)| *who).collect()
}

/// The pars that a hole has for somebody: one, or both genders' where it is not known who plays.
fn pars(numbers: &Scorecard, who: Who, at: usize) -> Vec<i64> {
    let of = |list: &[Option<i64>]| list.get(at - 1).copied().flatten();
    match numbers.par_of(who) {
        Some(list) => of(list).into_iter().collect(),
        None if who == Who::Everyone => numbers.par.iter().filter_map(|(_, list)| of(list)).collect(),
        None => Vec::new(),
    }
}

fn judge(
    cx: &Context<'_>,
    numbers: &Scorecard,
    (tee, who, at): (usize, Who, usize),
    length: i64,
    pars: &[i64],
) -> Option<Finding> {
    let ranges: Vec<(i64, LengthRange)> =
        pars.iter().filter_map(|par| Some((*par, recommended(*par, who, numbers.units)?))).collect();
    if ranges.iter().any(|(_, range)| range.holds(length)) {
        return None;
    }
    let (par, range) = ranges.first()?;
    let unit = match numbers.units {
        Units::Yards => "yards",
        Units::Metres => "metres",
    };
    let whom = match who {
        Who::Everyone => String::new(),
        Who::Men | Who::Women => format!(" for {who}"),
    };
    let row = RowRole::Tee(tee);
    let message = format!(
        "hole {at} of \"{}\", {length} {unit}, is a par {par}{whom}; recommended for that: {range} {unit}",
        numbers::name_of(numbers, &row)
    );
    let others: Vec<String> = pars_for(length, who, numbers.units).iter().map(|par| format!("par {par}")).collect();
    let advice = if others.is_empty() {
        "look at the length: no par is recommended for it".to_owned()
    } else {
        format!("look at both: that length suits {}; where the ground asks for it, waive it", listed(&others))
    };
    let place = place(cx.card, numbers, &row, Some(&hole(at)));
    Some(CHECK.finding(place, message, advice).with(limit(*range).read(Quantity::Count(length))))
}

fn limit(range: LengthRange) -> Limit {
    match (range.least.map(Quantity::Count), range.most.map(Quantity::Count)) {
        (Some(least), Some(most)) => Limit::Within(least, most),
        (Some(least), None) => Limit::AtLeast(least),
        (None, Some(most)) => Limit::AtMost(most),
        (None, None) => Limit::AtLeast(Quantity::Count(0)),
    }
}
