//! # What it checks
//!
//! Layers that are switched off, or that show on the screen and do not print, or print and do not show.
//!
//! # Why it matters
//!
//! What was approved on a screen is then not what the press prints. A layer that is off for good may hold an old
//! version or another language by mistake.
//!
//! # What to do
//!
//! Switch on what is to print and delete the rest before exporting. Guides and notes need no layer in the artwork.
//!
//! # Source of the limit
//!
//! ISO 32000-1, 8.11.4: states and usage of optional content; that press files look as their default print state:
//! common practice.

use super::{Check, Context, Outcome, Severity};
use crate::card::Place;
use crate::fault::Source;

pub(super) const CHECK: Check = Check {
    id: "layers-off",
    title: "Layers that do not print",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("layers_off.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for layer in &cx.card.facts.layers {
        let source = Source::Pdf { file: cx.card.file.clone(), page: None, object: Some(layer.object) };
        let place = Place { what: Some(format!("layer \"{}\"", layer.name)), source, ..Place::default() };
        let name = &layer.name;
        let finding = match (layer.prints, layer.shows) {
            (true, true) => continue,
            (false, true) => {
                let message = format!("the layer \"{name}\" shows on the screen and does not print");
                CHECK.finding(place, message, "let it print, or delete it before exporting")
            }
            (true, false) => {
                let message = format!("the layer \"{name}\" prints and does not show on the screen");
                CHECK.finding(place, message, "switch it off for printing, or delete it before exporting")
            }
            (false, false) => {
                let message = format!("the layer \"{name}\" is switched off and does not print");
                CHECK
                    .finding(place, message, "nothing to do where that is meant; else switch it on and export again")
                    .at(Severity::Note)
            }
        };
        found.push(finding);
    }
    Outcome::from(found)
}
