use crate::model::FoldName;
use crate::unit::{Length, Size};

use super::{GrainWord, MarksSection, RowsWord, StockSection, StyleWord};

/// A fold asked for by name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FoldWish {
    /// Its kind.
    pub kind: FoldName,
    /// Panels of an accordion fold.
    pub panels: Option<usize>,
}

/// What is asked of an artwork PDF, which cannot say it itself.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct CardWishes {
    /// Flat size; the TrimBox where not stated.
    pub size: Option<Size>,
    /// Fold.
    pub fold: Option<FoldWish>,
    /// Print condition: coated, uncoated, or the name of a profile.
    pub condition: Option<String>,
    /// Whether carts are used.
    pub carts: bool,
    /// Password of an encrypted PDF.
    pub password: Option<String>,
}

impl CardWishes {
    /// Whether anything is asked that a card file says itself.
    pub fn is_any(&self) -> bool {
        *self != Self::default()
    }
}

/// What is asked of the sheet.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct SheetWishes {
    /// Name or number of the job.
    pub name: Option<String>,
    /// How many finished cards.
    pub quantity: Option<u32>,
    /// Sheet size as written.
    pub size: Option<String>,
    /// Work style.
    pub style: Option<StyleWord>,
    /// How rows meet.
    pub rows: Option<RowsWord>,
    /// Grain of the stock.
    pub grain: Option<GrainWord>,
    /// Gripper margin.
    pub gripper: Option<Length>,
    /// Tail margin.
    pub tail: Option<Length>,
    /// Side margins.
    pub sides: Option<Length>,
    /// Space between trims.
    pub gutter: Option<Length>,
    /// One card with bleed and crop marks.
    pub one_up: bool,
    /// Which marks are printed.
    pub marks: MarksSection,
    /// The stock.
    pub stock: StockSection,
}
