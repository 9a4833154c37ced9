//! fairfold
pub mod artwork;
pub mod card;
pub mod check;
pub mod fault;
pub mod font;
pub mod grid;
pub mod ink;
pub mod job;
pub mod model;
pub mod pdf;
pub mod press;
pub mod report;
pub mod scorecard;
pub mod sheet;
pub mod typeset;
pub mod unit;
