//! Pages as forms: whatever a source page shows, the placed page shows, in poppler and in MuPDF, and nothing comes along that it does not draw.

use std::fmt::Write as _;
use std::path::Path;

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::{Fold, FoldKind, Format, Side};
use fairfold::press::{Art, PressInfo, Standard, verify, write};
use fairfold::sheet::{Gutters, LayoutRequest, MarkSet, Rows, Sheet, WorkStyle, lay_out, one_up};
use fairfold::unit::{Length, Size, Turn};
use lopdf::{Document, Object};

use super::artwork_pdf::Pdf;
use super::press_files::{CONDITION, DATE, Picture, judged, request, saved, text};

fn opened(bytes: &[u8]) -> Artwork {
    Artwork::open(bytes, "otterby.pdf", &OpenOptions::default()).unwrap()
}

/// Every ink that the artwork names, so that none of them is a stranger.
fn inks(artwork: &Artwork) -> Vec<fairfold::ink::Ink> {
    let mut inks = Vec::new();
    for page in 1..=artwork.page_count() {
        inks.extend(artwork.face(page, Side::Outside).unwrap().inks.into_iter().map(|i| i.ink));
    }
    inks
}

fn format(artwork: &Artwork, page: u32) -> Format {
    let flat = artwork.source_page(page).unwrap().boxes.on_face().trim.size();
    Format { flat, bleed: Length::ZERO, safe: Length::ZERO, fold: Fold::usual(FoldKind::None, flat, 1, Length::ZERO) }
}

fn written(artwork: &Artwork, page: u32, sheet: &Sheet) -> Vec<u8> {
    let inks = inks(artwork);
    let info = PressInfo {
        standard: Standard::X4,
        job: "Otterby Common",
        date: &DATE,
        inks: &inks,
        spots: &[],
        condition: &CONDITION,
        digest: "5f0c2a9b7e11",
        approved: true,
        waivers: &[],
    };
    let arts = [Art { side: Side::Outside, artwork, page }];
    let bytes = write(sheet, &arts, &info).unwrap_or_else(|faults| panic!("{faults}"));
    verify(&bytes, sheet, &arts, &info).unwrap_or_else(|faults| panic!("{faults}"));
    bytes
}

/// One page alone, without marks.
fn placed(artwork: &Artwork, page: u32) -> Vec<u8> {
    let format = format(artwork, page);
    let ask = LayoutRequest { marks: MarkSet::NONE, ..request(&format, "13x19", WorkStyle::OneSide, &[]) };
    written(artwork, page, &one_up(&ask).unwrap())
}

/// The same page turned left, alone on a sheet that leaves 1/2 in round it.
fn placed_turned(artwork: &Artwork, page: u32) -> Vec<u8> {
    let format = format(artwork, page);
    let room = Length::inches(1, 1);
    let ask = LayoutRequest {
        marks: MarkSet::NONE,
        turn: Some(Turn::Left),
        gutters: Some(Gutters::all(Length::inches(20, 1))),
        rows: Rows::HeadToFoot,
        press: fairfold::sheet::Press::NO_MARGINS,
        sheet: Size::new(format.flat.height + room, format.flat.width + room),
        ..request(&format, "13x19", WorkStyle::OneSide, &[])
    };
    written(artwork, page, &lay_out(&ask).unwrap())
}

/// The middle of a sheet, as the card lies there.
fn window(picture: &Picture, margin: usize) -> Picture {
    let (width, height) = (picture.width - 2 * margin, picture.height - 2 * margin);
    let pixels = (0..height).flat_map(|y| (0..width).map(move |x| picture.at(x + margin, y + margin))).collect();
    Picture { width, height, pixels }
}

/// The source page cut to its trim: with lopdf, whose reader is not the one under test.
fn trimmed(bytes: &[u8], artwork: &Artwork, page: u32, turned: bool) -> Option<Vec<u8>> {
    let mut document = Document::load_mem(bytes).ok()?;
    let source = artwork.source_page(page).unwrap();
    let trim = source.boxes.trim;
    let numbers = [trim.x0, trim.y0, trim.x1, trim.y1].map(|v| Object::Real(format!("{v}").parse().unwrap()));
    let id = *document.get_pages().get(&page)?;
    let dict = document.get_dictionary_mut(id).ok()?;
    dict.set("CropBox", numbers.to_vec());
    dict.set("MediaBox", numbers.to_vec());
    // Rotate counts clockwise: three quarters are one to the left.
    dict.set("Rotate", i64::from(source.boxes.rotate) + if turned { 270 } else { 0 });
    let mut out = Vec::new();
    document.save_to(&mut out).ok()?;
    Some(out)
}

const PPI: u32 = 144;

fn poppler(file: &Path, page: u32) -> Picture {
    super::press_files::drawn(file, usize::try_from(page).unwrap(), PPI)
}

fn mupdf(file: &Path, page: u32) -> Picture {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page.pgm");
    let ppi = PPI.to_string();
    judged(
        "mutool",
        &["draw", "-q", "-r", &ppi, "-c", "gray", "-F", "pgm", "-o", text(&out), text(file), &page.to_string()],
    );
    Picture::pgm(&std::fs::read(&out).unwrap())
}

/// At most 0.1 % of pixels differ by more than 32 of 255; edges of the picture, where a page may end within a pixel, left out.
fn alike(a: &Picture, b: &Picture) -> Result<(), String> {
    if a.width.abs_diff(b.width) > 1 || a.height.abs_diff(b.height) > 1 {
        return Err(format!("{} x {} against {} x {} px", a.width, a.height, b.width, b.height));
    }
    let (width, height) = (a.width.min(b.width), a.height.min(b.height));
    let mut off = 0_usize;
    for y in 1..height.saturating_sub(1) {
        for x in 1..width.saturating_sub(1) {
            off += usize::from(a.at(x, y).abs_diff(b.at(x, y)) > 32);
        }
    }
    if off * 1000 <= width * height { Ok(()) } else { Err(format!("{off} of {} pixels differ", width * height)) }
}

/// Without its output intent, by which MuPDF would colour it differently from a source that has none.
fn without_intent(bytes: &[u8]) -> Vec<u8> {
    let mut document = Document::load_mem(bytes).unwrap();
    document.catalog_mut().unwrap().remove(b"OutputIntents");
    let mut out = Vec::new();
    document.save_to(&mut out).unwrap();
    out
}

fn same_look(name: &str, bytes: &[u8], page: u32) {
    same_look_in(name, bytes, page, &["poppler", "mupdf"], &[false, true]);
}

fn same_look_in(name: &str, bytes: &[u8], page: u32, judges: &[&str], turns: &[bool]) {
    let artwork = opened(bytes);
    let folder = tempfile::tempdir().unwrap();
    let margin = usize::try_from(PPI / 2).unwrap();
    for turned in turns.iter().copied() {
        let source = trimmed(bytes, &artwork, page, turned).unwrap_or_else(|| panic!("{name}: lopdf cannot read it"));
        let source = saved(&folder, "source.pdf", &source);
        let ours = if turned { placed_turned(&artwork, page) } else { placed(&artwork, page) };
        judged("qpdf", &["--check", text(&saved(&folder, "placed.pdf", &ours))]);
        let ours = saved(&folder, "placed.pdf", &without_intent(&ours));
        for (judge, draw) in [("poppler", poppler as fn(&Path, u32) -> Picture), ("mupdf", mupdf)] {
            // Poppler leaves UserUnit out of account.
            let scaled =
                judge == "poppler" && (artwork.source_page(page).unwrap().boxes.user_unit - 1.0).abs() > f64::EPSILON;
            if scaled || !judges.contains(&judge) {
                continue;
            }
            let got = window(&draw(&ours, 1), margin);
            alike(&draw(&source, page), &got).unwrap_or_else(|why| panic!("{name}, turned {turned}, {judge}: {why}"));
        }
    }
}

/// A page of 175 x 72 pt whose box does not begin at the origin, with a frame and an L in one corner.
fn cornered(keys: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let boxes = "/MediaBox [10 20 185 92] /TrimBox [14 24 181 88]";
    pdf.page(&format!("{boxes} {keys}"), "20 28 150 50 re S 24 32 6 30 re f 24 32 20 6 re f");
    pdf.bytes()
}

#[test]
fn turned_pages_stand_as_they_are_shown() {
    for rotate in ["0", "90", "180", "270", "-90", "450"] {
        same_look(&format!("Rotate {rotate}"), &cornered(&format!("/Rotate {rotate}")), 1);
    }
    same_look("UserUnit", &cornered("/UserUnit 2 /Rotate 90"), 1);
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [100 40 -75 -32]", "-60 -20 150 50 re S -50 -10 6 30 re f -50 -10 20 6 re f");
    same_look("reversed and negative", &pdf.bytes(), 1);
}

const FONT: &str = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold >>";

#[test]
fn forms_without_resources_keep_their_fonts() {
    for (own, shown) in [("", true), ("/Resources << >>", false)] {
        let mut pdf = Pdf::new();
        let inner = pdf.stream(
            &format!("/Type /XObject /Subtype /Form /BBox [0 0 200 100] {own}"),
            "BT /F1 30 Tf 20 20 Td (Heron) Tj ET",
        );
        let outer = pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 200 100]", "/B Do 10 70 60 10 re f");
        let resources = format!("/Resources << /Font << /F1 {FONT} >> /XObject << /A {outer} 0 R /B {inner} 0 R >> >>");
        pdf.page(&format!("/MediaBox [0 0 200 100] {resources}"), "/A Do");
        let bytes = pdf.bytes();
        // Poppler looks further out even from a form that says it has none, against ISO 32000-1, 7.8.3.
        let judges: &[&str] = if shown { &["poppler", "mupdf"] } else { &["mupdf"] };
        same_look_in("form without resources", &bytes, 1, judges, &[false, true]);
        let artwork = opened(&bytes);
        let folder = tempfile::tempdir().unwrap();
        let words = judged("pdftotext", &[text(&saved(&folder, "placed.pdf", &placed(&artwork, 1))), "-"]);
        assert!(!shown || words.contains("Heron"), "{words}");
    }
    // A Type 3 glyph that draws a picture of the page.
    let mut pdf = Pdf::new();
    let picture = pdf.stream(
        "/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray",
        [0_u8, 160, 160, 0],
    );
    let glyph = pdf.stream("", "1000 0 d0 q 800 0 0 800 0 0 cm /Im1 Do Q");
    let font = pdf.add(format!(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 97 \
         /Widths [1000] /Encoding << /Differences [97 /tree] >> /CharProcs << /tree {glyph} 0 R >> >>"
    ));
    let resources = format!("/Resources << /Font << /T3 {font} 0 R >> /XObject << /Im1 {picture} 0 R >> >>");
    pdf.page(&format!("/MediaBox [0 0 200 100] {resources}"), "BT /T3 40 Tf 20 30 Td (aa) Tj ET");
    // Poppler keeps Type 3 glyphs as pixels and sets them to whole ones, which moves a row here.
    same_look_in("Type 3 with the page's picture", &pdf.bytes(), 1, &["mupdf"], &[false, true]);
}

#[test]
fn patterns_masks_and_groups_follow_the_page() {
    let mut pdf = Pdf::new();
    let tile = pdf.stream(
        "/Type /Pattern /PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >> \
         /Matrix [1 0 0 1 3 7]",
        "0.3 0.6 0 0 k 0 0 5 10 re f",
    );
    let ramp = "/Function << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 1] /N 1 >>";
    let axial = pdf.add(format!(
        "<< /Type /Pattern /PatternType 2 /Shading << /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [20 0 180 0] {ramp} >> >>"
    ));
    let mask = pdf.stream(
        "/Type /XObject /Subtype /Form /BBox [0 0 200 200] /Group << /S /Transparency /CS /DeviceGray >> /Resources << >>",
        "1 g 30 30 60 40 re f 0.5 g 60 50 60 40 re f",
    );
    let soft = pdf.add(format!("<< /Type /ExtGState /SMask << /S /Luminosity /G {mask} 0 R >> >>"));
    let multiply = pdf.add("<< /Type /ExtGState /BM /Multiply >>");
    let resources = format!(
        "/Resources << /Pattern << /P1 {tile} 0 R /P2 {axial} 0 R >> /ExtGState << /GS1 {soft} 0 R /GS2 {multiply} 0 R >> >>"
    );
    pdf.page(
        &format!("/MediaBox [-20 -10 220 210] /TrimBox [0 0 200 200] /Group << /S /Transparency /CS /DeviceCMYK >> {resources}"),
        "/Pattern cs /P1 scn 10 110 90 80 re f /P2 scn 110 110 80 80 re f \
         q 1 0 0 1 5 -8 cm /GS1 gs 0 1 0 0 k 0 0 200 200 re f Q \
         0 0 1 0 k 140 10 40 40 re f /GS2 gs 1 0 0 0 k 150 20 40 40 re f",
    );
    same_look("pattern, shading, mask, group", &pdf.bytes(), 1);
}

#[test]
fn contents_in_pieces_and_spare_states_stay_what_they_are() {
    let mut pdf = Pdf::new();
    // An operator at the end of a stream, a matrix across two.
    let parts = [
        "q",
        "1 0 0 1 50",
        " 10 cm 0 0 30 20 re f",
        "Q BT /F1 20 Tf 20 60 Td (Otterby) Tj ET",
        "q q 2 0 0 2 0 0 cm 40 10 5 5 re f",
    ];
    let contents: Vec<String> = parts.iter().map(|p| format!("{} 0 R", pdf.stream("", p))).collect();
    let resources = format!("/Resources << /Font << /F1 {FONT} >> >>");
    pdf.page_of(&format!("/MediaBox [0 0 200 100] {resources} /Contents [{}]", contents.join(" ")));
    same_look("contents in pieces", &pdf.bytes(), 1);
    // A text that runs on in the next stream, and a comment that ends with its own (ISO 32000-1, 7.8.2 and 7.2.3): the viewers draw
    // neither as it should be, so the words are judged.
    let mut pdf = Pdf::new();
    let parts = ["BT /F1 20 Tf 20 60 Td (Otter", "by) Tj ET % end", "BT /F1 20 Tf 20 20 Td (Common) Tj ET"]
        .map(|p| format!("{} 0 R", pdf.stream("", p)));
    pdf.page_of(&format!("/MediaBox [0 0 200 100] {resources} /Contents [{}]", parts.join(" ")));
    let folder = tempfile::tempdir().unwrap();
    let out = placed(&opened(&pdf.bytes()), 1);
    let words = judged("pdftotext", &[text(&saved(&folder, "placed.pdf", &out)), "-"]);
    assert!(words.contains("Otterby") && words.contains("Common"), "{words}");
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [0 0 200 100]", "Q Q 20 20 30 30 re f q 1 0 0 1 60 10 cm 0 0 30 30 re f");
    same_look("spare states", &pdf.bytes(), 1);
}

#[test]
fn annotations_that_print_are_drawn_and_others_are_not() {
    for rotate in [0, 90] {
        let mut pdf = Pdf::new();
        let stamp = |pdf: &mut Pdf, matrix: &str, tint: &str| {
            let keys = format!("/Type /XObject /Subtype /Form /BBox [0 0 40 20] /Resources << >> {matrix}");
            pdf.stream(&keys, format!("{tint} k 0 0 40 20 re f 0 0 0 1 k 0 0 10 5 re f"))
        };
        let turned = stamp(&mut pdf, "/Matrix [0 1 -1 0 0 0]", "0.4 0 0 0");
        let plain = stamp(&mut pdf, "", "0 0.4 0 0");
        let annotation = |kind: &str, rect: &str, flags: u8, form: usize| {
            format!("<< /Type /Annot /Subtype /{kind} /Rect [{rect}] /F {flags} /AP << /N {form} 0 R >> >>")
        };
        let all = [
            annotation("Stamp", "20 20 60 80", 4, turned),
            annotation("FreeText", "80 20 140 50", 4, plain),
            annotation("Stamp", "80 60 100 80", 6, plain),
        ];
        pdf.page(&format!("/MediaBox [0 0 200 100] /Rotate {rotate} /Annots [{}]", all.join(" ")), "0 0 5 5 re f");
        same_look(&format!("annotations, Rotate {rotate}"), &pdf.bytes(), 1);
        // One that does not turn with the page (NoRotate) stands upright when the page is looked at.
        let mut pdf = Pdf::new();
        let plain = stamp(&mut pdf, "", "0 0.4 0 0");
        let upright = annotation("Stamp", "90 40 130 60", 20, plain);
        pdf.page(&format!("/MediaBox [0 0 200 100] /Rotate {rotate} /Annots [{upright}]"), "0 0 5 5 re f");
        same_look_in("NoRotate", &pdf.bytes(), 1, &["poppler", "mupdf"], &[false]);
    }
}

#[test]
fn layers_keep_their_printing_state() {
    let mut pdf = Pdf::new();
    let (on, off) = (pdf.add("<< /Type /OCG /Name (Grid) >>"), pdf.add("<< /Type /OCG /Name (Guides) >>"));
    pdf.root(&format!("/OCProperties << /OCGs [{on} 0 R {off} 0 R] /D << /OFF [{off} 0 R] >> >>"));
    let form = pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 50 50] /Resources << >> /OC {off} 0 R"),
        "0 0 50 50 re f",
    );
    let resources =
        format!("/Resources << /Properties << /MC0 {on} 0 R /MC1 {off} 0 R >> /XObject << /Fm1 {form} 0 R >> >>");
    pdf.page(
        &format!("/MediaBox [0 0 200 100] {resources}"),
        "/OC /MC0 BDC 20 20 40 40 re f EMC /OC /MC1 BDC 0 0 m 200 100 l S EMC q 1 0 0 1 120 30 cm /Fm1 Do Q",
    );
    let bytes = pdf.bytes();
    same_look("layers", &bytes, 1);
    let document = Document::load_mem(&placed(&opened(&bytes), 1)).unwrap();
    let properties = document.catalog().unwrap().get(b"OCProperties").unwrap().as_dict().unwrap();
    let config = properties.get(b"D").unwrap().as_dict().unwrap();
    assert!(config.has(b"Name") && !config.has(b"AS"));
    assert_eq!(config.get(b"OFF").unwrap().as_array().unwrap().len(), 1);
}

fn streams(document: &Document, key: &[u8], name: &[u8]) -> usize {
    let is =
        |o: &&Object| o.as_stream().is_ok_and(|s| s.dict.get(key).and_then(Object::as_name).is_ok_and(|n| n == name));
    document.objects.values().filter(is).count()
}

/// A page with one picture and one name for everything.
fn same_names(content: &str, dots: [u8; 4]) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let picture = pdf
        .stream("/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray", dots);
    let resources = format!("/Resources << /XObject << /Im1 {picture} 0 R >> /Font << /F1 {FONT} >> >>");
    pdf.page(&format!("/MediaBox [0 0 216 144] {resources}"), content);
    pdf.bytes()
}

#[test]
fn two_inputs_with_the_same_names_stay_apart_and_what_is_equal_is_shared() {
    let one = same_names("q 100 0 0 80 20 20 cm /Im1 Do Q", [0, 200, 200, 0]);
    let two = same_names("q 60 0 0 90 90 30 cm /Im1 Do Q", [90, 250, 20, 130]);
    let third = same_names("q 60 0 0 90 90 30 cm /Im1 Do Q BT /F1 9 Tf (x) Tj ET", [0, 200, 200, 0]);
    let press = |a: &[u8], b: &[u8]| {
        let (outside, inside) = (opened(a), opened(b));
        let format = format(&outside, 1);
        let inks = fairfold::ink::Ink::PROCESS;
        let ask = LayoutRequest { marks: MarkSet::NONE, ..request(&format, "13x19", WorkStyle::Sheetwise, &inks) };
        let sheet = lay_out(&ask).unwrap();
        let info = PressInfo {
            standard: Standard::X4,
            job: "Otterby Common",
            date: &DATE,
            inks: &inks,
            spots: &[],
            condition: &CONDITION,
            digest: "0",
            approved: true,
            waivers: &[],
        };
        let arts = [
            Art { side: Side::Outside, artwork: &outside, page: 1 },
            Art { side: Side::Inside, artwork: &inside, page: 1 },
        ];
        let bytes = write(&sheet, &arts, &info).unwrap();
        verify(&bytes, &sheet, &arts, &info).unwrap();
        (sheet, Document::load_mem(&bytes).unwrap())
    };
    let (sheet, document) = press(&one, &two);
    assert!(sheet.number_up() >= 16);
    // However many stations there are: one form a page, one picture each.
    assert_eq!((streams(&document, b"Subtype", b"Form"), streams(&document, b"Subtype", b"Image")), (2, 2));
    let (_, document) = press(&one, &third);
    assert_eq!((streams(&document, b"Subtype", b"Form"), streams(&document, b"Subtype", b"Image")), (2, 1));
    let (_, document) = press(&one, &one);
    assert_eq!((streams(&document, b"Subtype", b"Form"), streams(&document, b"Subtype", b"Image")), (1, 1));
}

#[test]
fn only_what_the_page_draws_comes_along_and_streams_stay_as_they_are() {
    let mut pdf = Pdf::new();
    let metadata = pdf.stream("/Type /Metadata /Subtype /XML", "<private/>");
    let mut pictures = String::new();
    for n in 0..120_u8 {
        let keys = "/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray";
        let private =
            format!("/PieceInfo << /Layout << /Private (page data) >> >> /Metadata {metadata} 0 R /StructParent {n}");
        let picture = pdf.stream(&format!("{keys} {private}"), [n]);
        let _ = write!(pictures, "/Im{n} {picture} 0 R ");
    }
    let resources = pdf.add(format!("<< /XObject << {pictures} >> /Font << /F1 {FONT} >> /ProcSet [/PDF] >>"));
    let script = pdf.add("<< /S /JavaScript /JS (app.beep\\(\\)) >>");
    let link = pdf.add(format!("<< /Type /Annot /Subtype /Link /Rect [0 0 90 90] /F 4 /A {script} 0 R >>"));
    pdf.root(&format!("/OpenAction {script} 0 R /Names << /JavaScript << /Names [(a) {script} 0 R] >> >>"));
    for n in 0..120 {
        let thumb = pdf.stream("/Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray", "t");
        let keys = format!(
            "/MediaBox [0 0 216 144] /Resources {resources} 0 R /Annots [{link} 0 R] /Thumb {thumb} 0 R /StructParents {n}"
        );
        // A stream as no encoder here would make it.
        let contents = pdf.stream("/Filter /ASCIIHexDecode", hex(&format!("q 90 0 0 90 9 9 cm /Im{n} Do Q")));
        pdf.page_of(&format!("{keys} /Contents {contents} 0 R"));
    }
    let bytes = pdf.bytes();
    let artwork = opened(&bytes);
    let out = placed(&artwork, 77);
    let document = Document::load_mem(&out).unwrap();
    assert_eq!((streams(&document, b"Subtype", b"Form"), streams(&document, b"Subtype", b"Image")), (1, 1));
    let form = document.objects.values().find_map(|o| o.as_stream().ok().filter(|s| s.dict.has(b"BBox"))).unwrap();
    assert_eq!(form.content, hex("q 90 0 0 90 9 9 cm /Im76 Do Q").into_bytes(), "the source stream, byte for byte");
    assert!(document.objects.len() < 20, "{} objects for one small page", document.objects.len());
    let whole = format!("{:?}", document.objects);
    for word in
        ["JavaScript", "PieceInfo", "Thumb", "StructParent", "page data", "private", "Link", "ProcSet", "Helvetica"]
    {
        assert!(!whole.contains(word), "{word} came along");
    }
}

#[test]
fn an_action_does_not_come_along_wherever_it_stands() {
    let mut pdf = Pdf::new();
    // Properties that are really an entry of the outline, and a group state with a script of its own.
    let entry = pdf.add("<< /Title (Otterby) /A << /S /URI /URI (https://otterby.invalid) >> >>");
    let script = pdf.add("<< /JS (app.beep\\(\\)) >>");
    let resources = format!("/Properties << /P {entry} 0 R >> /ExtGState << /G << /ca 1 /Next {script} 0 R >> >>");
    let keys = format!("/MediaBox [0 0 216 144] /Resources << {resources} >>");
    pdf.page(&keys, "/G gs /Span /P BDC 0 0 90 90 re f EMC");
    let document = Document::load_mem(&placed(&opened(&pdf.bytes()), 1)).unwrap();
    let whole = format!("{:?}", document.objects);
    assert!(whole.contains("Title") && whole.contains("ca"), "what is drawn with came along");
    assert!(!whole.contains("URI") && !whole.contains("JS"), "{whole}");
}

/// Hexadecimal with a blank after every byte, as no encoder here writes it.
fn hex(words: &str) -> String {
    let mut digits = String::new();
    for byte in words.bytes() {
        let _ = write!(digits, "{byte:02x} ");
    }
    digits + ">"
}

#[test]
fn circles_and_depth_do_not_stop_the_copier() {
    let mut pdf = Pdf::new();
    let (a, b): (usize, usize) = (pdf.reserve(), pdf.reserve());
    let keys = |other| {
        format!("/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << /XObject << /X {other} 0 R >> >>")
    };
    pdf.set_stream(a, &keys(b), "0 0 9 9 re f /X Do");
    pdf.set_stream(b, &keys(a), "9 9 9 9 re f /X Do");
    let mut next = pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 99 99] /Resources << >>", "0 0 9 9 re f");
    for _ in 0..5000 {
        next = pdf.stream(&keys(next), "/X Do");
    }
    pdf.page(
        &format!("/MediaBox [0 0 216 144] /Resources << /XObject << /A {a} 0 R /N {next} 0 R >> >>"),
        "/A Do /N Do",
    );
    let artwork = opened(&pdf.bytes());
    let format = format(&artwork, 1);
    let ask = LayoutRequest { marks: MarkSet::NONE, ..request(&format, "13x19", WorkStyle::OneSide, &[]) };
    let info = PressInfo {
        standard: Standard::X4,
        job: "Otterby Common",
        date: &DATE,
        inks: &[],
        spots: &[],
        condition: &CONDITION,
        digest: "0",
        approved: true,
        waivers: &[],
    };
    let arts = [Art { side: Side::Outside, artwork: &artwork, page: 1 }];
    let bytes = write(&one_up(&ask).unwrap(), &arts, &info).unwrap();
    let document = Document::load_mem(&bytes).unwrap();
    assert_eq!(streams(&document, b"Subtype", b"Form"), 5000 + 1 + 2 + 1);
}

#[test]
fn an_ink_that_is_named_and_paints_nothing_stops_no_one() {
    let mut pdf = Pdf::new();
    let spot =
        "[/Separation /Heron /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.3 0.1 0 0.4] /N 1 >>]";
    pdf.page(
        &format!("/MediaBox [0 0 400 200] /Resources << /ColorSpace << /S {spot} >> >>"),
        "/S cs 1 scn 0 0 0 1 k 20 20 50 50 re f",
    );
    let artwork = opened(&pdf.bytes());
    assert!(inks(&artwork).iter().all(|ink| !ink.is_spot()));
    // Written and read back.
    placed(&artwork, 1);
}
