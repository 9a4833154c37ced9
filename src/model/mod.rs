//! The card file: its shape, its faults, and the way from its lines to a model.
//!
//! The shape is stated once, in the types of [`CardFile`]; the JSON Schema, the list of allowed keys in a fault and the reader all come
//! from them.

mod card_file;
mod card_model;
mod colour_text;
mod grid_section;
mod meaning;
mod numbers;
mod panel_section;
mod reading;
mod schema;
mod starter;
mod values;

pub use card_file::{
    ByGender, CardFile, CardSection, ComboSection, ComboShown, CourseSection, Each, FoldName, InkSection, TeeSection,
    TeeShown, TotalsSection, UnitName,
};
pub use card_model::{Model, read};
pub use grid_section::{
    ColumnName, ColumnSection, DirectionName, FaceName, FullColumn, GridFont, GridSection, RowName, RowSection,
    TopName, WhoName,
};
pub use panel_section::{
    AlignName, Block, BoxBlock, FitName, FontName, LineBlock, LinePurpose, PageBlock, PanelSection, PictureBlock,
    RatingsBlock, RuleBlock, Spot, StandName, SymbolBlock, SymbolPart, TextBlock, TextKind, TurnName,
};
pub use reading::{Decoded, Spans, Syntax, decode};
pub use schema::{schema, schema_titled};
pub use starter::starter;
pub use values::{ColourText, FlatSize, Measure};
