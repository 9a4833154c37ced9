//! What PDF/X asks: one broken file for each rule, and files that keep them all.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use fairfold::card::Breach;
use fairfold::claim::{RULES, Standard, in_artwork};
use fairfold::press::{PressInfo, verify, write};
use fairfold::sheet::{Sheet, WorkStyle, lay_out};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

use super::press_files::{CONDITION, arts, heron, info, inks, marked_card, opened, request, saved, small_card, text};
use super::program::{demo, fairfold};

fn name(text: &str) -> Object {
    Object::Name(text.as_bytes().to_vec())
}

fn array(values: Vec<Object>) -> Object {
    Object::Array(values)
}

fn sheet() -> Sheet {
    let (format, inks) = (small_card(), inks());
    lay_out(&request(&format, "13x19", WorkStyle::Sheetwise, &inks)).unwrap()
}

/// A press file.
fn good(standard: Standard) -> Vec<u8> {
    let artwork = opened(&marked_card());
    let (inks, spots) = (inks(), [heron()]);
    write(&sheet(), &arts(&artwork), &PressInfo { standard, ..info(&inks, &spots) }).unwrap()
}

fn held(bytes: &[u8], standard: Standard) -> Vec<Breach> {
    in_artwork(&opened(bytes), standard).unwrap()
}

/// What reading a press file back says of it.
fn verified(bytes: &[u8], standard: Standard) -> String {
    let artwork = opened(&marked_card());
    let (inks, spots) = (inks(), [heron()]);
    let job = PressInfo { standard, ..info(&inks, &spots) };
    verify(bytes, &sheet(), &arts(&artwork), &job).map_or_else(|f| f.to_string(), |()| "nothing".to_owned())
}

fn changed(standard: Standard, change: impl FnOnce(&mut Document)) -> Vec<u8> {
    let mut document = Document::load_mem(&good(standard)).unwrap();
    change(&mut document);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

fn page(document: &Document) -> ObjectId {
    *document.get_pages().values().next().unwrap()
}

/// Sets a key of the first page.
fn on_page(key: &'static str, value: Object) -> Change {
    Box::new(move |d| {
        let page = page(d);
        d.get_object_mut(page).and_then(Object::as_dict_mut).unwrap().set(key, value);
    })
}

fn resources(document: &mut Document) -> &mut Dictionary {
    let page = page(document);
    let place = document.get_dictionary(page).unwrap().get(b"Resources").unwrap().clone();
    if let Object::Reference(id) = place {
        return document.get_object_mut(id).and_then(Object::as_dict_mut).unwrap();
    }
    let page = document.get_object_mut(page).and_then(Object::as_dict_mut).unwrap();
    page.get_mut(b"Resources").and_then(Object::as_dict_mut).unwrap()
}

/// Sets a resource of the first page.
fn resource(document: &mut Document, kind: &str, key: &str, value: Object) {
    let resources = resources(document);
    if !resources.has(kind.as_bytes()) {
        resources.set(kind, Dictionary::new());
    }
    let place = resources.get(kind.as_bytes()).unwrap().clone();
    match place {
        Object::Reference(id) => document.get_object_mut(id).and_then(Object::as_dict_mut).unwrap().set(key, value),
        _ => resources.get_mut(kind.as_bytes()).and_then(Object::as_dict_mut).unwrap().set(key, value),
    }
}

/// Adds a resource of the first page.
fn with(kind: &'static str, value: Object) -> Change {
    Box::new(move |d| resource(d, kind, "Zz", value))
}

/// Adds a stream that the first page names among its pictures.
fn with_stream(keys: Dictionary) -> Change {
    Box::new(move |d| {
        let id = d.add_object(Stream::new(keys, b"abc".to_vec()).with_compression(false));
        resource(d, "XObject", "Zz", Object::Reference(id));
    })
}

/// Paints something more on the first page.
fn paint(document: &mut Document, content: &str) {
    let page = page(document);
    let mut all = document.get_page_content(page);
    all.extend_from_slice(content.as_bytes());
    let id = document.add_object(Stream::new(Dictionary::new(), all));
    document.get_object_mut(page).and_then(Object::as_dict_mut).unwrap().set("Contents", Object::Reference(id));
}

fn catalog(change: impl FnOnce(&mut Dictionary) + 'static) -> Change {
    Box::new(move |d| change(d.catalog_mut().unwrap()))
}

/// Changes the output intent.
fn intent(change: impl FnOnce(&mut Dictionary) + 'static) -> Change {
    Box::new(move |d| {
        let list = d.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap().clone();
        change(d.get_object_mut(list[0].as_reference().unwrap()).and_then(Object::as_dict_mut).unwrap());
    })
}

/// Changes the profile of the output intent.
fn profile(change: impl FnOnce(&mut Stream) + 'static) -> Change {
    Box::new(move |d| {
        let list = d.catalog().unwrap().get(b"OutputIntents").unwrap().as_array().unwrap().clone();
        let intent = d.get_dictionary(list[0].as_reference().unwrap()).unwrap();
        let id = intent.get(b"DestOutputProfile").unwrap().as_reference().unwrap();
        change(d.get_object_mut(id).and_then(Object::as_stream_mut).unwrap());
    })
}

/// Replaces words of the XMP packet.
fn packet(from: &'static str, to: &'static str) -> Change {
    Box::new(move |d| {
        let id = d.catalog().unwrap().get(b"Metadata").unwrap().as_reference().unwrap();
        let stream = d.get_object_mut(id).and_then(Object::as_stream_mut).unwrap();
        let xmp = String::from_utf8(stream.content.clone()).unwrap();
        assert!(xmp.contains(from), "{from} is not in {xmp}");
        stream.set_content(xmp.replace(from, to).into_bytes());
    })
}

fn about(key: &'static str, value: Option<Object>) -> Change {
    Box::new(move |d| {
        let id = d.trailer.get(b"Info").and_then(Object::as_reference).unwrap();
        let info = d.get_object_mut(id).and_then(Object::as_dict_mut).unwrap();
        match value {
            Some(value) => info.set(key, value),
            None => drop(info.remove(key.as_bytes())),
        }
    })
}

/// A colour space by a profile of these components by its header, stating `n`.
fn icc(document: &mut Document, profile: Vec<u8>, n: i64) -> Object {
    let id = document.add_object(Stream::new(dictionary! { "N" => n }, profile));
    array(vec![name("ICCBased"), Object::Reference(id)])
}

/// The condition's profile with another name inside: it is not the same to the byte.
fn another() -> Vec<u8> {
    let mut profile = CONDITION.profile.to_vec();
    profile[4] ^= 1;
    profile
}

type Change = Box<dyn FnOnce(&mut Document)>;

/// Rules that both standards have, each with one change that breaks it.
fn shared() -> Vec<(&'static str, Change)> {
    let numbers = |v: [i64; 4]| array(v.into_iter().map(Object::Integer).collect());
    vec![
        ("pdf-version", Box::new(|d: &mut Document| d.version = "1.7".to_owned())),
        ("pdf-version", catalog(|c| c.set("Version", name("2.0")))),
        ("file-id", Box::new(|d: &mut Document| drop(d.trailer.remove(b"ID")))),
        ("output-intent", catalog(|c| drop(c.remove(b"OutputIntents")))),
        ("output-intent", intent(|i| i.set("S", name("GTS_PDFA1")))),
        ("output-condition", intent(|i| drop(i.remove(b"OutputConditionIdentifier")))),
        (
            "output-profile",
            intent(|i| {
                i.remove(b"DestOutputProfile");
                i.remove(b"RegistryName");
            }),
        ),
        ("output-profile-class", profile(|p| p.dict.set("N", 3))),
        ("output-profile-class", profile(|p| p.set_plain_content(b"no profile".to_vec()))),
        (
            "output-profile-class",
            profile(|p| {
                let mut screen = CONDITION.profile.to_vec();
                screen[12..16].copy_from_slice(b"mntr");
                p.set_plain_content(screen);
            }),
        ),
        (
            "trim-box",
            Box::new(|d: &mut Document| {
                let page = page(d);
                d.get_object_mut(page).and_then(Object::as_dict_mut).unwrap().remove(b"TrimBox");
            }),
        ),
        ("trim-box", on_page("ArtBox", numbers([100, 100, 200, 200]))),
        ("boxes-nested", on_page("TrimBox", numbers([0, 0, 5000, 100]))),
        ("boxes-nested", on_page("BleedBox", numbers([300, 300, 400, 400]))),
        (
            "annotations",
            on_page(
                "Annots",
                array(vec![dictionary! { "Subtype" => name("Text"), "Rect" => numbers([100, 100, 200, 200]) }.into()]),
            ),
        ),
        ("pre-separated", on_page("SeparationInfo", dictionary! { "DeviceColorant" => name("Cyan") }.into())),
        ("actions", catalog(|c| c.set("OpenAction", dictionary! { "S" => name("GoTo") }))),
        (
            "actions",
            on_page(
                "AA",
                dictionary! { "O" => dictionary! { "S" => name("JavaScript"), "JS" => Object::string_literal("x") } }
                    .into(),
            ),
        ),
        ("transfer", with("ExtGState", dictionary! { "TR" => name("Identity") }.into())),
        ("transfer", with("ExtGState", dictionary! { "TR2" => dictionary! { "FunctionType" => 2 } }.into())),
        ("postscript", with_stream(dictionary! { "Subtype" => name("PS") })),
        ("opi", with_stream(dictionary! { "Subtype" => name("Form"), "OPI" => dictionary! {} })),
        ("reference-forms", with_stream(dictionary! { "Subtype" => name("Form"), "Ref" => dictionary! {} })),
        (
            "alternates",
            with_stream(dictionary! {
                "Subtype" => name("Image"), "Width" => 1, "Height" => 1, "BitsPerComponent" => 8, "ColorSpace" => name("DeviceGray"),
                "Alternates" => array(vec![dictionary! { "DefaultForPrinting" => true }.into()]),
            }),
        ),
        ("filters", with_stream(dictionary! { "Filter" => name("LZWDecode") })),
        ("filters", with_stream(dictionary! { "Filter" => array(vec![name("Crypt")]) })),
        ("external-data", with_stream(dictionary! { "F" => Object::string_literal("elsewhere.bin") })),
        (
            "profile-components",
            Box::new(|d: &mut Document| {
                let space = icc(d, another(), 3);
                resource(d, "ColorSpace", "Zz", space);
            }),
        ),
        (
            "fonts-embedded",
            Box::new(|d: &mut Document| {
                let font =
                    dictionary! { "Type" => name("Font"), "Subtype" => name("Type1"), "BaseFont" => name("Helvetica") };
                resource(d, "Font", "Zz", font.into());
                paint(d, " BT /Zz 9 Tf 100 100 Td (Otterby) Tj ET");
            }),
        ),
        ("device-colour", Box::new(|d: &mut Document| paint(d, " 1 0 0 rg 100 100 50 50 re f"))),
    ]
}

fn of_x4() -> Vec<(&'static str, Change)> {
    let mut cases = shared();
    cases.extend([
        ("xmp-packet", catalog(|c| drop(c.remove(b"Metadata")))),
        ("xmp-version", packet("PDF/X-4<", "PDF/X-5<")),
        ("xmp-document-id", packet("xmpMM:DocumentID", "xmpMM:OtherID")),
        ("xmp-version-id", packet("xmpMM:VersionID", "xmpMM:OtherID")),
        ("xmp-rendition-class", packet("xmpMM:RenditionClass", "xmpMM:Other")),
        ("xmp-title", packet("dc:title", "dc:subject")),
        ("xmp-title", packet("Otterby Common &amp; Mere", " ")),
        ("xmp-dates", packet("xmp:CreateDate", "xmp:OtherDate")),
        ("xmp-dates", packet("xmp:ModifyDate", "xmp:OtherDate")),
        ("xmp-dates", packet("xmp:MetadataDate", "xmp:OtherDate")),
        ("xmp-trapped", packet("<pdf:Trapped>False", "<pdf:Trapped>Unknown")),
        ("xmp-agrees", packet("Otterby Common &amp; Mere", "Netherwick")),
        ("xmp-agrees", about("Trapped", Some(name("True")))),
        ("blend-modes", with("ExtGState", dictionary! { "BM" => name("Glow") }.into())),
        (
            "profile-repeated",
            Box::new(|d: &mut Document| {
                let space = icc(d, CONDITION.profile.to_vec(), 4);
                resource(d, "ColorSpace", "Zz", space);
            }),
        ),
        (
            "blend-space",
            on_page("Group", dictionary! { "S" => name("Transparency"), "CS" => name("DeviceRGB") }.into()),
        ),
        (
            "profile-overprint",
            Box::new(|d: &mut Document| {
                let space = icc(d, another(), 4);
                resource(d, "ColorSpace", "Zz", space);
                resource(d, "ExtGState", "Zz", dictionary! { "op" => true, "OPM" => 1 }.into());
                paint(d, " /Zz gs /Zz cs 0 1 0 0 scn 100 100 50 50 re f");
            }),
        ),
        (
            "layer-configurations",
            catalog(|c| c.set("OCProperties", dictionary! { "OCGs" => array(vec![]), "D" => dictionary! {} })),
        ),
        (
            "layer-configurations",
            catalog(|c| {
                let usual = dictionary! { "Name" => Object::string_literal("a"), "AS" => array(vec![]) };
                c.set("OCProperties", dictionary! { "OCGs" => array(vec![]), "D" => usual });
            }),
        ),
        (
            "layer-configurations",
            catalog(|c| {
                let one = dictionary! { "Name" => Object::string_literal("a") };
                let more = array(vec![one.clone().into()]);
                c.set("OCProperties", dictionary! { "OCGs" => array(vec![]), "D" => one, "Configs" => more });
            }),
        ),
    ]);
    cases
}

fn of_x1a() -> Vec<(&'static str, Change)> {
    let mut cases = shared();
    cases.extend([
        ("pdf-version", Box::new(|d: &mut Document| d.version = "1.5".to_owned()) as Change),
        ("info", about("Title", None)),
        ("info", about("CreationDate", None)),
        ("info", about("ModDate", None)),
        ("info", about("Trapped", None)),
        ("info", about("Trapped", Some(name("Unknown")))),
        ("info", about("GTS_PDFXVersion", Some(Object::string_literal("PDF/X-1:2001")))),
        ("filters", with_stream(dictionary! { "Filter" => name("JPXDecode") })),
        ("layers", catalog(|c| c.set("OCProperties", dictionary! { "OCGs" => array(vec![]) }))),
        ("transparency", on_page("Group", dictionary! { "S" => name("Transparency") }.into())),
        ("transparency", with("ExtGState", dictionary! { "ca" => 0.5 }.into())),
        ("transparency", with("ExtGState", dictionary! { "BM" => name("Multiply") }.into())),
        ("transparency", with("ExtGState", dictionary! { "SMask" => dictionary! { "S" => name("Alpha") } }.into())),
        ("opentype", with_stream(dictionary! { "Subtype" => name("OpenType") })),
        (
            "device-colour",
            Box::new(|d: &mut Document| {
                resource(
                    d,
                    "ColorSpace",
                    "Zz",
                    array(vec![
                        name("Lab"),
                        dictionary! { "WhitePoint" => array(vec![0.96.into(), 1.into(), 0.82.into()]) }.into(),
                    ]),
                );
                paint(d, " /Zz cs 50 20 20 scn 100 100 50 50 re f");
            }),
        ),
    ]);
    cases
}

/// Every change must be caught by its rule, both in a file of any origin and where a press file is read back.
fn every_change_is_caught(standard: Standard, cases: Vec<(&'static str, Change)>) -> BTreeSet<&'static str> {
    assert_eq!(held(&changed(standard, |_| ()), standard), [], "the good file, saved again");
    let mut broken = BTreeSet::new();
    for (rule, change) in cases {
        let bytes = changed(standard, change);
        let found = held(&bytes, standard);
        assert!(found.iter().any(|b| b.rule == rule), "{rule} is not among {found:?}");
        assert!(found.iter().all(|b| !b.advice.is_empty() && !b.message.is_empty()), "{found:?}");
        let told = verified(&bytes, standard);
        assert!(told != "nothing", "{rule}");
        if !RULES.iter().any(|r| r.id == rule && r.painted) {
            assert!(told.contains(&format!("({rule})")), "{rule} is not in {told}");
        }
        broken.insert(rule);
    }
    broken
}

#[test]
fn every_rule_of_x4_has_a_file_that_breaks_it() {
    let mut broken = every_change_is_caught(Standard::X4, of_x4());
    broken.extend(damaged(Standard::X4));
    let all: BTreeSet<&str> = RULES.iter().filter(|r| r.x4).map(|r| r.id).collect();
    assert_eq!(broken, all);
}

#[test]
fn every_rule_of_x1a_has_a_file_from_elsewhere_that_breaks_it() {
    let mut broken = every_change_is_caught(Standard::X1a, of_x1a());
    broken.extend(damaged(Standard::X1a));
    // The same file, packed as PDF 1.5 packs it.
    let folder = tempfile::tempdir().unwrap();
    let from = saved(&folder, "good.pdf", &good(Standard::X1a));
    let to = folder.path().join("packed.pdf");
    super::press_files::judged("qpdf", &["--object-streams=generate", text(&from), text(&to)]);
    assert!(held(&fs::read(&to).unwrap(), Standard::X1a).iter().any(|b| b.rule == "object-streams"));
    broken.insert("object-streams");
    // What is not painted counts among the objects of what was written here.
    let calibrated = array(vec![name("CalGray"), Object::Null]);
    let told = verified(&changed(Standard::X1a, with("ColorSpace", calibrated)), Standard::X1a);
    assert!(told.contains("(colour-spaces)"), "{told}");
    broken.insert("colour-spaces");
    let all: BTreeSet<&str> = RULES.iter().filter(|r| r.x1a).map(|r| r.id).collect();
    assert_eq!(broken, all);
}

/// Rules that are about the file's bytes.
fn damaged(standard: Standard) -> [&'static str; 2] {
    let folder = tempfile::tempdir().unwrap();
    let good = good(standard);
    let from = saved(&folder, "good.pdf", &good);
    let locked = folder.path().join("locked.pdf");
    super::press_files::judged(
        "qpdf",
        &["--encrypt", "", "owner", "128", "--use-aes=y", "--", text(&from), text(&locked)],
    );
    let locked = fs::read(&locked).unwrap();
    assert!(held(&locked, standard).iter().any(|b| b.rule == "encryption"));
    assert!(verified(&locked, standard).contains("(encryption)"));
    // The place of the cross-reference, one byte off.
    let at = good.windows(9).rposition(|w| w == b"startxref").unwrap();
    let mut off = good[..at].to_vec();
    off.extend_from_slice(b"startxref\n7\n%%EOF\n");
    assert!(held(&off, standard).iter().any(|b| b.rule == "cross-reference"));
    assert!(verified(&off, standard).contains("(cross-reference)"));
    ["encryption", "cross-reference"]
}

fn claimed(standard: &str, file: &Path) -> (Option<i32>, String) {
    let done = fairfold(&["check", text(file), "--claim", standard]);
    let told = String::from_utf8_lossy(&done.stdout).into_owned() + &String::from_utf8_lossy(&done.stderr);
    (done.status.code(), told)
}

#[test]
fn press_files_of_the_demo_keep_what_they_claim() {
    let mut files: Vec<_> = fs::read_dir(demo("")).unwrap().map(|e| e.unwrap().path()).collect();
    files.retain(|p| p.to_str().unwrap().ends_with("-press.pdf"));
    assert!(files.len() >= 6, "{files:?}");
    for file in files {
        let (code, told) = claimed("x-4", &file);
        assert_eq!(code, Some(0), "{}: {told}", file.display());
        assert!(told.contains("nothing against PDF/X-4") && told.contains("not tested: "), "{told}");
    }
    let folder = tempfile::tempdir().unwrap();
    for card in ["otterby-4.5x12", "otterby-6x12", "otterby-6x17", "otterby-down", "netherwick-art"] {
        let out = folder.path().join(format!("{card}.pdf"));
        let done = fairfold(&["impose", &format!("{card}-job.toml"), "--standard", "x-1a", "--out", text(&out)]);
        assert!(done.status.success(), "{card}");
        let (code, told) = claimed("x-1a", &out);
        assert_eq!(code, Some(0), "{card}: {told}");
    }
}

#[test]
fn a_foreign_file_is_told_of_with_page_object_and_advice() {
    let folder = tempfile::tempdir().unwrap();
    let file = saved(&folder, "art.pdf", &changed(Standard::X4, |d| paint(d, " 1 0 0 rg 100 100 50 50 re f")));
    let (code, told) = claimed("x-4", &file);
    assert_eq!(code, Some(1), "{told}");
    for word in [
        "error[device-colour]: a path is in DeviceRGB, which the output intent does not define",
        "art.pdf, page 1",
        "advice: convert it to the inks of the print condition",
        "1 thing against PDF/X-4",
    ] {
        assert!(told.contains(word), "`{word}` is not in {told}");
    }
    let json = fairfold(&["check", text(&file), "--claim", "x-4", "--report", "json"]);
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    assert_eq!(json["breaches"][0]["rule"], "device-colour");
    assert_eq!(json["breaches"][0]["page"], 1);
    // A card file makes no claim, and what is no PDF cannot run.
    assert_eq!(claimed("x-4", &demo("otterby-6x12.toml")).0, Some(2));
    assert_eq!(claimed("x-4", &saved(&folder, "none.pdf", b"nothing")).0, Some(2));
}
