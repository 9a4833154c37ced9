//! # What it checks
//!
//! Text in solid black ink below 12 pt and black lines below 2 pt that stand on other inks and do not overprint
//! them. Black that overprints as DeviceGray is found too: it overprints on some machines and not on others.
//!
//! # Why it matters
//!
//! Black that knocks out leaves its own shape white in the inks below. When the plates are off by a hair, and they
//! always are, a white edge runs along every letter.
//!
//! # What to do
//!
//! Set small black to overprint, as C 0 M 0 Y 0 K 100 with overprint mode 1. Never let a program do it to large
//! black areas unseen: what lies below shows through.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: pure black text under 12 pt and lines under 2 pt should overprint,
//! DeviceCMYK then with OPM 1; DeviceGray must not overprint.

use super::frame::{By, Inked};
use super::ground::{Ground, grounds};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::ink::{Colour, Ink};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "black-knock-out",
    title: "Small black that knocks out",
    severity: Severity::Warning,
    bounds: &[TEXT, LINE],
    doc: include_str!("black_knock_out.rs"),
    run,
};

const GWG: &str = "Ghent Workgroup 2022";
const TEXT: Bound = Bound::same(
    "black-knock-out.text",
    "black text below this size should overprint",
    Quantity::Points(Length::pt(12)),
    GWG,
);
const LINE: Bound = Bound::same(
    "black-knock-out.line",
    "black lines below this weight should overprint",
    Quantity::Points(Length::pt(2)),
    GWG,
);

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.inked().filter_map(|inked| judge(cx, &inked)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, inked: &Inked<'_>) -> Option<Finding> {
    let colour = inked.paint.flat().filter(|c| is_solid_black(c))?;
    let (size, bound) = match inked.by {
        By::Text(run) | By::Outline(run) => (run.size, &TEXT),
        By::Line(width) => (width, &LINE),
        By::Fill => return None,
    };
    let limit = Limit::AtLeast(cx.limit(bound));
    let reading = limit.broken_by(Quantity::Points(size))?;
    let (measured, words) = (reading.measured(), inked.words());
    if inked.overprints() {
        let gray = matches!(colour, Colour::Gray(_));
        let message = format!("{words} of {measured} in DeviceGray is set to overprint, which not every machine does");
        let advice = "set it in C 0 M 0 Y 0 K 100 with overprint and overprint mode 1";
        return gray.then(|| CHECK.finding(inked.place(cx.card), message, advice));
    }
    let under = grounds(inked.face, inked.index, inked.element.bounds);
    let below = under.iter().find_map(coloured)?;
    let message =
        format!("black {words} of {measured} knocks out of {below}; below {} it should overprint", cx.limit(bound));
    let advice = "set it to overprint, so that no white edge shows where the plates are off";
    Some(CHECK.finding(inked.place(cx.card), message, advice).with(reading))
}

/// What lies below in words, where it has inks other than black.
fn coloured(ground: &Ground) -> Option<String> {
    match ground {
        Ground::Flat(colour) => {
            let inks = colour.tints().unwrap_or_default();
            inks.iter().any(|(ink, _)| *ink != Ink::Black).then(|| super::frame::named(colour))
        }
        Ground::Unclear(what) => Some((*what).to_owned()),
    }
}

fn is_solid_black(colour: &Colour) -> bool {
    matches!(colour.tints().as_deref(), Some([(Ink::Black, tint)]) if *tint >= 1.0)
        && !matches!(colour, Colour::Calibrated { .. })
}
