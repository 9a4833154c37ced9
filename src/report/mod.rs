//! Reports: what the checks said about a card, for people and for programs.
//!
//! [`text()`] is for people and comes plain or with styles; [`json()`] is for programs and states its own version and shape.
//! Both say what was skipped and what was waived, so that nothing that did not run looks like something that passed.

mod claim;
mod json;
mod palette;
mod text;

use crate::card::Card;
use crate::check::{Checked, Limits};

pub use claim::ClaimReport;
pub use json::{REPORT_VERSION, json, schema};
pub use palette::Palette;
pub use text::{explained, listed, text};

/// What a report tells of.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// The card's title.
    pub title: &'a str,
    /// The file it came from, as the user named it.
    pub file: &'a str,
    /// The limits it was held against.
    pub limits: &'a Limits,
    /// What the checks said.
    pub checked: &'a Checked,
}

impl<'a> Report<'a> {
    /// The report on a card.
    pub fn new(card: &'a Card, limits: &'a Limits, checked: &'a Checked) -> Self {
        Self { title: &card.title, file: &card.file, limits, checked }
    }
}
