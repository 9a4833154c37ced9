use super::{ColumnRole, RowRole, Side};
use crate::fault::{Source, Span};
use crate::unit::{Length, Rect};

/// Where a finding points.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Place {
    /// The face.
    pub side: Option<Side>,
    /// The panel, from 1, left to right on that face.
    pub panel: Option<usize>,
    /// In words: `row "Heron", hole 7`, `cover picture`.
    pub what: Option<String>,
    /// The rectangle in face coordinates.
    pub rect: Option<Rect>,
    /// The line of the card file, or the object of the PDF.
    pub source: Source,
}

impl Place {
    /// The place in words, without its source: `inside, panel 1, row "Heron", hole 7`.
    pub fn words(&self) -> String {
        let side = self.side.map(|s| s.to_string());
        let panel = self.panel.map(|n| format!("panel {n}"));
        [side, panel, self.what.clone()].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// A stretch of the card file and the part of a face that it made.
#[derive(Clone, PartialEq, Debug)]
pub struct Traced {
    /// The face.
    pub side: Side,
    /// What it made there.
    pub rect: Rect,
    /// What it is, in words.
    pub what: String,
    /// The stretch of the card file.
    pub span: Span,
}

/// Which number of the scorecard a stretch of the card file states.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct NumberPlace {
    /// The row it belongs to.
    pub row: RowRole,
    /// The column, or `None` for the whole row.
    pub column: Option<ColumnRole>,
}

/// From places on the faces, and from numbers, back to the card file. Empty for artwork.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Trace {
    /// Parts of the faces, in painting order; the smallest that holds a place is the one meant.
    pub parts: Vec<Traced>,
    /// Numbers of the scorecard.
    pub numbers: Vec<(NumberPlace, Span)>,
    /// Whole settings by their path in the card file, such as `card.size`.
    pub settings: Vec<(String, Span)>,
}

impl Trace {
    /// The smallest part of the card file's doing that holds `rect`.
    pub fn part(&self, side: Side, rect: Rect) -> Option<&Traced> {
        self.parts
            .iter()
            .filter(|t| t.side == side && t.rect.holds(rect.centre()))
            .min_by_key(|t| (t.rect.width().get().saturating_add(t.rect.height().get()), t.span.range.start))
    }

    /// Where a number is stated; the whole row where the column is not stated alone.
    pub fn number(&self, row: &RowRole, column: Option<&ColumnRole>) -> Option<&Span> {
        let find = |column: Option<&ColumnRole>| {
            self.numbers.iter().find(|(p, _)| p.row == *row && p.column.as_ref() == column).map(|(_, span)| span)
        };
        find(column).or_else(|| find(None))
    }

    /// Where a setting stands.
    pub fn setting(&self, path: &str) -> Option<&Span> {
        self.settings.iter().find(|(p, _)| p == path).map(|(_, span)| span)
    }
}

/// Text that does not fit where it was to go; the typesetter leaves it as it is and says so.
#[derive(Clone, PartialEq, Debug)]
pub struct Overset {
    /// Where it was to go.
    pub place: Place,
    /// What it says.
    pub text: String,
    /// The room there is, along the direction in which it is short.
    pub room: Length,
    /// The room it needs.
    pub needs: Length,
    /// Whether it is short in height (lines) and not in width.
    pub in_height: bool,
}
