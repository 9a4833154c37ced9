//! # What it checks
//!
//! Whether the trim of each page is the flat size that was named, height and width. Also, as notes: a page that
//! does not state its trim, so that another box had to stand for it.
//!
//! # Why it matters
//!
//! The plan of the sheet and every cut are made for the named size. A page of another size is cut short or shows
//! paper.
//!
//! # What to do
//!
//! Name the size that the artwork has, or set the document to the named size and export it again; never scale it.
//!
//! # Source of the limit
//!
//! 1/64 in (0.4 mm), half of the least trim tolerance of common practice (± 1/32 in): judgement. That artwork
//! states its TrimBox: ISO 15930, restated.

use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{Face, Place};
use crate::unit::{Length, Limit, Quantity, Size, Turn};

pub(super) const CHECK: Check = Check {
    id: "flat-size",
    title: "Trim against the named size",
    severity: Severity::Error,
    bounds: &[TOLERANCE],
    doc: include_str!("flat_size.rs"),
    run,
};

const TOLERANCE: Bound = Bound::same(
    "flat-size.tolerance",
    "by how much the trim may differ from the named size",
    Quantity::Length(Length::inches(1, 64)),
    "judgement: half the least trim tolerance of practice",
);

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for face in &cx.card.faces {
        found.extend(judge(cx, face));
        if face.boxes.trim_from != "TrimBox" {
            let message = format!("the page states no TrimBox; its {} stands for the trim", face.boxes.trim_from);
            let advice = "export the artwork with its trim and bleed boxes";
            found.push(CHECK.finding(place(cx, face), message, advice).at(Severity::Note));
        }
    }
    Outcome::from(found)
}

fn place(cx: &Context<'_>, face: &Face) -> Place {
    let mut place = cx.card.place(face.side, face.boxes.trim, None);
    place.panel = None;
    place
}

fn judge(cx: &Context<'_>, face: &Face) -> Option<Finding> {
    let (is, named) = (face.boxes.trim.size(), cx.card.format.flat);
    let off = |a: Size, b: Size| (a.width - b.width).abs().max((a.height - b.height).abs());
    let reading = Limit::AtMost(cx.limit(&TOLERANCE)).broken_by(Quantity::Length(off(is, named)))?;
    let message = format!("the trim is {}; the card is named {}", is.card_text(), named.card_text());
    let advice = if off(is.turned(Turn::Left), named) <= cx.length(&TOLERANCE) {
        "the page lies a quarter turn off: turn it, or swap height and width (sizes are height x width)".to_owned()
    } else {
        format!(
            "change the width by {} and the height by {}, or name the size that it has",
            named.width - is.width,
            named.height - is.height
        )
    };
    Some(CHECK.finding(place(cx, face), message, advice).with(reading))
}
