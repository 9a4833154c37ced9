//! # What it checks
//!
//! Text, and lines below 2 pt, whose black of 85 % or more is built up with other inks to more than 280 % in all.
//!
//! # Why it matters
//!
//! Four plates never meet exactly. Around a letter in four-ink black each of them shows its own edge, counters fill
//! in, and so much ink dries slowly and marks the next sheet.
//!
//! # What to do
//!
//! Set it in black ink alone. Keep built-up black for large areas.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: text with K of 85 % or more and an ink sum above 280 % is a warning. The
//! same for lines, below 2 pt: judgement.

use super::frame::{Coat, Shape, named};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::ink::Ink;
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "rich-black",
    title: "Text and fine lines in four-ink black",
    severity: Severity::Warning,
    bounds: &[TOTAL, LINE],
    doc: include_str!("rich_black.rs"),
    run,
};

const TOTAL: Bound = Bound::same(
    "rich-black.total",
    "most ink in all for black text and fine lines",
    Quantity::Percent(280.0),
    "Ghent Workgroup 2022",
);
const LINE: Bound =
    Bound::same("rich-black.line", "lines below this weight are fine", Quantity::Points(Length::pt(2)), "judgement");

/// Black of this tint and more is meant as black.
const BLACK: f64 = 0.85;

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.coats().filter_map(|coat| judge(cx, &coat)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    match coat.shape {
        Shape::Line(weight) if weight < cx.length(&LINE) => {}
        Shape::Text(_) => {}
        Shape::Line(_) | Shape::Area => return None,
    }
    let colour = coat.paint.flat()?;
    let tints = colour.tints()?;
    let black = tints.iter().find(|(ink, _)| *ink == Ink::Black).map_or(0.0, |(_, tint)| *tint);
    if black < BLACK || super::registration_colour::is_everywhere(colour) {
        return None;
    }
    let total = tints.iter().map(|(_, tint)| tint * 100.0).sum();
    let reading = Limit::AtMost(cx.limit(&TOTAL)).broken_by(Quantity::Percent(total))?;
    let message = format!(
        "{} is black of {} inks, {}, and {} in all; {}",
        coat.shape.words(),
        tints.len(),
        named(colour),
        reading.measured(),
        reading.limit()
    );
    Some(CHECK.finding(coat.place(cx.card), message, "set it in black ink alone").with(reading))
}
