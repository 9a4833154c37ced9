use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Document, Object, ObjectId, Stream};

use super::lexer::{Lexer, is_space};
use super::operand::{Operand, Token, dictionary};

/// What mending did.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Mended {
    /// Objects that were read after all, their bad parts bent the way common readers do.
    pub(super) mended: BTreeSet<u32>,
    /// Objects that the file uses and that are nowhere in it, or unreadable.
    pub(super) lost: BTreeSet<u32>,
}

/// Objects that are mended in one file; a file with more is beyond repair.
const MOST_MENDED: usize = 10_000;

/// Reads once more, with the tolerant lexer, the objects that the file uses and the loader gave up, and the streams whose
/// stated length does not fit. Encrypted files are left alone: their strings cannot be read twice.
pub(super) fn mend(document: &mut Document, bytes: &[u8]) -> Mended {
    let mut result = Mended::default();
    let mut wanted = missing(document);
    let suspects: BTreeSet<u32> = document
        .objects
        .iter()
        .filter(|(_, o)| o.as_stream().is_ok_and(|s| s.content.is_empty() && !has_zero_length(document, s)))
        .map(|(id, _)| id.0)
        .collect();
    if (wanted.is_empty() && suspects.is_empty()) || document.was_encrypted() {
        result.lost = wanted.iter().map(|id| id.0).collect();
        return result;
    }
    let places = places(bytes);
    // What is mended may use more that is missing, so this goes on while it helps.
    while !wanted.is_empty() && result.mended.len() < MOST_MENDED {
        let mut helped = false;
        for id in wanted {
            if let Some(object) = places.get(&id.0).and_then(|at| object(bytes, *at)) {
                document.objects.insert(id, object);
                result.mended.insert(id.0);
                helped = true;
            } else {
                result.lost.insert(id.0);
            }
        }
        wanted = if helped { missing(document) } else { BTreeSet::new() };
        wanted.retain(|id| !result.lost.contains(&id.0));
    }
    for number in suspects {
        let found = places.get(&number).and_then(|at| object(bytes, *at));
        if let Some(Object::Stream(stream)) = found.filter(|o| o.as_stream().is_ok_and(|s| !s.content.is_empty())) {
            let id = document.objects.keys().find(|id| id.0 == number).copied();
            if let Some(id) = id {
                document.objects.insert(id, Object::Stream(stream));
                result.mended.insert(number);
            }
        }
    }
    result
}

fn has_zero_length(document: &Document, stream: &Stream) -> bool {
    stream
        .dict
        .get(b"Length")
        .ok()
        .and_then(|o| document.dereference(o).ok())
        .is_some_and(|(_, o)| matches!(o, Object::Integer(0)))
}

/// Objects that others point at and that did not load; a reference to a free entry stands for null and is no loss.
fn missing(document: &Document) -> BTreeSet<ObjectId> {
    let mut pointed = BTreeSet::new();
    for object in document.objects.values().chain(document.trailer.iter().map(|(_, o)| o)) {
        references(document, object, &mut pointed, 0);
    }
    let free = |id: &ObjectId| {
        let entry = document.reference_table.entries.get(&id.0);
        matches!(entry, Some(lopdf::xref::XrefEntry::Free | lopdf::xref::XrefEntry::UnusableFree))
    };
    pointed.retain(|id| !free(id));
    pointed
}

/// Adds what `object` points at and is not there.
fn references(document: &Document, object: &Object, found: &mut BTreeSet<ObjectId>, depth: usize) {
    if depth > 100 {
        return;
    }
    let mut inner = |o: &Object| references(document, o, found, depth + 1);
    match object {
        Object::Reference(id) if !document.objects.contains_key(id) => {
            found.insert(*id);
        }
        Object::Array(items) => items.iter().for_each(inner),
        Object::Dictionary(dict) => dict.iter().for_each(|(_, o)| inner(o)),
        Object::Stream(stream) => stream.dict.iter().for_each(|(_, o)| inner(o)),
        _ => {}
    }
}

/// Where each `n g obj` stands, just behind the word; the last one of a number counts.
fn places(bytes: &[u8]) -> BTreeMap<u32, usize> {
    let mut found = BTreeMap::new();
    let mut from = 0;
    while let Some(at) = position(bytes, b"obj", from) {
        from = at + 3;
        let before = bytes.get(..at).unwrap_or_default();
        let mut words = before.rsplit(|b| is_space(*b)).filter(|w| !w.is_empty()).take(2);
        let mut number = || words.next().and_then(|w| std::str::from_utf8(w).ok()).and_then(|w| w.parse::<u32>().ok());
        if let (Some(_), Some(number)) = (number(), number()) {
            found.insert(number, from);
        }
    }
    found
}

fn position(bytes: &[u8], word: &[u8], from: usize) -> Option<usize> {
    let rest = bytes.get(from..)?;
    rest.windows(word.len()).position(|w| w == word).map(|at| from + at)
}

/// The object that begins at `at`.
fn object(bytes: &[u8], at: usize) -> Option<Object> {
    let mut lexer = Lexer::of_object(bytes, at);
    let Some(Token::Operand(value)) = lexer.next() else { return None };
    let Operand::Dict(items) = &value else { return Some(value.to_object()) };
    if !matches!(lexer.next(), Some(Token::Operator(word)) if word == b"stream") {
        return Some(value.to_object());
    }
    let mut start = lexer.at();
    start += match bytes.get(start..start + 2) {
        Some(b"\r\n") => 2,
        Some([b'\n' | b'\r', _]) => 1,
        _ => 0,
    };
    let rest = bytes.get(start..)?;
    let stated = items.iter().find(|(key, _)| key == b"Length").and_then(|(_, v)| match v {
        Operand::Number(n) => Some(super::objects::count(*n, rest.len())),
        _ => None,
    });
    let fits = stated.filter(|n| position(rest, b"endstream", *n).is_some_and(|end| end <= n + 2));
    let end = fits.unwrap_or_else(|| {
        let marker = position(rest, b"endstream", 0).or_else(|| position(rest, b"endobj", 0)).unwrap_or(rest.len());
        let line = rest.get(..marker).unwrap_or_default();
        let line = line.strip_suffix(b"\n").unwrap_or(line);
        line.strip_suffix(b"\r").unwrap_or(line).len()
    });
    Some(Object::Stream(Stream::new(dictionary(items), rest.get(..end)?.to_vec())))
}
