//! The bytes of a file whose heavy pictures stand elsewhere.

use std::io::{self, Write};
use std::ops::Range;
use std::sync::Arc;

use super::fault;
use super::heavy::{Digest, Heavy, stands_for};
use crate::fault::Result;

/// A finished file: what was put together, and between it the heavy pictures where they stand in the files they came from.
#[derive(Clone, Debug)]
pub struct Pieces {
    skeleton: Vec<u8>,
    heavy: Vec<Part>,
}

/// A picture that goes in place of a token.
#[derive(Clone, Debug)]
struct Part {
    /// Where its token begins in the skeleton.
    at: usize,
    token: usize,
    digest: Digest,
    file: Arc<[u8]>,
    range: Range<usize>,
}

impl Part {
    fn piece(&self) -> Piece<'_> {
        Piece::Picture(self.file.get(self.range.clone()).unwrap_or_default(), self.digest)
    }
}

/// A piece of a file.
#[derive(Clone, Copy, Debug)]
pub(super) enum Piece<'a> {
    /// What was put together.
    Own(&'a [u8]),
    /// A heavy picture and its digest.
    Picture(&'a [u8], Digest),
}

impl<'a> Piece<'a> {
    pub(super) fn bytes(&self) -> &'a [u8] {
        match self {
            Self::Own(bytes) | Self::Picture(bytes, _) => bytes,
        }
    }
}

/// What the writer of objects gives, and where tokens stand in it.
#[derive(Default)]
pub(super) struct Skeleton {
    bytes: Vec<u8>,
    tokens: Vec<usize>,
}

impl Write for Skeleton {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        // The contents of a stream are written in one piece.
        if stands_for(bytes).is_some() {
            self.tokens.push(self.bytes.len());
        }
        self.bytes.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Skeleton {
    pub(super) fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// Ends the last line.
    pub(super) fn end(&mut self) {
        self.bytes.push(b'\n');
    }

    /// Puts the pictures in: every offset in the cross-reference stream moves by what stands before it.
    pub(super) fn filled(self, carried: &[Heavy]) -> Result<Pieces> {
        let Self { bytes: mut skeleton, tokens } = self;
        let mut heavy = Vec::new();
        for at in tokens {
            let content = skeleton.get(at..at + super::heavy::TOKEN).unwrap_or_default();
            let part = stands_for(content).and_then(|(digest, _)| {
                let (file, range) = carried.iter().find_map(|h| h.part(&digest))?;
                Some(Part { at, token: content.len(), digest, file, range })
            });
            heavy.push(part.ok_or_else(|| fault("a picture's bytes were lost"))?);
        }
        if !heavy.is_empty() {
            shift(&mut skeleton, &heavy).ok_or_else(|| fault("the cross-reference stream cannot be followed"))?;
        }
        Ok(Pieces { skeleton, heavy })
    }
}

/// Adds to every offset what the pictures before it add to the file. The writer's cross-reference stream is not compressed, and its
/// entries are one byte of kind, four of offset and two more (ISO 32000-1, 7.5.8).
fn shift(skeleton: &mut Vec<u8>, heavy: &[Part]) -> Option<()> {
    const KEY: &[u8] = b"startxref\n";
    const ENTRY: usize = 7;
    let moved = |offset: usize| {
        let before = heavy.iter().take_while(|p| p.at < offset);
        before.fold(offset, |offset, part| offset + part.range.len() - part.token)
    };
    let key = skeleton.windows(KEY.len()).rposition(|w| w == KEY)?;
    let digits = skeleton.get(key + KEY.len()..)?.split(|b| *b == b'\n').next()?.to_vec();
    let start: usize = std::str::from_utf8(&digits).ok()?.parse().ok()?;
    let object = skeleton.get(start..key)?;
    let text = object.windows(7).position(|w| w == b"stream\n")?;
    let dictionary = String::from_utf8_lossy(object.get(..text)?).into_owned();
    if !dictionary.contains("/W[1 4 2]") {
        return None;
    }
    let length: usize =
        dictionary.split("/Length").nth(1)?.trim_start().split(|c: char| !c.is_ascii_digit()).next()?.parse().ok()?;
    let entries = start + text + 7;
    for entry in skeleton.get_mut(entries..entries + length)?.chunks_exact_mut(ENTRY) {
        let (kind, rest) = entry.split_first_mut()?;
        let offset = rest.first_chunk_mut::<4>()?;
        if *kind == 1 {
            let to = moved(usize::try_from(u32::from_be_bytes(*offset)).ok()?);
            *offset = u32::try_from(to).ok()?.to_be_bytes();
        }
    }
    let to = moved(start).to_string();
    skeleton.splice(key + KEY.len()..key + KEY.len() + digits.len(), to.into_bytes());
    Some(())
}

impl Pieces {
    /// How many bytes the file has.
    pub fn len(&self) -> usize {
        self.heavy.iter().fold(self.skeleton.len(), |n, part| n + part.range.len() - part.token)
    }

    /// Whether it has none; a finished file never is.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Each piece in order.
    pub(super) fn each(&self) -> impl Iterator<Item = Piece<'_>> {
        let ends = self.heavy.iter().map(|p| p.at).chain([self.skeleton.len()]);
        let starts = std::iter::once(0).chain(self.heavy.iter().map(|p| p.at + p.token));
        let picture = |p| Some(Part::piece(p));
        let pictures = self.heavy.iter().map(picture).chain([None]);
        starts.zip(ends).zip(pictures).flat_map(|((from, to), picture)| {
            std::iter::once(Piece::Own(self.skeleton.get(from..to).unwrap_or_default())).chain(picture)
        })
    }

    /// Its bytes, piece by piece.
    pub fn bytes(&self) -> impl Iterator<Item = &[u8]> {
        self.each().map(|piece| piece.bytes())
    }

    /// Writes the file, piece by piece.
    ///
    /// # Errors
    /// Whatever `to` says.
    pub fn write_to(&self, to: &mut dyn Write) -> io::Result<()> {
        self.bytes().try_for_each(|piece| to.write_all(piece))
    }

    /// The file in one piece.
    pub fn into_bytes(self) -> Vec<u8> {
        if self.heavy.is_empty() { self.skeleton } else { self.bytes().collect::<Vec<_>>().concat() }
    }
}
