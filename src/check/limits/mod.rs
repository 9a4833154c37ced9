//! Limits: the built-in sets, what a limits file changes, and waivers.

mod bound;
mod file;
mod set;
mod waiver;

pub use bound::{Bound, LimitSet};
pub use set::{Limits, Override};
pub use waiver::Waiver;

/// The name nearest to what was written, where one is near enough to be meant.
pub(crate) fn nearest<'a>(written: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    names
        .map(|name| (strsim::damerau_levenshtein(written, name), name))
        .filter(|(far, name)| *far * 2 <= name.chars().count())
        .min()
        .map(|(_, name)| name)
}
