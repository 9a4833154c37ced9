//! Colours of rows and cells.

use super::Setting;
use crate::card::{ColumnRole, RowRole};
use crate::ink::Colour;
use crate::model::{ColourText, RowSection, TeeShown};

/// How a cell looks.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Look {
    /// Behind it, where it is not paper.
    pub(super) fill: Option<Colour>,
    /// Its text.
    pub(super) text: Colour,
}

impl Setting<'_> {
    fn row_section(&self, row: usize) -> Option<&RowSection> {
        self.section.rows.get(self.rows.get(row)?.ask.section)
    }

    fn stated(&self, text: Option<&ColourText>) -> Option<Colour> {
        text.map(|t| self.model.colour(t))
    }

    /// The look of a row as a whole.
    pub(super) fn row_look(&self, row: usize) -> Look {
        let section = self.row_section(row);
        let tint = self.stated(section.and_then(|s| s.fill.as_ref()));
        let text = self.stated(section.and_then(|s| s.colour.as_ref()));
        match self.rows.get(row).map(|r| &r.ask.role) {
            Some(RowRole::Tee(n)) => {
                let own = self.tee_look(*n, tint.as_ref()).unwrap_or(Look { fill: tint, text: Colour::BLACK });
                Look { text: text.unwrap_or(own.text), ..own }
            }
            Some(RowRole::Combo(n)) => {
                let colour = self.model.file.combos.get(*n).and_then(|c| c.colour.as_ref());
                let text = text.or_else(|| self.stated(colour)).unwrap_or(Colour::BLACK);
                Look { fill: tint, text }
            }
            _ => Look { fill: tint, text: text.unwrap_or(Colour::BLACK) },
        }
    }

    /// A tee's numbers on its fill, or in its colour on `ground`.
    fn tee_look(&self, tee: usize, ground: Option<&Colour>) -> Option<Look> {
        let (section, text) = (self.model.file.tees.get(tee)?, self.tee_numbers.get(tee)?.clone());
        let fill = match section.shown {
            TeeShown::Numbers => ground.cloned(),
            TeeShown::Fill => Some(self.model.colour(&section.colour)),
        };
        Some(Look { fill, text })
    }

    /// The look of a cell where it differs from its row's: the holes of a combination show the tee that they play from.
    pub(super) fn cell_look(&self, row: usize, column: usize) -> Option<Look> {
        let (RowRole::Combo(n), ColumnRole::Hole(hole)) =
            (&self.rows.get(row)?.ask.role, &self.columns.get(column)?.ask.role)
        else {
            return None;
        };
        let name = self.model.file.combos.get(*n)?.tees.get(usize::from(*hole).checked_sub(1)?)?;
        let tee = self.model.file.tees.iter().position(|t| t.name == *name)?;
        self.tee_look(tee, self.row_look(row).fill.as_ref())
    }
}
