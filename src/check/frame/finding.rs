use std::cmp::Reverse;
use std::fmt;

use crate::card::{Place, Side};
use crate::unit::{Length, Reading};

/// How much a finding weighs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Severity {
    /// Worth knowing; the card prints well as it is.
    Note,
    /// Look at it before printing.
    Warning,
    /// Do not print it like this; stops `impose`.
    Error,
}

impl Severity {
    /// All three, lightest first.
    pub const ALL: [Self; 3] = [Self::Note, Self::Warning, Self::Error];

    /// `note`, `warning`, `error`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }

    /// The severity of a name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.name() == name)
    }
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// One thing that would print, fold, read or be written on badly.
#[derive(Clone, PartialEq, Debug)]
pub struct Finding {
    /// The check's id.
    pub check: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What was measured and the limit it was held against, where the check measures.
    pub reading: Option<Reading>,
    /// Where.
    pub place: Place,
    /// What is wrong, with the measured value and the limit, one sentence without a full stop.
    pub message: String,
    /// What to move and by how much, one sentence without a full stop.
    pub advice: String,
}

/// What findings of one severity are sorted by: face, panel, then top to bottom and left to right.
pub(crate) type PlaceOrder = (Reverse<Severity>, Option<Side>, Option<usize>, Option<(Reverse<Length>, Length)>);

impl Finding {
    /// The same finding with its reading.
    #[must_use]
    pub fn with(mut self, reading: Reading) -> Self {
        self.reading = Some(reading);
        self
    }

    /// The same finding at another severity.
    #[must_use]
    pub fn at(mut self, severity: Severity) -> Self {
        self.severity = severity;
        self
    }

    /// Its key for sorting; heaviest first, then by place.
    pub(crate) fn order(&self) -> PlaceOrder {
        let at = self.place.rect.map(|r| (Reverse(r.y1), r.x0));
        (Reverse(self.severity), self.place.side, self.place.panel, at)
    }
}
