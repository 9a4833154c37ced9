//! Large pictures that stay in the file they came from.
//!
//! A picture of many megabytes is never changed on its way to the press file, so its bytes need not be copied into every object that
//! holds it: a token stands in their place, and whoever needs the bytes asks [`Heavy::whole`]. A token carries the SHA-256 digest of
//! what it stands for; equal pictures of two files have equal tokens, and a press file that is read back shows by its tokens that the
//! pictures are those of the artwork.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use lopdf::{Document, Object, ObjectId, Stream};
use sha2::{Digest as _, Sha256};

/// Pictures of fewer bytes are copied like anything else.
const LEAST: usize = 256 << 10;
/// Begins every token. Other data of a token's length could begin so only on purpose, and then leads nowhere else than a token does.
const MAGIC: &[u8; 16] = b"\xFA\x1Ffairfold heavy";
/// Magic, length, digest, and the first and last bytes, by which the place in the file is found.
pub(super) const TOKEN: usize = 16 + 8 + 32 + 2 * EDGE;
const EDGE: usize = 16;

/// The digest of a stream's bytes.
pub(crate) type Digest = [u8; 32];

/// The heavy streams of a file, and the file that holds them.
#[derive(Clone, Debug, Default)]
pub struct Heavy {
    bytes: Option<Arc<[u8]>>,
    places: BTreeMap<Digest, Range<usize>>,
}

/// Puts a token for the bytes of a heavy picture, while a document is loaded.
#[expect(clippy::unnecessary_wraps, reason = "the loader's filter asks for it")]
pub(crate) fn lighten(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    if let Object::Stream(stream) = object
        && stream.content.len() >= LEAST
        && stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|s| s == b"Image")
    {
        stream.content = token(&stream.content);
    }
    // What is kept is what was given; a copy is asked for only where objects come in object streams, which hold no streams.
    Some((id, if object.as_stream().is_ok() { Object::Null } else { object.clone() }))
}

fn token(content: &[u8]) -> Vec<u8> {
    let length = content.len() as u64;
    let (head, tail) = (content.get(..EDGE), content.get(content.len().saturating_sub(EDGE)..));
    [
        MAGIC.as_slice(),
        &length.to_be_bytes(),
        &Sha256::digest(content),
        head.unwrap_or_default(),
        tail.unwrap_or_default(),
    ]
    .concat()
}

/// What a token says.
struct Token<'a> {
    length: usize,
    digest: Digest,
    head: &'a [u8],
    tail: &'a [u8],
}

impl<'a> Token<'a> {
    fn read(content: &'a [u8]) -> Option<Self> {
        let rest = content.strip_prefix(MAGIC.as_slice()).filter(|_| content.len() == TOKEN)?;
        let (length, rest) = rest.split_first_chunk::<8>()?;
        let (digest, rest) = rest.split_first_chunk::<32>()?;
        let (head, tail) = rest.split_at_checked(EDGE)?;
        Some(Self { length: usize::try_from(u64::from_be_bytes(*length)).ok()?, digest: *digest, head, tail })
    }
}

/// The digest and length of what a stream's content stands for, where it is a token.
pub fn stands_for(content: &[u8]) -> Option<(Digest, usize)> {
    Token::read(content).map(|t| (t.digest, t.length))
}

impl Heavy {
    /// Finds where the tokens of a loaded document stand in its file. A token without a place makes the whole of it `None`: the document
    /// must then be loaded without tokens.
    pub(crate) fn find(document: &Document, bytes: &Arc<[u8]>) -> Option<Self> {
        // Offsets count from the header (ISO 32000-1, 7.5.2).
        let start = bytes.windows(5).position(|w| w == b"%PDF-").unwrap_or(0);
        let mut places = BTreeMap::new();
        for (id, object) in &document.objects {
            let Object::Stream(Stream { content, .. }) = object else { continue };
            let Some(token) = Token::read(content) else { continue };
            let offset = match document.reference_table.get(id.0)? {
                lopdf::xref::XrefEntry::Normal { offset, .. } => usize::try_from(*offset).ok()?,
                _ => return None,
            };
            let place = place(bytes, start.checked_add(offset)?, &token)?;
            places.insert(token.digest, place);
        }
        Some(Self { bytes: Some(Arc::clone(bytes)), places })
    }

    /// The bytes that a stream's content is or stands for. Once they were let go, a token stands for itself.
    pub fn whole<'a>(&'a self, content: &'a [u8]) -> &'a [u8] {
        let found = || {
            let place = self.places.get(&Token::read(content)?.digest)?;
            self.bytes.as_ref()?.get(place.clone())
        };
        if self.places.is_empty() { content } else { found().unwrap_or(content) }
    }

    /// Whether a stream of this digest is among them.
    pub fn has(&self, digest: &Digest) -> bool {
        self.places.contains_key(digest)
    }

    /// Forgets the file; what was found in it stays known.
    pub fn let_go(&mut self) {
        self.bytes = None;
    }

    /// The file and the place in it of a stream of this digest.
    pub(super) fn part(&self, digest: &Digest) -> Option<(Arc<[u8]>, Range<usize>)> {
        Some((Arc::clone(self.bytes.as_ref()?), self.places.get(digest)?.clone()))
    }
}

/// A dictionary is not longer than this.
const LONGEST_DICTIONARY: usize = 1 << 20;

/// Where the data of the stream object at `offset` stand: behind one of its words `stream`, with the token's edges at both ends.
fn place(bytes: &[u8], offset: usize, token: &Token<'_>) -> Option<Range<usize>> {
    let end = bytes.len().min(offset.checked_add(LONGEST_DICTIONARY)?);
    let object = bytes.get(offset..end)?;
    for (at, _) in object.windows(6).enumerate().filter(|(_, w)| w == b"stream") {
        let behind = object.get(at + 6..)?;
        let eol = if behind.starts_with(b"\r\n") { 2 } else { 1 };
        let from = offset + at + 6 + eol;
        let data = bytes.get(from..from.checked_add(token.length)?)?;
        if data.starts_with(token.head) && data.ends_with(token.tail) {
            return Some(from..from + token.length);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_reads_back() {
        let content: Vec<u8> = (0..LEAST).map(|n| u8::try_from(n % 251).unwrap()).collect();
        let token = token(&content);
        assert_eq!(token.len(), TOKEN);
        let read = Token::read(&token).unwrap();
        assert_eq!((read.length, read.head, read.tail), (LEAST, &content[..EDGE], &content[LEAST - EDGE..]));
        assert!(stands_for(&content).is_none() && stands_for(&token[1..]).is_none());
    }
}
