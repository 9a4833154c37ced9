//! The most pieces of one size that a guillotine can cut out of a room, in one grid or with pieces lying both ways.
//!
//! Every layout here is made of blocks, grids of pieces that lie the same way, parted by edge-to-edge cuts. Mixed layouts break the
//! rule of the grain: what lies the other way folds across it.

mod parent;
mod raster;
mod search;

use super::fit::{Gutters, count};
use crate::fault::{Fault, Result, Source};
use crate::unit::{Length, Point, Rect, Size, Turn};
use search::Cell;

pub use parent::{CutDown, SheetRange, equal_parts, sheets_out_of};

/// How pieces may lie.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Lie {
    /// All of them turned alike, this way.
    OneWay(Turn),
    /// All of them alike, whichever way gives more.
    BetterWay,
    /// Upright and turned ones side by side, where that gives more. Breaks the rule of the grain.
    Mixed,
}

/// What parts neighbouring trims.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Spacing {
    /// A strip of waste, cut at both sides; at least two bleeds.
    Gutters(Gutters),
    /// One cut shared by both: only where both sides of it are plain paper or the same flat tint.
    CommonCuts,
}

/// What is asked: how many trims lie in a room.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct UpRequest {
    /// What can be printed.
    pub room: Size,
    /// The trim of an upright piece.
    pub trim: Size,
    /// Colour past the trim; kept free of the edges of the room.
    pub bleed: Length,
    /// What parts neighbours.
    pub spacing: Spacing,
    /// How pieces may lie.
    pub lie: Lie,
    /// The most steps of the search; [`EFFORT`] is plenty for cards.
    pub effort: u64,
}

/// Steps that a search may take where nothing else is said: a hundred times what any usual card takes on any named sheet (counted:
/// 4.5 x 6 in on 28 x 40 in has about 20 x 30 places, and so 15 000 steps).
pub const EFFORT: u64 = 20_000_000;

/// A grid of pieces that lie the same way.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Block {
    /// Lower left corner of the first trim, from the lower left of the room.
    pub at: Point,
    /// Columns of pieces.
    pub columns: i64,
    /// Rows of pieces.
    pub rows: i64,
    /// How its pieces are turned.
    pub turn: Turn,
    /// Trim as it lies.
    pub trim: Size,
    /// From one trim to the next.
    pub step: Size,
}

impl Block {
    /// Pieces in it.
    pub const fn number(&self) -> i64 {
        self.columns * self.rows
    }

    /// Every trim, row by row from the lower left.
    pub fn trims(&self) -> impl Iterator<Item = Rect> + '_ {
        let place = |row, column| self.at.moved(self.step.width * column, self.step.height * row);
        (0..self.rows).flat_map(move |row| (0..self.columns).map(move |column| Rect::at(place(row, column), self.trim)))
    }
}

/// The most that was found, and what is known of the best there can be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MostUp {
    /// Its blocks; trims of different blocks keep the spacing too.
    pub blocks: Vec<Block>,
    /// No guillotine layout of this request holds more than this.
    pub bound: i64,
}

impl MostUp {
    /// Pieces in the room.
    pub fn number(&self) -> i64 {
        self.blocks.iter().map(Block::number).sum()
    }

    /// Whether no layout holds more.
    pub fn proven(&self) -> bool {
        self.number() == self.bound
    }

    /// Whether pieces lie both ways, which breaks the rule of the grain.
    pub fn mixed(&self) -> bool {
        self.blocks.windows(2).any(|pair| matches!(pair, [a, b] if a.turn.swaps() != b.turn.swaps()))
    }

    /// Trims and their turns on the sheet, all together centred in the printable area.
    pub fn placed(&self, printable: Rect) -> Vec<(Rect, Turn)> {
        let trims: Vec<(Rect, Turn)> =
            self.blocks.iter().flat_map(|block| block.trims().map(|trim| (trim, block.turn))).collect();
        let Some(all) = trims.iter().map(|(trim, _)| *trim).reduce(Rect::union) else { return trims };
        let dx = printable.x0 + (printable.width() - all.width()).half() - all.x0;
        let dy = printable.y0 + (printable.height() - all.height()).half() - all.y0;
        trims.into_iter().map(|(trim, turn)| (trim.moved(dx, dy), turn)).collect()
    }
}

/// Lays the most pieces into a room. The optimum over every guillotine layout, by dynamic programming over the places that sums of
/// piece sizes can reach; where that would take more steps than `effort`, the best over fewer places, with a bound on what is missed.
/// Of equal numbers the layout with the fewest blocks, and so the fewest cuts.
///
/// # Errors
/// Trim, bleed or gutters that are no sizes.
pub fn most_up(ask: &UpRequest) -> Result<MostUp> {
    let gutters = match ask.spacing {
        Spacing::Gutters(gutters) => gutters,
        Spacing::CommonCuts => Gutters::all(Length::ZERO),
    };
    sound(ask, gutters)?;
    let turns = match ask.lie {
        Lie::OneWay(turn) => vec![turn],
        Lie::BetterWay | Lie::Mixed => vec![Turn::None, Turn::Left],
    };
    let cells: Vec<Cell> = turns.iter().map(|turn| Cell::new(ask.trim.turned(*turn), gutters, *turn)).collect();
    // A gutter lies between neighbours only, so that the room is one gutter larger than what the cells may fill.
    let room = Size::new(ask.room.width - ask.bleed * 2 + gutters.across, ask.room.height - ask.bleed * 2 + gutters.up);
    let found =
        if ask.lie == Lie::Mixed { search::mixed(room, &cells, ask.effort) } else { search::one_way(room, &cells) };
    let blocks = found.blocks.into_iter().map(|block| Block { at: block.at.moved(ask.bleed, ask.bleed), ..block });
    Ok(MostUp { blocks: blocks.collect(), bound: found.bound })
}

fn sound(ask: &UpRequest, gutters: Gutters) -> Result<()> {
    let zero = Length::ZERO;
    let (message, hint) = if ask.trim.width <= zero || ask.trim.height <= zero {
        (format!("a piece of {} is no piece", ask.trim.card_text()), "give a height and a width above zero")
    } else if ask.bleed < zero || gutters.across < zero || gutters.up < zero {
        ("bleed and gutters cannot be less than nothing".to_owned(), "give zero or more")
    } else if matches!(ask.spacing, Spacing::Gutters(_)) && gutters.across.min(gutters.up) < ask.bleed * 2 {
        let narrow = gutters.across.min(gutters.up);
        (format!("the gutter of {narrow} is narrower than two bleeds, {}", ask.bleed * 2), "make it two bleeds or more")
    } else {
        return Ok(());
    };
    Err(Fault::new(Source::Nowhere, message).hint(hint).into())
}
