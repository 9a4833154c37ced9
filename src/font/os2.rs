use rustybuzz::ttf_parser::{RawFace, Tag};

/// The subset `part` with the OS/2 table of `whole` put back, so that whoever reads the file finds what the font says of its embedding
/// (`fsType`). `None` where either is not a TrueType file (OpenType specification, table directory).
pub(super) fn with_os2(part: &[u8], whole: &[u8]) -> Option<Vec<u8>> {
    let os2 = RawFace::parse(whole, 0).ok()?.table(Tag::from_bytes(b"OS/2"))?;
    let face = RawFace::parse(part, 0).ok()?;
    let mut tables: Vec<(Tag, &[u8])> = Vec::new();
    for record in face.table_records {
        if record.tag != Tag::from_bytes(b"OS/2") {
            tables.push((record.tag, face.table(record.tag)?));
        }
    }
    tables.push((Tag::from_bytes(b"OS/2"), os2));
    tables.sort_by_key(|(tag, _)| tag.0);
    assembled(part.get(..4)?, &tables)
}

/// A font file of these tables, which are in the order of their tags.
fn assembled(kind: &[u8], tables: &[(Tag, &[u8])]) -> Option<Vec<u8>> {
    let count = u16::try_from(tables.len()).ok()?;
    let power = count.checked_ilog2()?;
    let range = 16_u16.checked_shl(power)?;
    let mut directory = kind.to_vec();
    for number in [count, range, u16::try_from(power).ok()?, (count * 16).checked_sub(range)?] {
        directory.extend(number.to_be_bytes());
    }
    let start = directory.len() + tables.len() * 16;
    let (mut body, mut head_at) = (Vec::new(), None);
    for (tag, table) in tables {
        let at = start + body.len();
        let mut table = table.to_vec();
        let length = u32::try_from(table.len()).ok()?;
        if *tag == Tag::from_bytes(b"head") {
            // The adjustment counts as zero in the sums that it is made from.
            table.get_mut(8..12)?.fill(0);
            head_at = Some(at + 8);
        }
        table.resize(table.len().next_multiple_of(4), 0);
        directory.extend(tag.to_bytes());
        directory.extend(sum(&table).to_be_bytes());
        directory.extend(u32::try_from(at).ok()?.to_be_bytes());
        directory.extend(length.to_be_bytes());
        body.extend(table);
    }
    directory.extend(body);
    let adjustment = 0xB1B0_AFBA_u32.wrapping_sub(sum(&directory));
    let at = head_at?;
    directory.get_mut(at..at + 4)?.copy_from_slice(&adjustment.to_be_bytes());
    Some(directory)
}

/// The sum of big-endian words, as the specification has it.
fn sum(bytes: &[u8]) -> u32 {
    bytes.as_chunks::<4>().0.iter().fold(0, |sum, word| u32::wrapping_add(sum, u32::from_be_bytes(*word)))
}
