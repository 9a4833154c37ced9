use std::collections::BTreeMap;
use std::sync::Arc;

use super::Assets;
use crate::artwork::{Artwork, OpenOptions};
use crate::fault::{Fault, Result, Span};

/// Artwork PDFs that were opened, each file once.
#[derive(Debug)]
pub(super) struct Artworks {
    options: OpenOptions,
    open: BTreeMap<String, Arc<Artwork>>,
}

impl Artworks {
    pub(super) const fn new(options: OpenOptions) -> Self {
        Self { options, open: BTreeMap::new() }
    }

    /// The PDF that the card file names at `span`.
    pub(super) fn get(&mut self, file: &str, assets: &Assets, span: &Span) -> Result<Arc<Artwork>> {
        if let Some(artwork) = self.open.get(file) {
            return Ok(Arc::clone(artwork));
        }
        let bytes = assets.get(file).ok_or_else(|| {
            Fault::new(span.clone(), format!("the artwork PDF {file} was not found"))
                .hint("file names are relative to the card file")
        })?;
        let artwork = Artwork::open_shared(bytes, file, &self.options).map_err(|f| f.moved_to(span))?;
        let artwork = Arc::new(artwork);
        self.open.insert(file.to_owned(), Arc::clone(&artwork));
        Ok(artwork)
    }
}
