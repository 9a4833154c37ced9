//! # What it checks
//!
//! Registration colour on the card itself: anything inside the trim in the colorant All, and text, lines and areas in
//! solid cyan, magenta, yellow and black together, which is the same in all but name.
//!
//! # Why it matters
//!
//! Registration colour prints on every plate. It is for marks outside the trim; on the card it piles up to four and more
//! solid inks that do not dry and set off on the next sheet, and shows every error of register.
//!
//! # What to do
//!
//! Set text and rules in black ink alone. Keep registration colour to crop and register marks outside the bleed.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: colorant All on page content is a warning. ISO 32000-1, 8.6.6.4: All is every
//! plate. Four solid process inks: judgement.

use super::plates::prints_in;
use super::{Check, Context, Outcome, Severity};
use crate::card::Mark;
use crate::ink::{Colour, Ink};

pub(super) const CHECK: Check = Check {
    id: "registration-colour",
    title: "Registration colour on the card",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("registration_colour.rs"),
    run,
};

/// A tint that prints as a solid.
const SOLID: f64 = 0.995;

fn run(cx: &Context<'_>) -> Outcome {
    let advice = "set it in black ink alone; registration colour is for marks outside the trim";
    let mut found = Vec::new();
    for coat in cx.coats() {
        let Some(colour) = coat.paint.flat().filter(|c| is_everywhere(c)) else { continue };
        let words = coat.shape.words();
        let message = if four_solids(colour) {
            format!("{words} in four solid process inks is registration colour in all but name")
        } else {
            format!("{words} in registration colour (All) prints on every plate")
        };
        found.push(CHECK.finding(coat.place(cx.card), message, advice));
    }
    for (face, element) in cx.marks().filter(|(_, element)| prints_in(element, &Ink::All)) {
        let words = match &element.mark {
            Mark::Picture(_) => "a picture",
            Mark::Shading(_) => "a blend",
            Mark::Path(path) if path.fill.as_ref().is_some_and(|p| p.flat().is_none()) => "a pattern",
            // Flat paint is told above.
            Mark::Path(_) | Mark::Text(_) => continue,
        };
        let message = format!("{words} in registration colour (All) prints on every plate");
        found.push(CHECK.finding(cx.card.place(face.side, element.bounds, element.object), message, advice));
    }
    Outcome::from(found)
}

/// Whether a colour prints solid on every process plate.
fn four_solids(colour: &Colour) -> bool {
    colour.process().is_some_and(|tints| tints.iter().all(|t| *t >= SOLID))
}

/// Whether a colour is registration colour, in name or not.
pub(super) fn is_everywhere(colour: &Colour) -> bool {
    four_solids(colour) || colour.tints().is_some_and(|tints| tints.iter().any(|(ink, _)| *ink == Ink::All))
}
