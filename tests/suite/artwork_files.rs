//! Damaged, locked and hostile files: read as far as they can be, or a fault that says why. Never a panic, never a hang.

use std::process::Command;

use fairfold::artwork::{Artwork, Budget, OpenOptions};
use fairfold::card::{Face, Side};
use proptest::prelude::*;

use super::artwork_pdf::{HELVETICA, Pdf, bounds, one_page, open, remarks, texts};

/// Runs qpdf over a file and gives what it wrote.
fn qpdf(input: &[u8], arguments: &[&str]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let (from, to) = (folder.path().join("in.pdf"), folder.path().join("out.pdf"));
    std::fs::write(&from, input).unwrap();
    let status = Command::new("qpdf").args(arguments).arg(&from).arg(&to).status();
    let status = status.unwrap_or_else(|e| panic!("qpdf is needed for this test (apt-get install qpdf): {e}"));
    assert!(status.success(), "qpdf {arguments:?}");
    std::fs::read(&to).unwrap()
}

fn card() -> Pdf {
    let mut pdf = one_page(HELVETICA, "BT /F1 10 Tf 10 20 Td (Otterby) Tj ET 10 40 30 10 re f");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {HELVETICA} >>"), "BT /F1 10 Tf 10 20 Td (Common) Tj ET");
    pdf
}

fn first(artwork: &Artwork) -> Face {
    artwork.face(1, Side::Outside).unwrap_or_else(|faults| panic!("{faults}"))
}

fn fault(bytes: &[u8], options: &OpenOptions) -> String {
    match Artwork::open(bytes, "otterby.pdf", options) {
        Err(faults) => faults.to_string(),
        Ok(artwork) => match artwork.face(1, Side::Outside) {
            Err(faults) => faults.to_string(),
            Ok(face) => panic!("no fault but {} elements", face.elements.len()),
        },
    }
}

#[test]
fn files_locked_with_an_empty_password_open_whatever_the_handler() {
    let plain = card().bytes();
    for (arguments, name) in [
        (vec!["--encrypt", "", "owner", "40", "--"], "RC4 40"),
        (vec!["--encrypt", "", "owner", "128", "--use-aes=n", "--"], "RC4 128"),
        (vec!["--encrypt", "", "owner", "128", "--use-aes=y", "--"], "AES 128"),
        (vec!["--encrypt", "", "owner", "128", "--use-aes=y", "--cleartext-metadata", "--"], "AES 128, clear metadata"),
        (vec!["--encrypt", "", "owner", "256", "--force-R5", "--"], "AES 256, revision 5"),
        (vec!["--encrypt", "", "owner", "256", "--print=none", "--"], "AES 256, printing not permitted"),
    ] {
        for streams in ["disable", "generate"] {
            let mut all = vec!["--allow-weak-crypto"];
            let objects = format!("--object-streams={streams}");
            all.push(&objects);
            all.extend(arguments.iter().copied());
            let artwork = open(&qpdf(&plain, &all));
            assert_eq!(artwork.page_count(), 2, "{name}, object streams {streams}");
            assert_eq!(texts(&first(&artwork))[0].text, "Otterby", "{name}, object streams {streams}");
        }
    }
}

#[test]
fn a_real_password_is_asked_for_and_never_guessed() {
    let locked = qpdf(&card().bytes(), &["--encrypt", "heron", "owner", "256", "--"]);
    let with = |password: Option<&str>| OpenOptions { password: password.map(str::to_owned), ..OpenOptions::default() };
    let asked = fault(&locked, &with(None));
    assert!(asked.contains("locked with a password") && asked.contains("--password"), "{asked}");
    assert!(fault(&locked, &with(Some("bracken"))).contains("does not open it"));
    let opened = Artwork::open(&locked, "otterby.pdf", &with(Some("heron"))).unwrap();
    assert_eq!(texts(&first(&opened))[0].text, "Otterby");
    // A password where none is needed does no harm.
    let plain = Artwork::open(&card().bytes(), "otterby.pdf", &with(Some("heron"))).unwrap();
    assert_eq!(plain.page_count(), 2);
}

#[test]
fn object_streams_linearised_files_and_updates_read_alike() {
    let plain = card().bytes();
    for arguments in
        [&["--object-streams=generate"][..], &["--linearize"], &["--linearize", "--object-streams=generate"]]
    {
        let artwork = open(&qpdf(&plain, arguments));
        assert_eq!(texts(&first(&artwork))[0].text, "Otterby", "{arguments:?}");
        assert!(artwork.remarks().is_empty(), "{}", remarks(&artwork));
    }
    // An incremental update that writes the first page's contents anew.
    let mut updated = plain.clone();
    let at = updated.len();
    let content = "BT /F1 10 Tf 10 20 Td (Heath) Tj ET";
    updated.extend(format!("3 0 obj\n<< /Length {} >>\nstream\n{content}\nendstream\nendobj\n", content.len()).bytes());
    let xref = updated.len();
    let old = plain.windows(9).rposition(|w| w == b"startxref").unwrap();
    let previous: String =
        plain[old + 10..].iter().take_while(|b| b.is_ascii_digit()).map(|b| char::from(*b)).collect();
    updated.extend(
        format!("xref\n3 1\n{at:010} 00000 n \ntrailer\n<< /Size 7 /Root 1 0 R /Prev {previous} >>\nstartxref\n{xref}\n%%EOF\n").bytes(),
    );
    assert_eq!(texts(&first(&open(&updated)))[0].text, "Heath");
}

#[test]
fn damage_is_repaired_and_told() {
    let plain = card().bytes();
    let table = plain.windows(6).position(|w| w == b"\nxref\n").unwrap();
    let junk = [b"a line that is no PDF\n".as_slice(), &plain].concat();
    for (bytes, message) in [
        (junk, "22 bytes stand before the PDF header"),
        (plain[..table].to_vec(), "objects were found by reading through the file"),
        (replaced(&plain, b"startxref\n", b"startxref\n9"), "objects were found by reading through the file"),
        (replaced(&plain, b"%PDF-1.6", b"%XXX-1.6"), "no PDF header"),
        (replaced(&plain, b"[0 0 200 100]", b"[. 0 200 100]"), "damaged objects were mended"),
        (replaced(&plain, b"<<  /Length ", b"<<  /Lengxx "), "damaged objects were mended"),
    ] {
        let artwork = open(&bytes);
        assert_eq!(texts(&first(&artwork))[0].text, "Otterby", "{message}");
        assert!(remarks(&artwork).contains(message), "{message}: {}", remarks(&artwork));
    }
}

fn replaced(bytes: &[u8], from: &[u8], to: &[u8]) -> Vec<u8> {
    let at = bytes.windows(from.len()).position(|w| w == from).unwrap();
    [&bytes[..at], to, &bytes[at + from.len()..]].concat()
}

#[test]
fn what_is_lost_is_named() {
    let mut pdf = Pdf::new();
    pdf.page_of("/MediaBox [0 0 200 100] /Contents 77 0 R");
    let artwork = pdf.open();
    assert!(first(&artwork).elements.is_empty());
    assert!(remarks(&artwork).contains("lost: 77"), "{}", remarks(&artwork));
}

#[test]
fn what_is_no_pdf_or_has_no_pages_is_a_fault() {
    let none = OpenOptions::default();
    assert!(fault(b"", &none).contains("not a PDF"));
    assert!(fault(b"\x89PNG\r\n\x1a\n", &none).contains("not a PDF"));
    assert!(fault(b"%PDF-1.7\nand nothing more", &none).contains("damaged"));
    assert!(fault(&Pdf::new().bytes(), &none).contains("no pages"));
}

#[test]
fn a_file_tells_its_claims_intents_scripts_and_attachments() {
    let mut pdf = one_page("", "");
    let xmp = "<x:xmpmeta><rdf:Description pdfxid:GTS_PDFXVersion=\"PDF/X-4\"><pdfaid:part>2</pdfaid:part>\
               <pdfaid:conformance>B</pdfaid:conformance></rdf:Description></x:xmpmeta>";
    let metadata = pdf.stream("/Type /Metadata /Subtype /XML", xmp);
    let profile = pdf.stream("/N 4", "");
    pdf.root(&format!(
        "/Version /1.7 /Metadata {metadata} 0 R /OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX \
         /OutputConditionIdentifier (CGATS TR 006) /DestOutputProfile {profile} 0 R >>] \
         /Names << /EmbeddedFiles << /Names [] >> >> /OpenAction << /S /JavaScript /JS (app.alert(1)) >>"
    ));
    let facts = pdf.open().facts();
    assert_eq!((facts.version.as_str(), facts.encrypted, facts.fields), ("1.7", false, false));
    assert_eq!(facts.claims, ["PDF/X-4", "PDF/A-2b"]);
    assert!(facts.scripts && facts.embedded_files);
    let intent = &facts.intents[0];
    assert_eq!(
        (intent.kind.as_str(), intent.condition.as_str(), intent.profile),
        ("GTS_PDFX", "CGATS TR 006", Some(4))
    );
    let plain = one_page("", "").open().facts();
    assert!(!plain.scripts && !plain.embedded_files && plain.claims.is_empty() && plain.version == "1.6");
    let locked = open(&qpdf(&card().bytes(), &["--encrypt", "", "owner", "256", "--"])).facts();
    assert!(locked.encrypted);
}

fn zeros(megabytes: usize) -> Vec<u8> {
    let mut stream = lopdf::Stream::new(lopdf::Dictionary::new(), vec![b' '; megabytes << 20]);
    stream.compress().unwrap();
    stream.content
}

#[test]
fn a_small_stream_that_inflates_past_the_budget_is_a_fault_on_every_path() {
    let options = OpenOptions { budget: Budget { stream: 1 << 20, ..Budget::default() }, ..OpenOptions::default() };
    let bomb = zeros(4);
    assert!(bomb.len() < 1 << 15);
    let twice = {
        let mut stream = lopdf::Stream::new(lopdf::Dictionary::new(), bomb.clone());
        stream.compress().unwrap();
        stream.content
    };
    let predictor = "/DecodeParms << /Predictor 15 /Columns 1024 >>";
    for (keys, data) in [
        ("/Filter /FlateDecode".to_owned(), &bomb),
        ("/Filter [/FlateDecode /FlateDecode]".to_owned(), &twice),
        (format!("/Filter /FlateDecode {predictor}"), &bomb),
    ] {
        let mut pdf = Pdf::new();
        let contents = pdf.stream(&keys, data);
        pdf.page_of(&format!("/MediaBox [0 0 200 100] /Contents {contents} 0 R"));
        assert!(fault(&pdf.bytes(), &options).contains("decodes to more than 1 MiB"), "{keys}");
    }
    // The same inside an object stream: the fault comes when the file is opened.
    let mut pdf = Pdf::new();
    pdf.stream("/Type /ObjStm /N 1 /First 4 /Filter /FlateDecode", &bomb);
    pdf.page("/MediaBox [0 0 200 100]", "");
    let told = fault(&pdf.bytes(), &options);
    assert!(told.contains("decodes to more than 1 MiB"), "{told}");
    // Streams that are each within the budget and together over that of the page.
    let options = OpenOptions { budget: Budget { page: 6 << 20, ..Budget::default() }, ..OpenOptions::default() };
    let mut pdf = Pdf::new();
    let form = "/Type /XObject /Subtype /Form /BBox [0 0 1 1] /Filter /FlateDecode";
    let (a, b) = (pdf.stream(form, &bomb), pdf.stream(form, &bomb));
    let resources = format!("/XObject << /A {a} 0 R /B {b} 0 R >>");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), "/A Do /A Do /B Do");
    assert!(fault(&pdf.bytes(), &options).contains("decodes to more than"));
}

#[test]
fn a_huge_picture_is_listed_without_being_decoded() {
    let mut pdf = Pdf::new();
    let keys = "/Type /XObject /Subtype /Image /Width 30000 /Height 30000 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /FlateDecode";
    let picture = pdf.stream(keys, zeros(8));
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /XObject << /I {picture} 0 R >> >>"),
        "200 0 0 100 0 0 cm /I Do",
    );
    let options = OpenOptions {
        budget: Budget { stream: 1 << 20, page: 1 << 20, ..Budget::default() },
        ..OpenOptions::default()
    };
    let artwork = Artwork::open(&pdf.bytes(), "otterby.pdf", &options).unwrap();
    assert_eq!(first(&artwork).elements.len(), 1);
}

#[test]
fn forms_that_multiply_run_out_of_operators() {
    let mut pdf = Pdf::new();
    let mut inner = pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 9 9]", "0 0 1 1 re f");
    for _ in 0..12 {
        let keys =
            format!("/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /X {inner} 0 R >> >>");
        inner = pdf.stream(&keys, "/X Do /X Do /X Do /X Do /X Do /X Do /X Do /X Do");
    }
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /XObject << /X {inner} 0 R >> >>"), "/X Do");
    let options = OpenOptions { budget: Budget { operators: 20_000, ..Budget::default() }, ..OpenOptions::default() };
    assert!(fault(&pdf.bytes(), &options).contains("more than 20000 drawing operators and glyphs"));
    let options = OpenOptions { budget: Budget { elements: 1000, ..Budget::default() }, ..OpenOptions::default() };
    let many = one_page("", &"0 0 1 1 re f ".repeat(1001));
    assert!(fault(&many.bytes(), &options).contains("more than 1000 things"));
}

/// A page with a bit of everything, for mutations to bite on.
fn rich() -> Vec<u8> {
    let mut pdf = Pdf::new();
    let tint = pdf.add("<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.6 0 0.8 0.2] /N 1 >>");
    let glyph = pdf.stream("", "1000 0 d0 0 0 500 500 re f");
    let type3 = pdf.add(format!(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 97 \
         /Widths [1000] /Encoding << /Differences [97 /a] >> /CharProcs << /a {glyph} 0 R >> >>"
    ));
    let picture = pdf.stream(
        "/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace [/Indexed /DeviceRGB 1 <000000FFFFFF>]",
        [0; 4],
    );
    let form = pdf.stream(
        "/Type /XObject /Subtype /Form /BBox [0 0 50 50] /Group << /S /Transparency /I true >>",
        "q 1 0 0 1 2 3 cm 0 0 9 9 re B Q",
    );
    let cell =
        pdf.stream("/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9", "0 0 3 3 re f");
    let four = pdf.stream(
        "/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1 0 1]",
        "{ dup 0.5 gt { 0.2 mul } { pop 0 } ifelse 0 0 0 }",
    );
    let resources = format!(
        "{} /XObject << /I {picture} 0 R /F {form} 0 R >> /Pattern << /P {cell} 0 R >> /ColorSpace << /S [/Separation /Heath /DeviceCMYK {tint} 0 R] \
         /T [/Separation /Heron /DeviceCMYK {four} 0 R] >> /ExtGState << /G << /OP true /OPM 1 /ca 0.5 /BM /Multiply >> >>",
        HELVETICA.replace("/F1", &format!("/T3 {type3} 0 R /F1"))
    );
    let content = "q /G gs /S cs 0.5 scn 10 10 m 20 20 30 10 40 40 c 1 2 3 4 v 5 6 7 8 y h W* n Q [3 2] 1 d 2 w 1 J 10 10 50 20 re S \
                   BT /F1 9 Tf 10 50 Td 1 Tc [(Ott) -120 (erby)] TJ T* (x) ' /T3 10 Tf (a) Tj ET /T cs 0.7 scn 0 0 9 9 re f* \
                   q 20 0 0 20 100 50 cm /I Do Q /F Do /Pattern cs /P scn 5 5 20 20 re b BI /W 1 /H 1 /BPC 8 /CS /G ID x EI";
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /TrimBox [5 5 195 95] /Rotate 90 /Resources << {resources} >>"),
        content,
    );
    pdf.bytes()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, ..ProptestConfig::default() })]

    #[test]
    fn no_mutation_of_a_file_makes_the_reader_panic(
        edits in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..4_u8), 1..12),
        cut in proptest::option::weighted(0.2, any::<prop::sample::Index>()),
    ) {
        let mut bytes = rich();
        for (at, byte, kind) in edits {
            let at = at.index(bytes.len());
            match kind {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                2 => drop(bytes.remove(at)),
                _ => bytes[at] = b"0123456789()<>[]/%-. "[usize::from(byte) % 21],
            }
        }
        if let Some(cut) = cut {
            let at = cut.index(bytes.len());
            bytes.truncate(at);
        }
        if let Ok(artwork) = Artwork::open(&bytes, "otterby.pdf", &OpenOptions::default()) {
            let _ = artwork.face(1, Side::Outside);
            let _ = artwork.remarks();
        }
    }

    #[test]
    fn no_content_stream_makes_the_reader_panic(
        words in proptest::collection::vec(prop::sample::select(vec![
            "q", "Q", "cm", "re", "m", "l", "c", "v", "y", "h", "f", "S", "B*", "b", "n", "W", "W*", "BT", "ET", "Tf", "Tj", "TJ", "Td",
            "T*", "Tm", "Tr", "'", "\"", "g", "k", "cs", "scn", "SCN", "gs", "Do", "sh", "d", "w", "J", "BDC", "EMC", "BI", "ID", "EI",
            "d0", "d1", "/F1", "/Pattern", "/OC", "/X", "(a)", "<4", "[", "]", "<<", ">>", "1", "0", "-3.5", "1e9", "99999999999", "%\n", "true",
        ]), 0..120),
    ) {
        let artwork = one_page(HELVETICA, &words.join(" ")).open();
        let _ = artwork.face(1, Side::Outside);
    }
}

#[test]
fn the_page_that_mutations_bite_on_is_read_in_full() {
    let face = first(&open(&rich()));
    assert!(face.elements.len() == 10, "{}", face.elements.len());
    assert!(face.elements.iter().all(|e| !bounds(e).is_empty()));
}
