//! The job file: which card, on which stock and sheet, with which marks. Every field's doc line goes into its JSON Schema.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::model::{FlatSize, FoldName, Measure};

/// A job: a card, how many, and the sheet it goes on.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobFile {
    /// What is to be done.
    pub job: JobSection,
    /// What an artwork PDF cannot say itself; not for card files, which say it.
    pub artwork: Option<ArtworkSection>,
    /// The stock.
    #[serde(default)]
    pub stock: StockSection,
    /// The sheet and how cards lie on it.
    #[serde(default)]
    pub sheet: SheetSection,
    /// Which marks are printed; all of them where not stated.
    #[serde(default)]
    pub marks: MarksSection,
}

/// What is to be done.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobSection {
    /// Name or number for the slug line; the card's title where not stated.
    pub name: Option<String>,
    /// The card file or artwork PDF, relative to this file.
    pub card: String,
    /// How many finished cards.
    pub quantity: Option<u32>,
    /// Date of the job, YYYY-MM-DD; it goes into the slug line and the press file.
    pub date: Option<String>,
    /// Limits file, relative to this file.
    pub limits: Option<String>,
}

/// What an artwork PDF cannot say itself.
#[derive(Clone, PartialEq, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ArtworkSection {
    /// Flat size, height x width; the TrimBox where not stated.
    pub size: Option<FlatSize>,
    /// How the card folds; in half where not stated.
    pub fold: Option<FoldName>,
    /// Panels of an accordion fold.
    pub panels: Option<usize>,
    /// Colour past the trim on every side; 1/8 in where not stated.
    pub bleed: Option<Measure>,
    /// How far needed matter keeps from the trim; 1/8 in where not stated.
    pub safe: Option<Measure>,
    /// The print condition: coated, uncoated, or a CMYK output profile, relative to this file.
    pub condition: Option<String>,
    /// Whether carts are used: their clip hides the top of the open card.
    #[serde(default)]
    pub carts: bool,
    /// Texts that must stand on the card word for word.
    #[serde(default)]
    pub required: Vec<String>,
    /// The page that is the outside; the first where not stated.
    pub outside: Option<u32>,
    /// The page that is the inside; the second where not stated.
    pub inside: Option<u32>,
}

/// The stock.
#[derive(Clone, PartialEq, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockSection {
    /// Its name.
    pub name: Option<String>,
    /// Grain along the long or the short side of the sheet.
    pub grain: Option<GrainWord>,
    /// Weight in grams a square metre.
    pub gsm: Option<f64>,
    /// Thickness.
    pub caliper: Option<Measure>,
    /// Whether it is coated.
    pub coated: Option<bool>,
}

/// Direction of the grain.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum GrainWord {
    /// Along the long side.
    Long,
    /// Along the short side.
    Short,
}

/// The sheet and how cards lie on it.
#[derive(Clone, PartialEq, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetSection {
    /// Size: a name such as "19x25" or "SRA3", or any size, width x height.
    pub size: Option<String>,
    /// How the two faces come onto the sheet.
    pub style: Option<StyleWord>,
    /// How rows of cards meet.
    pub rows: Option<RowsWord>,
    /// Gripper margin.
    pub gripper: Option<Measure>,
    /// Tail margin.
    pub tail: Option<Measure>,
    /// Side margins.
    pub sides: Option<Measure>,
    /// Space between trims; twice the bleed where not stated.
    pub gutter: Option<Measure>,
    /// One card with bleed and crop marks, for a printer who imposes himself.
    #[serde(default)]
    pub one_up: bool,
    /// What the press file keeps; PDF/X-4 where not stated.
    pub standard: Option<StandardWord>,
}

/// What a press file keeps.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
pub enum StandardWord {
    /// PDF/X-4: live transparency and layers.
    #[serde(rename = "x-4")]
    X4,
    /// PDF/X-1a:2003: process and spot inks only.
    #[serde(rename = "x-1a")]
    X1a,
}

/// How the two faces come onto the sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StyleWord {
    /// Two sets of plates, one for each side.
    Sheetwise,
    /// One set of plates; the sheet turns over its side, gripper edge kept.
    WorkAndTurn,
    /// One set of plates; the sheet turns over its gripper edge.
    WorkAndTumble,
    /// Both sides in one pass.
    Perfecting,
    /// One side only.
    OneSide,
}

/// How rows of cards meet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RowsWord {
    /// All heads the same way.
    HeadToFoot,
    /// Heads of neighbouring rows meet.
    HeadToHead,
}

/// Which marks are printed.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one kind of mark, on or off, as the press room asks for them"
)]
pub struct MarksSection {
    /// Crop marks.
    pub crop: bool,
    /// Fold marks.
    pub fold: bool,
    /// Centre and registration marks.
    pub register: bool,
    /// Gripper edge and side guide.
    pub guides: bool,
    /// Colour strip.
    pub strip: bool,
    /// Slug line.
    pub slug: bool,
}

impl Default for MarksSection {
    fn default() -> Self {
        Self { crop: true, fold: true, register: true, guides: true, strip: true, slug: true }
    }
}
