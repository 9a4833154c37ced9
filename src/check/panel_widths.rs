//! # What it checks
//!
//! Whether the panels have the widths that their fold needs: equal ones for a half or accordion fold; for a letter
//! fold one outer panel shorter by the allowance, because it folds inside; for a gate fold two equal flaps that
//! leave the allowance between them. And whether they add up to the flat width.
//!
//! # Why it matters
//!
//! A panel that folds inside and is as wide as the others is crushed against the outer fold and the card will not
//! lie flat.
//!
//! # What to do
//!
//! Move the fold so that the panel that folds inside is shorter by the stated amount; the two others share what it
//! gives up.
//!
//! # Source of the limit
//!
//! 1/32 in shorter for most papers, up to 1/8 in for thick ones; 11 in letter fold: 3.6875, 3.6875, 3.625 in
//! (published example). Equal panels may differ by 1/32 in: common practice for fold tolerance.

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{FoldKind, Place};
use crate::fault::Source;
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "panel-widths",
    title: "Panels that do not suit their fold",
    severity: Severity::Error,
    bounds: &[ALLOWANCE, MOST, EQUAL],
    doc: include_str!("panel_widths.rs"),
    run,
};

const ALLOWANCE: Bound = Bound::same(
    "panel-widths.allowance",
    "by how much a panel that folds inside is shorter",
    Quantity::Length(Length::inches(1, 32)),
    "published: 1/32 in for most papers",
);
const MOST: Bound = Bound::same(
    "panel-widths.most",
    "by how much it is shorter at the most; more is a warning",
    Quantity::Length(Length::inches(1, 8)),
    "published: up to 1/8 in for thick papers",
);
const EQUAL: Bound = Bound::same(
    "panel-widths.equal",
    "by how much equal panels may differ",
    Quantity::Length(Length::inches(1, 32)),
    "practice: fold tolerance",
);

fn run(cx: &Context<'_>) -> Outcome {
    let fold = &cx.card.format.fold;
    let mut found = Vec::new();
    let sum: Length = fold.panels.iter().copied().sum();
    let width = cx.card.format.flat.width;
    if let Some(reading) = Limit::Exactly(Quantity::Length(width)).broken_by(Quantity::Length(sum)) {
        let message = format!("the panels add up to {sum}; the card is {width} wide");
        let (by, how) = if sum < width { (width - sum, "more") } else { (sum - width, "less") };
        found.push(CHECK.finding(place(cx), message, format!("give one panel {by} {how}")).with(reading));
    }
    match (fold.kind, fold.panels.as_slice()) {
        (FoldKind::None, _) => return Outcome::skipped("the card does not fold"),
        (FoldKind::Half | FoldKind::Accordion, panels) => found.extend(equal(cx, panels)),
        (FoldKind::Letter, [first, middle, last]) => {
            let (short, outer) = if first < last { (first, last) } else { (last, first) };
            found.extend(equal(cx, &[*outer, *middle]));
            let shorter = (*outer).min(*middle) - *short;
            found.extend(allowance(cx, "the panel that folds inside is shorter", shorter));
        }
        (FoldKind::Gate, [left, middle, right]) => {
            found.extend(equal(cx, &[*left, *right]));
            found.extend(allowance(cx, "the two flaps together are shorter than the middle", *middle - *left - *right));
        }
        (FoldKind::Letter | FoldKind::Gate, panels) => {
            let message = format!("this fold has three panels and the card has {}", panels.len());
            found.push(CHECK.finding(place(cx), message, "state three panel widths"));
        }
    }
    Outcome::from(found)
}

fn place(cx: &Context<'_>) -> Place {
    let trace = &cx.card.trace;
    let span = ["card.widths", "card.fold", "card.size"].into_iter().find_map(|path| trace.setting(path));
    let source = span.map_or_else(|| Source::File(cx.card.file.clone()), |span| span.clone().into());
    Place { source, what: Some("panels".to_owned()), ..Place::default() }
}

/// Panels that should be alike.
fn equal(cx: &Context<'_>, panels: &[Length]) -> Option<Finding> {
    let (least, most) = (panels.iter().copied().min()?, panels.iter().copied().max()?);
    let reading = Limit::AtMost(cx.limit(&EQUAL)).broken_by(Quantity::Length(most - least))?;
    let message =
        format!("panels that should be equal differ by {}: {least} and {most}; {}", most - least, reading.limit());
    let advice = format!("move the fold by {}", (most - least).half());
    Some(CHECK.finding(place(cx), message, advice).with(reading))
}

/// How much a panel that folds inside is shorter.
fn allowance(cx: &Context<'_>, what: &str, shorter: Length) -> Option<Finding> {
    let measured = Quantity::Length(shorter);
    if let Some(reading) = Limit::AtLeast(cx.limit(&ALLOWANCE)).broken_by(measured) {
        let message = format!("{what} by {shorter}; {}", reading.limit());
        let advice = format!("make it shorter by {} more", cx.length(&ALLOWANCE) - shorter);
        return Some(CHECK.finding(place(cx), message, advice).with(reading));
    }
    let reading = Limit::AtMost(cx.limit(&MOST)).broken_by(measured)?;
    let message = format!("{what} by {shorter}; {}", reading.limit());
    let advice = format!("{} less is enough", shorter - cx.length(&MOST));
    Some(CHECK.finding(place(cx), message, advice).with(reading).at(Severity::Warning))
}
