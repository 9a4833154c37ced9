//! # What it checks
//!
//! Whether anything inside the trim is painted in the colour All, which prints on every plate.
//!
//! # Why it matters
//!
//! All is for crop and registration marks. On the card it is as much ink as the press can lay, which smears and
//! sets off, and shows coloured edges.
//!
//! # What to do
//!
//! Set it in black ink alone. Marks belong outside the trim.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: the colorant All on page content is a warning. ISO 32000-1, 8.6.6.4: All is
//! every plate.

use super::{Check, Context, Outcome, Severity};
use crate::card::{Mark, PictureSpace};
use crate::ink::Ink;

pub(super) const CHECK: Check = Check {
    id: "registration-colour",
    title: "Registration colour on the card",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("registration_colour.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let everywhere = |tints: &[(Ink, f64)]| tints.iter().any(|(ink, _)| *ink == Ink::All);
    let mut found = Vec::new();
    for inked in cx.inked() {
        let tints = inked.paint.flat().and_then(crate::ink::Colour::tints);
        if tints.is_some_and(|t| everywhere(&t)) {
            let message = format!("{} on the card is in registration colour and prints on every plate", inked.words());
            found.push(CHECK.finding(
                inked.place(cx.card),
                message,
                "set it in black ink alone, or move it outside the trim",
            ));
        }
    }
    for (face, element) in cx.marks() {
        let Mark::Picture(picture) = &element.mark else { continue };
        if matches!(&picture.space, PictureSpace::Inks(inks) if inks.contains(&Ink::All)) {
            let place = cx.card.place(face.side, element.bounds, picture.object);
            let message = "a picture on the card is in registration colour and prints on every plate";
            found.push(CHECK.finding(place, message, "export it in black ink alone"));
        }
    }
    Outcome::from(found)
}
