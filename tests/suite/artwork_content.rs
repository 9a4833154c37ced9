//! Content streams: tokens, graphics state, forms, patterns, and what may go wrong in them.

use fairfold::card::{Paint, Side};
use fairfold::ink::Colour;
use fairfold::unit::Length;

use super::artwork_pdf::{HELVETICA, Pdf, bounds, one_page, paths, remarks, short, texts};

#[test]
fn streams_of_a_contents_array_are_words_apart() {
    // Each pair would run together, or be swallowed by a comment, without a white space between the streams.
    for (first, second) in [
        ("q", "403 0 0 1 0 0 cm Q 10 20 30 40 re f"),
        ("1 0 0 1 50", "0 cm -40 20 30 40 re f"),
        ("% a comment without its line end", "10 20 30 40 re f"),
        ("10 20 30 40 re % here too", "f"),
    ] {
        let mut pdf = Pdf::new();
        let (a, b) = (pdf.stream("", first), pdf.stream("", second));
        pdf.page_of(&format!("/MediaBox [0 0 200 100] /Contents [{a} 0 R {b} 0 R]"));
        assert_eq!(bounds(&pdf.face().elements[0]), "10 20 40 60", "{first} | {second}");
    }
}

#[test]
fn an_array_may_cross_from_one_stream_into_the_next() {
    let mut pdf = Pdf::new();
    let (a, b) = (pdf.stream("", "BT /F1 10 Tf 10 20 Td [(Ot) -20"), pdf.stream("", "(terby)] TJ ET"));
    pdf.page_of(&format!("/MediaBox [0 0 200 100] /Resources << {HELVETICA} >> /Contents [{a} 0 R {b} 0 R]"));
    assert_eq!(texts(&pdf.face())[0].text, "Otterby");
}

#[test]
fn spare_and_missing_restores_are_told_and_do_not_stop_the_page() {
    for (content, message) in [
        ("q q 10 20 30 40 re f Q", "never taken back"),
        ("Q 10 20 30 40 re f", "never saved"),
        ("q 0 0 100 100 re W n 10 20 30 40 re f", "never taken back"),
    ] {
        let artwork = one_page("", content).open();
        let face = artwork.face(1, Side::Outside).unwrap();
        assert_eq!(bounds(&face.elements[0]), "10 20 40 60");
        assert!(remarks(&artwork).contains(message), "{}", remarks(&artwork));
    }
}

#[test]
fn numbers_spelt_oddly_move_a_square_to_where_common_readers_put_it() {
    for (spelling, x, odd) in [
        ("--7.08", -7.08, true),
        ("0.00-40", 0.0, true),
        ("-0.", 0.0, false),
        (".", 0.0, true),
        ("+.5", 0.5, false),
        ("4.", 4.0, false),
        ("-.002", -0.002, false),
    ] {
        let artwork = one_page("", &format!("1 0 0 1 {spelling} 0 cm 50 20 10 10 re f")).open();
        let face = artwork.face(1, Side::Outside).unwrap();
        let wanted = format!("{} 20 {} 30", short(50.0 + x), short(60.0 + x));
        assert_eq!(bounds(&face.elements[0]), wanted, "{spelling}");
        assert_eq!(!remarks(&artwork).is_empty(), odd, "{spelling}: {}", remarks(&artwork));
    }
}

#[test]
fn text_is_where_the_published_metrics_put_it() {
    // Adobe Core 14 font metrics, Helvetica: O 778, t 278, e 556, r 333, b 556, y 500, x-height 523, cap height 718.
    let face = one_page(HELVETICA, "BT /F1 8 Tf 2 0 0 2 20 30 Tm (Otterby) Tj ET").face();
    let run = texts(&face)[0];
    assert_eq!((run.text.as_str(), run.font.as_str()), ("Otterby", "Helvetica"));
    assert_eq!(run.size, Length::pt(16));
    let width = f64::from(778 + 278 + 278 + 556 + 333 + 556 + 500) / 1000.0 * 16.0;
    assert!((run.advance.to_pt() - width).abs() < 1e-4);
    assert!((run.x_height.unwrap().to_pt() - 0.523 * 16.0).abs() < 1e-4);
    assert!((run.cap_height.unwrap().to_pt() - 0.718 * 16.0).abs() < 1e-4);
    assert_eq!(run.fill, Some(Paint::Flat(Colour::Gray(0.0))));
}

#[test]
fn a_path_keeps_its_outline_and_its_ink_stays_in_the_clip() {
    let face = one_page("", "0 0 100 100 re W n 0.1 0.2 0.3 0.4 k 90 50 40 10 re f").face();
    assert_eq!(bounds(&face.elements[0]), "90 50 100 60");
    let path = paths(&face)[0];
    assert_eq!(path.fill, Some(Paint::Flat(Colour::Cmyk([0.1, 0.2, 0.3, 0.4]))));
    assert!((kurbo::Shape::bounding_box(&path.outline).x1 - 130.0).abs() < 1e-9);
}

#[test]
fn forms_that_draw_each_other_end_and_deep_honest_ones_are_a_fault() {
    let mut pdf = Pdf::new();
    let (a, b) = (pdf.reserve(), pdf.reserve());
    let keys = |x: usize| {
        format!("/Type /XObject /Subtype /Form /BBox [0 0 200 100] /Resources << /XObject << /X {x} 0 R >> >>")
    };
    pdf.set_stream(a, &keys(b), "0 0 10 10 re f /X Do");
    pdf.set_stream(b, &keys(a), "20 0 10 10 re f /X Do");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /XObject << /X {a} 0 R >> >>"), "/X Do");
    let artwork = pdf.open();
    assert_eq!(artwork.face(1, Side::Outside).unwrap().elements.len(), 2);
    assert!(remarks(&artwork).contains("draws itself"));

    let mut pdf = Pdf::new();
    let first = pdf.reserve();
    let mut form = first;
    for _ in 0..5000 {
        let next = pdf.reserve();
        pdf.set_stream(form, &keys(next), "/X Do");
        form = next;
    }
    pdf.set_stream(form, "/Type /XObject /Subtype /Form /BBox [0 0 200 100]", "0 0 10 10 re f");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /XObject << /X {first} 0 R >> >>"), "/X Do");
    let faults = pdf.open().face(1, Side::Outside).unwrap_err();
    assert!(faults.to_string().contains("deep inside one another"), "{faults}");
}

#[test]
fn layers_print_by_their_print_state() {
    // Three groups: one off, one shown on screen but not printed, one printed but not shown (ISO 32000-1, 8.11.4.4).
    let mut pdf = Pdf::new();
    let off = pdf.add("<< /Type /OCG /Name (guides) >>");
    let usage = |view, print| format!("/Usage << /View << /ViewState /{view} >> /Print << /PrintState /{print} >> >>");
    let screen = pdf.add(format!("<< /Type /OCG /Name (screen) {} >>", usage("ON", "OFF")));
    let press = pdf.add(format!("<< /Type /OCG /Name (press) {} >>", usage("OFF", "ON")));
    pdf.root(&format!(
        "/OCProperties << /OCGs [{off} 0 R {screen} 0 R {press} 0 R] /D << /Name (all) /OFF [{off} 0 R {press} 0 R] \
         /AS [<< /Event /Print /Category [/Print] /OCGs [{screen} 0 R {press} 0 R] >> \
         << /Event /View /Category [/View] /OCGs [{screen} 0 R {press} 0 R] >>] >> >>"
    ));
    let form = "/Type /XObject /Subtype /Form /BBox [0 0 200 100]";
    let hidden = pdf.stream(&format!("{form} /OC {off} 0 R"), "100 0 10 10 re f");
    let resources = format!(
        "/XObject << /X {hidden} 0 R >> /Properties << /A {off} 0 R /B {screen} 0 R /C {press} 0 R \
         /D << /Type /OCMD /OCGs [{off} 0 R {press} 0 R] /P /AllOn >> >>"
    );
    let content = "/OC /A BDC 0 0 10 10 re f /Span BMC 5 0 10 10 re f EMC EMC /OC /B BDC 20 0 10 10 re f EMC \
                   /OC /C BDC 40 0 10 10 re f EMC /OC /D BDC 60 0 10 10 re f EMC 80 0 10 10 re f /X Do";
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), content);
    let face = pdf.face();
    let found: Vec<String> = face.elements.iter().map(bounds).collect();
    assert_eq!(found, ["40 0 50 10", "80 0 90 10"]);
    let states: Vec<(String, bool)> =
        pdf.open().layers().iter().map(|(_, name, prints)| (name.to_owned(), prints)).collect();
    let wanted = [("guides", false), ("screen", false), ("press", true)];
    assert_eq!(states, wanted.map(|(n, p)| (n.to_owned(), p)));
}

/// A form with these resources (the whole entry) that writes one line and draws `inner`.
fn form(pdf: &mut Pdf, resources: &str, content: &str) -> usize {
    pdf.stream(&format!("/Type /XObject /Subtype /Form /BBox [0 0 200 100] {resources}"), content)
}

#[test]
fn a_form_without_resources_falls_back_to_those_around_it_and_an_empty_dictionary_does_not() {
    for (entry, lines) in [("", 2), ("/Resources << >>", 1)] {
        let mut pdf = Pdf::new();
        let inner = form(&mut pdf, entry, "BT /F1 10 Tf 10 40 Td (inner) Tj ET");
        let outer = form(&mut pdf, "", "BT /F1 10 Tf 10 20 Td (outer) Tj ET /B Do");
        let objects = format!("/XObject << /A {outer} 0 R /B {inner} 0 R >>");
        pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {HELVETICA} {objects} >>"), "/A Do");
        let artwork = pdf.open();
        let face = artwork.face(1, Side::Outside).unwrap();
        assert_eq!(texts(&face).len(), lines, "{entry}");
        assert_eq!(remarks(&artwork).contains("the font `F1` is not in the resources"), lines == 1);
    }
}

#[test]
fn a_type_3_glyph_may_draw_a_picture_of_the_page() {
    let mut pdf = Pdf::new();
    let picture = pdf.stream(
        "/Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray",
        [0; 4],
    );
    let glyph = pdf.stream("", "1000 0 d0 q 500 0 0 500 0 0 cm /Im Do Q");
    let font = pdf.add(format!(
        "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 97 /LastChar 97 \
         /Widths [1000] /Encoding << /Differences [97 /a] >> /CharProcs << /a {glyph} 0 R >> >>"
    ));
    let resources = format!("/Font << /T {font} 0 R >> /XObject << /Im {picture} 0 R >>");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), "BT /T 20 Tf 30 40 Td (a) Tj ET");
    let face = pdf.face();
    assert_eq!(texts(&face)[0].text, "a");
    assert_eq!(bounds(&face.elements[1]), "30 40 40 50");
}

#[test]
fn patterns_and_masks_that_use_themselves_end() {
    let mut pdf = Pdf::new();
    let pattern = pdf.reserve();
    let keys = format!(
        "/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 10 10] /XStep 10 /YStep 10 \
         /Resources << /Pattern << /P {pattern} 0 R >> >>"
    );
    pdf.set_stream(pattern, &keys, "/Pattern cs /P scn 0 0 5 5 re f");
    let mask = pdf.reserve();
    let state = pdf.add(format!("<< /Type /ExtGState /SMask << /Type /Mask /S /Luminosity /G {mask} 0 R >> >>"));
    pdf.set_stream(
        mask,
        &format!(
            "/Type /XObject /Subtype /Form /BBox [0 0 200 100] /Group << /S /Transparency /CS /DeviceGray >> \
             /Resources << /ExtGState << /G {state} 0 R >> >>"
        ),
        "/G gs 1 g 0 0 100 100 re f",
    );
    let resources = format!("/Pattern << /P {pattern} 0 R >> /ExtGState << /G {state} 0 R >>");
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"),
        "/G gs 10 10 20 20 re f /Pattern cs /P scn 50 10 20 20 re f",
    );
    let artwork = pdf.open();
    let face = artwork.face(1, Side::Outside).unwrap();
    assert_eq!(face.elements.len(), 2);
    assert!(face.elements.iter().all(|e| e.blend.soft_mask));
    assert!(matches!(&paths(&face)[1].fill, Some(Paint::Pattern(pattern)) if pattern.kind == "tiling"));
    let told = remarks(&artwork);
    assert!(told.contains("a pattern fills itself") && told.contains("a soft mask uses itself"), "{told}");
}

#[test]
fn a_row_of_numbers_set_in_one_go_comes_apart_and_words_stay_together() {
    // Jumps of more than an em are columns; a third of an em is a word space; a twentieth is kerning.
    let content = "BT /F1 10 Tf 10 20 Td [(4) -3000 (3) -3000 (5)] TJ 0 20 Td [(Otterby) -330 (Com) 50 (mon)] TJ ET";
    let face = one_page(HELVETICA, content).face();
    let found: Vec<&str> = texts(&face).iter().map(|t| t.text.as_str()).collect();
    assert_eq!(found, ["4", "3", "5", "Otterby Common"]);
    // Helvetica's figures are 556 wide (Adobe Core 14 font metrics): the second column starts 3.556 em on.
    assert!((texts(&face)[1].origin.x.to_pt() - 45.56).abs() < 1e-4);
}

#[test]
fn turned_and_slanted_text_keeps_its_height() {
    let (sin, cos) = 30_f64.to_radians().sin_cos();
    let content = format!(
        "BT /F1 10 Tf {cos:.9} {sin:.9} -{sin:.9} {cos:.9} 50 20 Tm (turned) Tj 1 0 0.3 1 10 70 Tm (slanted) Tj 70 Tz \
         1 0 0 1 100 70 Tm (narrow) Tj ET"
    );
    let face = one_page(HELVETICA, &content).face();
    for (run, angle) in texts(&face).iter().zip([30.0, 0.0, 0.0]) {
        assert!((run.size.to_pt() - 10.0).abs() < 1e-5, "{run:?}");
        assert!((run.angle - angle).abs() < 1e-6);
    }
    // narrow: n 556, a 556, r 333, r 333, o 556, w 722, at 70 %.
    assert!((texts(&face)[2].advance.to_pt() - 7.0 * (556.0 * 3.0 + 333.0 * 2.0 + 722.0) / 1000.0).abs() < 1e-4);
}

#[test]
fn text_operators_move_the_pen_as_the_standard_says() {
    // ISO 32000-1, 9.4.2 and 9.4.3: TD sets the leading, ' moves to the next line, " sets both spacings.
    let content = "BT /F1 10 Tf 10 90 Td 0 -12 TD (a) Tj (b) ' 2 1 (c d) \" T* 5 Ts (e) Tj ET";
    let face = one_page(HELVETICA, content).face();
    let at: Vec<String> =
        texts(&face).iter().map(|t| format!("{} {}", short(t.origin.x.to_pt()), short(t.origin.y.to_pt()))).collect();
    assert_eq!(at, ["10 78", "10 66", "10 54", "10 47"]);
    // c 500, space 278, d 556, one of character spacing each, two of word spacing once.
    assert!((texts(&face)[2].advance.to_pt() - (13.34 + 3.0 + 2.0)).abs() < 1e-4);
}

#[test]
fn an_inline_picture_is_measured_and_the_page_goes_on() {
    let content = "q 72 0 0 36 10 20 cm BI /W 2 /H 1 /BPC 8 /CS /CMYK /F /AHx ID 00FF00FF FF00FF00> EI Q 0 0 5 5 re f";
    let face = one_page("", content).face();
    let fairfold::card::Mark::Picture(picture) = &face.elements[0].mark else { panic!("no picture") };
    assert_eq!((picture.pixels, picture.bits), ((2, 1), 8));
    assert_eq!(picture.space, fairfold::card::PictureSpace::Cmyk);
    assert_eq!(picture.filters, ["ASCIIHexDecode"]);
    assert_eq!(face.elements.len(), 2);
}

#[test]
fn bad_tokens_are_told_with_their_object_and_the_rest_is_drawn() {
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [0 0 200 100]", "] 1 0 0 rg } wobble 10 20 30 40 re f");
    let artwork = pdf.open();
    assert_eq!(artwork.face(1, Side::Outside).unwrap().elements.len(), 1);
    let told = remarks(&artwork);
    assert!(told.contains("otterby.pdf, page 1, object 3: `wobble` is no drawing operator"), "{told}");
    assert!(told.contains("`]` that closes nothing"), "{told}");
}

#[test]
fn strokes_are_as_wide_as_their_scaling_makes_them() {
    let face =
        one_page("", "q 2 0 0 0.5 0 0 cm 4 w 10 100 m 60 100 l S Q 0 w 10 10 m 20 10 l S 1 J 8 w 100 50 m 100 50 l S")
            .face();
    let paths = paths(&face);
    // The smaller of both scales, 0.5; a butt cap adds nothing along the line, the width adds 4 x 0.5 / 2 on both sides.
    assert_eq!(paths[0].stroke.as_ref().unwrap().width, Length::pt(2));
    assert_eq!(bounds(&face.elements[0]), "20 49 120 51");
    assert_eq!(paths[1].stroke.as_ref().unwrap().width, Length::ZERO);
    assert_eq!(bounds(&face.elements[2]), "96 46 104 54");
}
