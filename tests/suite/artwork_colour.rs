//! Colours stay in their own inks: process, spots, registration, overprint, and the spaces that carry them.

use fairfold::card::{Element, Face, Mark, Paint, PictureSpace, Side};
use fairfold::ink::{Colour, Ink};

use super::artwork_pdf::{HELVETICA, Pdf, one_page, paths, remarks, texts};

fn fill(face: &Face, n: usize) -> Colour {
    let Mark::Path(path) = &face.elements[n].mark else { panic!("no path") };
    path.fill.as_ref().and_then(Paint::flat).unwrap().clone()
}

fn spots(face: &Face) -> Vec<&str> {
    face.inks.iter().filter(|u| u.ink.is_spot()).map(|u| u.ink.name()).collect()
}

fn near(a: &Colour, b: &Colour) -> bool {
    let (Colour::Cmyk(a), Colour::Cmyk(b)) = (a, b) else { return false };
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-6)
}

/// The looks of a spot at half tint through a tint transform of each type (ISO 32000-1, 7.10).
#[test]
fn a_spots_look_comes_from_its_tint_transform_of_any_type() {
    let mut pdf = Pdf::new();
    let two = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.6 0 0.8 0.2] /N 1 >>";
    let range = "/Domain [0 1] /Range [0 1 0 1 0 1 0 1]";
    let zero =
        pdf.stream(&format!("/FunctionType 0 {range} /Size [2] /BitsPerSample 8"), [0, 0, 0, 0, 153, 0, 204, 51]);
    let three = format!("<< /FunctionType 3 /Domain [0 1] /Functions [{two}] /Bounds [] /Encode [0 1] >>");
    let four = pdf.stream(&format!("/FunctionType 4 {range}"), "{ dup 0.6 mul exch 0 exch dup 0.8 mul exch 0.2 mul }");
    for function in [two.to_owned(), format!("{zero} 0 R"), three, format!("{four} 0 R")] {
        pdf.page(
            &format!("/MediaBox [0 0 200 100] /Resources << /ColorSpace << /S [/Separation /Otterby#20Heath /DeviceCMYK {function}] >> >>"),
            "/S cs 0.5 scn 0 0 10 10 re f",
        );
    }
    let artwork = pdf.open();
    for page in 1..=4 {
        let face = artwork.face(page, Side::Outside).unwrap();
        let Colour::Inks { tints, look } = fill(&face, 0) else { panic!("no spot") };
        assert_eq!(tints, [(Ink::from_colorant("Otterby Heath"), 0.5)]);
        assert!(near(&look, &Colour::Cmyk([0.3, 0.0, 0.4, 0.1])), "page {page}: {look:?}");
        assert!(near(face.inks[0].solid.as_ref().unwrap(), &Colour::Cmyk([0.6, 0.0, 0.8, 0.2])));
    }
}

#[test]
fn all_is_every_plate_and_none_is_nothing_and_neither_is_a_spot() {
    let tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [1 1 1 1] /N 1 >>";
    let mut pdf = Pdf::new();
    let two = pdf.stream("/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]", "{ pop 0 0 0 }");
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] /Resources << /ColorSpace << /A [/Separation /All /DeviceCMYK {tint}] \
             /N [/DeviceN [/Cyan /None] /DeviceCMYK {two} 0 R] >> >>"
        ),
        "/A CS 1 SCN 0 0 m 10 0 l S /N cs 0.7 0.9 scn 0 0 10 10 re f",
    );
    let face = pdf.face();
    let stroke = paths(&face)[0].stroke.as_ref().unwrap().paint.flat().unwrap().clone();
    assert_eq!(stroke.tints(), Some(vec![(Ink::All, 1.0)]));
    assert_eq!(fill(&face, 1).tints(), Some(vec![(Ink::Cyan, 0.7)]));
    assert!(spots(&face).is_empty());
}

#[test]
fn spots_are_found_wherever_a_space_can_hide() {
    let tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.6 0 0.8 0.2] /N 1 >>";
    let spot = |name: &str| format!("[/Separation /{name} /DeviceCMYK {tint}]");
    let mut pdf = Pdf::new();
    let n = pdf.stream("/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]", "{ 0 0 }");
    let keys = "/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8";
    let devicen = pdf.stream(&format!("{keys} /ColorSpace [/DeviceN [/Black /InPicture] /DeviceCMYK {n} 0 R]"), [0, 0]);
    let indexed = pdf.stream(&format!("{keys} /ColorSpace [/Indexed {} 0 <FF>]", spot("InTable")), [0]);
    let ramp = "<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >>";
    let shading =
        pdf.add(format!("<< /ShadingType 2 /ColorSpace {} /Coords [0 0 200 0] /Function {ramp} >>", spot("InShading")));
    let cell = "/PatternType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10";
    let uncoloured = pdf.stream(&format!("{cell} /PaintType 2 /Resources << >>"), "0 0 5 5 re f");
    let coloured = pdf.stream(
        &format!("{cell} /PaintType 1 /Resources << /ColorSpace << /S {} >> >>", spot("InCell")),
        "/S cs 1 scn 0 0 5 5 re f",
    );
    let glyph = pdf.stream("", "1000 0 d0 /S cs 1 scn 0 0 500 500 re f");
    let font = pdf.add(format!(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 97 \
         /Widths [1000] /Encoding << /Differences [97 /a] >> /CharProcs << /a {glyph} 0 R >> \
         /Resources << /ColorSpace << /S {} >> >> >>",
        spot("InGlyph")
    ));
    let stamp = pdf.stream(
        &format!(
            "/Type /XObject /Subtype /Form /BBox [0 0 10 10] /Resources << /ColorSpace << /S {} >> >>",
            spot("InStamp")
        ),
        "/S cs 1 scn 0 0 5 5 re f",
    );
    let mask = pdf.stream(
        &format!(
            "/Type /XObject /Subtype /Form /BBox [0 0 200 100] /Group << /S /Transparency /CS /DeviceCMYK >> \
             /Resources << /ColorSpace << /S {} >> >>",
            spot("InMask")
        ),
        "/S cs 1 scn 0 0 5 5 re f",
    );
    let resources = format!(
        "/XObject << /A {devicen} 0 R /B {indexed} 0 R >> /Shading << /H {shading} 0 R >> /Font << /T {font} 0 R >> \
         /Pattern << /U {uncoloured} 0 R /C {coloured} 0 R >> /ColorSpace << /UP [/Pattern {}] >> \
         /ExtGState << /M << /SMask << /S /Luminosity /G {mask} 0 R >> >> >>",
        spot("UnderPattern")
    );
    let content = "q /A Do Q q /B Do Q q 0 0 5 5 re W n /H sh Q /UP cs 1 /U scn 0 0 9 9 re f /Pattern cs /C scn 0 0 9 9 re f \
                   BT /T 10 Tf (a) Tj ET 0 g /M gs 0 0 9 9 re f";
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] /Resources << {resources} >> \
             /Annots [<< /Type /Annot /Subtype /Stamp /F 4 /Rect [50 50 60 60] /AP << /N {stamp} 0 R >> >>]"
        ),
        content,
    );
    let mut wanted =
        vec!["InPicture", "InTable", "InShading", "UnderPattern", "InCell", "InGlyph", "InStamp", "InMask"];
    wanted.sort_unstable();
    assert_eq!(spots(&pdf.face()), wanted);
}

#[test]
fn blacks_stay_what_they_are() {
    let mut pdf = Pdf::new();
    let profile = pdf.stream("/N 1", icc(*b"GRAY"));
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << {HELVETICA} /ColorSpace << /G [/ICCBased {profile} 0 R] >> >>"),
        "BT /F1 8 Tf 0 0 0 rg (a) Tj 0 g (b) Tj 0 0 0 1 k (c) Tj 1 1 1 1 k (d) Tj .6 .4 .4 1 k (e) Tj /G cs 0 scn (f) Tj ET",
    );
    let face = pdf.face();
    let colours: Vec<Colour> =
        texts(&face).iter().map(|t| t.fill.as_ref().and_then(Paint::flat).unwrap().clone()).collect();
    assert_eq!(colours[0], Colour::Rgb([0.0; 3]));
    assert_eq!(colours[1], Colour::Gray(0.0));
    assert_eq!(colours[2], Colour::BLACK);
    assert_eq!(colours[3].ink_count(), 4);
    assert_eq!(colours[4], Colour::Cmyk([0.6, 0.4, 0.4, 1.0]));
    assert_eq!(colours[5], Colour::Calibrated { space: "ICCBased".into(), plain: Box::new(Colour::Gray(0.0)) });
    let black: Vec<bool> = colours.iter().map(Colour::is_black_only).collect();
    assert_eq!(black, [false, true, true, false, false, true]);
}

/// The header of an ICC profile for this colour space (ICC.1, 7.2): enough for what a reader looks at.
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

#[test]
fn an_icc_profile_that_contradicts_its_n_is_told() {
    for (keys, space, message, components) in [
        ("/N 3", b"CMYK", "is for 4 components but its N says 3", 3),
        ("/N 4", b"RGB ", "is for 3 components but its N says 4", 4),
        ("", b"CMYK", "has no usable N", 4),
        ("/N 4", b"wxyz", "profile is damaged", 4),
        ("/N 4", b"CMYK", "", 4),
    ] {
        let mut pdf = Pdf::new();
        let profile = pdf.stream(keys, icc(*space));
        pdf.page(
            &format!("/MediaBox [0 0 200 100] /Resources << /ColorSpace << /P [/ICCBased {profile} 0 R] >> >>"),
            "/P cs 0.1 0.2 0.3 0.4 scn 0 0 10 10 re f",
        );
        let artwork = pdf.open();
        let face = artwork.face(1, Side::Outside).unwrap();
        let Colour::Calibrated { plain, .. } = fill(&face, 0) else { panic!("not calibrated") };
        assert_eq!(matches!(*plain, Colour::Cmyk(_)), components == 4);
        assert!(remarks(&artwork).contains(message), "{}", remarks(&artwork));
        assert_eq!(remarks(&artwork).is_empty(), message.is_empty());
    }
}

#[test]
fn overprint_is_carried_as_the_page_sets_it() {
    // ISO 32000-1, 8.6.7: OP speaks for fills too where op is absent; OPM only counts with overprint on.
    let states = "/ExtGState << /A << /OP true >> /B << /OP true /op false /OPM 1 >> /C << /op true /OPM 1 >> >>";
    let face = one_page(states, "/A gs 0 0 1 1 re f /B gs 0 0 1 1 re f /C gs 0 0 0 0 k 0 0 1 1 re f").face();
    let seen: Vec<_> = face
        .elements
        .iter()
        .map(|e| (e.blend.overprint_stroke, e.blend.overprint_fill, e.blend.overprint_mode))
        .collect();
    assert_eq!(seen, [(true, true, 0), (true, false, 1), (true, true, 1)]);
    assert_eq!(fill(&face, 2), Colour::WHITE);
}

#[test]
fn a_separation_black_is_no_device_cmyk() {
    let tint = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 1] /N 1 >>";
    let resources = format!("/ColorSpace << /K [/Separation /Black /DeviceCMYK {tint}] >>");
    let face = one_page(&resources, "/K cs 1 scn 0 0 1 1 re f 0 0 0 1 k 0 0 1 1 re f").face();
    assert!(matches!(fill(&face, 0), Colour::Inks { .. }));
    assert!(matches!(fill(&face, 1), Colour::Cmyk(_)));
    assert_eq!(fill(&face, 0).tints(), fill(&face, 1).tints());
}

#[test]
fn a_default_space_stands_for_the_device_space() {
    let mut pdf = Pdf::new();
    let profile = pdf.stream("/N 4", icc(*b"CMYK"));
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /ColorSpace << /DefaultCMYK [/ICCBased {profile} 0 R] >> >>"),
        "0 0 0 1 k 0 0 1 1 re f",
    );
    assert!(matches!(fill(&pdf.face(), 0), Colour::Calibrated { .. }));
}

#[test]
fn transparency_of_groups_reaches_the_elements_inside() {
    let mut pdf = Pdf::new();
    let group = "/Group << /S /Transparency /CS /DeviceCMYK /I true >>";
    let form =
        pdf.stream(&format!("/Type /XObject /Subtype /Form /BBox [0 0 200 100] {group}"), "0 0 0 1 k 0 0 9 9 re f");
    let states = "/ExtGState << /A << /ca 0.5 /BM /Multiply >> >>";
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {states} /XObject << /X {form} 0 R >> >>"), "/A gs /X Do");
    let face = pdf.face();
    let Element { blend, .. } = &face.elements[0];
    assert!((blend.alpha_fill - 0.5).abs() < 1e-12);
    assert_eq!(blend.mode.as_deref(), Some("Multiply"));
}

#[test]
fn a_picture_says_what_its_samples_are() {
    let mut pdf = Pdf::new();
    let keys = "/Type /XObject /Subtype /Image /Width 4 /Height 2 /BitsPerComponent 8";
    let spaces = ["/ColorSpace /DeviceCMYK", "/ColorSpace [/Indexed /DeviceRGB 1 <000000FFFFFF>]", "/ImageMask true"];
    let pictures: Vec<usize> = spaces.iter().map(|s| pdf.stream(&format!("{keys} {s}"), [0; 32])).collect();
    let names: String =
        pictures.iter().enumerate().map(|(n, p)| format!("/I{n} {p} 0 R ")).collect::<Vec<_>>().concat();
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /XObject << {names} >> >>"), "/I0 Do /I1 Do /I2 Do");
    let face = pdf.face();
    let found: Vec<_> =
        face.elements
            .iter()
            .map(|e| {
                if let Mark::Picture(p) = &e.mark { (p.space.clone(), p.indexed, p.bits) } else { panic!("no picture") }
            })
            .collect();
    assert_eq!(
        found,
        [(PictureSpace::Cmyk, false, 8), (PictureSpace::Rgb, true, 8), (PictureSpace::Stencil, false, 1)]
    );
}
