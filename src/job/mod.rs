//! One job from bytes in to bytes out; the only place that knows the whole way of a card: read, check, plan, press.
//!
//! It neither reads nor writes a file: [`Files`] hands it bytes, and it hands bytes back.

mod date;
mod file;
mod impose;
mod inks;
mod plates;
mod prepare;
mod wishes;

use std::sync::Arc;

pub use date::Date;
pub use file::{
    ArtworkSection, GrainWord, JobFile, JobSection, MarksSection, RowsWord, SheetSection, StandardWord, StockSection,
    StyleWord,
};
pub use impose::{Imposed, Plan, impose};
pub use inks::Inks;
pub use prepare::{CardSource, Prepared, check, condition, digest, prepare, usual_set};
pub use wishes::{CardWishes, ConditionWish, FoldWish, SheetWishes};

use crate::fault::{Result, Text};
use crate::model::{self, Syntax};

/// Where a job gets the files that its card or job file names.
pub trait Files {
    /// The bytes of a file, by its name as the card or job file writes it.
    ///
    /// # Errors
    /// Names the file and why it cannot be read.
    fn read(&self, name: &str) -> Result<Arc<[u8]>>;
}

/// The JSON Schema of job files.
pub fn schema() -> serde_json::Value {
    model::schema_titled::<JobFile>(
        "urn:fairfold:job-file",
        "fairfold job file",
        "A card, how many of it, the stock and the sheet it goes on, as TOML or JSON.",
    )
}

/// Whether a text is a job file and not a card file: it has a section `job`. A text that does not read is none; whoever reads it
/// next says why.
pub fn is_job(text: &Text, syntax: Syntax) -> bool {
    match syntax {
        Syntax::Toml => text.text.parse::<toml::Table>().is_ok_and(|t| t.contains_key("job")),
        Syntax::Json => serde_json::from_str::<serde_json::Value>(&text.text).is_ok_and(|v| v.get("job").is_some()),
    }
}
