use super::raster::Raster;
use super::{Block, Gutters, count};
use crate::unit::{Length, Point, Size, Turn};

/// A piece with the gutter at its right and above it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    trim: Size,
    step: Size,
    turn: Turn,
}

impl Cell {
    pub(super) fn new(trim: Size, gutters: Gutters, turn: Turn) -> Self {
        let step = Size::new(trim.width + gutters.across, trim.height + gutters.up);
        Self { trim, step, turn }
    }

    /// Columns and rows in a room.
    fn fills(&self, room: Size) -> (i64, i64) {
        let along = |room, step| count(room, step, Length::ZERO, Length::ZERO);
        (along(room.width, self.step.width), along(room.height, self.step.height))
    }

    fn block(&self, at: Point, room: Size) -> Block {
        let (columns, rows) = self.fills(room);
        Block { at, columns, rows, turn: self.turn, trim: self.trim, step: self.step }
    }

    /// How many cells the area of a room would hold.
    fn by_area(&self, room: Size) -> i64 {
        let area = |s: Size| i128::from(s.width.get().max(0)) * i128::from(s.height.get().max(0));
        i64::try_from(area(room) / area(self.step).max(1)).unwrap_or(i64::MAX)
    }
}

/// Blocks from the lower left of the room, and a bound on what any layout holds.
pub(super) struct Found {
    pub(super) blocks: Vec<Block>,
    pub(super) bound: i64,
}

/// The better of the grids; of equals the first.
pub(super) fn one_way(room: Size, cells: &[Cell]) -> Found {
    let blocks = cells.iter().rev().map(|cell| cell.block(Point::default(), room));
    let best = blocks.max_by_key(Block::number).filter(|block| block.number() > 0);
    Found { bound: best.map_or(0, |b| b.number()), blocks: best.into_iter().collect() }
}

/// What is best in a part of the room: pieces, then few blocks.
#[derive(Clone, Copy, Default)]
struct Best {
    pieces: i64,
    blocks: i64,
    how: How,
}

impl Best {
    const fn beats(&self, other: &Self) -> bool {
        self.pieces > other.pieces || (self.pieces == other.pieces && self.blocks < other.blocks)
    }
}

#[derive(Clone, Copy, Default)]
enum How {
    #[default]
    Nothing,
    /// One grid of this cell.
    Grid(usize),
    /// Parted at this place along the width.
    Beside(usize),
    /// Parted at this place along the height.
    Above(usize),
}

/// The better of what is known and two parts side by side or one above the other.
fn parted(best: Best, a: Best, b: Best, how: How) -> Best {
    let both = Best { pieces: a.pieces + b.pieces, blocks: a.blocks + b.blocks, how };
    if both.beats(&best) { both } else { best }
}

/// The best guillotine layout, cells lying every way that is given.
pub(super) fn mixed(room: Size, cells: &[Cell], effort: u64) -> Found {
    let area = cells.iter().map(|cell| cell.by_area(room)).max().unwrap_or(0);
    let widths: Vec<Length> = cells.iter().map(|c| c.step.width).collect();
    let heights: Vec<Length> = cells.iter().map(|c| c.step.height).collect();
    // So many places that the work of a square of them stays within the effort: n² states, n/2 cuts each, both ways.
    let most = (1_usize..4000).find(|n| (*n as u64).pow(3) > effort).unwrap_or(4000).saturating_sub(1).max(4);
    let full = Raster::full(room.width, &widths, most * most).zip(Raster::full(room.height, &heights, most * most));
    let full = full.filter(|(x, y)| work(x, y) <= effort);
    let exact = full.is_some();
    let (xs, ys) =
        full.unwrap_or_else(|| (Raster::thin(room.width, &widths, most), Raster::thin(room.height, &heights, most)));
    let table = Table::filled(room, &xs, &ys, cells);
    let mut blocks = Vec::new();
    table.lay(xs.len() - 1, ys.len() - 1, Point::default(), cells, &mut blocks);
    let number: i64 = blocks.iter().map(Block::number).sum();
    Found { blocks, bound: if exact { number } else { area.max(number) } }
}

fn work(xs: &Raster, ys: &Raster) -> u64 {
    let (x, y) = (xs.len() as u64, ys.len() as u64);
    x.saturating_mul(y).saturating_mul(x + y) / 2
}

/// The best of every part of the room whose sides are places of the rasters.
struct Table<'a> {
    xs: &'a Raster,
    ys: &'a Raster,
    best: Vec<Best>,
}

impl<'a> Table<'a> {
    fn filled(room: Size, xs: &'a Raster, ys: &'a Raster, cells: &[Cell]) -> Self {
        let mut table = Self { xs, ys, best: Vec::with_capacity(xs.len() * ys.len()) };
        let rest = |raster: &Raster| -> Vec<Vec<usize>> {
            let rests = |n: usize| (0..=n).map(|cut| raster.last_within(raster.at(n) - raster.at(cut))).collect();
            (0..raster.len()).map(rests).collect()
        };
        let (rest_x, rest_y) = (rest(xs), rest(ys));
        for (x, rest_x) in rest_x.iter().enumerate() {
            for (y, rest_y) in rest_y.iter().enumerate() {
                let size = Size::new(xs.at(x).min(room.width), ys.at(y).min(room.height));
                let mut best = Best::default();
                for (n, cell) in cells.iter().enumerate() {
                    let (columns, rows) = cell.fills(size);
                    let grid = Best { pieces: columns * rows, blocks: 1, how: How::Grid(n) };
                    if grid.pieces > 0 && grid.beats(&best) {
                        best = grid;
                    }
                }
                // The smaller part of a cut comes first: its mirror image is as good.
                for (cut, rest) in rest_x.iter().enumerate().skip(1).take_while(|(cut, rest)| cut <= rest) {
                    best = parted(best, table.at(cut, y), table.at(*rest, y), How::Beside(cut));
                }
                for (cut, rest) in rest_y.iter().enumerate().skip(1).take_while(|(cut, rest)| cut <= rest) {
                    best = parted(best, table.at(x, cut), table.at(x, *rest), How::Above(cut));
                }
                table.best.push(best);
            }
        }
        table
    }

    fn at(&self, x: usize, y: usize) -> Best {
        self.best.get(x * self.ys.len() + y).copied().unwrap_or_default()
    }

    /// The blocks of a part of the room, from its lower left corner.
    fn lay(&self, x: usize, y: usize, at: Point, cells: &[Cell], blocks: &mut Vec<Block>) {
        let size = Size::new(self.xs.at(x), self.ys.at(y));
        match self.at(x, y).how {
            How::Nothing => {}
            How::Grid(n) => blocks.extend(cells.get(n).map(|cell| cell.block(at, size))),
            How::Beside(cut) => {
                let width = self.xs.at(cut);
                self.lay(cut, y, at, cells, blocks);
                self.lay(self.xs.last_within(size.width - width), y, at.moved(width, Length::ZERO), cells, blocks);
            }
            How::Above(cut) => {
                let height = self.ys.at(cut);
                self.lay(x, cut, at, cells, blocks);
                self.lay(x, self.ys.last_within(size.height - height), at.moved(Length::ZERO, height), cells, blocks);
            }
        }
    }
}
