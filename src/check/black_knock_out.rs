//! # What it checks
//!
//! Small black text and thin black lines that clear the other inks below them: those that do not overprint, and those that
//! overprint in a way that clears process inks all the same. Only where there really is ink beneath. Large black type
//! may knock out.
//!
//! # Why it matters
//!
//! Where black clears a tint, the sheet must hold register to a hair or a light fringe runs along every stroke of every
//! figure. Black that overprints has no fringe.
//!
//! # What to do
//!
//! Set black text and rules to overprint in the layout program, in DeviceCMYK with overprint mode 1 or in the ink Black.
//! fairfold changes nothing by itself.
//!
//! # Source of the limit
//!
//! - Pure black text under 12 pt and lines under 2 pt should overprint, DeviceCMYK in mode 1: Ghent Workgroup 2022
//!   specification.
//! - That a tint below counts from 10 % on: judgement; a fainter one shows no fringe.

use super::frame::{Coat, Shape, named};
use super::ground::Ground;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::ink::{Colour, Ink, Overprint, layered};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "black-knock-out",
    title: "Small black that clears what lies below",
    severity: Severity::Warning,
    bounds: &[TEXT, LINE, TINT],
    doc: include_str!("black_knock_out.rs"),
    run,
};

const GWG: &str = "Ghent Workgroup 2022";
const TEXT: Bound = Bound::same(
    "black-knock-out.text",
    "smallest black type that may knock out",
    Quantity::Points(Length::pt(12)),
    GWG,
);
const LINE: Bound =
    Bound::same("black-knock-out.line", "thinnest black line that may knock out", Quantity::Points(Length::pt(2)), GWG);
const TINT: Bound = Bound::same(
    "black-knock-out.tint",
    "least sum of other inks below that counts",
    Quantity::Percent(10.0),
    "judgement",
);

/// A tint of black that prints as a solid.
const SOLID: f64 = 0.995;

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.coats().filter_map(|coat| judge(cx, &coat)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    let black = coat.opaque().filter(|c| matches!(c.tints().as_deref(), Some([(Ink::Black, t)]) if *t >= SOLID))?;
    let (measured, bound) = match coat.shape {
        Shape::Text(size) => (size, &TEXT),
        Shape::Line(weight) => (weight, &LINE),
        Shape::Area => return None,
    };
    let reading = Limit::AtLeast(cx.limit(bound)).broken_by(Quantity::Points(measured))?;
    let overprint = coat.overprint();
    // Gray that overprints, and lines of no width, are told by checks of their own.
    let told = measured <= Length::ZERO || matches!(black, Colour::Gray(_)) && overprint != Overprint::KnockOut;
    if told || keeps_all(black, overprint) {
        return None;
    }
    let least = cx.number(&TINT) / 100.0;
    let below = coat.grounds(cx).iter().find_map(|ground| cleared(black, ground, overprint, least))?;
    let (words, measured, limit) = (coat.shape.words(), reading.measured(), reading.limit());
    let message = format!("black {words} knocks out of {below}; it is {measured}, and to knock out {limit}");
    let message = message.replace("black a line", "a black line");
    let advice = match (black, overprint) {
        (Colour::Cmyk(_), Overprint::KnockOut) => "set it to overprint, with overprint mode 1",
        (Colour::Cmyk(_), _) => "it overprints in mode 0, which clears process inks: set overprint mode 1",
        (Colour::Inks { .. }, _) => "set it to overprint",
        _ => "set it in CMYK as 0/0/0/100 and let that overprint, with overprint mode 1",
    };
    Some(CHECK.finding(coat.place(cx.card), message, advice).with(reading))
}

/// Whether black stated and overprinting so leaves every other plate alone.
fn keeps_all(black: &Colour, overprint: Overprint) -> bool {
    match (black, overprint) {
        (_, Overprint::KnockOut) => false,
        // A DeviceN space sets the plates that it names, be it to nothing.
        (Colour::Inks { tints, .. }, _) => tints.iter().all(|(ink, _)| matches!(ink, Ink::Black | Ink::None)),
        (Colour::Cmyk(_), mode) => mode == Overprint::Mode1,
        _ => false,
    }
}

/// What black clears of a ground, in words.
fn cleared(black: &Colour, ground: &Ground, overprint: Overprint, least: f64) -> Option<String> {
    match ground {
        Ground::Unclear(what) => Some((*what).to_owned()),
        Ground::Flat(under) => {
            let Some(tints) = under.tints() else { return (!under.is_paper()).then(|| named(under)) };
            let left = layered(black, under, overprint).tints().unwrap_or_default();
            let lost = tints.iter().filter(|(ink, _)| *ink != Ink::Black && !left.iter().any(|(l, _)| l == ink));
            let sum: f64 = lost.map(|(_, tint)| tint).sum();
            (sum > 0.0 && sum >= least).then(|| named(under))
        }
    }
}
