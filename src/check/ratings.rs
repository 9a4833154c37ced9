//! # What it checks
//!
//! Each tee's and combination's ratings:
//!
//! - the Slope Rating lies between 55 and 155;
//! - the Course Rating has one decimal and is one that a course of this many holes can have;
//! - as a note: it lies near par; one that is far from it may belong to another tee or to the other gender;
//! - as a note: neither stands without the other, for a Course Handicap needs both.
//!
//! # Why it matters
//!
//! Every player works out a Course Handicap from these two numbers and par. Digits swapped in one of them change the
//! strokes of everybody who plays that tee.
//!
//! # What to do
//!
//! Take the numbers from the rating certificate of the club's association and correct the card.
//!
//! # Source of the limit
//!
//! - Slope 55 to 155, Course Rating with one decimal: Rules of Handicapping, definitions; Course Handicap from both
//!   and par: Rule 6.1.
//! - A Course Rating between 50 and 85 for eighteen holes, half of that for nine; within 9 of par: judgement.

use super::numbers::{self, place};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{ColumnRole, Place, RowRole};
use crate::scorecard::{Part, Rating, Scorecard, Sum, Who, sum, tenths};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "ratings",
    title: "Course Rating and Slope Rating",
    severity: Severity::Error,
    bounds: &[FLATTEST, STEEPEST, LOWEST, HIGHEST, FROM_PAR],
    doc: include_str!("ratings.rs"),
    run,
};

const DEFINITIONS: &str = "Rules of Handicapping, definitions";
const FLATTEST: Bound = Bound::same("ratings.slope-least", "Slope Rating", Quantity::Count(55), DEFINITIONS);
const STEEPEST: Bound = Bound::same("ratings.slope-most", "Slope Rating", Quantity::Count(155), DEFINITIONS);
const LOWEST: Bound = Bound::same(
    "ratings.course-least",
    "Course Rating of eighteen holes; half of it for nine",
    Quantity::Decimal(50.0),
    "judgement",
);
const HIGHEST: Bound = Bound::same(
    "ratings.course-most",
    "Course Rating of eighteen holes; half of it for nine",
    Quantity::Decimal(85.0),
    "judgement",
);
const FROM_PAR: Bound = Bound::same(
    "ratings.from-par",
    "how far a Course Rating of eighteen holes lies from par; half of it for nine",
    Quantity::Decimal(9.0),
    "judgement",
);

/// A rating and whose it is.
struct Rated<'a> {
    numbers: &'a Scorecard,
    row: RowRole,
    name: String,
    who: Who,
    rating: Rating,
}

fn run(cx: &Context<'_>) -> Outcome {
    let numbers = match numbers::of(cx) {
        Ok(numbers) => numbers,
        Err(skipped) => return skipped,
    };
    let tees = numbers.tees.iter().enumerate().map(|(n, t)| (RowRole::Tee(n), &t.ratings));
    let combos = numbers.combos.iter().enumerate().map(|(n, c)| (RowRole::Combo(n), &c.ratings));
    let mut rated = tees
        .chain(combos)
        .flat_map(|(row, ratings)| {
            ratings.iter().map(move |(who, rating)| Rated {
                numbers,
                name: numbers::name_of(numbers, &row),
                row: row.clone(),
                who: *who,
                rating: *rating,
            })
        })
        .peekable();
    if rated.peek().is_none() {
        return Outcome::skipped("the card states no ratings");
    }
    let mut found = Vec::new();
    for rated in rated {
        found.extend(rated.slope(cx));
        found.extend(rated.course(cx));
        found.extend(rated.lone(cx));
    }
    Outcome::from(found)
}

impl Rated<'_> {
    /// Its place; in the card file the line of `key`, which is `rating` or `slope`.
    fn place(&self, cx: &Context<'_>, key: &str) -> Place {
        let mut place = place(cx.card, self.numbers, &self.row, Some(&ColumnRole::Rating));
        let section = match self.row {
            RowRole::Combo(n) => format!("combos[{n}].{key}"),
            RowRole::Tee(n) => format!("tees[{n}].{key}"),
            _ => return place,
        };
        let paths = [format!("{section}.{}", self.who), section];
        if let Some(span) = paths.iter().find_map(|path| cx.card.trace.setting(path)) {
            place.source = span.clone().into();
        }
        place
    }

    /// `of "Heron"`, `of "Heron" for women`.
    fn words(&self) -> String {
        match self.who {
            Who::Everyone => format!("of \"{}\"", self.name),
            Who::Men | Who::Women => format!("of \"{}\" for {}", self.name, self.who),
        }
    }

    fn slope(&self, cx: &Context<'_>) -> Option<Finding> {
        let limit = Limit::Within(cx.limit(&FLATTEST), cx.limit(&STEEPEST));
        let reading = limit.broken_by(Quantity::Count(self.rating.slope?))?;
        let message = format!("the Slope Rating {} is {}; it is {limit}", self.words(), reading.measured());
        Some(CHECK.finding(self.place(cx, "slope"), message, "correct it from the rating certificate").with(reading))
    }

    fn course(&self, cx: &Context<'_>) -> Option<Finding> {
        let course = self.rating.course?;
        if tenths(course).is_none() {
            let message = format!("the Course Rating {} is {course}; it has one decimal", self.words());
            let advice = "take it from the rating certificate with its one decimal";
            return Some(CHECK.finding(self.place(cx, "rating"), message, advice).at(Severity::Warning));
        }
        let whole = self.numbers.holes != 9;
        let scaled = |bound: &Bound| cx.number(bound) * if whole { 1.0 } else { 0.5 };
        // Nine holes are often printed with the rating of going round twice.
        if !whole && course >= cx.number(&LOWEST) && course <= cx.number(&HIGHEST) {
            let message =
                format!("the Course Rating {} is {course:.1}, one of eighteen holes, on a card of nine", self.words());
            let advice = "say beside it that it is for going round twice, or print the one of nine holes";
            return Some(CHECK.finding(self.place(cx, "rating"), message, advice).at(Severity::Note));
        }
        let limit = Limit::Within(Quantity::Decimal(scaled(&LOWEST)), Quantity::Decimal(scaled(&HIGHEST)));
        if let Some(reading) = limit.broken_by(Quantity::Decimal(course)) {
            let message = format!("the Course Rating {} is {course:.1}; expected {limit}", self.words());
            let advice = "correct it from the rating certificate";
            return Some(CHECK.finding(self.place(cx, "rating"), message, advice).with(reading).at(Severity::Warning));
        }
        self.off_par(cx, course, Limit::AtMost(Quantity::Decimal(scaled(&FROM_PAR))))
    }

    fn off_par(&self, cx: &Context<'_>, course: f64, limit: Limit) -> Option<Finding> {
        let list = self.numbers.par_of(self.who)?;
        let Some(Sum::Is(par)) = sum(list, self.numbers.holes, Part::Total) else { return None };
        let reading = limit.broken_by(Quantity::Decimal((course - par as f64).abs()))?;
        let message = format!(
            "the Course Rating {} is {course:.1}, {} from par {par}; expected {limit}",
            self.words(),
            reading.measured()
        );
        let advice = "look whether it belongs to another tee or to the other gender";
        Some(CHECK.finding(self.place(cx, "rating"), message, advice).with(reading).at(Severity::Note))
    }

    fn lone(&self, cx: &Context<'_>) -> Option<Finding> {
        let (has, lacks, key) = match (self.rating.course, self.rating.slope) {
            (Some(_), None) => ("Course Rating", "Slope Rating", "rating"),
            (None, Some(_)) => ("Slope Rating", "Course Rating", "slope"),
            _ => return None,
        };
        let message = format!("the {has} {} stands without the {lacks}", self.words());
        let advice = format!("add the {lacks}: a Course Handicap needs both");
        Some(CHECK.finding(self.place(cx, key), message, advice).at(Severity::Note))
    }
}
