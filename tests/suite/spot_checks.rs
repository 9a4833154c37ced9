//! Spot inks: how many, under which names, for what. Ghostscript's separations are the outside judge of which plates there are.

use std::collections::BTreeSet;

use fairfold::check::{Finding, Severity};
use fairfold::ink::Ink;

use super::artwork_pdf::Pdf;
use super::one_check::one;
use super::one_fault::{CLEAN, card_of, page, plates};

fn spot(name: &str, look: &str) -> String {
    let tint = format!("<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [{look}] /N 1 >>");
    format!("[/Separation /{name} /DeviceCMYK {tint}]")
}

/// What a check finds, the list of all spots left out.
fn found_on(id: &str, pdf: &Pdf) -> Vec<Finding> {
    let mut found = super::one_fault::found_on(id, pdf);
    found.retain(|f| !f.message.contains("a plate of its own:") && !f.message.contains("a plate each:"));
    found
}

/// A page with a square in each of these spots: name as a PDF writes it, and look.
fn squares(spots: &[(&str, &str)]) -> Pdf {
    let (mut spaces, mut drawn) = (String::new(), String::new());
    for (n, (name, look)) in spots.iter().enumerate() {
        spaces += &format!("/S{n} {} ", spot(name, look));
        drawn += &format!("/S{n} cs 1 scn {} 10 8 8 re f ", 10 + 12 * n);
    }
    let mut pdf = Pdf::new();
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /ColorSpace << {spaces} >> >>"), drawn);
    pdf
}

const HEATH: &str = "0.7 0.4 0.8 0.4";
const BRACKEN: &str = "0.2 0.7 0.9 0.4";

#[test]
fn the_clean_page_is_clean() {
    for id in ["spot-names", "technical-inks", "plate-count"] {
        assert!(found_on(id, &page(CLEAN)).is_empty(), "{id}: {:#?}", found_on(id, &page(CLEAN)));
    }
}

#[test]
fn names_that_are_one_ink_to_people_and_two_to_the_press() {
    // Ghent Workgroup 2022: names that differ only by case or suffix.
    let two = |a: &str, b: &str| found_on("spot-names", &squares(&[(a, HEATH), (b, BRACKEN)]));
    for (a, b) in [("Otterby#20Heath", "OTTERBY#20HEATH"), ("Otterby#20Heath", "Otterby-Heath"), ("Heath", "Heath#20")]
    {
        one(&two(a, b), Severity::Error, &["differ only by case, blanks or signs", "two plates"]);
    }
    for (a, b) in [("Otterby#20301#20C", "Otterby#20301#20U"), ("Otterby#20301", "Otterby#20301#20uncoated")] {
        one(&two(a, b), Severity::Error, &["suffix for a paper"]);
    }
    for (a, b) in [("Heath", "Heather"), ("Otterby#201", "Otterby#202"), ("C", "U"), ("Heathc", "Heathu")] {
        assert!(two(a, b).is_empty(), "{a} and {b}: {:#?}", two(a, b));
    }
    // They are two plates to Ghostscript too.
    let seen = plates(&squares(&[("Heath", HEATH), ("HEATH", BRACKEN)]), &[]);
    assert!(seen.contains_key("Heath") && seen.contains_key("HEATH"), "{seen:?}");
}

#[test]
fn a_spot_that_means_a_process_ink_is_a_plate_beside_it() {
    for (name, ink) in [("cyan", "Cyan"), ("Process#20Black", "Black"), ("YELLOW", "Yellow")] {
        one(&found_on("spot-names", &squares(&[(name, HEATH)])), Severity::Error, &["a plate of its own beside", ink]);
    }
    assert!(found_on("spot-names", &squares(&[("Cyan", "1 0 0 0"), ("Blackthorn", HEATH)])).is_empty());
}

#[test]
fn two_names_for_one_colour_and_one_name_for_two() {
    // Ghent Workgroup 2022: two names for one tint.
    one(
        &found_on("spot-names", &squares(&[("Heath", HEATH), ("Ling", HEATH)])),
        Severity::Warning,
        &["name one colour", "0 ΔE00"],
    );
    assert!(found_on("spot-names", &squares(&[("Heath", HEATH), ("Bracken", BRACKEN)])).is_empty());
    assert!(found_on("spot-names", &squares(&[("Heath", HEATH), ("Varnish", HEATH)])).is_empty());
    let twice = |look: &str| found_on("spot-names", &squares(&[("Heath", HEATH), ("Heath", look)]));
    one(
        &twice(BRACKEN),
        Severity::Warning,
        &["the spot \"Heath\" is defined as C 70 M 40 Y 80 K 40 and as C 20 M 70 Y 90 K 40"],
    );
    assert!(twice("0.7 0.4 0.8 0.41").is_empty(), "a hair apart is the same ink");
}

#[test]
fn inks_that_are_no_colour_are_told_by_their_names() {
    let named = |name: &str| found_on("technical-inks", &squares(&[(name, "0 1 0 0")]));
    one(&named("CutContour"), Severity::Warning, &["a cutting line", "a plate that prints"]);
    one(&named("Crease"), Severity::Warning, &["a creasing line"]);
    one(&named("Spot#20Varnish"), Severity::Note, &["varnish"]);
    one(&named("White"), Severity::Note, &["white ink", "bare paper"]);
    assert!(named("Heath").is_empty());
}

#[test]
fn a_cutting_line_that_knocks_out_leaves_its_trace() {
    let line = |state: &str| page(&format!("/{state} gs /Cut CS 1 SCN 1.5 w 20 40 m 80 40 l S"));
    let errors =
        |pdf: &Pdf| found_on("technical-inks", pdf).into_iter().filter(|f| f.severity == Severity::Error).count();
    for (state, traces) in [("Off", 1), ("M0", 0)] {
        let cleared = plates(&line(state), &[(50.0, 40.0)])["Cyan"][0] < 0.01;
        assert_eq!((errors(&line(state)), cleared), (traces, traces == 1), "{state}");
    }
    let on_paper = page("/Cut CS 1 SCN 1.5 w 120 40 m 180 40 l S");
    assert_eq!(errors(&on_paper), 0);
}

/// A page with a spot in every place where one can hide, and a stamp with one.
fn hidden() -> Pdf {
    let named = |name: &str| spot(name, HEATH);
    let mut pdf = Pdf::new();
    let two = pdf.stream("/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]", "{ 0 0 }");
    let keys = "/Type /XObject /Subtype /Image /Width 20 /Height 20 /BitsPerComponent 8";
    let mixed =
        pdf.stream(&format!("{keys} /ColorSpace [/DeviceN [/Black /InPicture] /DeviceCMYK {two} 0 R]"), [255; 800]);
    let table = pdf.stream(&format!("{keys} /ColorSpace [/Indexed {} 0 <FF>]", named("InTable")), [0; 400]);
    let ramp = "<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >>";
    let shading =
        pdf.add(format!("<< /ShadingType 2 /ColorSpace {} /Coords [0 0 200 0] /Function {ramp} >>", named("InBlend")));
    let cell = pdf.stream(
        &format!(
            "/PatternType 1 /TilingType 1 /PaintType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 \
             /Resources << /ColorSpace << /S {} >> >>",
            named("InCell")
        ),
        "/S cs 1 scn 0 0 5 5 re f",
    );
    let glyph = pdf.stream("", "1000 0 d0 /S cs 1 scn 0 0 500 500 re f");
    let font = pdf.add(format!(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 97 \
         /Widths [1000] /Encoding << /Type /Encoding /Differences [97 /a] >> /CharProcs << /a {glyph} 0 R >> \
         /Resources << /ColorSpace << /S {} >> >> >>",
        named("InGlyph")
    ));
    let look = pdf.stream(
        &format!(
            "/Type /XObject /Subtype /Form /BBox [0 0 20 20] /Resources << /ColorSpace << /S {} >> >>",
            named("InStamp")
        ),
        "/S cs 1 scn 0 0 20 20 re f",
    );
    let stamp = format!("<< /Type /Annot /Subtype /Stamp /F 4 /Rect [150 50 170 70] /AP << /N {look} 0 R >> >>");
    let resources = format!(
        "/XObject << /M {mixed} 0 R /T {table} 0 R >> /Shading << /S {shading} 0 R >> /Pattern << /C {cell} 0 R >> \
         /Font << /F {font} 0 R >>"
    );
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << {resources} >> /Annots [{stamp}]"),
        "q 10 0 0 10 10 10 cm /M Do Q q 10 0 0 10 30 10 cm /T Do Q q 50 10 20 20 re W n /S sh Q \
         /Pattern cs /C scn 80 10 20 20 re f BT /F 20 Tf 110 10 Td (a) Tj ET",
    );
    pdf
}

#[test]
fn every_spot_is_counted_wherever_it_hides() {
    let pdf = hidden();
    let card = card_of(&pdf);
    let ours: BTreeSet<&str> = card.faces[0].inks.iter().filter(|u| u.ink.is_spot()).map(|u| u.ink.name()).collect();
    // The judge is told to draw stamps as well, which it does by default when it prints.
    let seen = plates(&pdf, &[]);
    let process: BTreeSet<&str> = Ink::PROCESS.iter().map(Ink::name).collect::<Vec<_>>().into_iter().collect();
    let theirs: BTreeSet<&str> = seen.keys().map(String::as_str).filter(|name| !process.contains(name)).collect();
    assert_eq!(ours, theirs);
    assert_eq!(ours.len(), 6);
    let listed = super::one_fault::found_on("spot-names", &pdf);
    let list = "6 spot inks, a plate each: InBlend, InCell, InGlyph, InPicture, InStamp, InTable";
    assert!(listed.iter().any(|f| f.severity == Severity::Note && f.message == list), "{listed:#?}");
    // Six spots and black are seven plates (practice: six units).
    one(
        &found_on("plate-count", &pdf),
        Severity::Warning,
        &["7 plates", "InBlend", "InStamp", "at most 6", "turn 1 of them"],
    );
    // All but the one in the picture look alike, and each pair of the five is told.
    assert_eq!(found_on("spot-names", &pdf).len(), 10, "{:#?}", found_on("spot-names", &pdf));
    let six = squares(&[
        ("A", "1 0 0 0"),
        ("B", "0 1 0 0"),
        ("D", "0 0 1 0"),
        ("E", "0 0 0 1"),
        ("F", "1 1 0 0"),
        ("G", "0 1 1 0"),
    ]);
    assert!(found_on("plate-count", &six).is_empty());
}

#[test]
fn rgb_counts_as_the_four_plates_it_becomes() {
    let [a, b, d] = [("A", "1 0 0 0"), ("B", "0 1 0 0"), ("D", "0 0 1 0")].map(|(name, look)| spot(name, look));
    let mut pdf = Pdf::new();
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /ColorSpace << /A {a} /B {b} /D {d} >> >>"),
        "/A cs 1 scn 10 10 8 8 re f /B cs 1 scn 20 10 8 8 re f /D cs 1 scn 30 10 8 8 re f 1 0 0 rg 40 10 8 8 re f",
    );
    one(&found_on("plate-count", &pdf), Severity::Warning, &["7 plates", "Cyan, Magenta, Yellow, Black"]);
}
