//! # What it checks
//!
//! Whether pages are turned by a Rotate key, are scaled by a UserUnit, show less than their medium by a CropBox, or
//! state no BleedBox. The press file is written without any of these; what is checked here is how other programs
//! take the artwork.
//!
//! # Why it matters
//!
//! A viewer shows such a page as it is meant; programs along the way forget one key or the other, and the card
//! comes out turned, small, or without bleed.
//!
//! # What to do
//!
//! Export the pages upright at their real size, with trim and bleed boxes, and without cropping.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: no Rotate (warning), no UserUnit (error), CropBox absent or equal to the
//! MediaBox. As notes here where nothing is lost by it: judgement.

use super::frame::page_place;
use super::{Check, Context, Outcome, Severity};

pub(super) const CHECK: Check = Check {
    id: "page-boxes",
    title: "How the pages lie in the file",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("page_boxes.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    if cx.card.facts.set_here {
        // Set upright and at their size.
        return Outcome::Clean;
    }
    let mut found = Vec::new();
    for face in &cx.card.faces {
        let mut say = |message: String, advice: &str, severity| {
            found.push(CHECK.finding(page_place(cx.card, face), message, advice).at(severity));
        };
        if face.rotate != 0 {
            let message = format!("page {} is turned by {} degrees when it is shown", face.page, face.rotate);
            say(message, "export the page upright; the press file is right either way", Severity::Warning);
        }
        if (face.user_unit - 1.0).abs() > f64::EPSILON {
            let message = format!("page {} counts in units of {} points", face.page, face.user_unit);
            say(message, "export the page at its real size; the press file is right either way", Severity::Warning);
        }
        if face.boxes.crop != face.boxes.media {
            let message = format!("page {} shows only a part of its medium", face.page);
            say(message, "export without a CropBox, so that bleed and marks are seen", Severity::Note);
        }
        if !face.boxes.bleed_stated {
            let message = format!("page {} states no BleedBox", face.page);
            say(message, "export with trim and bleed boxes", Severity::Note);
        }
    }
    Outcome::from(found)
}
