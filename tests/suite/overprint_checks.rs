//! Overprint and knock-out: white that vanishes, black that leaves fringes, gray that does neither surely. Ghostscript's plates are
//! the outside judge of what is cleared.

use fairfold::check::Severity;
use fairfold::ink::Colour;

use super::hand_card::{Inside, card, cmyk, fill, rect, rule, spot, text};
use super::one_check::{found, one};
use super::one_fault::{CLEAN, found_on, page, plates};

#[test]
fn the_clean_page_is_clean() {
    for id in
        ["white-overprint", "black-knock-out", "gray-overprint", "rich-black", "registration-colour", "colour-space"]
    {
        assert!(found_on(id, &page(CLEAN)).is_empty(), "{id}: {:#?}", found_on(id, &page(CLEAN)));
    }
}

/// A bar of 1.5 pt over the tint, in a colour and a graphics state.
fn bar(state: &str, colour: &str) -> super::artwork_pdf::Pdf {
    page(&format!("/{state} gs {colour} 20 40 60 1.5 re f"))
}

#[test]
fn black_that_clears_a_tint_is_told_just_where_the_plate_is_cleared() {
    // Ghent Workgroup 2022: pure K lines under 2 pt should overprint, DeviceCMYK in mode 1. The judge: the cyan plate under the line.
    for (state, colour) in [
        ("Off", "0 0 0 1 k"),
        ("M0", "0 0 0 1 k"),
        ("M1", "0 0 0 1 k"),
        ("Off", "/K cs 1 scn"),
        ("M0", "/K cs 1 scn"),
        ("M1", "/K cs 1 scn"),
        ("Off", "0 g"),
    ] {
        let pdf = bar(state, colour);
        let seen = plates(&pdf, &[(50.0, 40.75), (50.0, 20.0)]);
        assert!(seen["Black"][0] > 0.99 && (seen["Cyan"][1] - 0.4).abs() < 0.01, "{state} {colour}: {seen:?}");
        let cleared = seen["Cyan"][0] < 0.01;
        let found = found_on("black-knock-out", &pdf);
        assert_eq!(found.len(), usize::from(cleared), "{state} {colour}: {seen:?} {found:#?}");
        if cleared {
            one(&found, Severity::Warning, &["a black line knocks out of C 40 M 0 Y 0 K 0", "1.5 pt", "at least 2 pt"]);
        }
    }
}

#[test]
fn white_that_overprints_is_told_just_where_it_vanishes() {
    // Ghent Workgroup 2022: white paths must not overprint. Mode 1 and Separations of tint 0 keep the plate; mode 0 clears it.
    for (state, colour) in [
        ("Off", "0 0 0 0 k"),
        ("M0", "0 0 0 0 k"),
        ("M1", "0 0 0 0 k"),
        ("M0", "/Heath cs 0 scn"),
        ("Off", "/Heath cs 0 scn"),
    ] {
        let pdf = bar(state, colour);
        let seen = plates(&pdf, &[(50.0, 40.75)]);
        let vanishes = seen["Cyan"][0] > 0.39;
        let found = found_on("white-overprint", &pdf);
        match (state, vanishes) {
            ("Off", false) => assert!(found.is_empty(), "{state} {colour}: {found:#?}"),
            (_, true) => one(&found, Severity::Error, &["a line in white", "C 40 M 0 Y 0 K 0", "vanishes"]),
            (_, false) => one(&found, Severity::Warning, &["only by chance"]),
        }
    }
}

#[test]
fn white_text_vanishes_too_and_on_bare_paper_nothing_is_there_to_clear() {
    let white = |x: u32| page(&format!("/M1 gs 0 0 0 0 k BT /F1 10 Tf {x} 20 Td (412) Tj ET"));
    one(&found_on("white-overprint", &white(10)), Severity::Error, &["text in white", "switch its overprint off"]);
    assert!(found_on("white-overprint", &white(120)).is_empty());
    // A spot below stays whatever the mode.
    let over_spot = page("/Heath cs 1 scn 110 10 80 80 re f /M0 gs 0 0 0 0 k 120 40 60 1.5 re f");
    one(&found_on("white-overprint", &over_spot), Severity::Error, &["Otterby Heath 100 %"]);
    assert!(plates(&over_spot, &[(150.0, 40.75)])["Otterby Heath"][0] > 0.99);
    // Separation None marks nothing at all.
    assert!(found_on("white-overprint", &bar("M1", "/None cs 0 scn")).is_empty());
}

#[test]
fn black_type_may_knock_out_from_twelve_points_and_lines_from_two() {
    // Ghent Workgroup 2022: text under 12 pt, lines under 2 pt.
    let set = |size: f64| {
        let mut card = card();
        fill(&mut card, Inside, rect(1.0, 1.0, 5.0, 4.0), cmyk(40.0, 0.0, 0.0, 0.0));
        text(&mut card, Inside, "385", size, (2.0, 2.0), Colour::BLACK);
        found("black-knock-out", &card)
    };
    assert!(set(12.0).is_empty());
    one(&set(11.9), Severity::Warning, &["11.9 pt", "at least 12 pt", "overprint mode 1"]);
    let ruled = |weight: f64, ground: Colour| {
        let mut card = card();
        fill(&mut card, Inside, rect(1.0, 1.0, 5.0, 4.0), ground);
        rule(&mut card, Inside, (2.0, 2.0), (4.0, 2.0), weight, Colour::BLACK);
        found("black-knock-out", &card)
    };
    let heather = || cmyk(0.0, 40.0, 0.0, 0.0);
    assert!(ruled(2.0, heather()).is_empty());
    one(&ruled(1.9, heather()), Severity::Warning, &["a black line", "1.9 pt"]);
    // Only where other inks are below, and enough of them (judgement: 10 %).
    assert!(ruled(0.5, cmyk(0.0, 0.0, 0.0, 30.0)).is_empty(), "black on gray is one plate");
    assert!(ruled(0.5, cmyk(0.0, 5.0, 4.0, 0.0)).is_empty());
    assert_eq!(ruled(0.5, cmyk(0.0, 5.0, 5.0, 0.0)).len(), 1);
    one(&ruled(0.5, spot().at(0.5)), Severity::Warning, &["Bracken 50 %"]);
}

#[test]
fn a_rule_around_a_tint_is_held_against_what_it_lies_on_and_not_against_what_it_frames() {
    let framed = |tint: (f64, f64, f64, f64)| {
        let mut card = card();
        fill(&mut card, Inside, rect(tint.0, tint.1, tint.2, tint.3), cmyk(40.0, 0.0, 0.0, 0.0));
        let (a, b) = ((2.0, 2.0), (4.0, 3.0));
        for (from, to) in
            [((a.0, a.1), (b.0, a.1)), ((b.0, a.1), (b.0, b.1)), ((b.0, b.1), (a.0, b.1)), ((a.0, b.1), (a.0, a.1))]
        {
            rule(&mut card, Inside, from, to, 0.5, Colour::BLACK);
        }
        found("black-knock-out", &card)
    };
    assert!(framed((2.5, 2.3, 3.5, 2.7)).is_empty());
    assert_eq!(framed((1.0, 1.0, 5.0, 4.0)).len(), 1, "told once");
    // The same as one path: its box is tinted, its line is not.
    let path = page("0.3 0 0 0 k 120 20 40 40 re f 0 0 0 1 K 0.5 w 110 10 60 60 re S");
    assert!(found_on("black-knock-out", &path).is_empty());
    // A stroke around its own tint lies half on it.
    let own = page("0.3 0 0 0 k 0 0 0 1 K 0.5 w 110 10 60 60 re B");
    assert_eq!(found_on("black-knock-out", &own).len(), 1);
}

#[test]
fn gray_must_not_overprint() {
    // Ghent Workgroup 2022: DeviceGray must not overprint.
    one(&found_on("gray-overprint", &bar("M1", "0 g")), Severity::Warning, &["a line in gray", "0/0/0/100"]);
    one(&found_on("gray-overprint", &bar("M0", "0.4 g")), Severity::Warning, &["0/0/0/60"]);
    assert!(found_on("gray-overprint", &bar("Off", "0 g")).is_empty());
    assert!(found_on("gray-overprint", &bar("M1", "0 0 0 1 k")).is_empty());
    let on_paper = page("/M1 gs 0 g BT /F1 10 Tf 120 20 Td (412) Tj ET");
    one(&found_on("gray-overprint", &on_paper), Severity::Note, &["text in gray", "nothing comes of it"]);
}
