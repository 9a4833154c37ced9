use std::sync::Arc;

use crate::model::FoldName;
use crate::unit::{Length, Size};

use super::{GrainWord, MarksSection, RowsWord, StandardWord, StockSection, StyleWord};

/// A fold asked for by name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FoldWish {
    /// Its kind.
    pub kind: FoldName,
    /// Panels of an accordion fold.
    pub panels: Option<usize>,
}

/// A print condition asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ConditionWish {
    /// One that is built in: coated or uncoated.
    Named(String),
    /// A CMYK output profile: its file's name and bytes.
    Profile(String, Arc<[u8]>),
}

/// What is asked of an artwork PDF, which cannot say it itself.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct CardWishes {
    /// Flat size; the TrimBox where not stated.
    pub size: Option<Size>,
    /// Fold.
    pub fold: Option<FoldWish>,
    /// Colour past the trim; 1/8 in where not stated.
    pub bleed: Option<Length>,
    /// How far needed matter keeps from the trim; 1/8 in where not stated.
    pub safe: Option<Length>,
    /// Print condition; coated where not stated.
    pub condition: Option<ConditionWish>,
    /// Whether carts are used.
    pub carts: bool,
    /// Texts that must stand on the card word for word.
    pub required: Vec<String>,
    /// The page that is the outside, from 1; the first where neither page is stated.
    pub outside: Option<u32>,
    /// The page that is the inside; the second where neither page is stated.
    pub inside: Option<u32>,
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
    /// What the press file keeps; PDF/X-4 where not stated.
    pub standard: Option<StandardWord>,
    /// Which marks are printed.
    pub marks: MarksSection,
    /// The stock.
    pub stock: StockSection,
}
