//! # What it checks
//!
//! Spot inks whose names say that they are no colour: lines for cutting, creasing and perforating, varnish, glue, foil,
//! and white. Lines for cutting and the like, and varnish, that knock out of the ink below them are errors.
//!
//! # Why it matters
//!
//! Each of them makes a plate of its own. Sent to the press by mistake, a cutting line prints as a bright line on every
//! card; one that knocks out leaves a white hairline in the picture once its plate is taken away.
//!
//! # What to do
//!
//! Take the lines out of the print file, or agree with the printer what each is for; set them to overprint.
//!
//! # Source of the limit
//!
//! Common practice. The words looked for are those of the trade. That an ink's name is its plate: ISO 32000-1, 8.6.6.4.

use super::frame::{Coat, Finding};
use super::ground::Ground;
use super::plates::{ink_place, spots};
use super::{Check, Context, Outcome, Severity};
use crate::ink::{Colour, Ink, Overprint};

pub(super) const CHECK: Check = Check {
    id: "technical-inks",
    title: "Inks that are no colour",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("technical_inks.rs"),
    run,
};

/// What an ink that is no colour is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Kind {
    /// A line for a machine: nothing of it is to be seen.
    Line(&'static str),
    /// A coat over the print.
    Coat(&'static str),
    /// White ink.
    White,
}

fn run(cx: &Context<'_>) -> Outcome {
    let named = spots(cx.card).into_iter().filter(|spot| spot.face.is_some()).filter_map(|spot| {
        let place = ink_place(cx.card, spot.face, &Ink::from_colorant(spot.name));
        let name = spot.name;
        Some(match kind(name)? {
            Kind::Line(what) => CHECK.finding(
                place,
                format!("the ink \"{name}\" is {what} by its name, and makes a plate that prints"),
                "take it out of the print file, or agree with the printer what it is for",
            ),
            Kind::Coat(what) => CHECK
                .finding(
                    place,
                    format!("the ink \"{name}\" is {what} by its name and no colour; it is a plate of its own"),
                    "agree with the printer that it is wanted",
                )
                .at(Severity::Note),
            Kind::White => CHECK
                .finding(
                    place,
                    format!("the ink \"{name}\" is white ink by its name, which bare paper does not need"),
                    "agree with the printer that it is wanted; for bare paper use no ink",
                )
                .at(Severity::Note),
        })
    });
    let knocking = cx.coats().filter_map(|coat| knocks_out(cx, &coat));
    Outcome::from(named.chain(knocking).collect::<Vec<_>>())
}

/// A technical ink that clears what lies below it.
fn knocks_out(cx: &Context<'_>, coat: &Coat<'_>) -> Option<Finding> {
    let Colour::Inks { tints, .. } = coat.opaque()? else { return None };
    let (ink, _) = tints.iter().find(|(ink, tint)| *tint > 0.0 && ink.is_spot())?;
    if coat.overprint() != Overprint::KnockOut || !matches!(kind(ink.name())?, Kind::Line(_) | Kind::Coat(_)) {
        return None;
    }
    let inked = coat.grounds(cx).iter().any(|ground| !matches!(ground, Ground::Flat(under) if under.is_paper()));
    let message =
        format!("{} in \"{ink}\" knocks out of the ink below, which shows once its plate is gone", coat.shape.words());
    inked.then(|| CHECK.finding(coat.place(cx.card), message, "set it to overprint").at(Severity::Error))
}

/// Words of the trade for inks that are no colour.
const WORDS: [(&str, Kind); 24] = [
    ("cut", Kind::Line("a cutting line")),
    ("cutting", Kind::Line("a cutting line")),
    ("cutter", Kind::Line("a cutting line")),
    ("cutcontour", Kind::Line("a cutting line")),
    ("diecut", Kind::Line("a cutting line")),
    ("dieline", Kind::Line("a cutting line")),
    ("die", Kind::Line("a cutting line")),
    ("crease", Kind::Line("a creasing line")),
    ("creasing", Kind::Line("a creasing line")),
    ("scoring", Kind::Line("a creasing line")),
    ("perforation", Kind::Line("a perforating line")),
    ("perforate", Kind::Line("a perforating line")),
    ("perf", Kind::Line("a perforating line")),
    ("foldline", Kind::Line("a folding line")),
    ("fold", Kind::Line("a folding line")),
    ("dimensions", Kind::Line("a drawing of dimensions")),
    ("glue", Kind::Coat("glue")),
    ("adhesive", Kind::Coat("glue")),
    ("varnish", Kind::Coat("varnish")),
    ("lacquer", Kind::Coat("varnish")),
    ("uv", Kind::Coat("varnish")),
    ("emboss", Kind::Coat("embossing")),
    ("embossing", Kind::Coat("embossing")),
    ("foil", Kind::Coat("foil")),
];
/// Words that may stand beside "white" in the name of a white ink.
const BESIDE_WHITE: [&str; 8] = ["opaque", "ink", "under", "underprint", "base", "spot", "print", "plate"];

/// What an ink is for by its name, where that is no colour.
pub(super) fn kind(name: &str) -> Option<Kind> {
    let words = words(name);
    let known = |word: &str| WORDS.iter().find(|(known, _)| *known == word).map(|(_, kind)| *kind);
    let white =
        words.iter().any(|w| w == "white") && words.iter().all(|w| w == "white" || BESIDE_WHITE.contains(&w.as_str()));
    words.iter().find_map(|word| known(word)).or_else(|| known(&words.concat())).or(white.then_some(Kind::White))
}

/// The words of a name in small letters, parted at blanks, signs, figures and capitals inside it.
fn words(name: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut last = ' ';
    for c in name.chars() {
        let begins = !last.is_alphabetic() || (last.is_lowercase() && c.is_uppercase());
        if c.is_alphabetic() {
            match words.last_mut().filter(|_| !begins) {
                Some(word) => word.extend(c.to_lowercase()),
                None => words.push(c.to_lowercase().collect()),
            }
        }
        last = c;
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_read_by_their_words() {
        for name in ["CutContour", "Die-Line", "DIELINE", "cut 2", "Thru-cut"] {
            assert_eq!(kind(name), Some(Kind::Line("a cutting line")), "{name}");
        }
        assert_eq!(kind("Spot UV"), Some(Kind::Coat("varnish")));
        for name in ["White", "Opaque White", "WHITE_INK"] {
            assert_eq!(kind(name), Some(Kind::White), "{name}");
        }
        for name in [
            "Otterby Heath",
            "Shortcut Green",
            "Scorecard Green",
            "White Heather",
            "Diehard",
            "Folder Gray",
            "Unfoiled",
        ] {
            assert_eq!(kind(name), None, "{name}");
        }
    }
}
