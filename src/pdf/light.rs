//! A file without the weight of its pictures, for a loader that copies every stream it meets.

use std::ops::Range;

use super::heavy::LEAST;

/// Begins every mark. Other data that begin so would have to do so on purpose, and are then not counted among the marks.
const MAGIC: &[u8; 16] = b"\xFA\x1Ffairfold place";
/// The magic and a number.
const MARK: usize = 16 + 8;
/// Ends the object of a mark. Its last byte stops a loader that goes on over blanks, for what follows is all zeros, and a zero is one.
const END: &[u8] = b"\nendstream\nendobj\n.";
/// A dictionary is not longer than this.
const LONGEST_DICTIONARY: usize = 4 << 10;

/// A copy of a file in which everything stands where it stood, and a mark stands for the data of each heavy picture. What lies behind a
/// mark is never written to, so that the system need not provide it.
#[derive(Debug)]
pub(super) struct Light {
    /// The copy.
    pub(super) bytes: Vec<u8>,
    /// Where the data stand that each mark stands for.
    pub(super) places: Vec<Range<usize>>,
}

/// A heavy picture's data, and the digits that state their length.
struct Place {
    data: Range<usize>,
    digits: Range<usize>,
}

impl Light {
    /// The light copy of a file, or `None` where it has no heavy picture whose length stands in its own dictionary.
    pub(super) fn of(bytes: &[u8]) -> Option<Self> {
        let places: Vec<Place> = Places { bytes, at: 0 }.collect();
        if places.is_empty() {
            return None;
        }
        let mut light = vec![0; bytes.len()];
        let mut from = 0;
        for (number, Place { data, digits }) in places.iter().enumerate() {
            put(&mut light, from, bytes.get(from..data.start)?);
            let stated = format!("{MARK:<width$}", width = digits.len());
            put(&mut light, digits.start, stated.as_bytes());
            put(&mut light, data.start, &[MAGIC.as_slice(), &(number as u64).to_be_bytes(), END].concat());
            from = data.end;
        }
        put(&mut light, from, bytes.get(from..)?);
        Some(Self { bytes: light, places: places.into_iter().map(|p| p.data).collect() })
    }

    /// The number of the place that a stream's content stands for.
    pub(super) fn marked(content: &[u8]) -> Option<usize> {
        let number = content.strip_prefix(MAGIC.as_slice())?;
        usize::try_from(u64::from_be_bytes(number.try_into().ok()?)).ok()
    }
}

fn put(to: &mut [u8], at: usize, bytes: &[u8]) {
    if let Some(room) = to.get_mut(at..at + bytes.len()) {
        room.copy_from_slice(bytes);
    }
}

/// Looks for heavy pictures from one word `stream` to the next, and over the data of those that it finds.
struct Places<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Iterator for Places<'_> {
    type Item = Place;

    fn next(&mut self) -> Option<Place> {
        loop {
            let found = self.at + memchr::memmem::find(self.bytes.get(self.at..)?, b"stream")?;
            self.at = found + 6;
            if let Some(place) = self.picture(found) {
                self.at = place.data.end;
                return Some(place);
            }
        }
    }
}

impl Places<'_> {
    /// The picture whose data follow the word `stream` at a place.
    fn picture(&self, word: usize) -> Option<Place> {
        let behind = self.bytes.get(word + 6..)?;
        // ISO 32000-1, 7.3.8.1: the word is followed by a line feed, or by a carriage return and one.
        let from = word + 6 + if behind.starts_with(b"\r\n") { 2 } else { usize::from(behind.starts_with(b"\n")) };
        let earliest = word.saturating_sub(LONGEST_DICTIONARY);
        let before = self.bytes.get(earliest..word)?;
        let begin = memchr::memmem::rfind(before, b" obj")?;
        let dictionary = before.get(begin..)?;
        memchr::memmem::find(dictionary, b"/Image")?;
        let key = memchr::memmem::rfind(dictionary, b"/Length")? + 7;
        let rest = dictionary.get(key..)?;
        let blank = rest.iter().take_while(|b| b.is_ascii_whitespace()).count();
        let stated = rest.get(blank..)?;
        let count = stated.iter().take_while(|b| b.is_ascii_digit()).count();
        let (digits, then) = stated.split_at_checked(count)?;
        // `12 0 R` is the length of another object.
        let direct = then.trim_ascii_start().first().is_some_and(|b| matches!(b, b'/' | b'>'));
        let length: usize = std::str::from_utf8(digits).ok()?.parse().ok()?;
        if !direct || from == word + 6 || length < LEAST {
            return None;
        }
        let end = from.checked_add(length)?;
        let after = self.bytes.get(end..self.bytes.len().min(end + 16))?.trim_ascii_start();
        let start = earliest + begin + key + blank;
        after.starts_with(b"endstream").then_some(Place { data: from..end, digits: start..start + count })
    }
}

#[cfg(test)]
mod tests {
    use super::Light;

    #[test]
    fn a_mark_stands_where_the_data_stood_and_everything_else_as_it_was() {
        let data = vec![7; 300_000];
        let object = |keys: &str| {
            [format!("9 0 obj\n<< /Subtype /Image {keys} >>\nstream\n").as_bytes(), &data, b"\nendstream\nendobj\n"]
                .concat()
        };
        let file = [object("/Length 300000 /Width 1"), object("/Length 8 0 R"), object("/Length 300100")].concat();
        let light = Light::of(&file).unwrap();
        let first = file.windows(7).position(|w| w == b"stream\n").unwrap() + 7;
        assert_eq!(light.places.as_slice(), std::slice::from_ref(&(first..first + 300_000)));
        assert_eq!(light.bytes.len(), file.len());
        assert_eq!(light.bytes[first + 300_000..], file[first + 300_000..]);
        assert!(light.bytes.starts_with(b"9 0 obj\n<< /Subtype /Image /Length 24     /Width 1 >>\nstream\n"));
        assert_eq!(Light::marked(&light.bytes[first..first + 24]), Some(0));
        assert!(Light::of(&object("/Length 8 0 R")).is_none());
    }
}
