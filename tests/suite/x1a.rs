//! PDF/X-1a:2003: cards that can be it, cards that cannot, and one broken file for each rule.

use std::fs;
use std::process::Output;

use fairfold::press::{PressInfo, Standard, verify, write};
use fairfold::sheet::{WorkStyle, lay_out};
use lopdf::{Dictionary, Document, Object, Stream, dictionary};

use super::artwork_pdf::Pdf;
use super::press_files::{arts, heron, info, inks, judged, marked_card, opened, request, saved, small_card, text};
use super::program::{demo, fairfold};

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

#[test]
fn demo_cards_without_transparency_become_x1a() {
    let folder = tempfile::tempdir().unwrap();
    for card in ["otterby-4.5x12", "otterby-6x12", "otterby-6x17", "otterby-down", "netherwick-art"] {
        let out = folder.path().join(format!("{card}.pdf"));
        let done = fairfold(&["impose", &format!("{card}-job.toml"), "--standard", "x-1a", "--out", text(&out)]);
        assert!(done.status.success(), "{card}: {}", told(&done));
        judged("qpdf", &["--check", text(&out)]);
        // poppler reads subtype and version from the file itself.
        let says = judged("pdfinfo", &[text(&out)]);
        assert!(says.contains("PDF/X-1a:2003") && says.contains("PDF version:     1.4"), "{card}: {says}");
        let bytes = fs::read(&out).unwrap();
        assert!(bytes.starts_with(b"%PDF-1.4") && !bytes.windows(7).any(|w| w == b"/ObjStm"), "{card}");
        // As it was planned for PDF/X-4, drawn the same.
        let usual = fs::read(demo(&format!("{card}-press.pdf"))).unwrap();
        let usual = saved(&folder, "usual.pdf", &usual);
        let picture = |path: &std::path::Path, name: &str| {
            let prefix = folder.path().join(name);
            judged("pdftoppm", &["-r", "20", "-f", "1", "-l", "1", "-singlefile", text(path), text(&prefix)]);
            fs::read(prefix.with_extension("ppm")).unwrap()
        };
        assert!(picture(&out, "a") == picture(&usual, "b"), "{card} looks otherwise");
    }
}

#[test]
fn artwork_that_cannot_be_x1a_is_refused_object_by_object() {
    let folder = tempfile::tempdir().unwrap();
    let mut pdf = Pdf::new();
    let resources = "/ExtGState << /A << /ca 0.5 >> /M << /BM /Multiply >> >>";
    pdf.page(
        &format!("/MediaBox [0 0 450 882] /TrimBox [9 9 441 873] /Resources << {resources} >>"),
        "/A gs 0.4 0 0 0 k 100 100 90 90 re f /M gs 100 300 90 90 re f",
    );
    let art = saved(&folder, "art.pdf", &pdf.bytes());
    let out = folder.path().join("press.pdf");
    let done = fairfold(&[
        "impose",
        text(&art),
        "--size",
        "12 x 6 in",
        "--fold",
        "none",
        "--sheet",
        "13x19",
        "--standard",
        "x-1a",
        "--date",
        "2027-01-15",
        "--out",
        text(&out),
    ]);
    assert_eq!(done.status.code(), Some(2), "{}", told(&done));
    let words = told(&done);
    for word in ["a path that is see-through", "a path that blends", "page 1", "flatten the transparency", "32.1 mm"] {
        assert!(words.contains(word), "`{word}` is not in {words}");
    }
    assert!(!out.exists());
}

/// A press file of X-1a with one change.
fn broken(change: impl FnOnce(&mut Document)) -> String {
    let artwork = opened(&marked_card());
    let format = small_card();
    let (inks, spots) = (inks(), [heron()]);
    let sheet = lay_out(&request(&format, "13x19", WorkStyle::Sheetwise, &inks)).unwrap();
    let job = PressInfo { standard: Standard::X1a, ..info(&inks, &spots) };
    let good = write(&sheet, &arts(&artwork), &job).unwrap();
    verify(&good, &sheet, &arts(&artwork), &job).unwrap_or_else(|f| panic!("{f}"));
    let mut document = Document::load_mem(&good).unwrap();
    change(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    verify(&bytes, &sheet, &arts(&artwork), &job).map_or_else(|f| f.to_string(), |()| "nothing".to_owned())
}

#[test]
fn every_rule_of_x1a_has_a_file_that_breaks_it() {
    let add = |object: Object| {
        move |d: &mut Document| {
            d.add_object(object);
        }
    };
    let dict = |d: Dictionary| Object::Dictionary(d);
    let stream = |filter: &str| {
        let mut keys = Dictionary::new();
        keys.set("Filter", Object::Name(filter.as_bytes().to_vec()));
        Object::Stream(Stream::new(keys, b"abc".to_vec()).with_compression(false))
    };
    let name = |n: &str| Object::Name(n.as_bytes().to_vec());
    let cases: Vec<(&str, String)> = vec![
        (
            "has a transparency group",
            broken(add(dict(dictionary! { "Group" => dictionary! { "S" => name("Transparency") } }))),
        ),
        ("has a soft mask", broken(add(dict(dictionary! { "SMask" => dictionary! { "S" => name("Alpha") } })))),
        ("is see-through", broken(add(dict(dictionary! { "ca" => 0.5 })))),
        ("is see-through", broken(add(dict(dictionary! { "CA" => 0 })))),
        ("has a blend mode", broken(add(dict(dictionary! { "BM" => name("Multiply") })))),
        ("has a blend mode", broken(add(dict(dictionary! { "BM" => vec![name("Screen")] })))),
        ("belongs to a layer", broken(add(dict(dictionary! { "OC" => dictionary! {} })))),
        ("colour in DeviceRGB", broken(add(Object::Array(vec![name("Indexed"), name("DeviceRGB")])))),
        ("colour in ICCBased", broken(add(Object::Array(vec![name("ICCBased"), Object::Null])))),
        ("colour in Lab", broken(add(Object::Array(vec![name("Lab"), dict(dictionary! {})])))),
        ("colour in CalGray", broken(add(Object::Array(vec![name("CalGray"), dict(dictionary! {})])))),
        ("coded by LZWDecode", broken(add(stream("LZWDecode")))),
        ("coded by JPXDecode", broken(add(stream("JPXDecode")))),
        ("an action (JavaScript)", broken(add(dict(dictionary! { "S" => name("JavaScript"), "JS" => name("x") })))),
        ("not PDF 1.4", broken(|d| d.version = "1.6".to_owned())),
        ("has layers", broken(|d| d.catalog_mut().unwrap().set("OCProperties", dictionary! {}))),
        ("output intents", broken(|d| d.catalog_mut().unwrap().set("OutputIntents", Object::Array(Vec::new())))),
        ("OpenAction", broken(|d| d.catalog_mut().unwrap().set("OpenAction", Object::Null))),
        ("no ID", broken(|d| drop(d.trailer.remove(b"ID")))),
        ("no Info", broken(|d| drop(d.trailer.remove(b"Info")))),
    ];
    for (wanted, told) in cases {
        assert!(told.contains(wanted), "`{wanted}` is not in: {told}");
    }
    for (key, wanted) in [
        ("GTS_PDFXVersion", "GTS_PDFXVersion"),
        ("GTS_PDFXConformance", "GTS_PDFXConformance"),
        ("Title", "Title"),
        ("CreationDate", "CreationDate"),
        ("ModDate", "ModDate"),
        ("Trapped", "trapped"),
    ] {
        let told = broken(|d| {
            let id = d.trailer.get(b"Info").and_then(Object::as_reference).unwrap();
            d.get_object_mut(id).and_then(Object::as_dict_mut).unwrap().remove(key.as_bytes());
        });
        assert!(told.contains(wanted), "{key}: {told}");
    }
}
