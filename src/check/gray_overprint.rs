//! # What it checks
//!
//! Text, lines and areas in plain gray (DeviceGray) that are set to overprint: a warning over ink, a note on bare paper.
//!
//! # Why it matters
//!
//! Gray is black ink, but overprint does not treat it so: it clears cyan, magenta and yellow below in either mode, keeps
//! spots, and some machines turn it into black that overprints after all. What prints is left to chance.
//!
//! # What to do
//!
//! State it in CMYK as black alone and keep the overprint, or keep the gray and switch overprint off.
//!
//! # Source of the limit
//!
//! DeviceGray must not overprint: Ghent Workgroup 2022 specification. What it clears: ISO 32000-1, 11.7.4.3, table 149.

use super::frame::{Coat, named};
use super::ground::Ground;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::ink::{Colour, Overprint};

pub(super) const CHECK: Check = Check {
    id: "gray-overprint",
    title: "Gray that is set to overprint",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("gray_overprint.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    Outcome::from(cx.coats().filter_map(|coat| judge(cx, &coat)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    // White is a matter of its own: `white-overprint`.
    let gray = coat.opaque().filter(|c| matches!(c, Colour::Gray(g) if *g < 1.0))?;
    if coat.overprint() == Overprint::KnockOut {
        return None;
    }
    let words = coat.shape.words();
    let tint = gray.tints().and_then(|t| t.first().map(|(_, t)| t * 100.0)).unwrap_or(0.0);
    let advice = format!("state it in CMYK as 0/0/0/{tint:.0} and keep the overprint, or switch its overprint off");
    let below = coat.grounds(cx).into_iter().find_map(|ground| match ground {
        Ground::Flat(under) if under.is_paper() => None,
        Ground::Flat(under) => Some(named(&under)),
        Ground::Unclear(what) => Some(what.to_owned()),
    });
    let place = coat.place(cx.card);
    Some(if let Some(below) = below {
        let message = format!("{words} in gray is set to overprint {below}; what prints there depends on the machine");
        CHECK.finding(place, message, advice)
    } else {
        let message = format!("{words} in gray is set to overprint; on bare paper nothing comes of it");
        CHECK.finding(place, message, advice).at(Severity::Note)
    })
}
