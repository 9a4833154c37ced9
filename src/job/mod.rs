//! One job from bytes in to bytes out; the only place that knows the whole way of a card: read, check, plan, press.
//!
//! It neither reads nor writes a file: [`Files`] hands it bytes, and it hands bytes back.

mod date;
mod file;
mod wishes;

use std::sync::Arc;

pub use date::Date;
pub use file::{GrainWord, JobFile, JobSection, MarksSection, RowsWord, SheetSection, StockSection, StyleWord};
pub use wishes::{CardWishes, FoldWish, SheetWishes};

use crate::fault::Result;

/// Where a job gets the files that its card or job file names.
pub trait Files {
    /// The bytes of a file, by its name as the card or job file writes it.
    ///
    /// # Errors
    /// Names the file and why it cannot be read.
    fn read(&self, name: &str) -> Result<Arc<[u8]>>;
}
