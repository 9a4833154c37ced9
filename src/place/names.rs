use std::collections::BTreeSet;

/// Every name that a content stream mentions, wherever it stands: more than are used is harmless, fewer would lose something. The bytes
/// of inline pictures are read through as well for that reason.
pub(super) fn mentioned(content: &[u8]) -> BTreeSet<Vec<u8>> {
    let mut names = BTreeSet::new();
    let mut rest = content;
    while let Some(at) = rest.iter().position(|b| *b == b'/') {
        rest = rest.get(at + 1..).unwrap_or_default();
        let end = rest.iter().position(|b| !is_regular(*b)).unwrap_or(rest.len());
        let (word, after) = rest.split_at(end);
        names.insert(unescaped(word));
        rest = after;
    }
    names
}

/// Regular characters (ISO 32000-1, 7.2.2): neither white space nor a delimiter.
const fn is_regular(byte: u8) -> bool {
    !matches!(byte, 0 | 9 | 10 | 12 | 13 | 32 | b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

/// A name with its `#xx` resolved (7.3.5).
fn unescaped(word: &[u8]) -> Vec<u8> {
    let digit = |b: Option<&u8>| b.and_then(|b| char::from(*b).to_digit(16)).and_then(|d| u8::try_from(d).ok());
    let mut name = Vec::with_capacity(word.len());
    let mut at = 0;
    while let Some(byte) = word.get(at) {
        if let (b'#', Some(high), Some(low)) = (byte, digit(word.get(at + 1)), digit(word.get(at + 2))) {
            name.push(high * 16 + low);
            at += 3;
        } else {
            name.push(*byte);
            at += 1;
        }
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_found_wherever_they_stand() {
        let found = mentioned(b"q/Im1 Do/GS#201 gs BT/F1 8 Tf[(a)-3]TJ ET /OC/MC0 BDC EMC Q");
        let want: BTreeSet<Vec<u8>> =
            ["Im1", "GS 1", "F1", "OC", "MC0"].iter().map(|n| n.as_bytes().to_vec()).collect();
        assert_eq!(found, want);
    }
}
