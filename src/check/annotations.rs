//! # What it checks
//!
//! Annotations on the pages. Those that print and have a look of their own are drawn into the press file, as notes
//! here; those that are set to print and have no look, and form fields whose text is not in their look or may be
//! stale, are errors; those that do not print are notes. Links and popups are left out.
//!
//! # Why it matters
//!
//! Programs differ in what they do with annotations: a stamp may vanish, and a name typed into a field may be on
//! the screen and not on the plate.
//!
//! # What to do
//!
//! Flatten fields and stamps in the layout program, or delete them, and export again.
//!
//! # Source of the limit
//!
//! ISO 32000-1, 12.5.3 (flags) and 12.7.3.3 (NeedAppearances); PDF/X allows no such annotations inside the bleed,
//! restated.

use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{AnnotationUse, Face};

pub(super) const CHECK: Check = Check {
    id: "annotations",
    title: "Stamps, notes and form fields",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("annotations.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let all = cx.card.faces.iter().flat_map(|face| face.annotations.iter().map(move |a| (face, a)));
    Outcome::from(all.filter_map(|(face, a)| judge(cx, face, a)).collect::<Vec<_>>())
}

fn judge(cx: &Context<'_>, face: &Face, annotation: &AnnotationUse) -> Option<Finding> {
    let AnnotationUse { kind, prints, look, filled, stale, .. } = annotation;
    let (message, advice, severity) = match (kind.as_str(), prints, look) {
        ("Link" | "Popup", ..) | ("Widget", true, false) if !*filled => return None,
        ("Widget", true, false) if *filled => (
            "a form field has a text and no look; nothing of it prints".to_owned(),
            "flatten the form, or set the text on the page",
            Severity::Error,
        ),
        ("Widget", true, true) if *filled && *stale => (
            "a form field has a text, and its look may be stale; what stands in the look prints".to_owned(),
            "flatten the form, or set the text on the page",
            Severity::Error,
        ),
        (kind, true, false) => (
            format!("a {kind} annotation is set to print and has no look; nothing of it prints"),
            "draw it on the page, or delete it",
            Severity::Error,
        ),
        (kind, true, true) => (
            format!("a {kind} annotation prints; it is drawn into the press file"),
            "flatten it in the layout program, so that every machine prints it",
            Severity::Note,
        ),
        (kind, false, _) => {
            (format!("a {kind} annotation does not print"), "nothing to do where that is meant", Severity::Note)
        }
    };
    let place = cx.card.place(face.side, annotation.rect, annotation.object);
    Some(CHECK.finding(place, message, advice).at(severity))
}
