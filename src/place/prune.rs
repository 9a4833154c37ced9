use std::collections::BTreeSet;
use std::rc::Rc;

use lopdf::{Dictionary, Document, Object};

use crate::pdf::ACTIONS;

/// The resources in force where something is drawn, and those further out that a form without any falls back to.
#[derive(Clone, Debug)]
pub(super) struct Scope {
    own: Rc<Dictionary>,
    outer: Option<Rc<Self>>,
}

/// The kinds of named resources (ISO 32000-1, 7.8.3). `ProcSet` is obsolete and names nothing.
const KINDS: [&[u8]; 7] = [b"ExtGState", b"ColorSpace", b"Pattern", b"Shading", b"XObject", b"Font", b"Properties"];

impl Scope {
    /// Of a page.
    pub(super) fn page(resources: Dictionary) -> Rc<Self> {
        Rc::new(Self { own: Rc::new(resources), outer: None })
    }

    /// Of something with its own resources inside this scope.
    pub(super) fn inner(self: &Rc<Self>, resources: Dictionary) -> Rc<Self> {
        Rc::new(Self { own: Rc::new(resources), outer: Some(Rc::clone(self)) })
    }

    /// The resources that `names` ask for, all of them where the names are not known. What has resources of its own (even none)
    /// takes nothing from further out; what has none falls back, the nearest first.
    pub(super) fn wanted(&self, source: &Document, names: Option<&BTreeSet<Vec<u8>>>, fall_back: bool) -> Dictionary {
        let mut frames = vec![&self.own];
        let mut next = self.outer.as_ref().filter(|_| fall_back);
        while let Some(scope) = next {
            frames.push(&scope.own);
            next = scope.outer.as_ref();
        }
        let mut wanted = Dictionary::new();
        for kind in KINDS {
            let mut entries = Dictionary::new();
            for frame in frames.iter().rev() {
                let Some(all) = dictionary(source, frame.get(kind).ok()) else { continue };
                for (name, value) in all {
                    // Default spaces act without being named (8.6.5.6).
                    let implied = kind == b"ColorSpace" && name.starts_with(b"Default");
                    if implied || names.is_none_or(|n| n.contains(name)) {
                        entries.set(name.clone(), value.clone());
                    }
                }
            }
            if !entries.is_empty() {
                wanted.set(kind, entries);
            }
        }
        wanted
    }
}

/// Whether a dictionary is an action (ISO 32000-1, 12.6.4), which nothing that is drawn needs, wherever a file holds one.
pub(super) fn acts(dict: &Dictionary) -> bool {
    let kind = dict.get(b"S").and_then(Object::as_name).unwrap_or_default();
    dict.has_type(b"Action") || dict.has(b"JS") || ACTIONS.contains(&kind)
}

/// The dictionary that a value stands for.
pub(super) fn dictionary<'a>(source: &'a Document, value: Option<&'a Object>) -> Option<&'a Dictionary> {
    match source.dereference(value?).ok()?.1 {
        Object::Dictionary(dict) => Some(dict),
        Object::Stream(stream) => Some(&stream.dict),
        _ => None,
    }
}
