use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::rc::Rc;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

use super::names::mentioned;
use super::prune::{Scope, acts, dictionary};
use crate::artwork::Artwork;
use crate::pdf::stands_for;

/// Copies what pages draw from one artwork file into the press file, each object once, whatever refers to it and however often.
///
/// Objects wait in a queue, so that neither circles nor depth matter. The bytes of streams are copied as they are; only the
/// dictionaries of forms, patterns and Type 3 fonts change: they get the resources they use and no others.
pub(super) struct Copier<'a> {
    art: &'a Artwork,
    known: BTreeMap<ObjectId, ObjectId>,
    waiting: VecDeque<Waiting>,
}

struct Waiting {
    old: ObjectId,
    new: ObjectId,
    scope: Rc<Scope>,
    appearance: bool,
}

/// What streams and fonts carry that draws nothing: structure, private application data, metadata, thumbnails, associated files,
/// image replacement, and a reference XObject's target (its proxy is what prints).
const NOT_DRAWN: [&[u8]; 11] = [
    b"StructParent",
    b"StructParents",
    b"PieceInfo",
    b"LastModified",
    b"Metadata",
    b"OPI",
    b"AF",
    b"Thumb",
    b"Ref",
    b"Measure",
    b"PtData",
];

impl<'a> Copier<'a> {
    /// A copier of objects of this file.
    pub(super) const fn new(art: &'a Artwork) -> Self {
        Self { art, known: BTreeMap::new(), waiting: VecDeque::new() }
    }

    /// The file it copies from.
    pub(super) const fn art(&self) -> &'a Artwork {
        self.art
    }

    /// Where an object of the source went, if it was copied.
    pub(super) fn copied(&self, old: ObjectId) -> Option<ObjectId> {
        self.known.get(&old).copied()
    }

    /// Every object that was made.
    pub(super) fn made(&self) -> impl Iterator<Item = ObjectId> {
        self.known.values().copied()
    }

    fn source(&self) -> &'a Document {
        self.art.document()
    }

    /// A copy of the appearance of an annotation, as a form.
    pub(super) fn appearance(&mut self, out: &mut Document, old: ObjectId, scope: &Rc<Scope>) -> ObjectId {
        let id = self.referred(out, old, scope, true);
        self.finish(out);
        id
    }

    /// A copy of a value with everything that it leads to.
    pub(super) fn value(&mut self, out: &mut Document, value: &Object, scope: &Rc<Scope>) -> Object {
        let copy = self.mapped(out, value, scope);
        self.finish(out);
        copy
    }

    /// Copies whatever waits.
    fn finish(&mut self, out: &mut Document) {
        while let Some(next) = self.waiting.pop_front() {
            let Ok(object) = self.source().get_object(next.old) else { continue };
            let copy = match object {
                Object::Stream(stream) => self.stream(out, stream, &next),
                other => self.mapped(out, other, &next.scope),
            };
            out.set_object(next.new, copy);
        }
    }

    fn referred(&mut self, out: &mut Document, old: ObjectId, scope: &Rc<Scope>, appearance: bool) -> ObjectId {
        if let Some(new) = self.known.get(&old) {
            return *new;
        }
        let new = out.new_object_id();
        self.known.insert(old, new);
        self.waiting.push_back(Waiting { old, new, scope: Rc::clone(scope), appearance });
        new
    }

    fn mapped(&mut self, out: &mut Document, value: &Object, scope: &Rc<Scope>) -> Object {
        match value {
            Object::Reference(old) => {
                let target = self.source().get_object(*old);
                match target {
                    // Pages draw nothing inside pages; what leads there is a link, a thread or a structure.
                    Ok(Object::Dictionary(d))
                        if d.has_type(b"Page") || d.has_type(b"Pages") || d.has_type(b"Catalog") =>
                    {
                        Object::Null
                    }
                    Ok(Object::Dictionary(d)) if acts(d) => Object::Null,
                    Ok(_) => Object::Reference(self.referred(out, *old, scope, false)),
                    Err(_) => Object::Null,
                }
            }
            Object::Array(values) => Object::Array(values.iter().map(|v| self.mapped(out, v, scope)).collect()),
            Object::Dictionary(dict) if acts(dict) => Object::Null,
            Object::Dictionary(dict) => Object::Dictionary(self.dictionary(out, dict, scope)),
            other => other.clone(),
        }
    }

    fn dictionary(&mut self, out: &mut Document, dict: &Dictionary, scope: &Rc<Scope>) -> Dictionary {
        let type3 =
            dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|n| n == b"Type3") && dict.has(b"CharProcs");
        let mut copy = Dictionary::new();
        let mut inner = Rc::clone(scope);
        if type3 {
            let own = dictionary(self.source(), dict.get(b"Resources").ok()).cloned();
            let fall_back = own.is_none();
            inner = scope.inner(own.unwrap_or_default());
            let names = self.glyph_names(dict);
            let wanted = inner.wanted(self.source(), names.as_ref(), fall_back);
            copy.set("Resources", self.dictionary(out, &wanted, &inner));
        }
        for (key, value) in dict {
            if (key == b"Resources" && type3) || (key == b"Metadata" && dict.has(b"Subtype")) {
                continue;
            }
            let value = self.mapped(out, value, &inner);
            copy.set(key.clone(), value);
        }
        copy
    }

    /// The names in all glyph procedures; `None` where one cannot be read.
    fn glyph_names(&self, font: &Dictionary) -> Option<BTreeSet<Vec<u8>>> {
        let glyphs = dictionary(self.source(), font.get(b"CharProcs").ok())?;
        let mut names = BTreeSet::new();
        for (_, glyph) in glyphs {
            let Ok((_, Object::Stream(stream))) = self.source().dereference(glyph) else { continue };
            names.extend(mentioned(&self.art.stream_bytes(stream)?));
        }
        Some(names)
    }

    fn stream(&mut self, out: &mut Document, stream: &Stream, job: &Waiting) -> Object {
        let subtype = stream.dict.get(b"Subtype").and_then(Object::as_name).unwrap_or_default();
        let form = subtype == b"Form" || job.appearance;
        let tiling = stream.dict.get(b"PatternType").and_then(Object::as_i64).is_ok_and(|n| n == 1);
        if subtype == b"PS" {
            // PostScript XObjects draw nothing in PDF/X; an empty form keeps the name that the page calls.
            return empty_form();
        }
        let mut dict = Dictionary::new();
        let mut scope = Rc::clone(&job.scope);
        if form || tiling {
            let own = dictionary(self.source(), stream.dict.get(b"Resources").ok()).cloned();
            let fall_back = own.is_none();
            scope = job.scope.inner(own.unwrap_or_default());
            let names = self.art.stream_bytes(stream).map(|bytes| mentioned(&bytes));
            let wanted = scope.wanted(self.source(), names.as_ref(), fall_back);
            dict.set("Resources", self.dictionary(out, &wanted, &scope));
        }
        for (key, value) in &stream.dict {
            if key == b"Length" || NOT_DRAWN.contains(&key.as_slice()) || (key == b"Resources" && (form || tiling)) {
                continue;
            }
            let value = self.mapped(out, value, &scope);
            dict.set(key.clone(), value);
        }
        if job.appearance {
            dict.set("Type", Object::Name(b"XObject".to_vec()));
            dict.set("Subtype", Object::Name(b"Form".to_vec()));
        }
        let mut copy = Stream::new(dict, stream.content.clone()).with_compression(false);
        if let Some((_, length)) = stands_for(&stream.content) {
            copy.dict.set("Length", i64::try_from(length).unwrap_or(i64::MAX));
        }
        Object::Stream(copy)
    }
}

fn empty_form() -> Object {
    let mut dict = Dictionary::new();
    dict.set("Type", Object::Name(b"XObject".to_vec()));
    dict.set("Subtype", Object::Name(b"Form".to_vec()));
    dict.set("BBox", Object::Array(vec![Object::Integer(0); 4]));
    dict.set("Resources", Dictionary::new());
    Object::Stream(Stream::new(dict, Vec::new()).with_compression(false))
}
