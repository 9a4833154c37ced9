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

use super::frame::{By, Inked};
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
    Outcome::from(cx.inked().filter_map(|inked| judge(cx, &inked)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, inked: &Inked<'_>) -> Option<Finding> {
    match inked.by {
        By::Line(width) if width < cx.length(&LINE) => {}
        By::Text(_) | By::Outline(_) => {}
        By::Line(_) | By::Fill => return None,
    }
    let tints = inked.paint.flat()?.tints()?;
    let black = tints.iter().find(|(ink, _)| *ink == Ink::Black).map_or(0.0, |(_, tint)| *tint);
    let everywhere = tints.iter().any(|(ink, _)| *ink == Ink::All);
    if black < BLACK || everywhere {
        return None;
    }
    let total = tints.iter().map(|(_, tint)| tint * 100.0).sum();
    let reading = Limit::AtMost(cx.limit(&TOTAL)).broken_by(Quantity::Percent(total))?;
    let message = format!(
        "{} is black of {} inks and {} in all; {}",
        inked.words(),
        tints.len(),
        reading.measured(),
        reading.limit()
    );
    Some(CHECK.finding(inked.place(cx.card), message, "set it in black ink alone").with(reading))
}
