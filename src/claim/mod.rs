//! What PDF/X asks of a file, rule by rule, looked for in any PDF: press files before they are kept, and files from elsewhere.
//!
//! [`RULES`] is the list; [`in_objects()`] holds the objects of a file against it, [`in_artwork()`] what its pages paint as well. What
//! the standards ask and is not tested here stands in [`NOT_TESTED`], so that nobody takes silence for a pass.

mod objects;
mod pages;
mod painted;
mod rules;
mod standard;
mod whole;
mod xmp;

use lopdf::{Document, Stream};

pub use painted::in_artwork;
pub use rules::{NOT_TESTED, RULES, Rule};
pub use standard::Standard;

use crate::card::Breach;

/// Which objects of a file count.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Scope {
    /// All of them, as for a file that was written here and holds nothing else.
    All,
    /// Those that the trailer leads to: later versions of a file may leave others behind.
    Used,
}

/// A file as it is looked at.
pub(crate) struct Look<'a> {
    document: &'a Document,
    standard: Standard,
    scope: Scope,
    decode: &'a dyn Fn(&Stream) -> Option<Vec<u8>>,
    found: Vec<Breach>,
}

impl Look<'_> {
    /// Notes a breach, where the rule holds for the standard.
    fn say(&mut self, id: &str, page: Option<u32>, object: Option<u32>, message: impl Into<String>) {
        let Some(rule) = RULES.iter().find(|r| r.id == id && r.holds(self.standard)) else { return };
        let breach = Breach { page, object, rule: rule.id, message: message.into(), advice: rule.advice };
        if !self.found.contains(&breach) {
            self.found.push(breach);
        }
    }
}

/// Everything in the objects of a file that is against `standard`. `version` is what the first line states, such as `1.6`; `decode` undoes
/// the filters of a stream, within whatever bounds its owner sets.
pub fn in_objects(
    document: &Document,
    version: &str,
    standard: Standard,
    scope: Scope,
    decode: &dyn Fn(&Stream) -> Option<Vec<u8>>,
) -> Vec<Breach> {
    let mut look = Look { document, standard, scope, decode, found: Vec::new() };
    whole::look(&mut look, version);
    pages::look(&mut look);
    objects::look(&mut look);
    look.found
}
