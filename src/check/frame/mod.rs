//! What all checks share: what a check is, what it sees, what it may answer, and the run over all of them.

mod explain;
mod finding;
mod gather;
mod inked;
mod outcome;
mod runner;
mod seen;

pub(crate) use explain::unknown;
pub use explain::{Explained, explain, list};
pub use finding::{Finding, Severity};
pub(crate) use inked::{By, Inked, file_place, page_place};
pub use outcome::{Check, Context, Outcome};
pub use runner::{Checked, Waived, run, run_one};
pub(crate) use seen::{Inking, SeenText, named, quoted};
