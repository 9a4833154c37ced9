//! A page of artwork on a panel: it prints there as it prints alone, and what does not fit its place is a fault.

use std::fs;
use std::path::Path;

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::Side;
use fairfold::ink::Ink;
use tempfile::TempDir;

use super::artwork_pdf::Pdf;
use super::press_files::{Picture, drawn, judged, saved, text};
use super::program::fairfold;

/// A page of 6 x 6 in with 1/8 in of bleed, its trim away from the origin: a spot tint over all of it, a thick L at its lower left,
/// lines of the weight and dash that a page begins with, and black text.
fn panel_art(keys: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let tint =
        "[/Separation /Heron /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.3 0.1 0 0.4] /N 1 >>]";
    let font = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica-Bold >>";
    let boxes = "/MediaBox [0 0 500 500] /TrimBox [30 40 462 472] /BleedBox [21 31 471 481]";
    let content = "/S cs 0.4 scn 0 0 500 500 re f 0 0 0 1 k 60 70 20 200 re f 60 70 120 20 re f \
                   200 200 m 400 200 l S 200 220 m 400 260 l S BT /F 40 Tf 200 320 Td (Moorland) Tj ET";
    pdf.page(&format!("{boxes} {keys} /Resources << /ColorSpace << /S {tint} >> /Font << /F {font} >> >>"), content);
    pdf.bytes()
}

fn card(panel: &str) -> String {
    format!(
        "[card]\ntitle = \"Otterby Common\"\nsize = \"6 x 12 in\"\nfold = \"half\"\nbleed = \"1/8 in\"\nsafe = \"1/8 in\"\n\
         condition = \"coated\"\n\n[[panel]]\nface = \"outside\"\n{panel}\n"
    )
}

/// A folder with the card and its artwork, and the card's pages.
fn set(panel: &str, art: &[u8]) -> (TempDir, Vec<u8>) {
    let folder = laid_out(panel, art);
    let (card, pages) = (folder.path().join("card.toml"), folder.path().join("pages.pdf"));
    let output = fairfold(&["check", text(&card), "--pages", text(&pages)]);
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert!(output.status.code().is_some_and(|code| code < 2), "{said}");
    (folder, fs::read(&pages).unwrap())
}

fn laid_out(panel: &str, art: &[u8]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    saved(&folder, "card.toml", card(panel).as_bytes());
    saved(&folder, "art.pdf", art);
    folder
}

/// The pixels of a rectangle given in inches of the whole picture, from its lower left.
fn cut(picture: &Picture, [x0, y0, x1, y1]: [f64; 4], ppi: u32) -> Vec<u8> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small positive numbers")]
    let px = |inch: f64| (inch * f64::from(ppi)).round() as usize;
    let (left, right) = (px(x0), px(x1));
    let (top, bottom) = (picture.height - px(y1), picture.height - px(y0));
    (top..bottom).flat_map(|y| (left..right).map(move |x| picture.at(x, y))).collect()
}

fn differing(a: &[u8], b: &[u8]) -> usize {
    assert_eq!(a.len(), b.len());
    a.iter().zip(b).filter(|(a, b)| a.abs_diff(**b) > 32).count()
}

/// The trim of the artwork as poppler draws it alone, turned counter-clockwise by quarters.
fn alone(art: &[u8], quarters: usize, ppi: u32) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let program = "
import sys, pikepdf
with pikepdf.open(sys.argv[1]) as pdf:
    page = pdf.pages[0]
    page.MediaBox = page.TrimBox
    page.Rotate = (int(page.obj.get('/Rotate', 0)) - 90 * int(sys.argv[3])) % 360
    for key in ('/BleedBox', '/CropBox'):
        if key in page: del page[key]
    pdf.save(sys.argv[2])
";
    let (source, out) = (saved(&folder, "art.pdf", art), folder.path().join("alone.pdf"));
    judged("python3", &["-c", program, text(&source), text(&out), &quarters.to_string()]);
    let picture = drawn(&out, 1, ppi);
    cut(&picture, [0.0, 0.0, 6.0, 6.0], ppi)
}

fn on_panel(pages: &[u8], left: f64, ppi: u32) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let file = saved(&folder, "pages.pdf", pages);
    // The page is the trim and 1/8 in of bleed all round.
    let picture = drawn(&file, 1, ppi);
    assert_eq!((picture.width, picture.height), (12 * 144 + 36, 6 * 144 + 36));
    cut(&picture, [left + 0.125, 0.125, left + 6.125, 6.125], ppi)
}

const PPI: u32 = 144;

#[test]
fn a_page_prints_on_a_panel_as_it_prints_alone() {
    for (panel, left) in [(1, 0.0), (2, 6.0)] {
        for (turn, quarters) in [("none", 0), ("left", 1), ("half", 2), ("right", 3)] {
            for keys in ["", "/Rotate 90"] {
                let art = panel_art(keys);
                // A fill and a rule before it leave their colour and weight behind, which must not reach the artwork.
                let text = format!(
                    "panel = {panel}\nturn = \"{turn}\"\nfill = \"C 20\"\nblock = [\n  {{ block = \"rule\", from = [\"1 in\", \"1 in\"], to = [\"5 in\", \"1 in\"], weight = \"6 pt\", colour = \"M 100\" }},\n  {{ block = \"page\", file = \"art.pdf\" }},\n]"
                );
                let (_folder, pages) = set(&text, &art);
                let (want, got) = (alone(&art, quarters, PPI), on_panel(&pages, left, PPI));
                let off = differing(&want, &got);
                assert!(off * 1000 <= want.len(), "panel {panel} turned {turn} {keys}: {off} of {} pixels", want.len());
            }
        }
    }
}

#[test]
fn a_whole_face_is_laid_with_both_bleeds_and_its_grid_is_found() {
    // The large demo card, as pages from nowhere.
    let folder = tempfile::tempdir().unwrap();
    let art = folder.path().join("art.pdf");
    let output = fairfold(&["check", "otterby-6x12.toml", "--pages", text(&art)]);
    assert!(output.status.success());
    let art = fs::read(&art).unwrap();
    let both = "block = [{ block = \"page\", file = \"art.pdf\" }]\n\n[[panel]]\nface = \"inside\"\nblock = [{ block = \"page\", file = \"art.pdf\", page = 2 }]";
    let (folder, pages) = set(both, &art);
    let (source, laid) = (saved(&folder, "source.pdf", &art), saved(&folder, "laid.pdf", &pages));
    for page in [1, 2] {
        let (want, got) = (drawn(&source, page, PPI), drawn(&laid, page, PPI));
        let off = differing(&want.pixels, &got.pixels);
        assert!(off * 1000 <= want.pixels.len(), "page {page}: {off} of {} pixels", want.pixels.len());
    }
    let report = fairfold(&["check", text(&folder.path().join("card.toml")), "--report", "json"]);
    let report: serde_json::Value = serde_json::from_slice(&report.stdout).unwrap();
    for id in ["totals", "writing-height", "stroke-index"] {
        let entry = report["checks"].as_array().unwrap().iter().find(|c| c["check"] == id).unwrap();
        assert_eq!(entry["outcome"], "clean", "{entry}");
    }
}

const RIGHT: &str = "panel = 2\nblock = [{ block = \"page\", file = \"art.pdf\" }]";

#[test]
fn its_inks_and_its_bleed_are_seen_and_the_sheet_prints_it() {
    let (folder, pages) = set(RIGHT, &panel_art(""));
    let artwork = Artwork::open(&pages, "pages.pdf", &OpenOptions::default()).unwrap();
    let face = artwork.face(1, Side::Outside).unwrap();
    assert!(face.inks.iter().any(|i| i.ink == Ink::from_colorant("Heron")), "{:?}", face.inks);
    // The tint runs into the bleed at the trim and stops at the fold.
    let file = saved(&folder, "pages.pdf", &pages);
    let picture = drawn(&file, 1, PPI);
    let white = |area| cut(&picture, area, PPI).iter().all(|p| *p == 255);
    let inked = |area| cut(&picture, area, PPI).iter().all(|p| *p < 255);
    assert!(inked([6.2, 0.02, 12.23, 0.1]) && inked([12.15, 0.02, 12.23, 6.2]), "no ink in the bleed");
    assert!(white([0.0, 0.0, 6.11, 6.25]), "ink left of the fold");

    let (card, press) = (folder.path().join("card.toml"), folder.path().join("press.pdf"));
    let waivers = saved(
        &folder,
        "limits.toml",
        b"[[waive]]\ncheck = \"fonts-embedded\"\nreason = \"the test's artwork names a font of every reader\"\n",
    );
    let run = [
        "impose",
        text(&card),
        "--sheet",
        "13x19",
        "--date",
        "2027-01-15",
        "--limits",
        text(&waivers),
        "--out",
        text(&press),
    ];
    let output = fairfold(&run);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
    judged("qpdf", &["--check", text(&press)]);
    let inks = judged("gs", &["-q", "-o", "-", "-sDEVICE=inkcov", text(&press)]);
    assert!(inks.contains("CMYK OK"), "{inks}");
}

/// What a run that must not start says.
fn refused(panel: &str, art: &[u8], more: &[&str]) -> String {
    let folder = laid_out(panel, art);
    let card = folder.path().join("card.toml");
    let output = fairfold(&[&["check", text(&card)], more].concat());
    assert_eq!(output.status.code(), Some(2), "{}", String::from_utf8_lossy(&output.stdout));
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn what_cannot_be_laid_is_a_fault_with_its_line() {
    let line = card("").lines().position(|l| l.starts_with("face")).unwrap() + 3;
    let at = format!("card.toml:{line}:");
    let block = |more: &str| format!("panel = 1\nblock = [{{ block = \"page\", file = \"art.pdf\"{more} }}]");

    let said = refused(&block(", page = 3"), &panel_art(""), &[]);
    assert!(said.contains("art.pdf has no page 3") && said.contains("it has one page") && said.contains(&at), "{said}");

    let place = ", at = { x = \"1 in\", y = \"1 in\", width = \"3 in\", height = \"2 in\" }";
    let said = refused(&block(place), &panel_art(""), &[]);
    assert!(said.contains("page 1 of art.pdf is 6 x 6 in (152.4 x 152.4 mm) and its place is 2 x 3 in"), "{said}");
    assert!(said.contains("without scaling") && said.contains(&at), "{said}");

    let said = refused(&block(""), b"not a PDF", &[]);
    assert!(said.contains("art.pdf") && said.contains(&at), "{said}");

    let said = refused(&block("").replace("art.pdf", "heron.pdf"), &panel_art(""), &[]);
    assert!(said.contains("heron.pdf") && said.contains(&at), "{said}");
}

#[test]
fn locked_artwork_opens_with_the_password_that_is_given() {
    let folder = laid_out(RIGHT, &panel_art(""));
    let (open, locked) = (folder.path().join("art.pdf"), folder.path().join("locked.pdf"));
    judged("qpdf", &["--encrypt", "heron", "mere", "256", "--", text(&open), text(&locked)]);
    fs::rename(&locked, &open).unwrap();
    let card: &Path = &folder.path().join("card.toml");
    let shut = fairfold(&["check", text(card)]);
    assert_eq!(shut.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&shut.stderr).contains("--password"));
    let opened = fairfold(&["check", text(card), "--password", "heron"]);
    assert!(opened.status.code().is_some_and(|code| code < 2), "{}", String::from_utf8_lossy(&opened.stderr));
}
