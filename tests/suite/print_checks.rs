//! What is printed: type, rules, pictures, fonts and required words, on cards built by hand. For each check a clean case, a
//! found one that is the clean one plus one change, and the edge between them. Limits are those of the sources named
//! beside them, not of the program.

use fairfold::card::{Painted, PictureSpace};
use fairfold::check::{CHECKS, LimitSet, Limits, Outcome, Severity, run_one};
use fairfold::ink::{Colour, Ink};
use fairfold::unit::{Length, Quantity};

use super::hand_card::{Inside, Outside, card, cmyk, fill, font, grid, last_run, picture, rect, rule, spot, text};
use super::one_check::{found, found_in, one, skipped};

#[test]
fn text_size_one_ink_five_points() {
    // Practice: 5 to 6 pt in one ink.
    let sized = |size| {
        let mut card = card();
        text(&mut card, Inside, "385", size, (3.0, 3.0), cmyk(0.0, 0.0, 0.0, 60.0));
        card
    };
    assert!(found("text-size", &sized(5.0)).is_empty());
    one(&found("text-size", &sized(4.9)), Severity::Warning, &["4.9 pt", "at least 5 pt", "0.1 pt"]);
    one(&found("text-size", &sized(3.9)), Severity::Error, &["3.9 pt", "at least 4 pt"]);
    assert!(found_in("text-size", &sized(6.0), LimitSet::UncoatedOffset).is_empty());
    assert_eq!(found_in("text-size", &sized(5.9), LimitSet::UncoatedOffset).len(), 1);
}

#[test]
fn text_size_reversed_and_multi_ink_eight_points_offset_five_digital() {
    // Ghent Workgroup 2022: white or multi-ink text below 8 pt (offset), 5 pt (digital): warning.
    for (colour, words) in [(Colour::WHITE, "bare paper"), (cmyk(60.0, 0.0, 80.0, 20.0), "several inks")] {
        let sized = |size| {
            let mut card = card();
            fill(&mut card, Inside, rect(2.5, 2.5, 5.0, 4.0), Colour::BLACK);
            text(&mut card, Inside, "385", size, (3.0, 3.0), colour.clone());
            card
        };
        assert!(found("text-size", &sized(8.0)).is_empty());
        one(&found("text-size", &sized(7.9)), Severity::Warning, &[words, "at least 8 pt"]);
        assert!(found_in("text-size", &sized(5.0), LimitSet::Digital).is_empty());
        assert_eq!(found_in("text-size", &sized(4.9), LimitSet::Digital).len(), 1);
    }
    // A spot is one plate, so 6 pt holds.
    let mut card = card();
    text(&mut card, Inside, "385", 6.0, (3.0, 3.0), spot().at(1.0));
    assert!(found("text-size", &card).is_empty());
}

#[test]
fn text_size_by_the_height_of_the_letters() {
    // Regulation (EU) No 1169/2011, Article 13 (2) and (3): 1.2 mm, and 0.9 mm on small packs. The hand-made face has an
    // x-height of half its size.
    let sized = |size: f64| {
        let mut card = card();
        text(&mut card, Inside, "heron", size, (3.0, 3.0), Colour::BLACK);
        card
    };
    let edge = 0.9 / 25.4 * 72.0 * 2.0;
    assert!(found("text-size", &sized(edge + 0.01)).is_empty());
    one(&found("text-size", &sized(edge - 0.02)), Severity::Warning, &["lower-case", "at least 0.0354 in (0.9 mm)"]);
    // Capitals at the same size are tall enough.
    let mut capitals = sized(edge - 0.02);
    last_run(&mut capitals, Inside).text = "HERON".to_owned();
    assert!(found("text-size", &capitals).is_empty());
}

#[test]
fn text_that_is_not_seen_is_not_judged() {
    let mut card = card();
    text(&mut card, Inside, "385", 2.0, (3.0, 3.0), Colour::BLACK);
    last_run(&mut card, Inside).painted = Painted::Invisible;
    text(&mut card, Inside, "   ", 2.0, (3.0, 3.0), Colour::BLACK);
    text(&mut card, Inside, "slug line", 2.0, (3.0, 6.2), Colour::BLACK);
    assert!(found("text-size", &card).is_empty());
}

#[test]
fn rule_weight_a_quarter_point_for_several_inks_and_bare_paper() {
    // Ghent Workgroup 2022: white or multi-ink line below 0.25 pt: warning.
    for colour in [Colour::WHITE, cmyk(60.0, 0.0, 80.0, 20.0)] {
        let drawn = |weight| {
            let mut card = card();
            rule(&mut card, Inside, (1.0, 2.0), (5.0, 2.0), weight, colour.clone());
            card
        };
        assert!(found("rule-weight", &drawn(0.25)).is_empty());
        one(&found("rule-weight", &drawn(0.24)), Severity::Warning, &["0.24 pt", "at least 0.25 pt"]);
    }
    let drawn = |weight| {
        let mut card = card();
        rule(&mut card, Inside, (1.0, 2.0), (5.0, 2.0), weight, Colour::BLACK);
        card
    };
    assert!(found("rule-weight", &drawn(0.2)).is_empty());
    assert_eq!(found("rule-weight", &drawn(0.19)).len(), 1);
    // ISO 32000-1, 8.4.3.2: width 0 is the thinnest line of the device.
    one(&found("rule-weight", &drawn(0.0)), Severity::Error, &["width 0"]);
}

#[test]
fn a_thin_filled_rectangle_is_a_line() {
    // Ghent Workgroup 2022: thin filled rectangles count as lines.
    let bar = |points: f64, long: f64| {
        let mut card = card();
        fill(&mut card, Inside, rect(1.0, 2.0, 1.0 + long, 2.0 + points / 72.0), cmyk(60.0, 0.0, 80.0, 20.0));
        card
    };
    assert!(found("rule-weight", &bar(0.25, 4.0)).is_empty());
    assert_eq!(found("rule-weight", &bar(0.2, 4.0)).len(), 1);
    assert!(found("rule-weight", &bar(0.2, 0.01)).is_empty(), "a dot is no line");
}

#[test]
fn picture_resolution_by_kind_and_press() {
    // Ghent Workgroup 2022, sheetfed offset | digital: must exceed 149 (error), 224 (warning) | 95, 149; one-bit 549, 799 |
    // 349, 599.
    let at = |ppi: u32, space: PictureSpace, bits: u8, set: LimitSet| {
        let mut card = card();
        picture(&mut card, Outside, rect(7.0, 1.0, 9.0, 3.0), (ppi * 2, ppi * 2), space, bits);
        found_in("picture-resolution", &card, set).first().map(|f| f.severity)
    };
    let (offset, digital) = (LimitSet::CoatedOffset, LimitSet::Digital);
    for (space, bits, set, error, warning) in [
        (PictureSpace::Cmyk, 8, offset, 149, 224),
        (PictureSpace::Gray, 8, offset, 149, 224),
        (PictureSpace::Rgb, 8, digital, 95, 149),
        (PictureSpace::Gray, 1, offset, 549, 799),
        (PictureSpace::Stencil, 1, digital, 349, 599),
    ] {
        let judged = |ppi| at(ppi, space.clone(), bits, set);
        assert_eq!(judged(error), Some(Severity::Error), "{space:?} {error}");
        assert_eq!(judged(error + 1), Some(Severity::Warning), "{space:?} {}", error + 1);
        assert_eq!(judged(warning), Some(Severity::Warning), "{space:?} {warning}");
        assert_eq!(judged(warning + 1), None, "{space:?} {}", warning + 1);
    }
    // Sixteen pixels a side are excepted.
    let mut card = card();
    picture(&mut card, Outside, rect(7.0, 1.0, 9.0, 3.0), (16, 16), PictureSpace::Cmyk, 8);
    assert!(found("picture-resolution", &card).is_empty());
    picture(&mut card, Outside, rect(7.0, 1.0, 9.0, 3.0), (17, 17), PictureSpace::Cmyk, 8);
    assert_eq!(found("picture-resolution", &card).len(), 1);
}

#[test]
fn font_rights_by_fs_type() {
    // OpenType specification, OS/2 table, fsType.
    let with = |fs_type: Option<u16>, subset: bool| {
        let mut card = card();
        font(&mut card, Inside, "ArchivoNarrow-Regular", fs_type).subset = subset;
        found("font-rights", &card)
    };
    for free in [0x0000, 0x0004, 0x0008] {
        assert!(with(Some(free), true).is_empty());
    }
    one(&with(Some(0x0002), true), Severity::Error, &["restricted licence"]);
    assert!(with(Some(0x0006), true).is_empty(), "the least restrictive of several bits holds");
    one(&with(Some(0x0100), true), Severity::Error, &["no subsetting"]);
    assert!(with(Some(0x0100), false).is_empty());
    one(&with(Some(0x0200), true), Severity::Error, &["bitmap"]);
    one(&with(None, true), Severity::Note, &["does not say"]);
}

#[test]
fn fonts_embedded_or_not_shown() {
    let with = |embedded: bool, painted: bool| {
        let mut card = card();
        let font = font(&mut card, Inside, "Helvetica", None);
        (font.embedded, font.painted) = (embedded, painted);
        found("fonts-embedded", &card)
    };
    assert!(with(true, true).is_empty());
    one(&with(false, true), Severity::Error, &["Helvetica", "not in the file"]);
    one(&with(false, false), Severity::Note, &["shows nothing"]);
}

#[test]
fn required_text_word_for_word() {
    let note = "Players use the course and its carts at their own risk.";
    let set = |lines: &[&str]| {
        let mut card = card();
        card.required.push(note.to_owned());
        for (n, line) in (0_u8..).zip(lines) {
            text(&mut card, Outside, line, 6.0, (1.0, 3.0 - f64::from(n) * 0.1), Colour::BLACK);
        }
        found("required-text", &card)
    };
    assert!(set(&["Players use the course and", "its carts at their own risk."]).is_empty());
    one(&set(&["Players use the course and", "its carts at own risk."]), Severity::Error, &["carts at\""]);
    one(&set(&[]), Severity::Error, &["does not stand on the card", "set it on one of the panels"]);
    // Painted out of order it still reads in order.
    let mut card = card();
    card.required.push(note.to_owned());
    text(&mut card, Outside, "its carts at their own risk.", 6.0, (1.0, 2.9), Colour::BLACK);
    text(&mut card, Outside, "Players use the course and", 6.0, (1.0, 3.0), Colour::BLACK);
    assert!(found("required-text", &card).is_empty());
    assert!(skipped("required-text", &super::hand_card::card()).contains("no text"));
}

#[test]
fn registration_colour_on_the_card_counts_as_every_plate() {
    let mut card = card();
    let all = Colour::Inks { tints: vec![(Ink::All, 1.0)], look: Box::new(Colour::BLACK) };
    text(&mut card, Inside, "385", 6.0, (3.0, 3.0), all);
    one(&found("text-size", &card), Severity::Warning, &["several inks"]);
}

#[test]
fn limits_of_a_limits_file_are_the_ones_that_are_applied_and_printed() {
    let mut card = card();
    grid(&mut card, 0.75, 1, 0.26);
    let limit = CHECKS.iter().find(|c| c.id == "writing-height").unwrap().bounds[0];
    let limits = Limits::default().with(&limit, Quantity::Length(Length::inches(9, 32)));
    let check = CHECKS.iter().find(|c| c.id == "writing-height").unwrap();
    let Outcome::Found(found) = run_one(check, &card, &limits).unwrap() else { panic!() };
    assert!(found[0].message.contains("at least 0.2813 in (7.14 mm)"), "{}", found[0].message);
}
