//! The press file: written from a plan, read back and compared with it, judged by qpdf, poppler and Ghostscript.

use fairfold::fault::Result;
use fairfold::press::{verify, write};
use fairfold::sheet::{FormSide, Line, Mark, MarkSet, Rows, Sheet, WorkStyle, lay_out, one_up};
use fairfold::unit::{Length, Size};
use lopdf::{Dictionary, Document, Object};

use super::press_files::{
    Picture, arts, bytes, drawn, heron, inches, info, inks, judged, marked_card, opened, pdf, pressed, request, saved,
    small_card, text,
};

fn plan(style: WorkStyle, marks: MarkSet) -> Sheet {
    let (format, inks) = (small_card(), inks());
    lay_out(&fairfold::sheet::LayoutRequest { marks, ..request(&format, "13 x 9 in", style, &inks) }).unwrap()
}

fn checked(bytes: &[u8], sheet: &Sheet) -> Result<()> {
    let artwork = opened(&marked_card());
    let (inks, spots) = (inks(), [heron()]);
    verify(bytes, sheet, &arts(&artwork), &info(&inks, &spots))
}

#[test]
fn what_is_written_reads_back_as_planned_in_every_style() {
    for style in WorkStyle::ALL {
        let sheet = plan(style, MarkSet::ALL);
        let bytes = pressed(&sheet);
        checked(&bytes, &sheet).unwrap_or_else(|faults| panic!("{style}: {faults}"));
        assert_eq!(bytes, pressed(&sheet), "{style}: two runs gave different bytes");
    }
}

#[test]
fn qpdf_poppler_and_the_plan_agree_on_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let format = small_card();
    let inks = inks();
    let sheets = [
        plan(WorkStyle::Sheetwise, MarkSet::ALL),
        plan(WorkStyle::WorkAndTumble, MarkSet::ALL),
        one_up(&request(&format, "13x19", WorkStyle::Sheetwise, &inks)).unwrap(),
    ];
    for sheet in sheets {
        let file = saved(&folder, "press.pdf", &pressed(&sheet));
        judged("qpdf", &["--check", text(&file)]);
        let said = judged("pdfinfo", &["-box", "-f", "1", "-l", "9", text(&file)]);
        for (n, form) in sheet.forms.iter().enumerate() {
            let (trim, bleed) = sheet.page_boxes(form);
            for (name, planned) in [("MediaBox", sheet.rect()), ("TrimBox", trim), ("BleedBox", bleed)] {
                let key = format!("Page {:>4} {name}:", n + 1);
                let line = said.lines().find(|l| l.starts_with(&key)).unwrap_or_else(|| panic!("no {key} in {said}"));
                let found: Vec<f64> =
                    line[key.len()..].split_whitespace().map(|v| v.parse::<f64>().unwrap() / 72.0).collect();
                for (a, b) in found.iter().zip(inches(planned)) {
                    assert!((a - b).abs() < 0.0005, "{name}: {found:?} in, planned {:?}", inches(planned));
                }
            }
        }
        for want in [
            "PDF version:     1.6",
            "PDF subtype:    PDF/X-4",
            "Encrypted:       no",
            "JavaScript:      no",
            "Otterby Common & Mere",
        ] {
            assert!(said.contains(want), "{want} in {said}");
        }
        let fonts = judged("pdffonts", &[text(&file)]);
        let rows: Vec<&str> = fonts.lines().skip(2).collect();
        assert!(!rows.is_empty(), "{fonts}");
        for row in rows {
            // The columns emb, sub and uni.
            assert!(row.split_whitespace().rev().skip(2).take(3).all(|w| w == "yes"), "{fonts}");
        }
        let words = judged("pdftotext", &["-layout", text(&file), "-"]);
        for want in ["Otterby Common & Mere", "not approved", "2027-01-15", "5f0c2a9b7e11", "Otterby Heron"] {
            assert!(words.contains(want), "{want} in {words}");
        }
    }
}

/// The corner marked on the outside lies behind the corner marked on the inside: a picture of the back, turned as the sheet is turned,
/// covers the picture of the front.
#[test]
fn rendered_pages_back_up_in_every_style() {
    let folder = tempfile::tempdir().unwrap();
    for style in [WorkStyle::Sheetwise, WorkStyle::WorkAndTurn, WorkStyle::WorkAndTumble, WorkStyle::Perfecting] {
        for (rows, turn) in
            [(Rows::HeadToFoot, None), (Rows::HeadToHead, None), (Rows::HeadToHead, Some(fairfold::unit::Turn::Left))]
        {
            let (format, inks) = (small_card(), inks());
            let ask = request(&format, "18 x 13 in", style, &inks);
            let sheet = lay_out(&fairfold::sheet::LayoutRequest { marks: MarkSet::NONE, rows, turn, ..ask }).unwrap();
            let file = saved(&folder, "backup.pdf", &pressed(&sheet));
            let front = drawn(&file, 1, 72);
            let back = if sheet.forms.len() == 2 { drawn(&file, 2, 72) } else { drawn(&file, 1, 72) };
            let marked = front.dark(100);
            assert_eq!(marked.len(), sheet.number_up() * 40 * 30, "{style}: squares of 40 x 30 pt at 72 ppi");
            let mut turned: Vec<(usize, usize)> = back
                .dark(100)
                .into_iter()
                .map(|(x, y)| match style {
                    // Published glossaries: these two keep the gripper and turn over the side; those two change it.
                    WorkStyle::Sheetwise | WorkStyle::WorkAndTurn => (back.width - 1 - x, y),
                    _ => (x, back.height - 1 - y),
                })
                .collect();
            turned.sort_unstable_by_key(|(x, y)| (*y, *x));
            // The middle of a sheet may fall inside a pixel: one pixel of play.
            for (a, b) in marked.iter().zip(&turned) {
                assert!(a.0.abs_diff(b.0) <= 1 && a.1.abs_diff(b.1) <= 1, "{style} {rows:?} {turn:?}: {a:?} {b:?}");
            }
            assert_eq!(marked.len(), turned.len());
        }
    }
}

/// The plates of a page as Ghostscript separates it, 600 ppi: name and picture, 0 is full ink.
fn plates(file: &std::path::Path, folder: &tempfile::TempDir) -> Vec<(String, Picture)> {
    let out = folder.path().join("plate%d.tif");
    let output = format!("-sOutputFile={}", text(&out));
    judged(
        "gs",
        &[
            "-q",
            "-dNOPAUSE",
            "-dBATCH",
            "-dSAFER",
            "-sDEVICE=tiffsep",
            "-r600",
            "-dFirstPage=1",
            "-dLastPage=1",
            "-sCompression=lzw",
            &output,
            text(file),
        ],
    );
    let mut plates = Vec::new();
    for entry in std::fs::read_dir(folder.path()).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        let Some((_, plate)) = name.strip_suffix(").tif").and_then(|n| n.split_once('(')) else { continue };
        let picture = image::ImageReader::open(&path).unwrap().decode().unwrap().into_luma8();
        let (width, height) = (picture.width() as usize, picture.height() as usize);
        plates.push((plate.to_owned(), Picture { width, height, pixels: picture.into_raw() }));
    }
    plates.sort_by(|a, b| a.0.cmp(&b.0));
    plates
}

/// A place in hundredths of a pixel at 600 ppi.
fn px(length: Length) -> i64 {
    length.get() * 60_000 / Length::PER_IN
}

/// The pixels of a plate, by whole numbers that may lie outside.
fn inked(plate: &Picture, x: i64, y: i64) -> bool {
    let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else { return false };
    x < plate.width && y < plate.height && plate.at(x, y) < 128
}

/// The ink of a line in a plate: its four edges within one pixel of the plan, and gaps where it is dashed. Rows of the picture run downwards.
/// Ghostscript inks every pixel that a line touches (its any-part-of-pixel rule), so each edge may lie one pixel out.
fn line_on(plate: &Picture, line: Line, dashed: bool) {
    let bottom = i64::try_from(plate.height).unwrap() * 100;
    let bounds = line.bounds();
    let across = [px(bounds.x0), px(bounds.x1)];
    let down = [bottom - px(bounds.y1), bottom - px(bounds.y0)];
    let upright = line.from.x == line.to.x;
    let ([thin0, thin1], [long0, long1]) = if upright { (across, down) } else { (down, across) };
    let ink = |thin: i64, long: i64| if upright { inked(plate, thin, long) } else { inked(plate, long, thin) };
    // A look across, 10 px from the inner end, which is in ink for dashes too.
    let rising = line.to.x > line.from.x || line.to.y < line.from.y;
    let look = if rising { long0 / 100 + 10 } else { long1 / 100 - 10 };
    let width: Vec<i64> = (thin0 / 100 - 8..thin1 / 100 + 9).filter(|n| ink(*n, look)).collect();
    let (first, last) = (*width.first().expect("a line in every ink"), *width.last().unwrap() + 1);
    assert!((first * 100 - thin0).abs() <= 100 && (last * 100 - thin1).abs() <= 100, "{line:?}: {first} to {last} px");
    let middle = (thin0 + thin1) / 200;
    let length: Vec<i64> = (long0 / 100 - 8..long1 / 100 + 9).filter(|n| ink(middle, *n)).collect();
    let (first, last) = (*length.first().unwrap(), *length.last().unwrap() + 1);
    assert!((first * 100 - long0).abs() <= 100 && (last * 100 - long1).abs() <= 100, "{line:?}: {first} to {last} px");
    assert_eq!(length.windows(2).any(|w| w[1] - w[0] > 1), dashed, "{line:?}");
}

#[test]
fn crop_and_fold_marks_stand_on_every_plate_within_a_pixel() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = plan(WorkStyle::Sheetwise, MarkSet::ALL);
    let file = saved(&folder, "press.pdf", &pressed(&sheet));
    let plates = plates(&file, &folder);
    let names: Vec<&str> = plates.iter().map(|p| p.0.as_str()).collect();
    assert_eq!(names, ["Black", "Cyan", "Magenta", "Otterby Heron", "Yellow"]);
    let front = &sheet.forms[0];
    let mut looked = (0, 0);
    for (_, plate) in &plates {
        for mark in &front.marks {
            match mark {
                Mark::Crop(line) => {
                    looked.0 += 1;
                    line_on(plate, *line, false);
                }
                Mark::Fold(line) => {
                    looked.1 += 1;
                    line_on(plate, *line, true);
                }
                _ => {}
            }
        }
    }
    assert!(looked.0 >= 5 * 8 && looked.1 >= 5 * 4, "{looked:?}");
    // Each patch prints on its own plate and on no other.
    let mut patches = 0;
    for mark in &front.marks {
        let Mark::Patch { rect, ink, percent } = mark else { continue };
        patches += 1;
        let centre = rect.centre();
        let [x, y] = [centre.x, centre.y].map(|l| usize::try_from(px(l) / 100).unwrap());
        let y = plates[0].1.height - y;
        for (name, plate) in &plates {
            let mean = f64::from(plate.at(x, y)) / 255.0;
            let want = if name == ink.name() { 1.0 - f64::from(*percent) / 100.0 } else { 1.0 };
            assert!((mean - want).abs() < 0.01, "{name}: {mean} at the patch of {ink} {percent} %");
        }
    }
    assert!(patches >= 10);
}

/// The file with one thing changed must not pass.
fn tampered(change: impl FnOnce(&mut Document)) -> String {
    let sheet = plan(WorkStyle::Sheetwise, MarkSet::ALL);
    let mut document = Document::load_mem(&pressed(&sheet)).unwrap();
    change(&mut document);
    let mut out = Vec::new();
    "1.6".clone_into(&mut document.version);
    document.save_to(&mut out).unwrap();
    checked(&out, &sheet).expect_err("a changed file was taken for the planned one").to_string()
}

fn first_page(document: &Document) -> (u32, u16) {
    document.get_pages()[&1]
}

fn edited(document: &mut Document, from: &str, to: &str) {
    let page = first_page(document);
    let content = String::from_utf8(document.get_page_content(page)).unwrap();
    assert!(content.contains(from), "{content}");
    let id = document.get_page_contents(page)[0];
    let stream = document.get_object_mut(id).unwrap().as_stream_mut().unwrap();
    stream.set_plain_content(content.replacen(from, to, 1).into_bytes());
}

#[test]
fn an_untouched_copy_passes() {
    let sheet = plan(WorkStyle::Sheetwise, MarkSet::ALL);
    let mut document = Document::load_mem(&pressed(&sheet)).unwrap();
    "1.6".clone_into(&mut document.version);
    checked(&bytes(document), &sheet).unwrap();
}

#[test]
fn tampering_is_found_and_named() {
    let told = tampered(|d| {
        let page = first_page(d);
        d.get_dictionary_mut(page).unwrap().set("TrimBox", Object::Array(vec![Object::Integer(1); 4]));
    });
    assert!(told.contains("page 1") && told.contains("TrimBox"), "{told}");

    // The first station is moved by a hundredth of a point, 3.5 µm.
    let sheet = plan(WorkStyle::Sheetwise, MarkSet::ALL);
    let origin = sheet.forms[0].stations[0].trim.origin();
    let at = format!("{} {} cm", fairfold::pdf::decimal(origin.x), fairfold::pdf::decimal(origin.y));
    let moved =
        format!("{} {} cm", fairfold::pdf::decimal(origin.x + Length::pt(1) / 100), fairfold::pdf::decimal(origin.y));
    let told = tampered(|d| edited(d, &at, &moved));
    assert!(told.contains("station 1") && told.contains("away from its place"), "{told}");

    let told = tampered(|d| edited(d, "0.25 w", "0.5 w"));
    assert!(told.contains("crop marks"), "{told}");
    let told = tampered(|d| edited(d, "[3 2] 0 d", "[3 3] 0 d"));
    assert!(told.contains("fold marks"), "{told}");
    let told = tampered(|d| edited(d, "0.5 0 0 0 k", "0.6 0 0 0 k"));
    assert!(told.contains("colour strip"), "{told}");
    let told = tampered(|d| edited(d, "BT", "/X1 Do BT"));
    assert!(told.contains("cards are planned"), "{told}");
    let told = tampered(|d| edited(d, "BT", "9 9 m 9 99 l S BT"));
    assert!(told.contains("lines of marks are planned"), "{told}");

    let told = tampered(|d| {
        for object in d.objects.values_mut() {
            if let Object::Dictionary(dict) = object
                && dict.has(b"FontFile2")
            {
                dict.remove(b"FontFile2");
            }
        }
    });
    assert!(told.contains("is not embedded"), "{told}");
    let told = tampered(|d| {
        let catalog = d.catalog_mut().unwrap();
        catalog.remove(b"OutputIntents");
    });
    assert!(told.contains("output intents"), "{told}");
    let told = tampered(|d| {
        let js = lopdf::dictionary! { "S" => "JavaScript", "JS" => Object::string_literal("app.beep()") };
        d.catalog_mut().unwrap().set("OpenAction", js);
    });
    assert!(told.contains("OpenAction") && told.contains("JavaScript"), "{told}");
    let told = tampered(|d| {
        let ids: Vec<_> = d.objects.keys().copied().collect();
        for id in ids {
            if let Ok(Object::Array(space)) = d.get_object_mut(id)
                && space.len() == 4
                && space[1].as_name().is_ok_and(|n| n == b"Otterby Heron")
            {
                space[1] = Object::Name(b"Varnish".to_vec());
            }
        }
    });
    assert!(told.contains("the ink Varnish is in the file and not in the job"), "{told}");
}

#[test]
fn a_page_of_another_size_is_refused() {
    let artwork = opened(&bytes(pdf(&["", ""], [0.0, 0.0, 360.0, 230.0], 9.0, Dictionary::new())));
    let sheet = plan(WorkStyle::Sheetwise, MarkSet::ALL);
    let (inks, spots) = (inks(), [heron()]);
    let told = write(&sheet, &arts(&artwork), &info(&inks, &spots)).unwrap_err().to_string();
    assert!(told.contains("the page is 3.1944 x 5 in") && told.contains("the card is 3 x 5 in"), "{told}");
}

#[test]
fn waivers_are_printed_and_too_many_are_a_fault() {
    let artwork = opened(&marked_card());
    let (inks, spots) = (inks(), [heron()]);
    let sheet = plan(WorkStyle::Sheetwise, MarkSet::ALL);
    let waived = ["text-size: the sponsor's mark is fixed".to_owned()];
    let job = fairfold::press::PressInfo { waivers: &waived, ..info(&inks, &spots) };
    let bytes = write(&sheet, &arts(&artwork), &job).unwrap();
    verify(&bytes, &sheet, &arts(&artwork), &job).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let words = judged("pdftotext", &["-raw", text(&saved(&folder, "waived.pdf", &bytes)), "-"]);
    assert!(words.contains("waived: text-size: the sponsor's mark is fixed"), "{words}");
    let many = vec!["contrast: the club insists on it".to_owned(); 60];
    let job = fairfold::press::PressInfo { waivers: &many, ..info(&inks, &spots) };
    let told = write(&sheet, &arts(&artwork), &job).unwrap_err().to_string();
    assert!(told.contains("does not fit its room at 5 pt"), "{told}");
}

#[test]
fn the_form_of_both_sides_is_named_so() {
    let sheet = plan(WorkStyle::WorkAndTurn, MarkSet::ALL);
    assert_eq!(sheet.forms[0].side, FormSide::Both);
    assert_eq!(sheet.size, Size::new(Length::inches(13, 1), Length::inches(9, 1)));
}
