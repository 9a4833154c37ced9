//! # What it checks
//!
//! Whether the colours of the tees, as fills of their rows or as the colour of their numbers, can be told apart on the paper: by golfers of
//! normal sight, and by those who lack the cones for red (protan) or for green (deutan). Every pair of
//! tees that are shown in the same manner is compared.
//!
//! # Why it matters
//!
//! About one man in twelve sees red and green less well (from memory), and tee colours lean on just these. Two tees that look alike send
//! a player to the wrong numbers on every hole.
//!
//! # What to do
//!
//! Make one of the pair lighter or darker: lightness is seen by everybody. A pattern, a letter or the order of the rows helps too.
//!
//! # Source of the limit
//!
//! Colour difference by CIEDE2000 (CIE 142), between colours as they print; sight by Machado, Oliveira and Fernandes (2009) at full severity.
//! That 5 is enough to tell two fills on one card apart at a glance is judgement; 1 is about what can just be seen side by side.

use super::frame::named;
use super::ground::Ground;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{GridPlan, Mark, RowRole};
use crate::ink::{Colour, Lab, Sight, as_seen, delta_e2000};
use crate::unit::{Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "tee-colours",
    title: "Tee colours that look alike",
    severity: Severity::Warning,
    bounds: &[DIFFERENCE],
    doc: include_str!("tee_colours.rs"),
    run,
};

const DIFFERENCE: Bound = Bound::same(
    "tee-colours.difference",
    "difference between the colours of two tees",
    Quantity::DeltaE(5.0),
    "judgement; the difference by CIE 142 (CIEDE2000)",
);

/// The least change of lightness that parts two colours for every kind of sight: whether the first is to change, and its L* then.
fn parted([a, b]: [Lab; 2], wanted: f64, paper: f64) -> Option<(bool, f64)> {
    let enough = |a: Lab, b: Lab| Sight::ALL.into_iter().all(|s| delta_e2000(as_seen(a, s), as_seen(b, s)) >= wanted);
    // Nothing prints lighter than the paper; whole steps, for a designer sets no finer ones.
    (1..=100).map(f64::from).find_map(|step| {
        let ways = [(true, a.l + step), (true, a.l - step), (false, b.l + step), (false, b.l - step)];
        ways.into_iter()
            .filter(|(_, l)| (0.0..=paper).contains(l))
            .find(|(first, l)| if *first { enough(Lab { l: *l, ..a }, b) } else { enough(a, Lab { l: *l, ..b }) })
    })
}

/// A tee and the colour it is shown in.
struct Shown {
    row: usize,
    label: String,
    colour: Colour,
    as_fill: bool,
}

fn run(cx: &Context<'_>) -> Outcome {
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    let shown: Vec<Shown> = (0..grid.rows.len()).filter_map(|row| shown(cx, grid, row)).collect();
    if shown.len() < 2 {
        return Outcome::skipped("there are no two tees with a colour of their own");
    }
    let mut found = Vec::new();
    for (n, one) in shown.iter().enumerate() {
        // A fill and a number in the same colour are told apart by that.
        for other in shown.iter().skip(n + 1).filter(|other| other.as_fill == one.as_fill) {
            found.extend(compare(cx, grid, one, other));
        }
    }
    Outcome::from(found)
}

/// The colour of a tee's row: its fill, else that of its numbers; `None` where both are bare paper and plain black, or unclear.
fn shown(cx: &Context<'_>, grid: &GridPlan, row: usize) -> Option<Shown> {
    let line = grid.rows.get(row).filter(|r| matches!(r.role, RowRole::Tee(_)))?;
    let face = cx.card.face(grid.side)?;
    let cell = grid.cells.iter().filter(|c| c.row == row).find(|c| c.text.chars().any(|c| c.is_ascii_digit()))?;
    let grounds = cx.grounds(grid.side, face.elements.len(), cell.rect);
    let fill = match grounds.as_slice() {
        [Ground::Flat(colour)] => Some(colour.clone()).filter(|c| !c.is_paper()),
        _ => None,
    };
    let as_fill = fill.is_some();
    let colour = fill.or_else(|| {
        let texts = face.elements.iter().filter(|e| cell.rect.contains(e.bounds));
        let mut numbers =
            texts.filter_map(|e| if let Mark::Text(run) = &e.mark { run.fill.as_ref()?.flat() } else { None });
        numbers.find(|c| !c.is_black_only()).cloned()
    })?;
    Some(Shown { row, label: line.label.clone(), colour, as_fill })
}

/// The worst of the three kinds of sight, where it is too little.
fn compare(cx: &Context<'_>, grid: &GridPlan, one: &Shown, other: &Shown) -> Option<Finding> {
    let (a, b) = (cx.judge.lab(&one.colour), cx.judge.lab(&other.colour));
    let seen = Sight::ALL.map(|sight| (sight, delta_e2000(as_seen(a, sight), as_seen(b, sight))));
    let (sight, least) = seen.into_iter().reduce(|x, y| if y.1 < x.1 { y } else { x })?;
    let reading = Limit::AtLeast(cx.limit(&DIFFERENCE)).broken_by(Quantity::DeltaE(least))?;
    let rect = grid.rows.get(other.row)?.rect;
    let mut place = cx.card.place(grid.side, rect, None);
    place.panel = None;
    place.what = Some(format!("rows \"{}\" and \"{}\"", one.label, other.label));
    let who = match sight {
        Sight::Normal => "to everybody",
        Sight::Protan => "to protan sight",
        Sight::Deutan => "to deutan sight",
    };
    let shown = if one.as_fill { "fills" } else { "numbers" };
    let (first, second) = (named(&one.colour), named(&other.colour));
    let (measured, limit) = (reading.measured(), reading.limit());
    let message =
        format!("the {shown} of the two tees, {first} and {second}, look alike {who}: {measured} apart; {limit}");
    let paper = cx.judge.paper().l;
    let advice = match parted([a, b], cx.number(&DIFFERENCE), paper) {
        Some((first, to)) => {
            let (which, from) = if first { (one, a.l) } else { (other, b.l) };
            let how = if to > from { "lighter" } else { "darker" };
            let label = &which.label;
            format!(
                "make \"{label}\" {how}, from L* {from:.0} to L* {to:.0}, and these two part for everyone; then look at the others again"
            )
        }
        None => "no lightness alone parts them: give one of them another hue, or a pattern or a letter".to_owned(),
    };
    Some(CHECK.finding(place, message, advice).with(reading))
}
