use super::{column_of, holes, name_of, place};
use crate::card::RowRole;
use crate::check::{Check, Context, Finding, Severity};
use crate::scorecard::{Part, PrintedTotals, Scorecard, Sum, sum};
use crate::unit::{Limit, Quantity};

/// A row of numbers with its totals as printed.
pub(in crate::check) struct Line<'a> {
    /// Its role.
    pub(in crate::check) row: RowRole,
    /// One number a hole.
    pub(in crate::check) list: &'a [Option<i64>],
    /// Its totals as printed.
    pub(in crate::check) printed: PrintedTotals,
}

/// Holds the totals of a row against what its holes add up to.
pub(in crate::check) fn totals(check: &Check, cx: &Context<'_>, numbers: &Scorecard, line: &Line<'_>) -> Vec<Finding> {
    let stated = Part::ALL.into_iter().filter_map(|part| Some((part, line.printed.of(part)?)));
    stated.filter_map(|(part, printed)| judge(check, cx, numbers, line, part, printed)).collect()
}

fn judge(
    check: &Check,
    cx: &Context<'_>,
    numbers: &Scorecard,
    line: &Line<'_>,
    part: Part,
    printed: i64,
) -> Option<Finding> {
    let place = place(cx.card, numbers, &line.row, Some(&column_of(part)));
    let (name, what) = (name_of(numbers, &line.row), part.name());
    match sum(line.list, numbers.holes, part) {
        Some(Sum::Is(computed)) => {
            let reading = Limit::Exactly(Quantity::Count(computed)).broken_by(Quantity::Count(printed))?;
            let off = printed.abs_diff(computed);
            let (way, other_way) = if printed > computed { ("high", "low") } else { ("low", "high") };
            let message = format!(
                "the {what} of \"{name}\" is printed as {printed}; its holes add up to {computed}: {off} too {way}"
            );
            let advice = format!("print {computed}, or look for a hole that is {off} too {other_way}");
            Some(check.finding(place, message, advice).with(reading))
        }
        Some(Sum::Lacks(lacks)) => Some(unsure(check, line, part, printed, &lacks, (place, &name))),
        None => {
            let message = format!("\"{name}\" has an {what} of {printed} on a card of {} holes", numbers.holes);
            Some(check.finding(place, message, format!("take the {what} out")))
        }
    }
}

/// What can still be said where a hole has no number.
fn unsure(
    check: &Check,
    line: &Line<'_>,
    part: Part,
    printed: i64,
    lacks: &[usize],
    (place, name): (crate::card::Place, &str),
) -> Finding {
    let halves = line.printed.out.zip(line.printed.inward).map(|(out, inward)| out.saturating_add(inward));
    if part == Part::Total
        && let Some(reading) =
            halves.and_then(|sum| Limit::Exactly(Quantity::Count(sum)).broken_by(Quantity::Count(printed)))
    {
        let sum = reading.limit();
        let message = format!("the Total of \"{name}\" is printed as {printed}; its Out and In add up to {sum}");
        return check.finding(place, message, "correct the one that is wrong").with(reading);
    }
    let what = part.name();
    let message = format!("the {what} of \"{name}\", {printed}, could not be checked: {} has no number", holes(lacks));
    let advice = format!("add it up by hand, or give {} a number that can be read", holes(lacks));
    check.finding(place, message, advice).at(Severity::Warning)
}
