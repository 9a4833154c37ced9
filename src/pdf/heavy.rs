//! Large pictures that stay in the file they came from.
//!
//! A picture of many megabytes is never changed on its way to the press file, so its bytes need not be copied into every object that
//! holds it: a token stands in their place, and whoever needs the bytes asks [`Heavy::whole`]. A token carries the BLAKE3 digest of
//! what it stands for; equal pictures of two files have equal tokens, and a press file that is read back shows by its tokens that the
//! pictures are those of the artwork.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

use lopdf::{Document, LoadOptions, Object, ObjectId, Stream};

use super::light::Light;

/// Pictures of fewer bytes are copied like anything else.
pub(super) const LEAST: usize = 256 << 10;
/// Begins every token. Other data of a token's length could begin so only on purpose, and then leads nowhere else than a token does.
const MAGIC: &[u8; 16] = b"\xFA\x1Ffairfold heavy";
/// Magic, length, digest, and the first and last bytes, by which the place in the file is found where it is not known (else zeros).
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

/// Loads a file's objects with tokens in the place of its heavy pictures.
///
/// # Errors
/// As the loader says.
pub(crate) fn load(
    bytes: &[u8],
    mut options: LoadOptions,
) -> lopdf::Result<(Document, BTreeMap<Digest, Range<usize>>)> {
    options.filter = Some(lighten);
    if let Some(light) = Light::of(bytes)
        && let Ok(mut document) = Document::load_mem_with_options(&light.bytes, options.clone())
        && let Some(digests) = digests(bytes, &light.places)
        && settle(&mut document, &light, &digests).is_some()
    {
        return Ok((document, digests.into_iter().zip(light.places).collect()));
    }
    Ok((Document::load_mem_with_options(bytes, options)?, BTreeMap::new()))
}

/// Puts tokens with the digests of what they stand for in the place of the marks of a light copy. Each mark must have been read as a
/// stream of its own: one that was not stood in something else, and the copy is not that file; then it is `None`.
pub(super) fn settle(document: &mut Document, light: &Light, digests: &[Digest]) -> Option<()> {
    let mut left: BTreeSet<usize> = (0..digests.len()).collect();
    for object in document.objects.values_mut() {
        let Object::Stream(stream) = object else { continue };
        let Some(number) = Light::marked(&stream.content).filter(|n| left.remove(n)) else { continue };
        let length = light.places.get(number)?.len();
        stream.content = token(length, digests.get(number)?, [0; EDGE], [0; EDGE]);
        stream.dict.set("Length", i64::try_from(length).ok()?);
    }
    left.is_empty().then_some(())
}

/// The digest of each place, on two cores.
fn digests(bytes: &[u8], places: &[Range<usize>]) -> Option<Vec<Digest>> {
    let of =
        |places: &[Range<usize>]| places.iter().map(|p| bytes.get(p.clone()).map(digest)).collect::<Option<Vec<_>>>();
    let (first, second) = places.split_at(places.len() / 2);
    std::thread::scope(|scope| {
        let first = scope.spawn(|| of(first));
        let second = of(second)?;
        Some([first.join().ok()??, second].concat())
    })
}

/// The digest of a picture's bytes.
pub(crate) fn digest(bytes: &[u8]) -> Digest {
    blake3::hash(bytes).into()
}

/// Puts a token for the bytes of a heavy picture, while a document is loaded.
#[expect(clippy::unnecessary_wraps, reason = "the loader's filter asks for it")]
fn lighten(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    if let Object::Stream(stream) = object
        && stream.content.len() >= LEAST
        && stream.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|s| s == b"Image")
    {
        let edge = |bytes: Option<&[u8]>| bytes.and_then(|b| b.try_into().ok()).unwrap_or_default();
        let (head, tail) = (stream.content.get(..EDGE), stream.content.get(stream.content.len() - EDGE..));
        stream.content = token(stream.content.len(), &digest(&stream.content), edge(head), edge(tail));
    }
    // What is kept is what was given; a copy is asked for only where objects come in object streams, which hold no streams.
    Some((id, if object.as_stream().is_ok() { Object::Null } else { object.clone() }))
}

fn token(length: usize, digest: &Digest, head: [u8; EDGE], tail: [u8; EDGE]) -> Vec<u8> {
    [MAGIC.as_slice(), &(length as u64).to_be_bytes(), digest, &head, &tail].concat()
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
    /// Finds where the tokens of a loaded document stand in its file, as far as the places are not `known`. A token without a place makes
    /// the whole of it `None`: the document must then be loaded without tokens.
    pub(crate) fn find(document: &Document, bytes: &Arc<[u8]>, known: BTreeMap<Digest, Range<usize>>) -> Option<Self> {
        // Offsets count from the header (ISO 32000-1, 7.5.2).
        let start = bytes.windows(5).position(|w| w == b"%PDF-").unwrap_or(0);
        let mut places = known;
        for (id, object) in &document.objects {
            let Object::Stream(Stream { content, .. }) = object else { continue };
            let Some(token) = Token::read(content).filter(|t| !places.contains_key(&t.digest)) else { continue };
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
        let token = token(LEAST, &digest(b"heron"), [3; EDGE], [4; EDGE]);
        assert_eq!(token.len(), TOKEN);
        let read = Token::read(&token).unwrap();
        assert_eq!(
            (read.length, read.digest, read.head, read.tail),
            (LEAST, digest(b"heron"), [3; EDGE].as_slice(), [4; EDGE].as_slice())
        );
        assert!(stands_for(b"heron").is_none() && stands_for(&token[1..]).is_none());
    }
}
