//! Type and pages against outside judges: fonttools for what the fonts say, MuPDF and poppler for what a page says, qpdf for the
//! file, Ghostscript for the plates.

use std::path::Path;
use std::process::{Command, Output};
use std::sync::Arc;

use fairfold::font::{FontSubset, OpenFont, ShapedLine, Shaping, shape};
use fairfold::ink::{Colour, Ink, SpotInk};
use fairfold::pdf::{
    Boxes, Content, Document, FileKind, ImageData, ImageSpace, ImageXObject, InfoValue, Overprint, Saving, decimal,
};
use fairfold::unit::{Length, Point, Rect, Size, Turn};
use lopdf::Dictionary;
use serde_json::Value;

fn run(mut command: Command, install: &str) -> Output {
    let program = command.get_program().to_string_lossy().into_owned();
    let out = command.output().unwrap_or_else(|_| panic!("this test needs {program}: install {install}"));
    let said = String::from_utf8_lossy(&out.stderr);
    assert!(out.status.success(), "{program} (from {install}) failed: {}{said}", String::from_utf8_lossy(&out.stdout));
    out
}

fn python(script: &str, arguments: &[&str], package: &str) -> String {
    let mut command = Command::new("python3");
    command.arg("-c").arg(script).args(arguments);
    String::from_utf8(run(command, package).stdout).unwrap()
}

fn tool(program: &str, arguments: &[&str], package: &str) -> String {
    let mut command = Command::new(program);
    command.args(arguments);
    String::from_utf8(run(command, package).stdout).unwrap()
}

fn pt(points: i64) -> Length {
    Length::pt(points)
}

fn at(x: i64, y: i64) -> Point {
    Point::new(pt(x), pt(y))
}

fn line(font: OpenFont, text: &str, shaping: Shaping) -> ShapedLine {
    shape(font.font().unwrap(), text, pt(10), shaping)
}

/// A program on disk for as long as the test runs.
fn kept(bytes: &[u8], name: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).unwrap();
    let path = path.to_str().unwrap().to_owned();
    (folder, path)
}

/// Widths in font units by fonttools: hmtx through cmap, tabular and lining figures through GSUB, pairs through GPOS.
const WIDTHS: &str = r#"
import sys, json
from fontTools.ttLib import TTFont
font = TTFont(sys.argv[1])
cmap, hmtx = font.getBestCmap(), font["hmtx"]
def lookups(table, tag):
    t = font[table].table
    if tag not in {r.FeatureTag for r in t.FeatureList.FeatureRecord}: return []
    latin = next(s for s in t.ScriptList.ScriptRecord if s.ScriptTag == "latn").Script.DefaultLangSys
    found = [t.FeatureList.FeatureRecord[n] for n in latin.FeatureIndex]
    numbers = sorted({n for r in found if r.FeatureTag == tag for n in r.Feature.LookupListIndex})
    return [t.LookupList.Lookup[n] for n in numbers]
def plain(lookup):
    return [getattr(s, "ExtSubTable", s) for s in lookup.SubTable]
def kern(a, b):
    total = 0
    for lookup in lookups("GPOS", "kern"):
        for s in plain(lookup):
            if type(s).__name__ != "PairPos": break # kerning in context, of which these texts have none
            if a not in s.Coverage.glyphs: continue
            if s.Format == 1:
                pairs = s.PairSet[s.Coverage.glyphs.index(a)].PairValueRecord
                hit = [p.Value1 for p in pairs if p.SecondGlyph == b]
                if not hit: continue
                value = hit[0]
            else:
                value = s.Class1Record[s.ClassDef1.classDefs.get(a, 0)].Class2Record[s.ClassDef2.classDefs.get(b, 0)].Value1
            total += getattr(value, "XAdvance", 0) if value else 0
            break
    return total
out = []
for text, kerned, tabular in json.loads(sys.argv[2]):
    glyphs = [cmap[ord(c)] for c in text]
    if tabular:
        for tag in ("lnum", "tnum"):
            for lookup in lookups("GSUB", tag):
                for s in plain(lookup):
                    glyphs = [s.mapping.get(g, g) for g in glyphs]
    width = sum(hmtx[g][0] for g in glyphs)
    if kerned: width += sum(kern(a, b) for a, b in zip(glyphs, glyphs[1:]))
    out.append(width)
print(json.dumps(out))
"#;

#[test]
fn widths_are_those_of_the_font_files() {
    let cases = [
        ("Otterby Common", true, false),
        ("Otterby Common", false, false),
        ("Valley, Tees & Yards", true, false),
        ("AVATAR To", true, false),
        ("1114", false, true),
        ("1114", true, true),
        ("7146", false, false),
    ];
    for which in OpenFont::ALL {
        let (_folder, path) = kept(which.program(), "font.ttf");
        let asked = serde_json::to_string(&cases).unwrap();
        let widths: Vec<i64> = serde_json::from_str(&python(WIDTHS, &[&path, &asked], "fonttools")).unwrap();
        let font = which.font().unwrap();
        for ((text, kern, tabular), want) in cases.into_iter().zip(widths) {
            let set = line(which, text, Shaping { kern, tabular, tracking: Length::ZERO });
            let units: i64 = set.glyphs.iter().map(|g| i64::from(g.advance)).sum();
            assert_eq!(units, want, "{} {text} kern {kern} tabular {tabular}", font.name());
            // At 10 pt in a font of 1000 units an em, one unit is 0.01 pt.
            assert_eq!(set.width(), pt(want) / 100);
        }
    }
}

#[test]
fn figures_in_columns_have_one_width() {
    for which in OpenFont::ALL {
        let widths: Vec<Length> =
            ["111", "404", "777"].map(|text| line(which, text, Shaping::FIGURES).width()).to_vec();
        assert!(widths.windows(2).all(|w| w[0] == w[1]), "{} {widths:?}", which.word());
    }
}

#[test]
fn measures_are_those_of_the_os2_and_hhea_tables() {
    let script = r#"
import sys, json
from fontTools.ttLib import TTFont
f = TTFont(sys.argv[1]); o, h = f["OS/2"], f["hhea"]
typo = bool(o.fsSelection & 128)
print(json.dumps([f["head"].unitsPerEm, o.sxHeight, o.sCapHeight, o.sTypoAscender if typo else h.ascent,
  -(o.sTypoDescender if typo else h.descent), o.usWeightClass, f["name"].getDebugName(6), o.fsType]))
"#;
    for which in OpenFont::ALL {
        let (_folder, path) = kept(which.program(), "font.ttf");
        let told: Value = serde_json::from_str(&python(script, &[&path], "fonttools")).unwrap();
        let told_at = |n: usize| told[n].as_i64().unwrap();
        let font = which.font().unwrap();
        let size = pt(told_at(0)); // one point a unit
        let have = [font.x_height(size), font.cap_height(size), font.ascent(size), font.descent(size)];
        assert_eq!(have, [1, 2, 3, 4].map(|n| pt(told_at(n))), "{}", font.name());
        assert_eq!(i64::from(font.weight()), told_at(5));
        assert_eq!(font.name(), told[6].as_str().unwrap());
        assert_eq!((told_at(7), font.rights().to_string().as_str()), (0, "installable"));
    }
}

fn heron() -> SpotInk {
    SpotInk { name: Arc::from("Otterby Heron"), cmyk: [0.3, 0.1, 0.0, 0.4], lab: None }
}

fn lines() -> Vec<(ShapedLine, Point, Turn)> {
    vec![
        (line(OpenFont::Serif, "Otterby Common: official AVATAR", Shaping::TEXT), at(20, 150), Turn::None),
        (line(OpenFont::NarrowBold, "1114", Shaping::FIGURES), at(20, 120), Turn::None),
        (
            line(OpenFont::Condensed, "PLEASE REPAIR", Shaping::TEXT.tracked(Length::units(63_500))),
            at(20, 90),
            Turn::None,
        ),
        (line(OpenFont::NarrowItalic, "Täter, Voilà", Shaping::TEXT), at(280, 40), Turn::Left),
    ]
}

fn boxes() -> Boxes {
    let trim = Rect::at(Point::new(Length::inches(1, 8), Length::inches(1, 8)), Size::new(pt(288), Length::mm(70)));
    Boxes::trimmed(trim, trim.grown(Length::inches(1, 8)))
}

fn page(kind: FileKind) -> Vec<u8> {
    let mut document = Document::new();
    document.define_spot(&heron()).unwrap();
    let mut content = Content::new();
    content.fill_colour(&mut document, &heron().at(0.4)).unwrap().rect(Rect::new(pt(0), pt(0), pt(150), pt(60))).fill();
    content.fill_colour(&mut document, &Colour::BLACK).unwrap().overprint(&mut document, Overprint::OnNonZero);
    for (line, at, turn) in lines() {
        content.text_turned(&mut document, &line, at, turn).unwrap();
    }
    let all = Colour::Inks { tints: vec![(Ink::All, 1.0)], look: Box::new(Colour::Cmyk([1.0; 4])) };
    content.begin_artifact().stroke_colour(&mut document, &all).unwrap();
    content.line_width(Length::units(31_750)).move_to(at(5, 5)).line_to(at(5, 20)).stroke().end();
    document.add_page(&boxes(), content, &Dictionary::new()).unwrap();
    let mut saving =
        Saving { kind, xmp: Some(String::from("<x:xmpmeta xmlns:x='adobe:ns:meta/'/>")), ..Saving::default() }
            .text("Title", "Otterby Common – Heide")
            .text("CreationDate", "D:20260401120000Z");
    saving.info.push((String::from("Trapped"), InfoValue::Name(String::from("False"))));
    document.save(&saving).unwrap()
}

#[test]
fn two_builds_of_one_page_are_the_same_bytes() {
    assert_eq!(page(FileKind::Compact), page(FileKind::Compact));
    assert_eq!(page(FileKind::Classic), page(FileKind::Classic));
}

#[test]
fn qpdf_finds_nothing_wrong_and_the_build_is_as_asked() {
    for (kind, version, has, has_not) in
        [(FileKind::Compact, "%PDF-1.6", "/ObjStm", "trailer"), (FileKind::Classic, "%PDF-1.4", "trailer", "/ObjStm")]
    {
        let bytes = page(kind);
        let text = String::from_utf8_lossy(&bytes);
        assert!(text.starts_with(version) && text.contains(has) && !text.contains(has_not));
        assert!(text.contains("<x:xmpmeta"), "the XMP packet stands uncompressed");
        let (_folder, path) = kept(&bytes, "page.pdf");
        let said = tool("qpdf", &["--check", &path], "qpdf");
        assert!(said.contains("No syntax or stream encoding errors found"), "{said}");
    }
}

#[test]
fn fonts_are_embedded_subsets_and_the_text_comes_back() {
    let (_folder, path) = kept(&page(FileKind::Compact), "page.pdf");
    let fonts = tool("pdffonts", &[&path], "poppler-utils");
    let rows: Vec<&str> = fonts.lines().skip(2).collect();
    assert_eq!(rows.len(), 4, "{fonts}");
    for row in rows {
        assert_eq!(row.as_bytes()[6], b'+', "{row}");
        // emb, sub, uni
        assert!(row.contains("CID TrueType") && row.contains("Identity-H"), "{row}");
        assert!(row.split_whitespace().collect::<Vec<_>>().windows(3).any(|w| w == ["yes", "yes", "yes"]), "{row}");
    }
    let text = tool("pdftotext", &["-raw", &path, "-"], "poppler-utils");
    for (line, _, _) in lines() {
        // Of a line that stands upright, poppler gives each word its own line.
        assert!(
            text.split_whitespace().collect::<Vec<_>>().join(" ").contains(&line.text),
            "{} is missing in {text}",
            line.text
        );
    }
    let extracted = tool("mutool", &["draw", "-q", "-F", "text", &path], "mupdf-tools");
    assert!(extracted.contains("Otterby Common: official AVATAR"), "{extracted}");
}

#[test]
fn boxes_and_titles_are_those_asked_for() {
    let (_folder, path) = kept(&page(FileKind::Classic), "page.pdf");
    let told = tool("pdfinfo", &["-box", &path], "poppler-utils");
    assert!(told.contains("Otterby Common – Heide"), "{told}");
    let want = boxes();
    for (name, rect) in [("MediaBox", want.media), ("BleedBox", want.bleed.unwrap()), ("TrimBox", want.trim.unwrap())] {
        let row = told.lines().find(|l| l.starts_with(name)).unwrap();
        let have: Vec<f64> = row.split_whitespace().skip(1).map(|n| n.parse().unwrap()).collect();
        for (have, want) in have.iter().zip([rect.x0, rect.y0, rect.x1, rect.y1]) {
            // pdfinfo prints hundredths of a point.
            assert!((have - want.to_pt()).abs() <= 0.0051, "{row}");
        }
    }
}

/// Every glyph stands where the shaped line has its pen, as MuPDF reads the page (kerning, tracking and turn included).
#[test]
fn glyphs_stand_where_the_line_says() {
    let script = r#"
import sys, json, pymupdf
page = pymupdf.open(sys.argv[1])[0]
out, h = [], page.mediabox.height
for b in page.get_text("rawdict", flags=0)["blocks"]:
    for l in b["lines"]:
        for s in l["spans"]:
            for c in s["chars"]: out.append([c["c"], c["origin"][0], h - c["origin"][1]])
print(json.dumps(out))
"#;
    let (_folder, path) = kept(&page(FileKind::Compact), "page.pdf");
    let told: Vec<(String, f64, f64)> = serde_json::from_str(&python(script, &[&path], "pymupdf")).unwrap();
    let corner = boxes().media.origin();
    let mut checked = 0;
    for (line, start, turn) in lines() {
        for n in 0..line.glyphs.len() {
            let (pen, says) = (line.pen(n).to_pt(), line.says(n));
            let (x, y) = match turn {
                Turn::Left => (start.x.to_pt(), start.y.to_pt() + pen),
                _ => (start.x.to_pt() + pen, start.y.to_pt()),
            };
            let (x, y) = (x - corner.x.to_pt(), y - corner.y.to_pt());
            let near = |c: &&(String, f64, f64)| (c.1 - x).abs() < 0.01 && (c.2 - y).abs() < 0.01;
            let found =
                told.iter().find(near).unwrap_or_else(|| panic!("no glyph at {x:.3} {y:.3} for {says}: {told:?}"));
            assert!(says.starts_with(&found.0), "{says} is {}", found.0);
            checked += 1;
        }
    }
    assert!(checked > 50);
}

/// pikepdf reads operands as exact decimals: each gives back the length that was written.
#[test]
fn lengths_read_back_from_a_content_stream_are_the_same() {
    let units: Vec<i64> = (0..400).map(|n| (n * 7_919_993_i64) % 180_000_000 - 60_000_000).collect();
    let mut content = Content::new();
    for pair in units.chunks(2) {
        content.move_to(Point::new(Length::units(pair[0]), Length::units(pair[1])));
    }
    content.stroke();
    let mut document = Document::new();
    document.add_page(&boxes(), content, &Dictionary::new()).unwrap();
    let (_folder, path) = kept(&document.save(&Saving::default()).unwrap(), "page.pdf");
    let script = r#"
import sys, json, pikepdf
from decimal import Decimal
pdf = pikepdf.open(sys.argv[1])
ops = pikepdf.parse_content_stream(pdf.pages[0])
print(json.dumps([int((Decimal(str(v)) * 127000).to_integral_value()) for o, c in ops if str(c) == "m" for v in o]))
"#;
    let read: Vec<i64> = serde_json::from_str(&python(script, &[&path], "pikepdf")).unwrap();
    assert_eq!(read, units);
    assert_eq!(decimal(Length::inches(17, 1)), "1224");
}

/// A subset holds outlines equal to those of the whole font and its OS/2 table, and all its checksums are right, by fonttools.
#[test]
fn a_subset_keeps_its_outlines() {
    let mut subset = FontSubset::new(OpenFont::Serif).unwrap();
    let set = line(OpenFont::Serif, "Ärger 48", Shaping::TEXT);
    let cids = subset.take(&set).unwrap();
    let pairs: Vec<(u16, u16)> = set.glyphs.iter().map(|g| g.id).zip(cids).collect();
    let (_a, whole) = kept(OpenFont::Serif.program(), "whole.ttf");
    let (_b, part) = kept(&subset.program().unwrap(), "part.ttf");
    let script = r#"
import sys, json
from fontTools.ttLib import TTFont
from fontTools.pens.recordingPen import DecomposingRecordingPen
def outline(font, n):
    glyphs = font.getGlyphSet(); pen = DecomposingRecordingPen(glyphs); glyphs[font.getGlyphName(n)].draw(pen); return pen.value
a, b = TTFont(sys.argv[1]), TTFont(sys.argv[2])
part, whole = open(sys.argv[2], "rb").read(), open(sys.argv[1], "rb").read()
from fontTools.ttLib.sfnt import SFNTReader, calcChecksum
import io, struct
reader = SFNTReader(io.BytesIO(part), checkChecksums=2)
for tag in reader.keys(): reader[tag]
assert calcChecksum(part) == 0xB1B0AFBA, "the sum of the whole file"
assert list(reader.keys()) == sorted(reader.keys()) and reader["OS/2"] == SFNTReader(io.BytesIO(whole))["OS/2"]
print(json.dumps([bool(outline(a, x)) == (x != a.getGlyphID("space")) and outline(a, x) == outline(b, y) for x, y in json.loads(sys.argv[3])]))
"#;
    let same: Vec<bool> =
        serde_json::from_str(&python(script, &[&whole, &part, &serde_json::to_string(&pairs).unwrap()], "fonttools"))
            .unwrap();
    assert_eq!(same, vec![true; pairs.len()]);
    assert!(std::fs::metadata(Path::new(&part)).unwrap().len() < OpenFont::Serif.program().len() as u64 / 4);
}

/// The value (0 is solid, 255 is bare) of one pixel of each plate that Ghostscript separates.
fn plates(pdf: &[u8], x: u32, y: u32) -> impl Fn(&str) -> Option<u8> + use<> {
    let (folder, path) = kept(pdf, "page.pdf");
    let out = folder.path().join("p.tif");
    let to = format!("-sOutputFile={}", out.to_str().unwrap());
    tool("gs", &["-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=tiffsep", "-r72", &to, &path], "ghostscript");
    move |plate| {
        let path = folder.path().join(format!("p({plate}).tif"));
        let picture = image::open(path).ok()?.into_luma8();
        Some(picture.get_pixel(x, picture.height() - 1 - y).0[0])
    }
}

fn square(draw: impl FnOnce(&mut Document, &mut Content)) -> Vec<u8> {
    let mut document = Document::new();
    let mut content = Content::new();
    draw(&mut document, &mut content);
    let sheet = Size::new(pt(72), pt(72)).at_origin();
    document.add_page(&Boxes::trimmed(sheet, sheet), content, &Dictionary::new()).unwrap();
    document.save(&Saving::default()).unwrap()
}

#[test]
fn a_spot_prints_on_its_own_plate_and_black_overprints_it() {
    let patch = Rect::new(pt(10), pt(10), pt(60), pt(60));
    let drawn = |overprint: Overprint| {
        square(|document, content| {
            document.define_spot(&heron()).unwrap();
            content.fill_colour(document, &heron().at(0.4)).unwrap().rect(patch).fill();
            content.overprint(document, overprint).fill_colour(document, &Colour::BLACK).unwrap();
            content.rect(Rect::new(pt(30), pt(30), pt(60), pt(60))).fill();
        })
    };
    let tint = plates(&drawn(Overprint::Off), 20, 20);
    assert_eq!((tint("Otterby Heron"), tint("Cyan"), tint("Black")), (Some(153), Some(255), Some(255)));
    let knocked = plates(&drawn(Overprint::Off), 45, 45);
    assert_eq!((knocked("Otterby Heron"), knocked("Black")), (Some(255), Some(0)));
    let over = plates(&drawn(Overprint::OnNonZero), 45, 45);
    assert_eq!((over("Otterby Heron"), over("Black")), (Some(153), Some(0)));
}

#[test]
fn marks_in_all_print_on_every_plate() {
    let bytes = square(|document, content| {
        document.define_spot(&heron()).unwrap();
        content.fill_colour(document, &heron().at(1.0)).unwrap().rect(Rect::new(pt(0), pt(0), pt(9), pt(9))).fill();
        let all = Colour::Inks { tints: vec![(Ink::All, 1.0)], look: Box::new(Colour::Cmyk([1.0; 4])) };
        content.fill_colour(document, &all).unwrap().rect(Rect::new(pt(30), pt(30), pt(60), pt(60))).fill();
    });
    let there = plates(&bytes, 45, 45);
    for plate in ["Cyan", "Magenta", "Yellow", "Black", "Otterby Heron"] {
        assert_eq!(there(plate), Some(0), "{plate}");
    }
}

#[test]
fn pictures_print_their_own_tints_and_a_jpeg_passes_through() {
    let tints = [204_u8, 0, 51, 0];
    let pixels: Vec<u8> = tints.iter().copied().cycle().take(4 * 16 * 16).collect();
    // The encoder stores the complement of what it is given, as files with an Adobe marker do; given the complement, it stores the tints.
    let encoded = |pixels: &[u8]| {
        let mut file = Vec::new();
        jpeg_encoder::Encoder::new(&mut file, 100).encode(pixels, 16, 16, jpeg_encoder::ColorType::Cmyk).unwrap();
        file
    };
    let upside_down = encoded(&pixels);
    let upright = encoded(&pixels.iter().map(|v| 255 - v).collect::<Vec<_>>());
    for (data, tolerance, file) in [
        (ImageData::Samples(pixels.clone()), 0, Vec::new()),
        (ImageData::Jpeg { file: upside_down.clone(), inverted: true }, 2, upside_down),
        (ImageData::Jpeg { file: upright.clone(), inverted: false }, 2, upright),
    ] {
        let bytes = square(|document, content| {
            let image = ImageXObject { width: 16, height: 16, bits: 8, space: ImageSpace::Cmyk, data, soft_mask: None };
            let id = document.add_image(&image).unwrap();
            content.picture(id, Rect::new(pt(8), pt(8), pt(64), pt(64)));
        });
        if !file.is_empty() {
            assert!(bytes.windows(file.len()).any(|w| w == file), "the JPEG stands in the file as it was");
        }
        let there = plates(&bytes, 36, 36);
        for (plate, tint) in ["Cyan", "Magenta", "Yellow", "Black"].into_iter().zip(tints) {
            let have = there(plate).unwrap();
            assert!(have.abs_diff(255 - tint) <= tolerance, "{plate} {have} for {tint}");
        }
    }
}
