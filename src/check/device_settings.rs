//! # What it checks
//!
//! What the pages hold for one particular machine, or put in place of something else: halftones, black generation,
//! pictures and forms that stand for others (OPI, reference XObjects, alternates), PostScript.
//!
//! # Why it matters
//!
//! Halftones belong to the press, and one from another machine prints tones too light or too dark or is thrown away. What stands for another picture prints as it is: coarse. PostScript prints nothing today.
//!
//! # What to do
//!
//! Export the artwork without settings for machines, with all pictures in the file.
//!
//! # Source of the limit
//!
//! ISO 15930-4 and 15930-7, restated: no OPI, PostScript, reference XObjects or alternates; halftones
//! are the press room's. Common practice for how much each weighs.

use super::frame::page_place;
use super::{Check, Context, Outcome, Severity};
use crate::card::{DeviceKind, Place};
use crate::fault::Source;

pub(super) const CHECK: Check = Check {
    id: "device-settings",
    title: "Halftones, OPI, PostScript",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("device_settings.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let all = cx.card.faces.iter().flat_map(|face| face.device_settings.iter().map(move |s| (face, s)));
    let found = all.map(|(face, setting)| {
        let (severity, message, advice) = told(setting.kind);
        let source = Source::Pdf { file: cx.card.file.clone(), page: Some(face.page), object: setting.object };
        let place = Place { source, ..page_place(cx.card, face) };
        CHECK.finding(place, message, advice).at(severity)
    });
    Outcome::from(found.collect::<Vec<_>>())
}

/// What is said of each kind.
const fn told(kind: DeviceKind) -> (Severity, &'static str, &'static str) {
    const WITHOUT: &str = "export the artwork without it";
    match kind {
        DeviceKind::Halftone => (
            Severity::Warning,
            "a halftone screen is set; screens belong to the press room, which may or may not obey it",
            WITHOUT,
        ),
        DeviceKind::BlackGeneration => (
            Severity::Note,
            "black generation or under-colour removal is set; nothing here turns RGB into inks by it",
            WITHOUT,
        ),
        DeviceKind::Opi => (
            Severity::Error,
            "a picture or form only stands for another (OPI); it would print as the coarse stand-in",
            "export the artwork with the pictures themselves in the file",
        ),
        DeviceKind::PostScript => (
            Severity::Warning,
            "a PostScript XObject draws nothing on a press; it is left out",
            "export the artwork with what it draws as plain page content",
        ),
        DeviceKind::Reference => (
            Severity::Warning,
            "a form only stands for a page of another file; it prints as the stand-in",
            "export the artwork with the page itself in the file",
        ),
        DeviceKind::Alternates => (
            Severity::Note,
            "a picture has alternates; the picture itself prints",
            "export the artwork without alternates",
        ),
    }
}
