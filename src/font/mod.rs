//! Type: the open fonts that come along, how they measure, and how words become glyphs and lines.
//!
//! A font's own units are whole numbers, and so are all sums of advances. They become a [`Length`](crate::unit::Length) in one place
//! and by one rule: `units x size / units per em`, rounded to the nearest 1/360 µm, halves away from zero. A pen position is
//! rounded from the whole sum before it, so a line's width never drifts with its glyphs.

mod face;
mod open_font;
mod os2;
mod rights;
mod shaping;
mod subset;
mod wrapping;

pub use face::Font;
pub use open_font::OpenFont;
pub use rights::Rights;
pub use shaping::{Glyph, ShapedLine, Shaping, shape};
pub use subset::FontSubset;
pub use wrapping::wrap;
