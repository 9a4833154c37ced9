//! Inks and what they look like on paper.
//!
//! Colour stays in its own space from input to plate. Conversion happens only for looking and judging, through the ICC
//! profile of a print condition.

mod colour;
mod condition;

pub use colour::{Colour, Ink, SpotInk};
pub use condition::Condition;
