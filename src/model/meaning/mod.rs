//! The second reading of a card file: whether what is well written can also be made. Counts agree, names lead somewhere, panels exist,
//! widths add up, paths can be drawn.
//!
//! Every part is looked at, whatever the first reading said; what the first reading found at fault is passed over, so that nothing is
//! said of a value that is not the file's own.

mod blocks;
mod card;
mod course;
mod grid;
mod inks;
mod panels;
mod rows;

use super::CardFile;
use super::card_model::fault_at;
use super::reading::{Formatted, Spans, nearest, touches};
use crate::fault::Faults;
use crate::unit::Length;

/// All faults of meaning.
pub(super) fn faults(file: &CardFile, spans: &Spans, unsound: &[String], formatted: &[Formatted]) -> Faults {
    let mut ground = Ground { file, spans, unsound, doubted: Vec::new(), faults: Faults::new() };
    card::look(&mut ground);
    inks::look(&mut ground, formatted);
    course::look(&mut ground);
    grid::look(&mut ground);
    panels::look(&mut ground);
    ground.faults
}

/// What every part of the second reading has before it.
struct Ground<'a> {
    file: &'a CardFile,
    spans: &'a Spans,
    /// Paths at which the value is not what the file says.
    unsound: &'a [String],
    /// Paths at which this reading found a fault.
    doubted: Vec<String>,
    faults: Faults,
}

impl Ground<'_> {
    /// Whether the value at `path` is what the file says, all of it.
    fn sound(&self, path: &str) -> bool {
        !self.unsound.iter().any(|u| touches(u, path))
    }

    /// Whether every value at these paths can be built upon: neither reading found a fault there.
    fn firm(&self, paths: &[&str]) -> bool {
        paths.iter().all(|path| self.sound(path) && !self.doubted.iter().any(|d| touches(d, path)))
    }

    /// Notes a fault at `path`, unless the first reading has one there; `hint` may be empty.
    fn fault(&mut self, path: &str, message: impl Into<String>, hint: impl Into<String>) {
        if self.sound(path) {
            let fault = fault_at(self.spans, path, message);
            let hint = hint.into();
            self.doubted.push(path.to_owned());
            self.faults.push(if hint.is_empty() { fault } else { fault.hint(hint) });
        }
    }

    /// A fault where a text that must say something is blank.
    fn not_blank(&mut self, path: &str, text: &str, what: &str) {
        if text.trim().is_empty() {
            self.fault(path, format!("{what} is blank"), "");
        }
    }

    /// A fault where a length is not between two others.
    fn within(&mut self, path: &str, length: Length, least: Length, most: Length, what: &str) {
        if length < least || length > most {
            let message = format!("{what} is {length}, which cannot be made");
            self.fault(path, message, format!("it may be from {least} to {most}"));
        }
    }

    /// The line a path is at, for pointing back to it.
    fn line(&self, path: &str) -> usize {
        self.spans.at(path).line_column().0
    }
}

/// `the nearest is "Heron"; there are "Heron" and "Wren"`.
fn names_there<'a>(written: &str, names: impl Iterator<Item = &'a str> + Clone) -> String {
    let all: Vec<String> = names.clone().map(|n| format!("\"{n}\"")).collect();
    let there = match all.as_slice() {
        [] => return "there are none".to_owned(),
        [only] => format!("there is only {only}"),
        all => format!("there are {}", super::reading::listed(all, "and")),
    };
    match nearest(written, names) {
        Some(near) => format!("the nearest is \"{near}\"; {there}"),
        None => there,
    }
}
