//! # What it checks
//!
//! Text, lines and areas of bare paper (no ink at all, or a tint of 0) that are set to overprint over something printed,
//! by the overprint mode and the colour space they are stated in.
//!
//! # Why it matters
//!
//! White has no ink: it shows only because it clears the inks below it. Told to overprint it clears nothing, and white
//! figures on a green band are gone in print though every screen shows them.
//!
//! # What to do
//!
//! Switch overprint off for everything white.
//!
//! # Source of the limit
//!
//! - White text and paths must not overprint: Ghent Workgroup 2022 specification.
//! - Which plates white clears: ISO 32000-1, 8.6.7 and 11.7.4.3, table 149. White that the plates below happen to clear
//!   all the same is a warning: judgement.

use super::frame::{Coat, named};
use super::ground::Ground;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::ink::{Colour, Ink, Overprint, layered};

pub(super) const CHECK: Check = Check {
    id: "white-overprint",
    title: "White that overprints and vanishes",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("white_overprint.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.coats().filter_map(|coat| judge(cx, &coat)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    let overprint = coat.overprint();
    let white = coat.opaque().filter(|c| overprint != Overprint::KnockOut && c.is_paper() && !is_no_ink(c))?;
    let words = coat.shape.words();
    let advice = "switch its overprint off, so that it knocks out what lies below";
    let mut cleared = None;
    for ground in coat.grounds(cx) {
        let (kept, below) = match &ground {
            Ground::Flat(under) if under.is_paper() => continue,
            Ground::Flat(under) => (!layered(white, under, overprint).is_paper(), named(under)),
            // Mode 1 and Separations clear nothing that is not their own; other white clears the process plates.
            Ground::Unclear(what) => {
                let keeps = matches!(white, Colour::Inks { .. })
                    || overprint == Overprint::Mode1 && matches!(white, Colour::Cmyk(_));
                (keeps, (*what).to_owned())
            }
        };
        if kept {
            let message = format!("{words} in white overprints {below} and vanishes there");
            return Some(CHECK.finding(coat.place(cx.card), message, advice));
        }
        cleared = Some(below);
    }
    let message = format!("{words} in white is set to overprint; over {} it shows only by chance", cleared?);
    Some(CHECK.finding(coat.place(cx.card), message, advice).at(Severity::Warning))
}

/// Separation None, which marks nothing in any case.
fn is_no_ink(colour: &Colour) -> bool {
    matches!(colour, Colour::Inks { tints, .. } if tints.iter().all(|(ink, _)| *ink == Ink::None))
}
