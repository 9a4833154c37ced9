//! Exact lengths and the plane geometry of cards and sheets.
//!
//! Everything that is cut, folded or placed is measured in [`Length`], a whole number of 1/360 µm, in which
//! inches, millimetres and points meet exactly. The plane has its origin at the lower left and y going up,
//! as in PDF. Only quarter turns occur.

mod geometry;
mod length;
mod parse;
mod quantity;

pub use geometry::{Point, Rect, Sides, Size, Turn};
pub use length::Length;
pub use parse::{MeasureError, parse_length, parse_size};
pub use quantity::{Limit, Quantity, Reading};
