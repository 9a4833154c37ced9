//! A finished file, read again from where it was written.

use std::collections::BTreeMap;
use std::io::{self, Read};
use std::ops::Range;

use lopdf::{Document, LoadOptions};

use super::fault;
use super::heavy::{self, Digest};
use super::light::Light;
use super::pieces::{Piece, Pieces};
use crate::fault::Result;

/// A file's objects as they were read back. Heavy pictures were compared with what they were to be, byte by byte, and are read as tokens.
#[derive(Debug)]
pub struct ReadBack {
    document: Document,
    header: Vec<u8>,
}

/// As much of a file as is held at a time while a picture is compared.
const AT_ONCE: usize = 1 << 20;

impl ReadBack {
    /// Reads the objects of a whole file.
    ///
    /// # Errors
    /// It cannot be read.
    pub fn of(bytes: &[u8]) -> Result<Self> {
        let (document, _) = heavy::load(bytes, LoadOptions::default())
            .map_err(|why| fault(format!("the press file cannot be read back: {why}")))?;
        Ok(Self { document, header: bytes.iter().take(8).copied().collect() })
    }

    /// Reads a file back that was written from `pieces`; only the pictures in it are taken for known, once they proved to be the same.
    ///
    /// # Errors
    /// It cannot be read, a picture differs, or there is more or less in it than was written.
    pub fn compare(pieces: &Pieces, from: &mut dyn Read) -> io::Result<Result<Self>> {
        let mut bytes = vec![0; pieces.len()];
        let mut pictures: BTreeMap<usize, (Range<usize>, Digest)> = BTreeMap::new();
        let mut at = 0;
        let mut part = vec![0; AT_ONCE];
        for piece in pieces.each() {
            let end = at + piece.bytes().len();
            match piece {
                Piece::Own(_) => from.read_exact(bytes.get_mut(at..end).unwrap_or_default())?,
                Piece::Picture(picture, digest) => {
                    for wanted in picture.chunks(AT_ONCE) {
                        let room = part.get_mut(..wanted.len()).unwrap_or_default();
                        from.read_exact(room)?;
                        if room != wanted {
                            return Ok(Err(fault(format!("the picture at byte {at} is not as it was in the artwork"))));
                        }
                    }
                    pictures.insert(at, (at..end, digest));
                }
            }
            at = end;
        }
        if from.read(&mut [0])? > 0 {
            return Ok(Err(fault("the file is longer than what was written")));
        }
        let header = bytes.iter().take(8).copied().collect();
        let light = Light::of(&bytes).and_then(|light| Self::marked(&bytes, &light, &pictures));
        if let Some(document) = light {
            return Ok(Ok(Self { document, header }));
        }
        // The whole of it, then: the pictures are what they were compared with.
        for (piece, place) in pieces.each().filter(|p| matches!(p, Piece::Picture(..))).zip(pictures.values()) {
            bytes.get_mut(place.0.clone()).unwrap_or_default().copy_from_slice(piece.bytes());
        }
        Ok(Self::of(&bytes))
    }

    /// The objects of a light copy. The pictures that were compared must be among its own, where they were written; the others came back
    /// with the file.
    fn marked(bytes: &[u8], light: &Light, pictures: &BTreeMap<usize, (Range<usize>, Digest)>) -> Option<Document> {
        let mut document = Document::load_mem_with_options(&light.bytes, LoadOptions::default()).ok()?;
        let mut left = pictures.len();
        let digest = |place: &Range<usize>| match pictures.get(&place.start) {
            Some((known, digest)) if known == place => {
                left -= 1;
                Some(*digest)
            }
            Some(_) => None,
            None => bytes.get(place.clone()).map(heavy::digest),
        };
        let digests: Option<Vec<Digest>> = light.places.iter().map(digest).collect();
        heavy::settle(&mut document, light, &digests.filter(|_| left == 0)?)?;
        Some(document)
    }

    /// Its objects.
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// The version that its first line states, such as `1.6`.
    pub fn version(&self) -> &[u8] {
        self.header.strip_prefix(b"%PDF-").unwrap_or_default()
    }
}
