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
