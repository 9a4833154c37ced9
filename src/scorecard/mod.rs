//! The golf truth: holes, tees, pars, stroke indexes, ratings and totals, as pure numbers, and the rules they obey.
//!
//! Rules are those of the Rules of Handicapping (World Handicap System); each names its place there. Nothing here
//! knows of a card, a page or a limits file.

mod allocation;
mod combos;
mod handicap;
mod numbers;
mod par_length;
mod stroke_index;
mod sums;
mod tees;
mod who;

pub use allocation::{Advice, Nine, allocation_advice};
pub use combos::{Stray, derived, strays};
pub use handicap::{STANDARD_SLOPE, course_handicap, course_handicap_exact, nine_hole_index, tenths};
pub use numbers::{Combo, ForWho, PrintedTotals, Rating, Scorecard, Tee, Units};
pub use par_length::{LengthRange, pars_for, recommended};
pub use stroke_index::{Scrambled, permutation};
pub use sums::{Part, Sum, sum};
pub use tees::{longest_first, shorter_on};
pub use who::Who;
