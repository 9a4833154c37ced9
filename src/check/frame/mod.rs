//! What all checks share: what a check is, what it sees, what it may answer, and the run over all of them.

mod explain;
mod finding;
mod outcome;
mod runner;

pub(crate) use explain::unknown;
pub use explain::{Explained, explain, list};
pub use finding::{Finding, Severity};
pub use outcome::{Check, Context, Outcome};
pub use runner::{Checked, Waived, run};
