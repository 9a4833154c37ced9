use kurbo::{Affine, Rect};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};

use crate::pdf::Heavy;

/// Read access to the objects of a PDF: references are followed, the wrong kind is `None`, nothing panics.
#[derive(Clone, Copy, Debug)]
pub struct Objects<'a> {
    document: &'a Document,
    heavy: Option<&'a Heavy>,
}

impl<'a> Objects<'a> {
    /// Of this document.
    pub fn new(document: &'a Document) -> Self {
        Self { document, heavy: None }
    }

    /// Of a document whose heavy pictures stand in its file.
    pub fn with(document: &'a Document, heavy: &'a Heavy) -> Self {
        Self { document, heavy: Some(heavy) }
    }

    /// The bytes of a stream as they stand in the file, of which `content` is what was loaded.
    pub fn whole<'b>(self, content: &'b [u8]) -> &'b [u8]
    where
        'a: 'b,
    {
        self.heavy.map_or(content, |heavy| heavy.whole(content))
    }

    /// The document itself.
    pub fn document(self) -> &'a Document {
        self.document
    }

    /// The object that `object` stands for after following references; `Null` where it leads nowhere.
    pub fn resolve(self, object: &'a Object) -> &'a Object {
        self.document.dereference(object).map_or(&Object::Null, |(_, found)| found)
    }

    /// The object with this number; `None` where there is none.
    pub fn object(self, id: ObjectId) -> Option<&'a Object> {
        self.document.get_object(id).ok().map(|found| self.resolve(found))
    }

    /// The value of `key`, references followed; `None` where it is absent or null.
    pub fn get(self, dict: &'a Dictionary, key: &str) -> Option<&'a Object> {
        dict.get(key.as_bytes()).ok().map(|o| self.resolve(o)).filter(|o| !o.is_null())
    }

    /// The reference that stands as the value of `key`.
    pub fn reference(self, dict: &Dictionary, key: &str) -> Option<ObjectId> {
        dict.get(key.as_bytes()).ok().and_then(|o| o.as_reference().ok())
    }

    /// A dictionary, or the dictionary of a stream.
    pub fn as_dict(self, object: &'a Object) -> Option<&'a Dictionary> {
        match self.resolve(object) {
            Object::Dictionary(dict) => Some(dict),
            Object::Stream(stream) => Some(&stream.dict),
            _ => None,
        }
    }

    /// The dictionary (or the dictionary of the stream) at `key`.
    pub fn dict(self, dict: &'a Dictionary, key: &str) -> Option<&'a Dictionary> {
        self.get(dict, key).and_then(|o| self.as_dict(o))
    }

    /// The stream that `object` stands for.
    pub fn as_stream(self, object: &'a Object) -> Option<&'a Stream> {
        self.resolve(object).as_stream().ok()
    }

    /// The stream at `key`.
    pub fn stream(self, dict: &'a Dictionary, key: &str) -> Option<&'a Stream> {
        self.get(dict, key).and_then(|o| o.as_stream().ok())
    }

    /// The array at `key`.
    pub fn array(self, dict: &'a Dictionary, key: &str) -> Option<&'a [Object]> {
        self.get(dict, key).and_then(|o| o.as_array().ok()).map(Vec::as_slice)
    }

    /// The name at `key`.
    pub fn name(self, dict: &'a Dictionary, key: &str) -> Option<&'a [u8]> {
        self.get(dict, key).and_then(|o| o.as_name().ok())
    }

    /// The name at `key` as text.
    pub fn name_text(self, dict: &'a Dictionary, key: &str) -> Option<String> {
        self.name(dict, key).map(name_text)
    }

    /// The truth value at `key`.
    pub fn boolean(self, dict: &'a Dictionary, key: &str) -> Option<bool> {
        self.get(dict, key).and_then(|o| o.as_bool().ok())
    }

    /// The whole number at `key`; a real with nothing behind the point counts.
    pub fn integer(self, dict: &'a Dictionary, key: &str) -> Option<i64> {
        match self.get(dict, key)? {
            Object::Integer(n) => Some(*n),
            Object::Real(_) => self.number(dict, key).and_then(whole),
            _ => None,
        }
    }

    /// The number at `key`.
    pub fn number(self, dict: &'a Dictionary, key: &str) -> Option<f64> {
        self.get(dict, key).and_then(number)
    }

    /// A number, references followed.
    pub fn as_number(self, object: &'a Object) -> Option<f64> {
        number(self.resolve(object))
    }

    /// The array of numbers at `key`; `None` where one is no number.
    pub fn numbers(self, dict: &'a Dictionary, key: &str) -> Option<Vec<f64>> {
        self.as_numbers(self.get(dict, key)?)
    }

    /// An array of numbers.
    pub fn as_numbers(self, object: &'a Object) -> Option<Vec<f64>> {
        self.resolve(object).as_array().ok()?.iter().map(|o| self.as_number(o)).collect()
    }

    /// The rectangle at `key` with its corners sorted.
    pub fn rect(self, dict: &'a Dictionary, key: &str) -> Option<Rect> {
        self.as_rect(self.get(dict, key)?)
    }

    /// A rectangle with its corners sorted.
    pub fn as_rect(self, object: &'a Object) -> Option<Rect> {
        match *self.as_numbers(object)?.as_slice() {
            [xa, ya, xb, yb, ..] => Some(Rect::new(xa, ya, xb, yb).abs()),
            _ => None,
        }
    }

    /// The matrix at `key`; the identity where it is absent or wrong.
    pub fn matrix(self, dict: &'a Dictionary, key: &str) -> Affine {
        self.numbers(dict, key).and_then(|n| matrix(&n)).unwrap_or(Affine::IDENTITY)
    }
}

/// The matrix of six numbers.
pub(super) fn matrix(numbers: &[f64]) -> Option<Affine> {
    match *numbers {
        [a, b, c, d, e, f] if numbers.iter().all(|n| n.is_finite()) => Some(Affine::new([a, b, c, d, e, f])),
        _ => None,
    }
}

/// A number as f64. Reals come as f32; their shortest decimal is what the file said, so that 243.78 stays 243.78.
pub(super) fn number(object: &Object) -> Option<f64> {
    match object {
        Object::Integer(n) => Some(*n as f64),
        Object::Real(r) => format!("{r}").parse::<f64>().ok().filter(|v| v.is_finite()),
        _ => None,
    }
}

/// The whole number nearest to `v`, where it lies in the range that PDF numbers have.
#[expect(clippy::cast_possible_truncation, reason = "the range is checked first")]
pub(super) fn whole(v: f64) -> Option<i64> {
    (v.abs() < 9.0e15).then_some(v.round() as i64)
}

/// The whole number nearest to `v` as a count: nothing below zero, and no more than `most`.
pub(super) fn count(v: f64, most: usize) -> usize {
    whole(v).and_then(|n| usize::try_from(n).ok()).unwrap_or(0).min(most)
}

/// A name as text; bytes that are not UTF-8 are read as Latin-1, which keeps names apart.
pub(super) fn name_text(name: &[u8]) -> String {
    std::str::from_utf8(name).map_or_else(|_| name.iter().map(|b| char::from(*b)).collect(), str::to_owned)
}
