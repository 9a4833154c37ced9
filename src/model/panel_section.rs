//! `[[panel]]`: what stands on each panel.

use schemars::JsonSchema;
use serde::Deserialize;

use super::grid_section::FaceName;
use super::values::{ColourText, Measure};

/// What stands on one panel, or on a whole face.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PanelSection {
    /// The face.
    pub face: FaceName,
    /// Which panel, from 1, left to right on that face; the whole face where not stated.
    pub panel: Option<usize>,
    /// A colour over the whole panel, out into the bleed at the trim.
    pub fill: Option<ColourText>,
    /// Which way the panel's content stands: a cover may be turned to be read landscape or portrait.
    #[serde(default)]
    pub turn: TurnName,
    /// Blocks in painting order.
    #[serde(default)]
    pub block: Vec<Block>,
}

/// A turn of a panel's content.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum TurnName {
    /// Upright.
    #[default]
    None,
    /// Its head points left.
    Left,
    /// Upside down.
    Half,
    /// Its head points right.
    Right,
}

/// Where a block stands: from the top left of its (turned) panel.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Spot {
    /// From the panel's left edge.
    pub x: Measure,
    /// From the panel's top edge downwards.
    pub y: Measure,
    /// Width.
    pub width: Measure,
    /// Height.
    pub height: Measure,
}

/// One block on a panel.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(tag = "block", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Block {
    /// A heading, paragraph or list.
    Text(TextBlock),
    /// A straight rule.
    Rule(RuleBlock),
    /// A filled or ruled box.
    Box(BoxBlock),
    /// A picture.
    Picture(PictureBlock),
    /// A drawing by path data.
    Symbol(SymbolBlock),
    /// A line to sign or date on, with its caption.
    Line(LineBlock),
    /// A table of ratings and slopes.
    Ratings(RatingsBlock),
    /// A page of an artwork PDF.
    Page(PageBlock),
}

/// A heading, paragraph or list.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextBlock {
    /// Its place.
    pub at: Spot,
    /// What it is; sets the usual family, weight and size.
    #[serde(default, rename = "as")]
    pub kind: TextKind,
    /// What it says; a blank line parts paragraphs, and in a list each line is an item.
    pub text: String,
    /// Type family, where it is not the usual one.
    pub font: Option<FontName>,
    /// Type size, where it is not the usual one.
    pub size: Option<Measure>,
    /// Line spacing, baseline to baseline; 1.2 times the size where not stated.
    pub leading: Option<Measure>,
    /// Letter spacing added after each glyph.
    pub tracking: Option<Measure>,
    /// How lines stand.
    #[serde(default)]
    pub align: AlignName,
    /// How the text stands in the height of its place.
    #[serde(default)]
    pub stand: StandName,
    /// Its colour; black where not stated.
    pub colour: Option<ColourText>,
}

/// What a text is.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum TextKind {
    /// A heading in the serif.
    Heading,
    /// Running text.
    #[default]
    Paragraph,
    /// Lines with a bullet each.
    List,
    /// The liability note.
    Liability,
}

/// Fonts that come with fairfold.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FontName {
    /// Archivo Narrow, regular.
    Narrow,
    /// Archivo Narrow, italic.
    NarrowItalic,
    /// Archivo Narrow, medium.
    NarrowMedium,
    /// Archivo Narrow, semi-bold.
    NarrowSemibold,
    /// Archivo Narrow, bold.
    NarrowBold,
    /// IBM Plex Sans Condensed, regular.
    Condensed,
    /// IBM Plex Sans Condensed, bold.
    CondensedBold,
    /// Source Serif 4 Display, regular.
    Serif,
    /// Source Serif 4 Display, semi-bold.
    SerifSemibold,
}

/// How lines stand.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum AlignName {
    /// Flush left.
    #[default]
    Left,
    /// Centred.
    Centre,
    /// Flush right.
    Right,
}

/// How a text stands in the height of its place.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum StandName {
    /// From the top.
    #[default]
    Top,
    /// In the middle.
    Middle,
    /// On the bottom.
    Bottom,
}

/// A straight rule.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RuleBlock {
    /// Start, from the panel's top left. An end on the trim runs out into the bleed.
    pub from: [Measure; 2],
    /// End.
    pub to: [Measure; 2],
    /// Weight; 0.5 pt where not stated.
    pub weight: Option<Measure>,
    /// Colour; black where not stated.
    pub colour: Option<ColourText>,
}

/// A filled or ruled box.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoxBlock {
    /// Its place.
    pub at: Spot,
    /// Fill.
    pub fill: Option<ColourText>,
    /// Rule around it.
    pub rule: Option<Measure>,
    /// Colour of the rule; black where not stated.
    pub colour: Option<ColourText>,
    /// Radius of its corners.
    pub radius: Option<Measure>,
    /// Whether edges that lie on the trim run out into the bleed.
    #[serde(default)]
    pub bleed: bool,
}

/// A picture: PNG, JPEG or TIFF; gray, RGB, CMYK or 1-bit.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PictureBlock {
    /// Its file, relative to the card file.
    pub file: String,
    /// Its place; the picture covers it, and what overhangs is clipped.
    pub at: Spot,
    /// Whether edges that lie on the trim run out into the bleed.
    #[serde(default)]
    pub bleed: bool,
    /// What to do where proportions differ: cover the place, or stand inside it.
    #[serde(default)]
    pub fit: FitName,
    /// Ink of a 1-bit or gray picture; black where not stated.
    pub colour: Option<ColourText>,
    /// What it shows, in words.
    pub caption: Option<String>,
}

/// How a picture meets its place.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FitName {
    /// Covers it; what overhangs is clipped.
    #[default]
    Cover,
    /// Stands inside it whole.
    Inside,
}

/// A drawing by path data.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SymbolBlock {
    /// Its place; the drawing's view is fitted inside it, centred.
    pub at: Spot,
    /// Width and height of the drawing's own plane, y down as in SVG.
    pub view: [f64; 2],
    /// The parts, in painting order.
    pub parts: Vec<SymbolPart>,
    /// What it shows, in words.
    pub caption: Option<String>,
}

/// One path of a drawing.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SymbolPart {
    /// Path data as in SVG (W3C): M L H V C S Q T A Z.
    pub path: String,
    /// Fill.
    pub fill: Option<ColourText>,
    /// Stroke.
    pub stroke: Option<ColourText>,
    /// Weight of the stroke on the card.
    pub weight: Option<Measure>,
}

/// A line to sign or date on, with its caption.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LineBlock {
    /// Its place: room to write in, the line under it, and the caption on the floor.
    pub at: Spot,
    /// What it is for.
    #[serde(default)]
    pub purpose: LinePurpose,
    /// Caption, where it is not the usual one.
    pub caption: Option<String>,
    /// Colour; black where not stated.
    pub colour: Option<ColourText>,
}

/// What a line is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum LinePurpose {
    /// The marker's or player's signature.
    #[default]
    Signature,
    /// The date.
    Date,
    /// Anything else.
    Other,
}

/// A table of ratings and slopes: a line a tee and combination.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RatingsBlock {
    /// Its place.
    pub at: Spot,
    /// Type size; 8 pt where not stated.
    pub size: Option<Measure>,
    /// Colour of text and rules; black where not stated.
    pub colour: Option<ColourText>,
}

/// A page of an artwork PDF.
#[derive(Clone, PartialEq, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PageBlock {
    /// The PDF, relative to the card file.
    pub file: String,
    /// Which page, from 1.
    #[serde(default = "first")]
    pub page: u32,
    /// Its place; its trim is laid on the place without scaling. The whole panel where not stated.
    pub at: Option<Spot>,
}

const fn first() -> u32 {
    1
}
