use std::collections::{BTreeMap, BTreeSet};

use lopdf::ObjectId;

use super::copy::Copier;
use super::{form, layers, share};
use crate::artwork::{Artwork, SourcePage};
use crate::fault::Result;
use crate::pdf::Document;

/// Places pages of any number of artwork files in one document, and keeps once what they share.
#[derive(Default)]
pub struct Placer<'a> {
    copiers: Vec<Copier<'a>>,
    forms: Vec<ObjectId>,
    grouped: bool,
}

/// What became of the placed pages.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Placed {
    moved: BTreeMap<ObjectId, ObjectId>,
    /// Whether a placed page states a transparency group.
    pub grouped: bool,
}

impl<'a> Placer<'a> {
    /// Makes a page a form of the document. Draw it only by what [`Placed::form`] gives afterwards.
    ///
    /// # Errors
    /// The page cannot be copied.
    pub fn place(&mut self, document: &mut Document, art: &'a Artwork, page: &SourcePage) -> Result<ObjectId> {
        self.grouped |= page.group.is_some();
        let at = self.copiers.iter().position(|c| std::ptr::eq(c.art(), art));
        let copier = match at.and_then(|n| self.copiers.get_mut(n)) {
            Some(copier) => copier,
            None => self.copiers.push_mut(Copier::new(art)),
        };
        let form = form::place(document, copier, page)?;
        self.forms.push(form);
        Ok(form)
    }

    /// Makes equal objects of all files one, and carries the layers along with their state.
    pub fn finish(self, document: &mut Document) -> Placed {
        let mut ids: BTreeSet<ObjectId> = self.copiers.iter().flat_map(Copier::made).collect();
        ids.extend(&self.forms);
        for copier in &self.copiers {
            document.carry(copier.art().heavy());
        }
        let moved = share::share(document.objects_mut(), ids);
        if let Some(properties) = layers::properties(&self.copiers) {
            document.catalog_mut().set("OCProperties", properties);
        }
        Placed { moved, grouped: self.grouped }
    }
}

impl Placed {
    /// Where a form is now.
    pub fn form(&self, placed: ObjectId) -> ObjectId {
        self.moved.get(&placed).copied().unwrap_or(placed)
    }
}
