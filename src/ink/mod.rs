//! Inks and what they look like on paper.
//!
//! Colour stays in its own space from input to plate. Conversion happens only for looking and judging, through the ICC
//! profile of a print condition: a [`Judge`] gives the Lab value of any colour as it prints, and the measures of that value
//! (contrast, difference, sight) stand beside it. [`layered()`] says which tints end up on the plates where one colour prints
//! over another.

mod colour;
mod condition;
mod judge;
mod lab;
mod layered;
mod separator;
mod sight;

pub use colour::{Colour, Ink, SpotInk};
pub use condition::Condition;
pub use judge::Judge;
pub use lab::{Lab, contrast, delta_e2000, lightness_difference, srgb, wcag_contrast};
pub use layered::{Overprint, layered};
pub use separator::Separator;
pub use sight::{Sight, as_seen};
