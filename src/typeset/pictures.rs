use std::collections::BTreeMap;
use std::sync::Arc;

use super::Assets;
use super::picture::{self, Picture};
use crate::fault::{Fault, Result, Span};

/// Pictures that were read, each file once.
#[derive(Debug, Default)]
pub(super) struct Pictures {
    read: BTreeMap<String, Arc<Picture>>,
}

impl Pictures {
    /// The picture of a file that the card file names at `span`.
    pub(super) fn get(&mut self, file: &str, assets: &Assets, span: &Span) -> Result<Arc<Picture>> {
        if let Some(picture) = self.read.get(file) {
            return Ok(Arc::clone(picture));
        }
        let bytes = assets.get(file).ok_or_else(|| {
            Fault::new(span.clone(), format!("the picture {file} was not found"))
                .hint("file names are relative to the card file")
        })?;
        let picture =
            picture::read(bytes).map_err(|why| Fault::new(span.clone(), format!("{file} cannot be used: {why}")))?;
        let picture = Arc::new(picture);
        self.read.insert(file.to_owned(), Arc::clone(&picture));
        Ok(picture)
    }
}
