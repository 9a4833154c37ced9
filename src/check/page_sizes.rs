//! # What it checks
//!
//! Whether the trims of both faces have the same height and width.
//!
//! # Why it matters
//!
//! Both faces are printed on one piece of paper and cut together. Where one is larger, its edge is cut off or the
//! other shows paper.
//!
//! # What to do
//!
//! Set both pages of the document to the same size and export them again.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: one TrimBox size. 0.1 mm, what layout programs round to: judgement.

use super::frame::page_place;
use super::{Bound, Check, Context, Outcome, Severity};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "page-sizes",
    title: "Faces of one size",
    severity: Severity::Warning,
    bounds: &[TOLERANCE],
    doc: include_str!("page_sizes.rs"),
    run,
};

const TOLERANCE: Bound = Bound::same(
    "page-sizes.tolerance",
    "by how much the faces' trims may differ",
    Quantity::Length(Length::um(100)),
    "judgement: rounding of layout programs",
);

fn run(cx: &Context<'_>) -> Outcome {
    let [one, other] = cx.card.faces.as_slice() else {
        return Outcome::skipped("the card has one face");
    };
    let (a, b) = (one.boxes.trim.size(), other.boxes.trim.size());
    let (wider, higher) = (b.width - a.width, b.height - a.height);
    let off = wider.abs().max(higher.abs());
    let Some(reading) = Limit::AtMost(cx.limit(&TOLERANCE)).broken_by(Quantity::Length(off)) else {
        return Outcome::Clean;
    };
    let message = format!("the {} is {} and the {} is {}", one.side, a.card_text(), other.side, b.card_text());
    let advice = format!("change the {} by {} in width and {} in height", other.side, -wider, -higher);
    Outcome::from(vec![CHECK.finding(page_place(cx.card, other), message, advice).with(reading)])
}
