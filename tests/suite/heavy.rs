//! Artwork of many megabytes: its pictures stay where they stand, and the press file is the same file for it.

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::pdf::ReadBack;
use fairfold::press::{compose, verify, write};
use fairfold::sheet::{WorkStyle, lay_out};
use lopdf::{Document, Object};
use sha2::{Digest as _, Sha256};
use std::sync::Arc;

use super::artwork_pdf::Pdf;
use super::press_files::{BOTH, arts, info, judged, request, saved, small_card, text};

/// Bytes without a pattern (a 64-bit xorshift), so that nothing is deflated away.
fn noise(length: usize, seed: u64) -> Vec<u8> {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut next = move || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state.to_be_bytes()
    };
    std::iter::repeat_with(&mut next).flatten().take(length).collect()
}

/// Two faces of 3 x 5 in with pictures on them, the second shared by both; `side` samples wide and high.
fn artwork(side: usize) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let pictures: Vec<usize> = (1..=3)
        .map(|n| {
            // The word `stream` in the dictionary must not be taken for where the data begin.
            let keys = format!(
                "/Type /XObject /Subtype /Image /Width {side} /Height {side} /BitsPerComponent 8 /ColorSpace /DeviceCMYK /Note (stream\n{n})"
            );
            pdf.stream(&keys, noise(side * side * 4, n))
        })
        .collect();
    for face in 0..2 {
        let resources = format!("/Resources << /XObject << /A {} 0 R /B {} 0 R >> >>", pictures[face], pictures[2]);
        let boxes = "/MediaBox [0 0 378 234] /TrimBox [9 9 369 225] /BleedBox [0 0 378 234]";
        let content = "q 180 0 0 234 0 0 cm /A Do Q q 198 0 0 234 180 0 cm /B Do Q";
        pdf.page(&format!("{boxes} {resources}"), content);
    }
    pdf.bytes()
}

/// The digest of every picture, as `lopdf` reads them.
fn pictures(bytes: &[u8]) -> Vec<String> {
    let document = Document::load_mem(bytes).unwrap();
    let images = document.objects.values().filter_map(|o| match o {
        Object::Stream(s) if s.dict.get(b"Subtype").and_then(Object::as_name).is_ok_and(|n| n == b"Image") => Some(s),
        _ => None,
    });
    let mut digests: Vec<String> = images.map(|s| format!("{:x?}", Sha256::digest(&s.content))).collect();
    digests.sort();
    digests
}

#[test]
fn heavy_pictures_go_through_byte_for_byte_and_the_file_is_sound() {
    let bytes: Arc<[u8]> = artwork(1300).into();
    assert!(bytes.len() > 20_000_000);
    let light = Artwork::open_shared(&bytes, "otterby.pdf", &OpenOptions::default()).unwrap();
    let held: usize =
        light.document().objects.values().filter_map(|o| o.as_stream().ok()).map(|s| s.content.len()).sum();
    assert!(held < 10_000, "{held} bytes were copied");
    let whole = Artwork::open(&bytes, "otterby.pdf", &OpenOptions::default()).unwrap();

    let format = small_card();
    let inks = fairfold::ink::Ink::PROCESS;
    let sheet = lay_out(&request(&format, "13x19", WorkStyle::Sheetwise, &inks)).unwrap();
    assert_eq!(sheet.forms.len(), BOTH.len());
    let info = info(&inks, &[]);
    let pieces = compose(&sheet, &arts(&light), &info).unwrap();
    let (stated, press) = (pieces.len(), pieces.into_bytes());
    assert_eq!(stated, press.len());
    verify(&press, &sheet, &arts(&light), &info).unwrap_or_else(|f| panic!("{f}"));
    verify(&press, &sheet, &arts(&whole), &info).unwrap_or_else(|f| panic!("{f}"));
    assert_eq!(pictures(&press), pictures(&bytes));
    let folder = tempfile::tempdir().unwrap();
    judged("qpdf", &["--check", text(&saved(&folder, "press.pdf", &press))]);
    // The same pages come from the file that was copied whole; only IDs tell how it was held.
    let other = write(&sheet, &arts(&whole), &info).unwrap();
    assert_eq!(other.len(), press.len());

    // One changed byte in a picture is seen when the file is read back.
    let mut spoilt = press;
    let at = spoilt.windows(64).position(|w| w == &noise(64, 2)[..]).unwrap();
    spoilt[at + 40] ^= 1;
    let said = verify(&spoilt, &sheet, &arts(&light), &info).unwrap_err().to_string();
    assert!(said.contains("a picture of 6760000 bytes is not as it was in the artwork"), "{said}");
}

#[test]
fn a_file_that_was_let_go_still_proves_its_press_file() {
    let bytes: Arc<[u8]> = artwork(1300).into();
    let mut artwork = Artwork::open_shared(&bytes, "otterby.pdf", &OpenOptions::default()).unwrap();
    let format = small_card();
    let inks = fairfold::ink::Ink::PROCESS;
    let sheet = lay_out(&request(&format, "13x19", WorkStyle::Sheetwise, &inks)).unwrap();
    let info = info(&inks, &[]);
    let press = write(&sheet, &arts(&artwork), &info).unwrap();
    artwork.let_go();
    drop(bytes);
    verify(&press, &sheet, &arts(&artwork), &info).unwrap_or_else(|f| panic!("{f}"));
    // What is gone cannot be written again, and nothing else is written in its place.
    let said = write(&sheet, &arts(&artwork), &info).unwrap_err().to_string();
    assert!(said.contains("bytes were lost"), "{said}");
}

/// A press file of 20 MB of pictures, in pieces.
fn composed(check: impl FnOnce(&fairfold::pdf::Pieces, &dyn Fn(&ReadBack) -> fairfold::fault::Result<()>)) {
    let bytes: Arc<[u8]> = artwork(1300).into();
    let artwork = Artwork::open_shared(&bytes, "otterby.pdf", &OpenOptions::default()).unwrap();
    let format = small_card();
    let inks = fairfold::ink::Ink::PROCESS;
    let sheet = lay_out(&request(&format, "13x19", WorkStyle::Sheetwise, &inks)).unwrap();
    let info = info(&inks, &[]);
    let pieces = compose(&sheet, &arts(&artwork), &info).unwrap();
    check(&pieces, &|read| fairfold::press::verify_read(read, &sheet, &arts(&artwork), &info));
}

#[test]
fn what_is_read_back_is_compared_with_the_pictures_where_they_stand() {
    composed(|pieces, prove| {
        let written: Vec<u8> = pieces.bytes().collect::<Vec<_>>().concat();
        let read = ReadBack::compare(pieces, &mut written.as_slice()).unwrap().unwrap();
        prove(&read).unwrap_or_else(|f| panic!("{f}"));
        // Any byte of a picture, and the file's length.
        let said = |bytes: &[u8]| match ReadBack::compare(pieces, &mut &*bytes) {
            Ok(read) => read.unwrap_err().to_string(),
            Err(e) => e.to_string(),
        };
        let at = written.windows(64).position(|w| w == &noise(64, 2)[..]).unwrap();
        for place in [0, 63, 1300 * 1300 * 4 - 1] {
            let mut spoilt = written.clone();
            spoilt[at + place] ^= 1;
            assert!(said(&spoilt).contains("is not as it was in the artwork"), "{}", said(&spoilt));
        }
        assert!(said(&[written.as_slice(), b"\n"].concat()).contains("longer"));
        assert!(said(&written[..written.len() - 1]).contains("fill"), "{}", said(&written[..written.len() - 1]));
        // A cross-reference that leads elsewhere is not found as planned.
        let entry = written.windows(9).rposition(|w| w == b"startxref").unwrap();
        let mut spoilt = written.clone();
        spoilt[entry + 11] ^= 1;
        let read = ReadBack::compare(pieces, &mut spoilt.as_slice()).unwrap();
        let said = read.and_then(|read| prove(&read)).unwrap_err().to_string();
        assert!(said.contains("does not lead to the objects"), "{said}");
    });
}

#[test]
fn a_picture_inside_an_attached_file_is_not_taken_for_one_of_the_page() {
    // An uncompressed attachment that is itself a PDF with a heavy picture, beside artwork with heavy pictures of its own.
    let inner = artwork(700);
    let side = 1300;
    let mut pdf = Pdf::new();
    let attached = pdf.stream("/Type /EmbeddedFile", inner.clone());
    let keys = format!(
        "/Type /XObject /Subtype /Image /Width {side} /Height {side} /BitsPerComponent 8 /ColorSpace /DeviceCMYK"
    );
    let pictures: Vec<usize> = (1..=3).map(|n| pdf.stream(&keys, noise(side * side * 4, n))).collect();
    let boxes = "/MediaBox [0 0 378 234] /TrimBox [9 9 369 225]";
    for picture in &pictures {
        let resources =
            format!("/Resources << /XObject << /A {picture} 0 R >> /Properties << /F << /EF {attached} 0 R >> >> >>");
        pdf.page(&format!("{boxes} {resources}"), "q 300 0 0 200 40 20 cm /A Do Q");
    }
    let bytes: Arc<[u8]> = pdf.bytes().into();
    let opened = Artwork::open_shared(&bytes, "otterby.pdf", &OpenOptions::default()).unwrap();
    let id = (u32::try_from(attached).unwrap(), 0);
    let Ok(Object::Stream(stream)) = opened.document().get_object(id) else { panic!("the attachment is gone") };
    assert!(stream.content == inner, "the attachment was changed");
    let whole: Vec<&[u8]> = pictures
        .iter()
        .map(|n| match opened.document().get_object((u32::try_from(*n).unwrap(), 0)) {
            Ok(Object::Stream(s)) => opened.heavy().whole(&s.content),
            _ => panic!("a picture is gone"),
        })
        .collect();
    assert!(whole.iter().zip(1..).all(|(data, n)| *data == noise(side * side * 4, n)));
}
