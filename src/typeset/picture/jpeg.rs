//! What a JPEG file says of itself, so that its bytes can pass through unchanged.

/// The head of a JPEG file (ITU-T T.81, annex B).
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Head {
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) components: u8,
    pub(super) bits: u8,
    /// Whether an APP14 segment `Adobe` is there; CMYK samples then stand inverted (common practice since the segment's first writer).
    pub(super) adobe: bool,
    /// The ICC profile of the APP2 segments (ICC.1, annex B.4), where there is one.
    pub(super) profile: Option<Vec<u8>>,
}

/// Reads the head; `Err` says in words why the file cannot go into a PDF as it is.
pub(super) fn head(bytes: &[u8]) -> Result<Head, String> {
    let mut at = 2;
    let mut adobe = false;
    let mut icc: Vec<(u8, Vec<u8>)> = Vec::new();
    loop {
        let (marker, segment, next) = segment(bytes, at).ok_or("its header ends early")?;
        match marker {
            0xEE if segment.starts_with(b"Adobe") => adobe = true,
            0xE2 if segment.starts_with(b"ICC_PROFILE\0") => {
                if let (Some(number), Some(part)) = (segment.get(12), segment.get(14..)) {
                    icc.push((*number, part.to_vec()));
                }
            }
            // Baseline, extended and progressive Huffman: what DCTDecode takes (ISO 32000-1, 7.4.8).
            0xC0..=0xC2 => {
                let [bits, h1, h0, w1, w0, components] = *segment.first_chunk::<6>().ok_or("its header ends early")?;
                icc.sort_by_key(|(n, _)| *n);
                let profile: Vec<u8> = icc.into_iter().flat_map(|(_, part)| part).collect();
                return Ok(Head {
                    width: u32::from(u16::from_be_bytes([w1, w0])),
                    height: u32::from(u16::from_be_bytes([h1, h0])),
                    components,
                    bits,
                    adobe,
                    profile: (!profile.is_empty()).then_some(profile),
                });
            }
            0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF => {
                return Err("it is a lossless, arithmetic or hierarchical JPEG, which PDF does not take".to_owned());
            }
            0xD9 | 0xDA => return Err("it has no frame header".to_owned()),
            _ => {}
        }
        at = next;
    }
}

/// The marker at `at`, its segment's content, and where the next one begins.
fn segment(bytes: &[u8], mut at: usize) -> Option<(u8, &[u8], usize)> {
    if *bytes.get(at)? != 0xFF {
        return None;
    }
    while *bytes.get(at)? == 0xFF {
        at += 1;
    }
    let marker = *bytes.get(at)?;
    at += 1;
    if matches!(marker, 0x01 | 0xD0..=0xD9) {
        return Some((marker, &[], at));
    }
    let length = usize::from(u16::from_be_bytes([*bytes.get(at)?, *bytes.get(at + 1)?]));
    Some((marker, bytes.get(at + 2..at + length)?, at + length))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Segments after SOI, each with its length.
    fn file(segments: &[(u8, &[u8])]) -> Vec<u8> {
        let mut bytes = vec![0xFF, 0xD8];
        for (marker, content) in segments {
            bytes.extend([0xFF, *marker]);
            bytes.extend(u16::try_from(content.len() + 2).unwrap().to_be_bytes());
            bytes.extend(*content);
        }
        bytes
    }

    #[test]
    fn the_frame_header_gives_size_and_components() {
        // T.81, B.2.2: P, Y, X, Nf.
        let bytes = file(&[(0xEE, b"Adobe\0\x64\0\0\0\0\0"), (0xC0, &[8, 0x01, 0x00, 0x02, 0x00, 4, 0, 0, 0])]);
        let head = head(&bytes).unwrap();
        assert_eq!((head.width, head.height, head.components, head.adobe), (512, 256, 4, true));
    }

    #[test]
    fn profile_parts_are_joined_in_their_order() {
        let part = |n: u8, text: &[u8]| [b"ICC_PROFILE\0".as_slice(), &[n, 2], text].concat();
        let (second, first) = (part(2, b"cd"), part(1, b"ab"));
        let bytes = file(&[(0xE2, &second), (0xE2, &first), (0xC2, &[8, 0, 1, 0, 1, 3])]);
        assert_eq!(head(&bytes).unwrap().profile.unwrap(), b"abcd");
    }

    #[test]
    fn what_pdf_does_not_take_is_refused() {
        assert!(head(&file(&[(0xC9, &[8, 0, 1, 0, 1, 3])])).unwrap_err().contains("arithmetic"));
        assert!(head(&[0xFF, 0xD8, 0xFF]).is_err());
    }
}
