use std::fmt;

use super::marks::{Edge, MarkKind};
use super::stock::{SCORE_ABOVE_CALIPER, SCORE_ABOVE_GSM};
use crate::unit::Length;

/// Something about the plan that does not stop it and that the press room must know.
#[derive(Clone, PartialEq, Debug)]
pub enum Remark {
    /// Folds run across the grain; so many cards would lie on the sheet with the grain.
    AgainstGrain {
        /// Cards on a sheet in this plan.
        planned: usize,
        /// Cards on a sheet with the folds along the grain; zero where none fits.
        with_grain: usize,
    },
    /// The grain is not stated, and the card folds.
    GrainUnknown {
        /// Whether the folds of this plan run along the long side of the sheet.
        folds_along_long: bool,
    },
    /// The stock is heavy or thick enough to crack at an unscored fold.
    WantsScore,
    /// A mark that was asked for finds no room.
    NoRoom {
        /// Which mark.
        mark: MarkKind,
        /// At which edge of the front form; `None` for marks that could go to any.
        edge: Option<Edge>,
        /// How much room is missing between bleed and the edge of the printable area.
        missing: Length,
    },
    /// Marks that are shorter than usual because there is no more room.
    Shortened {
        /// Which marks.
        mark: MarkKind,
        /// At which edge of the front form.
        edge: Edge,
        /// How long they are.
        length: Length,
    },
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AgainstGrain { planned, with_grain: 0 } => {
                write!(f, "folds run across the grain; no card of the {planned} would fit with the folds along it")
            }
            Self::AgainstGrain { planned, with_grain } => write!(
                f,
                "folds run across the grain: {planned} cards a sheet this way, {with_grain} with the folds along the grain"
            ),
            Self::GrainUnknown { folds_along_long } => {
                let side = if *folds_along_long { "long" } else { "short" };
                write!(f, "the grain is not stated; folds run along the {side} side, so ask for grain {side}")
            }
            Self::WantsScore => {
                write!(f, "score before folding: the stock is above {SCORE_ABOVE_GSM} g/m² or {SCORE_ABOVE_CALIPER}")
            }
            Self::NoRoom { mark, edge: Some(edge), missing } => {
                write!(f, "no room for {mark} at the {edge}: {missing} more is needed outside the bleeds")
            }
            Self::NoRoom { mark, edge: None, missing } => {
                write!(f, "no room for {mark} at any edge: {missing} more is needed outside the bleeds")
            }
            Self::Shortened { mark, edge, length } => {
                write!(f, "{mark} at the {edge} are only {length} long; there is no more room")
            }
        }
    }
}
