//! # What it checks
//!
//! Text, rules and fills of bare paper (no ink at all) that are set to overprint. Where the file asks that empty
//! plates be left alone, they vanish; where it does not, they clear the process inks below and leave the spots
//! standing, which is a warning.
//!
//! # Why it matters
//!
//! White that overprints is seen on the screen and is not on the plate: a reversed headline is gone from every
//! card.
//!
//! # What to do
//!
//! Switch overprint off for everything that is white.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: white text or paths must not overprint. ISO 32000-1, 8.6.7: overprint mode 1
//! leaves a plate alone where DeviceCMYK says 0; Separation and DeviceN touch only their own plates.

use super::frame::Inked;
use super::{Check, Context, Outcome, Severity};
use crate::ink::Colour;

pub(super) const CHECK: Check = Check {
    id: "white-overprint",
    title: "White that overprints",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("white_overprint.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for inked in cx.inked().filter(Inked::overprints) {
        let Some(colour) = inked.paint.flat().filter(|c| c.is_paper()) else { continue };
        let vanishes = match colour {
            Colour::Cmyk(_) => inked.element.blend.overprint_mode == 1,
            Colour::Inks { .. } => true,
            _ => false,
        };
        let words = inked.words();
        let finding = if vanishes {
            let message = format!("{words} left as bare paper overprints and vanishes in what lies below");
            CHECK.finding(inked.place(cx.card), message, "switch overprint off for it")
        } else {
            let message =
                format!("{words} left as bare paper overprints: it clears the process inks and leaves spots standing");
            CHECK.finding(inked.place(cx.card), message, "switch overprint off for it").at(Severity::Warning)
        };
        found.push(finding);
    }
    Outcome::from(found)
}
