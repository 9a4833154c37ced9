//! The demo's two artwork PDFs, made here from cards that were set, as layout programs export them: a plain one, and an awkward one
//! that is turned, has its boxes far from the origin and one of them reversed, mixes its spots in a DeviceN space, keeps a layer of
//! guides switched off, and carries a stamp that prints beside a note that does not.

use std::fmt::Write as _;
use std::fs;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

use super::press_files::text;
use super::program::{demo, fairfold};

/// Half an inch of slug around the trim, in points.
const SLUG: f32 = 36.0;
/// 1/8 in of bleed in points.
const BLEED: f32 = 9.0;

/// The pages of a demo card, with some of its words changed.
fn pages(card: &str, changes: &[(&str, &str)]) -> Document {
    let folder = tempfile::tempdir().unwrap();
    let mut toml = fs::read_to_string(demo(card)).unwrap();
    for (old, new) in changes {
        assert!(toml.contains(old), "{card} has no {old}");
        toml = toml.replace(old, new);
    }
    let (file, out) = (folder.path().join("card.toml"), folder.path().join("pages.pdf"));
    fs::write(&file, toml).unwrap();
    fs::copy(demo("heath.jpg"), folder.path().join("heath.jpg")).unwrap();
    let output = fairfold(&["check", text(&file), "--pages", text(&out)]);
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stdout));
    Document::load_mem(&fs::read(out).unwrap()).unwrap()
}

fn numbers<const N: usize>(values: [f32; N]) -> Object {
    Object::Array(values.iter().map(|v| Object::Real(*v)).collect())
}

fn saved(mut document: Document, title: &str) -> Vec<u8> {
    let info = document.add_object(dictionary! { "Title" => Object::string_literal(title) });
    document.trailer.set("Info", info);
    document.prune_objects();
    document.renumber_objects();
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

/// Draws `before` and `after` around a page's content.
fn framed(document: &mut Document, page: ObjectId, before: &str, after: &str) {
    let mut parts = vec![Object::Reference(document.add_object(Stream::new(Dictionary::new(), before.into())))];
    parts.extend(document.get_page_contents(page).into_iter().map(Object::Reference));
    parts.push(Object::Reference(document.add_object(Stream::new(Dictionary::new(), after.into()))));
    document.get_dictionary_mut(page).unwrap().set("Contents", parts);
}

/// Adds a resource to a page, which has its resources as an object of its own.
fn resource(document: &mut Document, page: ObjectId, kind: &str, name: &str, value: impl Into<Object>) {
    let resources = document.get_or_create_resources(page).unwrap().as_dict_mut().unwrap();
    if !resources.has(kind.as_bytes()) {
        resources.set(kind, Dictionary::new());
    }
    resources.get_mut(kind.as_bytes()).unwrap().as_dict_mut().unwrap().set(name, value.into());
}

fn registration(document: &mut Document) -> ObjectId {
    let tint = document.add_object(dictionary! {
        "FunctionType" => 2, "Domain" => numbers([0.0, 1.0]), "C0" => numbers([0.0; 4]), "C1" => numbers([1.0; 4]), "N" => 1,
    });
    document.add_object(Object::Array(vec!["Separation".into(), "All".into(), "DeviceCMYK".into(), tint.into()]))
}

/// Crop marks round a trim of this size with its lower left corner at the origin, 1/8 in away and 1/4 in long.
fn crop_marks(width: f32, height: f32) -> String {
    let mut marks = String::from("q /Registration CS 1 SCN 0.25 w");
    for (x, out) in [(0.0, -1.0), (width, 1.0)] {
        for y in [0.0, height] {
            let (from, to) = (x + out * BLEED, x + out * (BLEED + 18.0));
            write!(marks, " {from} {y} m {to} {y} l S").unwrap();
        }
    }
    for (y, out) in [(0.0, -1.0), (height, 1.0)] {
        for x in [0.0, width] {
            let (from, to) = (y + out * BLEED, y + out * (BLEED + 18.0));
            write!(marks, " {x} {from} m {x} {to} l S").unwrap();
        }
    }
    marks + " Q\n"
}

/// The small card of Netherwick Mere: its trim half an inch inside the sheet, with crop marks, as exported with the usual settings.
pub(super) fn plain() -> Vec<u8> {
    let changes = [
        ("Otterby\\nCommon", "Netherwick\\nMere"),
        ("Otterby Common", "Netherwick Mere"),
        ("A heathland course\\nof eighteen holes", "Eighteen holes\\nby the water"),
        ("heath = { process = [70, 42, 78, 38] }", "heath = { process = [86, 50, 36, 42] }"),
        ("bracken = { process = [20, 74, 94, 38] }", "bracken = { process = [30, 78, 46, 40] }"),
        ("mist = { process = [6, 3, 9, 0] }", "mist = { process = [8, 2, 4, 0] }"),
    ];
    let mut document = pages("otterby-4.5x12.toml", &changes);
    let (width, height) = (864.0, 324.0);
    let all = registration(&mut document);
    for page in document.get_pages().into_values() {
        resource(&mut document, page, "ColorSpace", "Registration", all);
        let before = format!("q 1 0 0 1 {SLUG} {SLUG} cm\n");
        framed(&mut document, page, &before, &format!("{}Q\n", crop_marks(width, height)));
        let dict = document.get_dictionary_mut(page).unwrap();
        dict.set("MediaBox", numbers([0.0, 0.0, width + 2.0 * SLUG, height + 2.0 * SLUG]));
        dict.set("TrimBox", numbers([SLUG, SLUG, SLUG + width, SLUG + height]));
        let bled = SLUG - BLEED;
        dict.set("BleedBox", numbers([bled, bled, SLUG + width + BLEED, SLUG + height + BLEED]));
    }
    saved(document, "Netherwick Mere, small card")
}

/// Ridges of moor along the foot of a panel, in mixtures of both spots; from the bleed at the left to a fold at 406.5 pt.
const RIDGES: &str = "q /Moor cs \
    0.34 0.06 scn -9 -9 m -9 44 l 40 62 84 40 130 50 c 190 64 226 36 286 54 c 330 66 372 46 406.5 58 c 406.5 -9 l h f \
    0.56 0.16 scn -9 -9 m -9 24 l 50 40 96 18 150 30 c 210 42 262 16 318 30 c 352 38 384 30 406.5 34 c 406.5 -9 l h f \
    0.88 0.28 scn -9 -9 m -9 8 l 60 20 120 2 190 12 c 260 20 330 0 406.5 14 c 406.5 -9 l h f Q\n";

/// A space that mixes the card's two spots; each alone is what its Separation is.
fn moor(document: &mut Document) -> ObjectId {
    let mix = b"{ 2 copy 0.20 mul exch 0.70 mul add 3 1 roll 2 copy 0.74 mul exch 0.42 mul add 3 1 roll \
                2 copy 0.94 mul exch 0.78 mul add 3 1 roll 0.38 mul exch 0.38 mul add }";
    let tint = document.add_object(Stream::new(
        dictionary! { "FunctionType" => 4, "Domain" => numbers([0.0, 1.0, 0.0, 1.0]), "Range" => numbers([0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0]) },
        mix.to_vec(),
    ));
    let names: Vec<Object> = ["Otterby Heath", "Otterby Bracken"].into_iter().map(Object::from).collect();
    document.add_object(Object::Array(vec!["DeviceN".into(), names.into(), "DeviceCMYK".into(), tint.into()]))
}

/// A layer that is switched off, with the fold lines on it.
fn guides(document: &mut Document) -> ObjectId {
    let layer = document
        .add_object(dictionary! { "Type" => "OCG", "Name" => Object::string_literal("Folding guides, not for print") });
    let layers = vec![Object::Reference(layer)];
    let state = dictionary! { "Name" => Object::string_literal("As printed"), "OFF" => layers.clone(), "Order" => layers.clone() };
    document.catalog_mut().unwrap().set("OCProperties", dictionary! { "OCGs" => layers, "D" => state });
    layer
}

/// The lines of the layer: both folds and a cross over everything.
fn guide_lines(width: f32, height: f32, folds: [f32; 2]) -> String {
    let mut lines = String::from("/OC /Guides BDC q 0 1 0 0 K 3 w [12 6] 0 d");
    for x in folds {
        write!(lines, " {x} 0 m {x} {height} l S").unwrap();
    }
    lines + &format!(" 0 0 m {width} {height} l S 0 {height} m {width} 0 l S Q EMC\n")
}

/// A badge with a flag, 44 pt across, that is printed; and a note that is not. Both are placed as the turned page lies.
fn annotations(document: &mut Document, spot: Object, card_to_page: impl Fn(f32, f32) -> (f32, f32)) -> Vec<Object> {
    let look = "/Bracken cs 1 scn 44 22 m 44 34.15 34.15 44 22 44 c 9.85 44 0 34.15 0 22 c 0 9.85 9.85 0 22 0 c 34.15 0 44 9.85 44 22 c h f \
                0 0 0 0 k 0 0 0 0 K 1.4 w 18 10 m 18 35 l S 18 35 m 33 30 l 18 25 l h f 12 9 m 30 9 l S";
    let badge = document.add_object(Stream::new(
        dictionary! {
            "Type" => "XObject", "Subtype" => "Form", "BBox" => numbers([0.0, 0.0, 44.0, 44.0]),
            "Matrix" => numbers([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
            "Resources" => dictionary! { "ColorSpace" => dictionary! { "Bracken" => spot } },
        },
        look.into(),
    ));
    let rect = |x: f32, y: f32, side: f32| {
        let (a, b) = (card_to_page(x, y), card_to_page(x + side, y + side));
        numbers([a.0.min(b.0), a.1.min(b.1), a.0.max(b.0), a.1.max(b.1)])
    };
    let stamp = dictionary! {
        "Type" => "Annot", "Subtype" => "Stamp", "Rect" => rect(1160.0, 24.0, 44.0), "F" => 4, "Name" => "Badge",
        "AP" => dictionary! { "N" => badge },
    };
    let note = dictionary! {
        "Type" => "Annot", "Subtype" => "Text", "Rect" => rect(60.0, 446.0, 18.0), "F" => 0,
        "Contents" => Object::string_literal("Two spots as agreed; the badge prints."),
    };
    vec![document.add_object(stamp).into(), document.add_object(note).into()]
}

/// The letter-folded card of Otterby Common as awkward as layout programs make them.
pub(super) fn awkward() -> Vec<u8> {
    let mut document = pages("otterby-6x17.toml", &[]);
    let (width, height) = (1224.0, 432.0);
    // Where the card's lower left corner would stand if the page were not turned.
    let (left, low) = (-57.3, 113.9);
    let card_to_page = |x: f32, y: f32| (height - y + left, x + low);
    let (moor, layer) = (moor(&mut document), guides(&mut document));
    let found: Vec<ObjectId> = document.get_pages().into_values().collect();
    for (n, page) in found.into_iter().enumerate() {
        let outside = n == 0;
        resource(&mut document, page, "Properties", "Guides", layer);
        let mut after = String::new();
        let folds = if outside { [406.5, 815.25] } else { [408.75, 817.5] };
        if outside {
            resource(&mut document, page, "ColorSpace", "Moor", moor);
            after += RIDGES;
            let spot = bracken(&document, page);
            let listed = annotations(&mut document, spot, card_to_page);
            document.get_dictionary_mut(page).unwrap().set("Annots", listed);
        }
        after += &guide_lines(width, height, folds);
        // Turned a quarter to the left, which Rotate takes back.
        framed(&mut document, page, &format!("q 0 1 -1 0 {} {low} cm\n", height + left), &format!("{after}Q\n"));
        let dict = document.get_dictionary_mut(page).unwrap();
        dict.set("Rotate", 90);
        dict.set("MediaBox", numbers([left - SLUG, low - SLUG, left + height + SLUG, low + width + SLUG]));
        dict.set("BleedBox", numbers([left - BLEED, low - BLEED, left + height + BLEED, low + width + BLEED]));
        dict.set("TrimBox", numbers([left + height, low + width, left, low]));
        dict.remove(b"CropBox");
    }
    saved(document, "Otterby Common, letter fold, as exported")
}

/// The Separation space of the second spot, as the page has it.
fn bracken(document: &Document, page: ObjectId) -> Object {
    let (own, inherited) = document.get_page_resources(page).unwrap();
    let resources = own.or_else(|| inherited.first().map(|id| document.get_dictionary(*id).unwrap())).unwrap();
    let spaces = document.dereference(resources.get(b"ColorSpace").unwrap()).unwrap().1.as_dict().unwrap();
    let found = spaces.iter().map(|(_, space)| space).find(|space| {
        let space = document.dereference(space).unwrap().1.as_array().unwrap();
        space.get(1).and_then(|name| name.as_name().ok()) == Some(b"Otterby Bracken")
    });
    found.unwrap().clone()
}
