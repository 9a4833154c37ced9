//! The golf truth: holes, tees, pars, stroke indexes, ratings and totals, as pure numbers.

mod numbers;

pub use numbers::{Combo, ForWho, PrintedTotals, Rating, Scorecard, Tee, Units};
pub use who::Who;

mod who;
