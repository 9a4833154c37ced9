//! Outside judges of the artwork reader: PyMuPDF for text and boxes of ink, pikepdf for page boxes, poppler's pdfimages and
//! pdffonts for pictures and fonts.

use std::path::{Path, PathBuf};
use std::process::Command;

use fairfold::card::{Face, Mark, Side};
use fairfold::font::{FontSubset, OpenFont, Shaping};
use fairfold::unit::Length;
use serde_json::Value;

use super::artwork_pdf::{Pdf, open, texts};

/// Runs a judge and gives what it printed.
fn judge(program: &str, arguments: &[&str], install: &str) -> String {
    let output = Command::new(program).args(arguments).output();
    let output = output.unwrap_or_else(|e| panic!("{program} is needed for this test ({install}): {e}"));
    let errors = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success(), "{program} ({install}): {errors}");
    String::from_utf8(output.stdout).unwrap()
}

fn python(script: &str, file: &Path) -> Value {
    let printed = judge("python3", &["-c", script, file.to_str().unwrap()], "pip install pymupdf pikepdf numpy");
    serde_json::from_str(&printed).unwrap()
}

/// A file for the judges, which goes away with the folder.
fn on_disk(bytes: &[u8]) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("otterby.pdf");
    std::fs::write(&path, bytes).unwrap();
    (folder, path)
}

/// Every glyph as PyMuPDF sees it: character, origin in page space, size.
const TRACE: &str = "
import sys, json, pymupdf
found = []
for page in pymupdf.open(sys.argv[1]):
    back = ~page.transformation_matrix
    for span in page.get_texttrace():
        for c in span['chars']:
            at = pymupdf.Point(c[2]) * back
            found.append([page.number + 1, chr(c[0]), at.x, at.y, span['size']])
print(json.dumps(found))
";

/// Text of a standard font, a Type 0 subset as this house writes it and a simple TrueType font, in all the ways of moving it.
fn page_of_text() -> Vec<u8> {
    let mut pdf = Pdf::new();
    let mut subset = FontSubset::new(OpenFont::Narrow).unwrap();
    let line = OpenFont::Narrow.shape("Heron & Bracken 4 5", Length::pt(9), Shaping::default()).unwrap();
    let cids = subset.take(&line).unwrap();
    let program = subset.program().unwrap();
    let file = pdf.stream("/Length1 1", &program);
    let name = subset.name(&program);
    let descriptor = pdf.add(format!(
        "<< /Type /FontDescriptor /FontName /{name} /Flags 32 /FontBBox [-200 -250 1200 1000] /Ascent 900 /Descent -250 \
         /CapHeight 650 /StemV 80 /ItalicAngle 0 /FontFile2 {file} 0 R >>"
    ));
    let widths: Vec<String> = subset.widths().iter().map(ToString::to_string).collect();
    let descendant = pdf.add(format!(
        "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{name} /CIDToGIDMap /Identity /W [0 [{}]] \
         /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor {descriptor} 0 R >>",
        widths.join(" ")
    ));
    let cmap = pdf.stream("", subset.to_unicode());
    let composite = pdf.add(format!(
        "<< /Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H /DescendantFonts [{descendant} 0 R] /ToUnicode {cmap} 0 R >>"
    ));
    let codes: String = cids.iter().map(|c| format!("{c:04X}")).collect::<Vec<_>>().concat();
    let form = pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Matrix [0.5 0 0 0.5 100 20] /Resources << /Font << /C {composite} 0 R >> >>"),
        format!("BT /C 18 Tf 40 60 Td <{codes}> Tj ET"),
    );
    let fonts = "/H << /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >> \
                 /T << /Type /Font /Subtype /Type1 /BaseFont /Times-BoldItalic >>";
    let content = format!(
        "BT /H 8 Tf 20 180 Td 0.5 Tc 3 Tw 80 Tz (Otterby Common) Tj 0 Tc 0 Tw 100 Tz 0 -15 Td [(Pa) 40 (r 4) -200 (5)] TJ \
         12 TL (next line) ' 3 Ts (raised) Tj 0 Ts ET BT /T 14 Tf 0.866 0.5 -0.5 0.866 150 80 Tm (turned) Tj ET \
         BT /C 9 Tf 20 60 Td <{codes}> Tj ET /F Do"
    );
    pdf.page(
        &format!(
            "/MediaBox [0 0 300 200] /Resources << /Font << {fonts} /C {composite} 0 R >> /XObject << /F {form} 0 R >> >>"
        ),
        content,
    );
    pdf.bytes()
}

#[test]
fn text_stands_where_pymupdf_finds_it() {
    let bytes = page_of_text();
    let (_folder, path) = on_disk(&bytes);
    let trace = python(TRACE, &path);
    let glyphs: Vec<(String, f64, f64, f64)> = trace
        .as_array()
        .unwrap()
        .iter()
        .map(|g| {
            (g[1].as_str().unwrap().to_owned(), g[2].as_f64().unwrap(), g[3].as_f64().unwrap(), g[4].as_f64().unwrap())
        })
        .collect();
    let face = open(&bytes).face(1, Side::Outside).unwrap();
    let runs = texts(&face);
    assert_eq!(runs.len(), 7, "{:?}", runs.iter().map(|r| &r.text).collect::<Vec<_>>());
    for run in &runs {
        let first = run.text.chars().next().unwrap().to_string();
        let (x, y) = (run.origin.x.to_pt(), run.origin.y.to_pt());
        let near = glyphs.iter().find(|(c, gx, gy, _)| *c == first && (gx - x).abs() < 0.01 && (gy - y).abs() < 0.01);
        let (.., size) = near.unwrap_or_else(|| panic!("no glyph of `{}` at {x} {y}: {glyphs:?}", run.text));
        // Of condensed text PyMuPDF gives the size along the line, 80 % here; what counts in print is the height.
        let size = if run.text.starts_with("Otterby") { size / 0.8 } else { *size };
        assert!((run.size.to_pt() - size).abs() < 0.01, "{} is {} and not {size}", run.text, run.size.to_pt());
    }
    let said: String = runs.iter().flat_map(|r| r.text.chars()).filter(|c| !c.is_whitespace()).collect();
    let heard: String = glyphs.iter().flat_map(|(c, ..)| c.chars()).filter(|c| !c.is_whitespace()).collect();
    assert_eq!(said, heard);
}

/// The box of the dark pixels of each page at 16 times the size, in page points, as PyMuPDF draws it.
const INK: &str = "
import sys, json, numpy, pymupdf
found = []
for page in pymupdf.open(sys.argv[1]):
    pix = page.get_pixmap(matrix=pymupdf.Matrix(16, 16), colorspace=pymupdf.csGRAY, alpha=False)
    dark = numpy.frombuffer(pix.samples, numpy.uint8).reshape(pix.height, pix.stride)[:, :pix.width] < 128
    rows = [int(y) for y in numpy.flatnonzero(dark.any(axis=1))]
    columns = [int(x) for x in numpy.flatnonzero(dark.any(axis=0))]
    found.append([columns[0] / 16, page.rect.height - (rows[-1] + 1) / 16, (columns[-1] + 1) / 16, page.rect.height - rows[0] / 16])
print(json.dumps(found))
";

#[test]
fn the_bounds_of_ink_are_those_of_a_rendering() {
    let font = OpenFont::Serif;
    let mut subset = FontSubset::new(font).unwrap();
    let cids = subset.take(&font.shape("fjQ", Length::pt(40), Shaping::default()).unwrap()).unwrap();
    let program = subset.program().unwrap();
    let name = subset.name(&program);
    let mut pdf = Pdf::new();
    let file = pdf.stream("/Length1 1", &program);
    let widths: Vec<String> = subset.widths().iter().map(ToString::to_string).collect();
    let (w, codes) = (widths.join(" "), cids.iter().map(|c| format!("{c:04X}")).collect::<Vec<_>>().concat());
    let composite = pdf.add(format!(
        "<< /Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H /DescendantFonts [<< /Type /Font /Subtype /CIDFontType2 \
         /BaseFont /{name} /CIDToGIDMap /Identity /W [0 [{w}]] /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> \
         /FontDescriptor << /Type /FontDescriptor /FontName /{name} /Flags 32 /FontBBox [-200 -250 1200 1000] /Ascent 900 /Descent -250 \
         /CapHeight 650 /StemV 80 /ItalicAngle 0 /FontFile2 {file} 0 R >> >>] >>"
    ));
    let pages = [
        format!("BT /C 40 Tf 30 40 Td <{codes}> Tj ET"),
        format!("BT /C 40 Tf 0.8 0.6 -0.6 0.8 60 40 Tm <{codes}> Tj ET"),
        "5 w 30 30 m 90 30 l 60 70 l s".to_owned(),
        "7 w 20 40 m 90 55 l S".to_owned(),
        "7 w 1 J 20 40 m 90 55 l S".to_owned(),
        "0.5 0 0.2 1 0 0 cm 40 20 60 50 re f".to_owned(),
        "20 20 40 40 re W n 30 40 m 70 100 70 0 30 60 c f".to_owned(),
    ];
    for content in &pages {
        pdf.page(&format!("/MediaBox [0 0 150 100] /Resources << /Font << /C {composite} 0 R >> >>"), content);
    }
    let bytes = pdf.bytes();
    let (_folder, path) = on_disk(&bytes);
    let drawn = python(INK, &path);
    let artwork = open(&bytes);
    for (n, content) in (1..).zip(&pages) {
        let face = artwork.face(n, Side::Outside).unwrap();
        let [element] = face.elements.as_slice() else { panic!("page {n} has {} elements", face.elements.len()) };
        let b = element.bounds;
        let ours = [b.x0, b.y0, b.x1, b.y1].map(Length::to_pt);
        for (side, mine) in ours.iter().enumerate() {
            let theirs = drawn[usize::try_from(n - 1).unwrap()][side].as_f64().unwrap();
            // Bounds of curves under a turn and of text are boxes of boxes: they may be larger, never smaller.
            let outward = if side < 2 { theirs - mine } else { mine - theirs };
            let turned = n == 2;
            assert!(
                outward > -0.13 && outward < if turned { 8.0 } else { 0.13 },
                "{content}: side {side} {mine} {theirs}"
            );
        }
    }
}

#[test]
fn pictures_have_the_resolution_that_pdfimages_lists() {
    let mut pdf = Pdf::new();
    let keys = "/Type /XObject /Subtype /Image /BitsPerComponent 8";
    let picture = pdf.stream(&format!("{keys} /ColorSpace /DeviceGray /Width 300 /Height 200"), vec![0; 60_000]);
    let cmyk = pdf.stream(&format!("{keys} /ColorSpace /DeviceCMYK /Width 20 /Height 10"), vec![0; 800]);
    let form = pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 900 900] /Matrix [0.25 0 0 0.25 0 0] /Resources << /XObject << /I {picture} 0 R >> >>"),
        "288 0 0 96 0 0 cm /I Do",
    );
    pdf.page(
        &format!(
            "/MediaBox [0 0 400 400] /Resources << /XObject << /I {picture} 0 R /K {cmyk} 0 R /F {form} 0 R >> >>"
        ),
        "q 72 0 0 48 10 10 cm /I Do Q q 0 100 -50 0 200 10 cm /I Do Q q 14.4 0 0 14.4 0 300 cm /K Do Q /F Do",
    );
    let bytes = pdf.bytes();
    let (_folder, path) = on_disk(&bytes);
    let listed = judge("pdfimages", &["-list", path.to_str().unwrap()], "apt-get install poppler-utils");
    let theirs: Vec<Vec<&str>> = listed.lines().skip(2).map(|l| l.split_whitespace().collect()).collect();
    let face = open(&bytes).face(1, Side::Outside).unwrap();
    let ours: Vec<_> =
        face.elements.iter().filter_map(|e| if let Mark::Picture(p) = &e.mark { Some(p) } else { None }).collect();
    assert_eq!((theirs.len(), ours.len()), (4, 4));
    for (line, picture) in theirs.iter().zip(ours) {
        let number = |n: usize| line[n].parse::<f64>().unwrap();
        assert_eq!((line[3].parse(), line[4].parse()), (Ok(picture.pixels.0), Ok(picture.pixels.1)));
        assert_eq!(line[7].parse::<u8>().ok(), Some(picture.bits));
        assert_eq!(line[10].parse::<u32>().ok(), picture.object);
        assert!(
            (number(12) - picture.ppi.0).abs() <= 0.5 && (number(13) - picture.ppi.1).abs() <= 0.5,
            "{line:?} {picture:?}"
        );
    }
}

#[test]
fn fonts_are_those_that_pdffonts_lists() {
    let bytes = page_of_text();
    let (_folder, path) = on_disk(&bytes);
    let listed = judge("pdffonts", &[path.to_str().unwrap()], "apt-get install poppler-utils");
    let face = open(&bytes).face(1, Side::Outside).unwrap();
    let mut ours: Vec<(String, bool, bool)> =
        face.fonts.iter().map(|f| (f.name.clone(), f.embedded, f.subset)).collect();
    let mut theirs: Vec<(String, bool, bool)> = listed
        .lines()
        .skip(2)
        .map(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let name = words[0].split_once('+').map_or(words[0], |(_, name)| name);
            // The columns from the right: object and generation, unicode, subset, embedded.
            let flag = |from_right: usize| words[words.len() - from_right] == "yes";
            (name.to_owned(), flag(5), flag(4))
        })
        .collect();
    ours.sort();
    theirs.sort();
    assert_eq!(ours, theirs);
}

/// The boxes of every page as pikepdf resolves them, Rotate included.
const BOXES: &str = "
import sys, json, pikepdf
found = []
for page in pikepdf.open(sys.argv[1]).pages:
    boxes = [[float(v) for v in getattr(page, k)] for k in ('mediabox', 'cropbox', 'trimbox')]
    node, turn = page.obj, None
    while turn is None and node is not None:
        turn = int(node['/Rotate']) if '/Rotate' in node else None
        node = node.get('/Parent')
    found.append(boxes + [turn or 0])
print(json.dumps(found))
";

#[test]
fn boxes_are_those_that_pikepdf_reads() {
    let mut pdf = Pdf::new();
    pdf.tree("/MediaBox [10 20 500 400] /Rotate 90");
    pdf.page("/TrimBox [30.5 40.25 450.125 380]", "");
    pdf.page("/MediaBox [-100 -50 300 250] /CropBox [-90 -40 290 240] /Rotate 0", "");
    pdf.page("/CropBox [50 60 400 300] /TrimBox [60 70 390 290] /Rotate 180", "");
    let bytes = pdf.bytes();
    let (_folder, path) = on_disk(&bytes);
    let theirs = python(BOXES, &path);
    let artwork = open(&bytes);
    for n in 1..=3_u32 {
        let boxes = artwork.source_page(n).unwrap().boxes;
        let page = &theirs[usize::try_from(n - 1).unwrap()];
        for (k, ours) in [boxes.media, boxes.crop, boxes.trim].iter().enumerate() {
            let ours = [ours.x0, ours.y0, ours.x1, ours.y1];
            for (side, mine) in ours.iter().enumerate() {
                assert!((mine - page[k][side].as_f64().unwrap()).abs() < 1e-4, "page {n}, box {k}");
            }
        }
        assert_eq!(u64::from(boxes.rotate), page[3].as_u64().unwrap());
    }
}

/// Keeps the helper honest: the face of a page without anything has nothing.
#[test]
fn an_empty_page_has_no_elements() {
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [0 0 200 100]", "");
    let face: Face = pdf.face();
    assert!(face.elements.is_empty() && face.fonts.is_empty() && face.inks.is_empty());
}
