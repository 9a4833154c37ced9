//! Colour that is no ink: RGB, Lab, profiles, registration; and what letters are made of. One page with one fault each.

use fairfold::check::Severity;

use super::artwork_pdf::Pdf;
use super::one_check::one;
use super::one_fault::{CLEAN, found_on, page, plates};
use super::press_files::{judged, saved, text};

/// An ICC profile's header for this colour space (ICC.1:2010, 7.2): enough for what a reader looks at.
fn icc(space: [u8; 4]) -> Vec<u8> {
    let mut header = vec![0; 132];
    header[3] = 132;
    header[8] = 4;
    header[12..16].copy_from_slice(b"prtr");
    header[16..20].copy_from_slice(&space);
    header[20..24].copy_from_slice(b"Lab ");
    header[36..40].copy_from_slice(b"acsp");
    header
}

/// A page whose space /P is a profile with these keys.
fn profiled(keys: &str, space: [u8; 4], content: &str) -> Pdf {
    let mut pdf = Pdf::new();
    let profile = pdf.stream(keys, icc(space));
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] /Resources << /ColorSpace << /P [/ICCBased {profile} 0 R] \
             /L [/Lab << /WhitePoint [0.9642 1 0.8249] >>] >> \
             /ExtGState << /M1 << /OP true /op true /OPM 1 >> >> \
             /Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>"
        ),
        content,
    );
    pdf
}

fn set(colour: &str) -> String {
    format!("{colour} BT /F1 9 Tf 10 20 Td (412) Tj ET")
}

#[test]
fn the_clean_page_is_clean() {
    for id in ["calibrated-colour", "icc-profile", "type-3-text"] {
        assert!(found_on(id, &page(CLEAN)).is_empty(), "{id}: {:#?}", found_on(id, &page(CLEAN)));
    }
}

#[test]
fn black_text_in_rgb_is_told_apart_from_black_ink() {
    for (colour, words) in [("0 0 0 rg", "black of RGB"), ("0.4 0.41 0.4 rg", "gray of RGB")] {
        one(&found_on("colour-space", &page(&set(colour))), Severity::Error, &["text in", words, "four inks"]);
    }
    one(&found_on("colour-space", &page(&set("0.4 0.4 0.4 rg"))), Severity::Error, &["about 60 %"]);
    for colour in ["0 g", "0 0 0 1 k", "/K cs 1 scn", "1 1 1 1 k", ".6 .4 .4 1 k"] {
        assert!(found_on("colour-space", &page(&set(colour))).is_empty(), "{colour}");
    }
    // A fine line is told like text; an area is plain RGB like any other.
    one(
        &found_on("colour-space", &page("0 0 0 RG 0.5 w 110 20 m 190 20 l S")),
        Severity::Error,
        &["a line in black of RGB"],
    );
    one(&found_on("colour-space", &page("0 0 0 rg 110 10 40 40 re f")), Severity::Error, &["an area in black of RGB"]);
    one(&found_on("colour-space", &page("1 0 0 rg 110 10 40 40 re f")), Severity::Error, &["an area in RGB", "PDF/X"]);
}

#[test]
fn colour_with_a_profile_and_lab_have_no_inks_either() {
    let rgb = |content: &str| profiled("/N 3", *b"RGB ", content);
    one(&found_on("colour-space", &rgb(&set("/P cs 0 0 0 scn"))), Severity::Error, &["black of RGB with a profile"]);
    one(&found_on("colour-space", &rgb(&set("/P cs 0.8 0 0 scn"))), Severity::Warning, &["text in ICCBased RGB"]);
    one(
        &found_on("colour-space", &rgb(&set("/L cs 60 40 20 scn"))),
        Severity::Warning,
        &["text in Lab 60.0 40.0 20.0"],
    );
    one(&found_on("colour-space", &rgb(&set("/L cs 20 1 -1 scn"))), Severity::Error, &["gray of Lab", "about 80 %"]);
    assert!(found_on("calibrated-colour", &rgb(&set("/P cs 0 0 0 scn"))).is_empty());
}

#[test]
fn rgb_is_found_in_pictures_blends_and_patterns() {
    let mut pdf = Pdf::new();
    let keys = "/Type /XObject /Subtype /Image /Width 40 /Height 40 /BitsPerComponent 8";
    let profile = pdf.stream("/N 3", icc(*b"RGB "));
    let plain = pdf.stream(&format!("{keys} /ColorSpace [/Indexed /DeviceRGB 0 <FF0000>]"), [0; 1600]);
    let tagged = pdf.stream(&format!("{keys} /ColorSpace [/ICCBased {profile} 0 R]"), [0; 4800]);
    let cmyk = pdf.stream(&format!("{keys} /ColorSpace /DeviceCMYK"), [0; 6400]);
    let ramp = "<< /FunctionType 2 /Domain [0 1] /C0 [1 0 0] /C1 [0 1 0] /N 1 >>";
    let shading = pdf.add(format!("<< /ShadingType 2 /ColorSpace /DeviceRGB /Coords [0 0 200 0] /Function {ramp} >>"));
    let axial = pdf.add(format!("<< /PatternType 2 /Shading {shading} 0 R >>"));
    let cell = pdf.stream(
        "/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 /Resources << >>",
        "1 0 0 rg 0 0 5 5 re f",
    );
    let resources = format!(
        "/XObject << /Plain {plain} 0 R /Tagged {tagged} 0 R /Cmyk {cmyk} 0 R >> /Shading << /S {shading} 0 R >> \
         /Pattern << /A {axial} 0 R /T {cell} 0 R >>"
    );
    for (content, severity, words) in [
        ("10 0 0 10 20 20 cm /Plain Do", Severity::Error, "a picture in RGB has neither"),
        ("10 0 0 10 20 20 cm /Tagged Do", Severity::Warning, "a picture in RGB with a profile"),
        ("0 0 50 50 re W n /S sh", Severity::Error, "a blend of colours in RGB"),
        ("/Pattern cs /A scn 20 20 40 40 re f", Severity::Error, "an area in a pattern (axial shading) in RGB"),
        ("/Pattern cs /T scn 20 20 40 40 re f", Severity::Error, "an area in a pattern (tiling) in RGB"),
    ] {
        let mut one_page = Pdf::clone(&pdf);
        one_page.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), content);
        one(&found_on("colour-space", &one_page), severity, &[words]);
    }
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), "10 0 0 10 20 20 cm /Cmyk Do");
    assert!(found_on("colour-space", &pdf).is_empty());
}

#[test]
fn black_with_a_profile_may_become_four_inks() {
    let gray = |content: &str| profiled("/N 1", *b"GRAY", content);
    let cmyk = |content: &str| profiled("/N 4", *b"CMYK", content);
    one(
        &found_on("calibrated-colour", &gray(&set("/P cs 0 scn"))),
        Severity::Warning,
        &["black text in gray with a profile"],
    );
    one(
        &found_on("calibrated-colour", &cmyk(&set("/P cs 0 0 0 1 scn"))),
        Severity::Warning,
        &["black text in CMYK with a profile"],
    );
    one(
        &found_on("calibrated-colour", &cmyk(&set("/P cs 1 0 0 1 scn"))),
        Severity::Note,
        &["text in CMYK with a profile"],
    );
    one(&found_on("calibrated-colour", &gray("/P cs 0 scn 20 20 40 40 re f")), Severity::Note, &["an area in gray"]);
    // ISO 15930-7, restated: no ICCBased CMYK with overprint and OPM 1.
    one(
        &found_on("calibrated-colour", &cmyk("/M1 gs /P cs 0 0 0 1 scn 20 20 40 40 re f")),
        Severity::Error,
        &["overprints in mode 1", "PDF/X"],
    );
}

#[test]
fn a_profile_and_its_n_agree() {
    // ISO 32000-1, 8.6.5.5.
    let fill = "/P cs 0.1 0.2 0.3 0.4 scn 20 20 40 40 re f";
    one(
        &found_on("icc-profile", &profiled("/N 3", *b"CMYK", fill)),
        Severity::Error,
        &["for 4 components", "has 3 (N)"],
    );
    one(
        &found_on("icc-profile", &profiled("/N 4", *b"RGB ", fill)),
        Severity::Error,
        &["for 3 components", "has 4 (N)"],
    );
    one(&found_on("icc-profile", &profiled("", *b"CMYK", fill)), Severity::Warning, &["does not say", "4 was read"]);
    one(&found_on("icc-profile", &profiled("/N 4", *b"wxyz", fill)), Severity::Error, &["damaged"]);
    assert!(found_on("icc-profile", &profiled("/N 4", *b"CMYK", fill)).is_empty());
    assert!(found_on("icc-profile", &profiled("/N 3", *b"CMYK", "")).is_empty(), "nothing is painted in it");
}

#[test]
fn registration_colour_belongs_outside_the_trim() {
    // Ghent Workgroup 2022: colorant All on page content: warning. ISO 32000-1, 8.6.6.4: it is every plate.
    let inside = page("/All CS 1 SCN 0.25 w 110 20 m 190 20 l S");
    one(
        &found_on("registration-colour", &inside),
        Severity::Warning,
        &["a line in registration colour", "every plate"],
    );
    let thick = page("/All cs 1 scn 110 20 80 20 re f");
    let seen = plates(&thick, &[(150.0, 30.0)]);
    assert!(["Cyan", "Magenta", "Yellow", "Black"].iter().all(|plate| seen[*plate][0] > 0.99), "{seen:?}");
    assert_eq!(found_on("registration-colour", &thick).len(), 1);
    // Crop marks outside the trim are what it is for.
    let marked = |at: u32| {
        let mut pdf = Pdf::new();
        let tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [1 1 1 1] /N 1 >>";
        pdf.page(
            &format!(
                "/MediaBox [0 0 200 100] /TrimBox [20 20 180 80] /Resources << /ColorSpace << \
                 /All [/Separation /All /DeviceCMYK {tint}] >> >>"
            ),
            format!("/All CS 1 SCN 0.25 w {at} 0 m {at} 10 l S"),
        );
        pdf
    };
    assert!(found_on("registration-colour", &marked(20)).is_empty());
    // The same in all but name, and the edge below it.
    one(&found_on("registration-colour", &page(&set("1 1 1 1 k"))), Severity::Warning, &["in all but name"]);
    assert!(found_on("registration-colour", &page(&set("1 1 1 0.99 k"))).is_empty());
}

/// A Type 3 font /T with one glyph, `a`.
fn type3(glyph: &str, content: &str) -> Pdf {
    let mut pdf = Pdf::new();
    let glyph = pdf.stream("", glyph);
    let font = pdf.add(format!(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 97 \
         /Widths [1000] /Encoding << /Type /Encoding /Differences [97 /a] >> /CharProcs << /a {glyph} 0 R >> /Resources << >> >>"
    ));
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /Font << /T {font} 0 R >> >>"), content);
    pdf
}

#[test]
fn letters_that_are_drawings_or_pictures() {
    let drawn = type3("1000 0 0 0 1000 1000 d1 0 0 500 500 re f", "BT /T 12 Tf 20 20 Td (aa) Tj ET");
    let found = found_on("type-3-text", &drawn);
    one(&found, Severity::Warning, &["Type 3 font", "drawings"]);
    assert!(found[0].place.rect.is_some());
    let folder = tempfile::tempdir().unwrap();
    let fonts = judged("pdffonts", &[text(&saved(&folder, "drawn.pdf", &drawn.bytes()))]);
    assert!(fonts.contains("Type 3"), "{fonts}");

    // 50 samples over an em of 12 pt are 300 ppi, over one of 4 pt 900 (Ghent Workgroup 2022, one-bit: 549 | 799).
    let dots = "1000 0 0 0 1000 1000 d1 1000 0 0 1000 0 0 cm BI /W 50 /H 50 /IM true /BPC 1 ID ".to_owned()
        + &"~".repeat(7 * 50)
        + " EI";
    let sized = |size: f64| found_on("type-3-text", &type3(&dots, &format!("BT /T {size} Tf 20 20 Td (a) Tj ET")));
    one(&sized(12.0), Severity::Error, &["300 ppi", "more than 549 ppi"]);
    one(&sized(6.0), Severity::Warning, &["600 ppi", "more than 799 ppi"]);
    one(&sized(4.0), Severity::Warning, &["drawings"]);
    // Named and not shown, or not seen.
    assert!(found_on("type-3-text", &type3(&dots, "")).is_empty());
    assert!(found_on("type-3-text", &type3(&dots, "BT 3 Tr /T 12 Tf (a) Tj ET")).is_empty());
}

#[test]
fn a_font_outside_the_file_by_what_it_shows() {
    // Not embedded and painted is an error; never shown, blank or invisible is a note.
    let font = "/Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>";
    for (content, severity, words) in [
        ("BT /F1 10 Tf 20 20 Td (text) Tj ET", Severity::Error, "shows text"),
        ("BT /F1 10 Tf 20 20 Td ( ) Tj ET", Severity::Note, "shows nothing"),
        ("BT /F1 10 Tf 3 Tr (text) Tj ET", Severity::Note, "invisible text only"),
        ("", Severity::Note, "shows nothing"),
    ] {
        one(&found_on("fonts-embedded", &super::artwork_pdf::one_page(font, content)), severity, &["Helvetica", words]);
    }
    // In the look of a stamp that prints; pdffonts does not look there, the page does.
    let mut pdf = Pdf::new();
    let look = pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 40 10] /Resources << {font} >>"),
        "BT /F1 8 Tf 1 1 Td (proof) Tj ET",
    );
    let stamp = format!("<< /Type /Annot /Subtype /Stamp /F 4 /Rect [50 50 130 70] /AP << /N {look} 0 R >> >>");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Annots [{stamp}]"), "");
    let found = found_on("fonts-embedded", &pdf);
    one(&found, Severity::Error, &["Helvetica", "shows text"]);
    assert!(found[0].place.rect.is_some_and(|r| r.y0.to_pt() > 49.0), "{:?}", found[0].place);
}

#[test]
fn pictures_are_measured_after_all_scaling_too_few_pixels_and_too_many() {
    // A picture in a form in a page of larger units; pdfimages, which leaves UserUnit out, is the judge of a plain page.
    let placed = |keys: &str, side: u32, size: f64, unit: u32| {
        let mut pdf = Pdf::new();
        let keys =
            format!("/Type /XObject /Subtype /Image /Width {side} /Height {side} {keys} /Filter /RunLengthDecode");
        let picture = pdf.stream(&keys, [128]);
        let form = pdf.stream(
            &format!("/Type /XObject /Subtype /Form /BBox [0 0 2 2] /Resources << /XObject << /I {picture} 0 R >> >>"),
            "0.5 0 0 0.5 0 0 cm /I Do",
        );
        pdf.page(
            &format!("/MediaBox [0 0 400 400] /UserUnit {unit} /Resources << /XObject << /F {form} 0 R >> >>"),
            format!("{} 0 0 {} 20 20 cm /F Do", size * 2.0, size * 2.0),
        );
        pdf
    };
    let listed = |pdf: &Pdf| {
        let folder = tempfile::tempdir().unwrap();
        let told = judged("pdfimages", &["-list", text(&saved(&folder, "page.pdf", &pdf.bytes()))]);
        told.lines().last().unwrap().split_whitespace().nth(12).unwrap().parse::<u32>().unwrap()
    };
    let gray = "/BitsPerComponent 8 /ColorSpace /DeviceGray";
    let edge = placed(gray, 1200, 144.0, 1);
    assert_eq!(listed(&edge), 600);
    assert!(found_on("picture-oversized", &edge).is_empty());
    let more = placed(gray, 1200, 140.0, 1);
    assert_eq!(listed(&more), 617);
    one(&found_on("picture-oversized", &more), Severity::Note, &["617 ppi", "at most 600 ppi"]);
    assert!(found_on("picture-oversized", &placed(gray, 1200, 140.0, 2)).is_empty(), "twice as large, 309 ppi");
    // Ghent Workgroup 2022: one-bit pictures must have more than 549 ppi, in one spot ink as in black.
    let one_bit = "/BitsPerComponent 1 /ColorSpace [/Separation /Heath /DeviceCMYK \
        << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.7 0.4 0.8 0.4] /N 1 >>]";
    one(
        &found_on("picture-resolution", &placed(one_bit, 400, 72.0, 1)),
        Severity::Error,
        &["one-bit", "400 ppi", "549"],
    );
    assert!(found_on("picture-resolution", &placed(one_bit, 400, 35.0, 1)).is_empty());
    // Sixteen pixels a side are excepted.
    assert!(found_on("picture-resolution", &placed(gray, 16, 72.0, 1)).is_empty());
    assert_eq!(found_on("picture-resolution", &placed(gray, 17, 72.0, 1)).len(), 1);
}

#[test]
fn hairlines_after_all_scaling() {
    // ISO 32000-1, 8.4.3.2: width 0 is the thinnest line of the device. Practice: nothing holds below 0.1 pt.
    for (content, severity, words) in [
        ("0 w 110 20 m 190 20 l S", Severity::Error, "width 0"),
        ("0 0 0 1 K 0.1 0 0 0.1 0 0 cm 0.5 w 1100 200 m 1900 200 l S", Severity::Error, "a hairline is 0.05 pt"),
        ("0 0 0 1 k 110 20 80 0.08 re f", Severity::Error, "a hairline is 0.08 pt"),
        ("0 0 0 1 k 110 20 80 0 re f", Severity::Error, "width 0"),
        ("0 0 0 1 k 110 20 m 190 60 l f", Severity::Error, "width 0"),
        ("0 0 0 1 k 0.8 0.6 -0.6 0.8 120 20 cm 0 0 60 0.15 re f", Severity::Warning, "0.15 pt"),
        ("0 0 0 1 k 110 20 80 0.15 re 110 30 80 0.5 re f", Severity::Warning, "0.15 pt"),
        ("0 0 0 1 K 0.05 w BT /F1 20 Tf 1 Tr 120 20 Td (4) Tj ET", Severity::Error, "a hairline is 0.05 pt"),
    ] {
        one(&found_on("rule-weight", &page(content)), severity, &[words]);
    }
    for clean in [
        "0 0 0 1 K 0.1 0 0 0.1 0 0 cm 2.5 w 1100 200 m 1900 200 l S",
        "0 0 0 1 k 110 20 80 0.25 re f",
        "0 0 0 1 k 110 20 m 190 60 l 190 20 l f",
    ] {
        assert!(
            found_on("rule-weight", &page(clean)).is_empty(),
            "{clean}: {:#?}",
            found_on("rule-weight", &page(clean))
        );
    }
}
