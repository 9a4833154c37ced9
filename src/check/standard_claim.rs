//! # What it checks
//!
//! Where the file claims to keep a PDF/X standard: whether the facts that were read agree. Fonts, output intent,
//! boxes, encryption and scripts for all of them; transparency, layers and colours for those that forbid them.
//!
//! # Why it matters
//!
//! A printer who trusts the claim sends the file on without looking; what is then refused, or printed otherwise, is
//! found on the press.
//!
//! # What to do
//!
//! Export the artwork again with the settings of that standard, or without the claim.
//!
//! # Source of the limit
//!
//! ISO 15930-4 (PDF/X-1a:2003), 15930-6 (PDF/X-3:2003) and 15930-7 (PDF/X-4), restated: only what is checked here,
//! not the whole standard.

use super::frame::file_place;
use super::{Check, Context, Outcome, Severity};
use crate::card::Element;

pub(super) const CHECK: Check = Check {
    id: "standard-claim",
    title: "What the file claims to be",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("standard_claim.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let claims: Vec<&String> = cx.card.facts.claims.iter().filter(|c| c.contains("PDF/X")).collect();
    let mut found = Vec::new();
    for claim in claims {
        for broken in breaks(cx, claim) {
            let message = format!("the file claims {claim}, and {broken}");
            found.push(CHECK.finding(
                file_place(cx.card),
                message,
                "export it again by that standard, or without the claim",
            ));
        }
    }
    Outcome::from(found)
}

/// What in the file is against a claim.
fn breaks(cx: &Context<'_>, claim: &str) -> Vec<String> {
    let (card, facts) = (cx.card, &cx.card.facts);
    let (x1a, x3) = (claim.contains("X-1"), claim.contains("X-3"));
    let mut broken = Vec::new();
    let mut say = |wrong: bool, what: &str| {
        if wrong {
            broken.push(what.to_owned());
        }
    };
    let bare = card.faces.iter().flat_map(|f| &f.fonts).any(|f| f.painted && !f.embedded && f.kind != "Type3");
    say(facts.encrypted, "is encrypted");
    say(facts.scripts, "has JavaScript");
    say(!facts.intents.iter().any(|i| i.kind == "GTS_PDFX"), "has no output intent of PDF/X");
    say(bare, "has fonts that are not in it");
    let trims = card.faces.iter().all(|f| matches!(f.boxes.trim_from, "TrimBox" | "ArtBox"));
    say(!trims, "has pages without a TrimBox");
    let printing = card.faces.iter().flat_map(|f| &f.annotations).any(|a| a.prints && a.look);
    say(printing, "has annotations that print on the card");
    let curves = card.faces.iter().flat_map(|f| &f.elements).any(|e| e.blend.transfer);
    say(curves, "has transfer functions");
    if x1a || x3 {
        let through = card.faces.iter().flat_map(|f| &f.elements).any(|e| e.blend.sees_through());
        say(through, "has transparency");
        say(!facts.layers.is_empty(), "has layers");
    }
    let coloured = card.faces.iter().flat_map(|f| &f.elements).flat_map(Element::spaces).any(|s| !s.is_in_inks());
    say(x1a && coloured, "has colours other than gray, CMYK and spots");
    broken
}
