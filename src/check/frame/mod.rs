//! What all checks share: what a check is, what it sees, what it may answer, and the run over all of them.

mod bars;
mod coat;
mod explain;
mod finding;
mod gather;
mod outcome;
mod runner;
mod seen;
mod whole;

pub(crate) use bars::bars;
pub(crate) use coat::{Coat, Shape, line_place};
pub(crate) use explain::unknown;
pub use explain::{Explained, explain, list};
pub use finding::{Finding, Severity};
pub use outcome::{Check, Context, Outcome};
pub use runner::{Checked, Waived, run, run_one};
pub(crate) use seen::{Inking, SeenText, named, quoted};
pub(crate) use whole::{file_place, page_place};
