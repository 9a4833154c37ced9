//! The card file's shape, section by section. Every field's doc line goes into the JSON Schema.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::grid_section::GridSection;
use super::panel_section::PanelSection;
use super::values::{ColourText, FlatSize, Measure};

/// A finished layout model of a folded scorecard.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CardFile {
    /// Size, fold, bleed and what the card is printed for.
    pub card: CardSection,
    /// Names for process tints and spot inks.
    #[serde(default)]
    pub inks: BTreeMap<String, InkSection>,
    /// The course: pars, stroke indexes, units.
    pub course: Option<CourseSection>,
    /// The tees in the order of the card.
    #[serde(default)]
    pub tees: Vec<TeeSection>,
    /// Combinations of tees.
    #[serde(default)]
    pub combos: Vec<ComboSection>,
    /// The grid to play on.
    pub grid: Option<GridSection>,
    /// What stands on each panel.
    #[serde(default)]
    pub panel: Vec<PanelSection>,
}

/// Size, fold, bleed and what the card is printed for.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CardSection {
    /// The card's title; it goes into the press file.
    pub title: String,
    /// Flat size, height x width.
    pub size: FlatSize,
    /// How the card folds.
    #[serde(default)]
    pub fold: FoldName,
    /// Panels of an accordion fold.
    pub panels: Option<usize>,
    /// Panel widths on the inside, left to right, where they are not the usual ones.
    pub widths: Option<Vec<Measure>>,
    /// Colour past the trim on every side; 1/8 in where not stated.
    pub bleed: Option<Measure>,
    /// How far needed matter keeps from the trim; 1/8 in where not stated.
    pub safe: Option<Measure>,
    /// The print condition: coated, uncoated, or the path of a CMYK output profile.
    #[serde(default = "coated")]
    pub condition: String,
    /// Whether carts are used: their clip hides the top of the open card.
    #[serde(default)]
    pub carts: bool,
    /// Texts that must stand on the card word for word, such as the liability note that counsel approved.
    #[serde(default)]
    pub required: Vec<String>,
}

fn coated() -> String {
    "coated".to_owned()
}

/// How the card folds.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FoldName {
    /// One panel.
    None,
    /// Two panels.
    #[default]
    Half,
    /// Three panels, one folding inside.
    Letter,
    /// Panels folded to and fro.
    Accordion,
    /// Two flaps over a full middle.
    Gate,
}

/// A process tint or a spot ink.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InkSection {
    /// Process tints in percent: cyan, magenta, yellow, black. For a spot this is what stands for the solid on screen.
    pub process: [f64; 4],
    /// The plate's name, where this is a spot ink.
    pub spot: Option<String>,
    /// The spot's solid on paper as measured: L, a, b under D50.
    pub lab: Option<[f64; 3]>,
}

/// One value for everyone, or one each for men and women.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum ByGender<T> {
    /// The same for everyone.
    Everyone(T),
    /// One each.
    Each(Each<T>),
}

/// One value for men and one for women.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Each<T> {
    /// For men.
    pub men: Option<T>,
    /// For women.
    pub women: Option<T>,
}

/// The course: pars, stroke indexes, units.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CourseSection {
    /// Its name.
    pub name: String,
    /// Unit of all lengths.
    #[serde(default)]
    pub units: UnitName,
    /// Par of each hole.
    pub par: ByGender<Vec<i64>>,
    /// Out, In and Total of the pars as typed; computed where not.
    pub par_totals: Option<ByGender<TotalsSection>>,
    /// Stroke index of each hole.
    pub stroke_index: Option<ByGender<Vec<i64>>>,
    /// Signature holes, marked on the grid.
    #[serde(default)]
    pub signature: Vec<u8>,
    /// Pace of play: the time at which each hole should be done, such as "0:14".
    #[serde(default)]
    pub pace: Vec<String>,
}

/// Unit of all lengths.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum UnitName {
    /// Yards.
    #[default]
    Yards,
    /// Metres.
    Metres,
}

/// Totals as typed; they are checked against the holes.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TotalsSection {
    /// Holes 1 to 9.
    pub out: Option<i64>,
    /// Holes 10 to 18.
    #[serde(rename = "in")]
    pub inward: Option<i64>,
    /// The round.
    pub total: Option<i64>,
}

/// A set of tees.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TeeSection {
    /// Its name.
    pub name: String,
    /// Length of each hole.
    pub lengths: Vec<i64>,
    /// Out, In and Total as typed; computed where not.
    pub totals: Option<TotalsSection>,
    /// Course Rating.
    pub rating: Option<ByGender<f64>>,
    /// Slope Rating.
    pub slope: Option<ByGender<i64>>,
    /// Its colour.
    pub colour: ColourText,
    /// Whether the colour fills the row or colours the numbers.
    #[serde(default)]
    pub shown: TeeShown,
    /// Colour of the numbers on the fill; black or white, whichever reads better, where not stated.
    pub numbers: Option<ColourText>,
}

/// How a tee's colour is shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum TeeShown {
    /// Numbers on a fill of the tee's colour.
    #[default]
    Fill,
    /// Numbers in the tee's colour on paper.
    Numbers,
}

/// A combination: which tee each hole plays from.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ComboSection {
    /// Its name.
    pub name: String,
    /// The tee that each hole plays from, by name.
    pub tees: Vec<String>,
    /// A row of its own, or marks around the numbers in the tee rows.
    #[serde(default)]
    pub shown: ComboShown,
    /// Totals as typed; computed where not.
    pub totals: Option<TotalsSection>,
    /// Course Rating.
    pub rating: Option<ByGender<f64>>,
    /// Slope Rating.
    pub slope: Option<ByGender<i64>>,
    /// Colour of its row or marks; black where not stated.
    pub colour: Option<ColourText>,
}

/// How a combination is shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ComboShown {
    /// A row of its own.
    #[default]
    Row,
    /// A circle around the number in the tee's row.
    Circle,
    /// A diamond around it.
    Diamond,
    /// An arrow beside it.
    Arrow,
}
