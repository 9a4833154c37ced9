//! # What it checks
//!
//! Whether each text that the card must carry, such as the liability note, stands on one of its faces word for
//! word: letters, figures, signs and capitals alike. How its lines break does not matter.
//!
//! # Why it matters
//!
//! The club's counsel approved certain words. A slip of one word may make the note worthless, and nobody reads the
//! small print of a proof.
//!
//! # What to do
//!
//! Set the text exactly as it was approved. The wording is for the club's own counsel; this check only looks
//! whether it is there.
//!
//! # Source of the limit
//!
//! The `required` texts of the card.

use super::frame::quoted;
use super::{Check, Context, Outcome, Severity};
use crate::card::{Place, Side};
use crate::fault::Source;
use crate::unit::Length;

pub(super) const CHECK: Check = Check {
    id: "required-text",
    title: "Words that must stand on the card",
    severity: Severity::Error,
    bounds: &[],
    doc: include_str!("required_text.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    if cx.card.required.is_empty() {
        return Outcome::skipped("no text is required");
    }
    let spoken: Vec<String> =
        cx.card.faces.iter().flat_map(|face| [painted(cx, face.side), read(cx, face.side)]).collect();
    let missing = cx.card.required.iter().filter_map(|required| {
        let wanted = bare(required);
        let there = spoken.iter().map(|face| longest_start(face, &wanted)).max().unwrap_or(0);
        if there >= wanted.chars().count() {
            return None;
        }
        let message = format!("the required text {} does not stand on the card word for word", quoted(required));
        let advice = match (there * 3 >= wanted.chars().count()).then(|| end_of(required, there)).flatten() {
            Some(last) => format!("it goes wrong after \"… {last}\": set it exactly as it was approved"),
            None => "set it on one of the panels, exactly as it was approved".to_owned(),
        };
        let span = cx.card.trace.setting("card.required");
        let source = span.map_or_else(|| Source::File(cx.card.file.clone()), |span| span.clone().into());
        Some(CHECK.finding(Place { source, what: Some(quoted(required)), ..Place::default() }, message, advice))
    });
    Outcome::from(missing.collect::<Vec<_>>())
}

/// A text without white space and soft hyphens: lines and runs may break anywhere.
fn bare(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace() && *c != '\u{ad}').collect()
}

/// All text of a face in painting order.
fn painted(cx: &Context<'_>, side: Side) -> String {
    cx.texts().filter(|t| t.face.side == side).map(|t| bare(&t.run.text)).collect()
}

/// All text of a face as it is read: panel by panel, lines from the top, runs of a line from the left.
fn read(cx: &Context<'_>, side: Side) -> String {
    let mut runs: Vec<_> = cx.texts().filter(|t| t.face.side == side).collect();
    let panel = |rect| cx.card.panel_at(side, rect).map_or(0, |p| p.number);
    // Baselines within a point of each other are one line.
    runs.sort_by_key(|t| {
        let line = t.run.origin.y.times(Length::pt(1));
        (panel(t.element.bounds), std::cmp::Reverse(line), t.run.origin.x)
    });
    runs.iter().map(|t| bare(&t.run.text)).collect()
}

/// How many letters from the start of `wanted` stand together somewhere in `text`.
fn longest_start(text: &str, wanted: &str) -> usize {
    if text.contains(wanted) {
        return wanted.chars().count();
    }
    let starts = text.char_indices().map(|(at, _)| {
        let rest = text.get(at..).unwrap_or_default();
        rest.chars().zip(wanted.chars()).take_while(|(a, b)| a == b).count()
    });
    starts.max().unwrap_or(0)
}

/// The last two words before letter number `letters` (white space not counted) of `text`.
fn end_of(text: &str, letters: usize) -> Option<String> {
    let mut seen = 0;
    let mut words = Vec::new();
    for word in text.split_whitespace() {
        seen += bare(word).chars().count();
        if seen > letters {
            break;
        }
        words.push(word);
    }
    let from = words.len().saturating_sub(2);
    words.get(from..).filter(|w| !w.is_empty()).map(|w| w.join(" "))
}
