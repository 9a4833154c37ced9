//! `[grid]`: the grid to play on.

use schemars::JsonSchema;
use serde::Deserialize;

use super::values::{ColourText, Measure};

/// The grid to play on.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GridSection {
    /// The face it stands on.
    #[serde(default)]
    pub face: FaceName,
    /// The panels it covers, from 1, left to right; they stand side by side. All panels of the face where not stated.
    #[serde(default)]
    pub panels: Vec<usize>,
    /// Whether holes run across the face or down the turned card.
    #[serde(default)]
    pub direction: DirectionName,
    /// On a grid that reads down: which side of the opened face its top lies at.
    #[serde(default)]
    pub top: TopName,
    /// Type family.
    #[serde(default)]
    pub font: GridFont,
    /// Size of the numbers.
    pub size: Option<Measure>,
    /// Space between the grid and the edges of the panels it covers: at the trim and, at half of it or as the fold needs, at folds.
    pub margin: Option<Measure>,
    /// Space above the grid as it is read, where it differs from the margin, such as to keep clear of a cart's clip. On a grid that reads
    /// down this is at the side of the opened face where its top lies.
    pub top_margin: Option<Measure>,
    /// Space below the grid as it is read, where it differs from the margin.
    pub bottom_margin: Option<Measure>,
    /// Space on either side of each fold.
    pub fold_margin: Option<Measure>,
    /// Weight of the rules.
    pub rule: Option<Measure>,
    /// Colour of the rules; black at 60 % where not stated.
    pub rule_colour: Option<ColourText>,
    /// The rows from the top.
    pub rows: Vec<RowSection>,
    /// The columns from the left.
    #[serde(default = "usual_columns")]
    pub columns: Vec<ColumnSection>,
}

/// A face of the card.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FaceName {
    /// The face with the cover.
    Outside,
    /// The face seen when opened.
    #[default]
    Inside,
}

/// Which way the holes run.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum DirectionName {
    /// Left to right.
    #[default]
    Across,
    /// Down the turned card.
    Down,
}

/// Where the top of a grid lies that reads down.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum TopName {
    /// At the left of the opened face.
    #[default]
    Left,
    /// At the right.
    Right,
}

/// Type family of the grid.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum GridFont {
    /// Archivo Narrow.
    #[default]
    Narrow,
    /// IBM Plex Sans Condensed.
    Condensed,
}

/// One row, or several alike.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RowSection {
    /// What the row holds.
    pub row: RowName,
    /// For `tee` and `combo`: which one. Without it, all of them in their order.
    pub of: Option<String>,
    /// For `par` and `stroke-index`: whose; both in one row with a slash where it is not stated and they differ.
    #[serde(rename = "for")]
    pub whose: Option<WhoName>,
    /// For `players`: how many lines; 4 where not stated.
    pub count: Option<usize>,
    /// Height of each row; what is left is shared where not stated.
    pub height: Option<Measure>,
    /// The name in the name column, where it is not the usual one.
    pub label: Option<String>,
    /// For `free`: what each column holds, from hole 1 on.
    #[serde(default)]
    pub cells: Vec<String>,
    /// A tint behind the row.
    pub fill: Option<ColourText>,
    /// Colour of its text; black where not stated.
    pub colour: Option<ColourText>,
}

/// What a row holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RowName {
    /// Hole numbers.
    Holes,
    /// Lengths of a tee.
    Tee,
    /// Pars.
    Par,
    /// Stroke indexes.
    StrokeIndex,
    /// Lines for players to write on.
    Players,
    /// A combination of tees.
    Combo,
    /// Pace-of-play times.
    Pace,
    /// Anything else.
    Free,
}

/// Whose par or stroke index.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum WhoName {
    /// Men's.
    Men,
    /// Women's.
    Women,
    /// Both in one row, men first, with a slash where they differ.
    Both,
}

/// One column, or nine holes.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum ColumnSection {
    /// By name alone.
    Plain(ColumnName),
    /// With its width or heading.
    Full(FullColumn),
}

/// A column with its width or heading.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FullColumn {
    /// What it holds.
    pub column: ColumnName,
    /// Its width (of each, for nine holes); what is left is shared where not stated.
    pub width: Option<Measure>,
    /// Its heading in the row of hole numbers, where it is not the usual one.
    pub heading: Option<String>,
}

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ColumnName {
    /// Row names and players' names.
    Names,
    /// Member numbers.
    Member,
    /// Course Rating and slope beside the tee's name.
    Rating,
    /// Holes 1 to 9.
    FirstNine,
    /// The total of holes 1 to 9.
    Out,
    /// Players' initials.
    Initials,
    /// Holes 10 to 18.
    SecondNine,
    /// The total of holes 10 to 18.
    In,
    /// The total of the round.
    Total,
    /// Handicap.
    Handicap,
    /// Net score.
    Net,
    /// An empty column with a heading.
    Free,
}

fn usual_columns() -> Vec<ColumnSection> {
    use ColumnName as C;
    [C::Names, C::FirstNine, C::Out, C::Initials, C::SecondNine, C::In, C::Total, C::Handicap, C::Net]
        .map(ColumnSection::Plain)
        .to_vec()
}
