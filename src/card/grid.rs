use super::Side;
use crate::scorecard::Who;
use crate::unit::Rect;

/// Where the grid of the scorecard stands: rows, columns and cells with their roles.
///
/// A row is one line of data (a tee, the pars, a player) and a column one hole or total, whichever way the grid reads: on
/// a grid that reads down the rects of a row stand upright.
#[derive(Clone, PartialEq, Debug)]
pub struct GridPlan {
    /// The face it stands on.
    pub side: Side,
    /// Which way the holes run.
    pub direction: Direction,
    /// All of it.
    pub bounds: Rect,
    /// Lines of data, from the grid's top.
    pub rows: Vec<Row>,
    /// Holes and totals, from the grid's left.
    pub columns: Vec<Column>,
    /// The boxes, row by row.
    pub cells: Vec<Cell>,
}

/// Which way the holes run, and where the top of the grid is on the opened face.
///
/// A grid that reads down is read with the card turned so that its long way stands upright. Then each hole is a line from
/// left to right and each tee or player a narrow upright column, labels at the head. On the flat face with the top at the left this
/// is the across grid mirrored in its diagonal, not a turned one: holes still run from left to right along the long way of
/// the card, tees and players follow each other from the bottom edge to the top edge, and numbers are set with their heads to the left.
/// With the top at the right holes run right to left, tees and players from the top edge to the bottom edge, heads to the right.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Direction {
    /// Holes run left to right; the grid's top is the face's top.
    Across,
    /// The card is turned to be read and holes run down it.
    Down {
        /// Whether the grid's top lies at the left of the opened face (else at the right).
        top_at_left: bool,
    },
}

/// What a row holds.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum RowRole {
    /// Hole numbers.
    Holes,
    /// Lengths of a tee, by its index in the scorecard.
    Tee(usize),
    /// Par of one gender or of everyone.
    Par(Who),
    /// Par of men and women in one row, men first, with a slash where they differ.
    ParBoth,
    /// Stroke index of one gender or of everyone.
    StrokeIndex(Who),
    /// Stroke index of men and women in one row, men first, with a slash where they differ.
    StrokeIndexBoth,
    /// A player's line to write on, counted from 0.
    Player(usize),
    /// A combination of tees, by its index in the scorecard.
    Combo(usize),
    /// Pace-of-play times.
    Pace,
    /// Anything else, by its label.
    Free(String),
}

/// One line of data.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    /// What it holds.
    pub role: RowRole,
    /// What its name cell says.
    pub label: String,
    /// All of it, over every panel it crosses.
    pub rect: Rect,
}

/// A half of the round.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Half {
    /// Holes 1 to 9.
    Out,
    /// Holes 10 to 18.
    In,
}

/// What a column holds.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub enum ColumnRole {
    /// Row labels and players' names.
    Name,
    /// Member numbers.
    Member,
    /// A hole, 1 to 18.
    Hole(u8),
    /// The total of a half.
    Half(Half),
    /// Players' initials, repeated beside the second nine.
    Initials,
    /// The total of the round.
    Total,
    /// Handicap.
    Handicap,
    /// Net score.
    Net,
    /// Course Rating and slope beside the tee.
    Rating,
    /// Anything else, by its heading.
    Free(String),
}

/// One hole or total.
#[derive(Clone, PartialEq, Debug)]
pub struct Column {
    /// What it holds.
    pub role: ColumnRole,
    /// All of it.
    pub rect: Rect,
}

/// One box.
#[derive(Clone, PartialEq, Debug)]
pub struct Cell {
    /// Index in [`GridPlan::rows`].
    pub row: usize,
    /// Index in [`GridPlan::columns`]; the first one where a cell spans several.
    pub column: usize,
    /// Its box, between the rules.
    pub rect: Rect,
    /// What is printed in it; empty for a box to write in.
    pub text: String,
}

impl GridPlan {
    /// The cell where a row and a column meet.
    pub fn cell(&self, row: usize, column: usize) -> Option<&Cell> {
        self.cells.iter().find(|c| c.row == row && c.column == column)
    }

    /// The index of the first row with this role.
    pub fn row(&self, role: &RowRole) -> Option<usize> {
        self.rows.iter().position(|r| r.role == *role)
    }

    /// The index of the first column with this role.
    pub fn column(&self, role: &ColumnRole) -> Option<usize> {
        self.columns.iter().position(|c| c.role == *role)
    }

    /// How many lines there are for players.
    pub fn players(&self) -> usize {
        self.rows.iter().filter(|r| matches!(r.role, RowRole::Player(_))).count()
    }
}

impl RowRole {
    /// Whether people write in this row.
    pub const fn is_written(&self) -> bool {
        matches!(self, Self::Player(_))
    }
}
