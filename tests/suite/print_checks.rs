//! The print checks on cards built by hand: for each a clean case, a found one that is the clean one plus one change, and
//! the edge between them. Limits are those of the sources named beside them, not of the program.

use fairfold::card::{Direction, FoldKind, Overset, Painted, PictureSpace, Place};
use fairfold::check::{CHECKS, Finding, LimitSet, Limits, Outcome, Severity, run_one};
use fairfold::ink::{Colour, Ink, SpotInk};
use fairfold::unit::{Length, Quantity, Size};

use super::hand_card::{Inside, Outside, card, card_of, cmyk, fill, font, grid, last_run, picture, rect, rule, text};
use fairfold::card::Card;

/// What one check says under a built-in set.
fn outcome(id: &str, card: &Card, set: LimitSet) -> Outcome {
    let check = CHECKS.iter().find(|c| c.id == id).unwrap();
    run_one(check, card, &Limits::new(set)).unwrap()
}

fn found(id: &str, card: &Card) -> Vec<Finding> {
    found_in(id, card, LimitSet::CoatedOffset)
}

fn found_in(id: &str, card: &Card, set: LimitSet) -> Vec<Finding> {
    match outcome(id, card, set) {
        Outcome::Clean => Vec::new(),
        Outcome::Found(found) => found,
        other => panic!("{id} did not run: {other:?}"),
    }
}

fn skipped(id: &str, card: &Card) -> String {
    match outcome(id, card, LimitSet::CoatedOffset) {
        Outcome::Skipped(why) => why,
        other => panic!("{id} ran: {other:?}"),
    }
}

/// The only finding, whose message and advice hold these words.
#[track_caller]
fn one(found: &[Finding], severity: Severity, words: &[&str]) {
    assert_eq!(found.len(), 1, "{found:#?}");
    let text = format!("{} = {}", found[0].message, found[0].advice);
    for word in words {
        assert!(text.contains(word), "`{word}` is not in: {text}");
    }
    assert_eq!(found[0].severity, severity);
}

fn spot() -> SpotInk {
    SpotInk { name: "Bracken".into(), cmyk: [0.1, 0.6, 0.9, 0.2], lab: None }
}

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
fn writing_height_a_quarter_inch() {
    // Narrow ruling 1/4 in (published); below 0.20 in is an error (judgement).
    let lines = |height| {
        let mut card = card();
        grid(&mut card, 0.75, 8, height);
        found("writing-height", &card)
    };
    assert!(lines(0.25).is_empty());
    let low = lines(0.24);
    one(&low, Severity::Warning, &["0.24 in", "at least 0.25 in", "0.01 in"]);
    assert_eq!(low[0].place.words(), "inside, panel 1, player 1 and 7 more");
    one(&lines(0.2), Severity::Warning, &["at least 0.25 in"]);
    one(&lines(0.19), Severity::Error, &["at least 0.2 in"]);
    assert!(skipped("writing-height", &card()).contains("no grid"));
}

#[test]
fn writing_height_on_a_grid_that_reads_down_is_measured_across_the_card() {
    let mut card = card();
    grid(&mut card, 0.75, 8, 0.1);
    let plan = card.grid.as_mut().unwrap();
    plan.direction = Direction::Down { top_at_left: true };
    for cell in &mut plan.cells {
        cell.rect = rect(0.0, 0.0, 0.3, 0.1);
    }
    assert!(found("writing-height", &card).is_empty());
    card.grid.as_mut().unwrap().cells.iter_mut().for_each(|c| c.rect = rect(0.0, 0.0, 0.24, 0.5));
    one(&found("writing-height", &card), Severity::Warning, &["a hole's line", "0.24 in"]);
}

#[test]
fn writing_width_a_fifth_of_an_inch_a_figure() {
    // Five handwritten characters to the inch (published forms-design rule).
    let mut card = card();
    grid(&mut card, 0.75, 4, 0.3);
    assert!(found("writing-width", &card).is_empty());
    let narrowed = |card: &mut Card, column: usize, width: f64| {
        for cell in card.grid.as_mut().unwrap().cells.iter_mut().filter(|c| c.column == column) {
            cell.rect.x1 = cell.rect.x0 + Length::from_in(width);
        }
    };
    narrowed(&mut card, 3, 0.2);
    assert!(found("writing-width", &card).is_empty());
    narrowed(&mut card, 3, 0.18);
    let narrow = found("writing-width", &card);
    one(&narrow, Severity::Warning, &["0.18 in", "at least 0.2 in", "0.02 in"]);
    assert!(narrow[0].place.words().contains("hole 3"));
}

#[test]
fn tint_under_writing_fifteen_percent() {
    // Practice: about 15 % and less.
    let tinted = |colour: Colour| {
        let mut card = card();
        grid(&mut card, 0.75, 4, 0.3);
        let row = card.grid.as_ref().unwrap().rows[5].rect;
        fill(&mut card, Inside, row, colour);
        found("tint-under-writing", &card)
    };
    assert!(tinted(cmyk(15.0, 0.0, 0.0, 0.0)).is_empty());
    assert!(tinted(Colour::WHITE).is_empty());
    assert!(tinted(cmyk(15.0, 15.0, 15.0, 0.0)).is_empty(), "a gray of 15 %");
    one(&tinted(cmyk(6.0, 0.0, 0.0, 10.0)), Severity::Warning, &["16 %", "at most 15 %"]);
    one(&tinted(spot().at(0.3)), Severity::Warning, &["Bracken 30 %", "50 % of what it is"]);
    // A lighter box laid over a dark ground is what is written on.
    let mut card = card();
    grid(&mut card, 0.75, 4, 0.3);
    fill(&mut card, Inside, rect(0.0, 0.0, 12.0, 6.0), cmyk(0.0, 0.0, 0.0, 40.0));
    let rows = card.grid.as_ref().unwrap().bounds;
    fill(&mut card, Inside, rows, Colour::WHITE);
    assert!(found("tint-under-writing", &card).is_empty());
    picture(&mut card, Inside, rows, (3000, 1500), PictureSpace::Cmyk, 8);
    assert!(found("tint-under-writing", &card)[0].message.starts_with("a picture lies under"));
}

#[test]
fn clip_zone_half_an_inch() {
    // Practice: a cart's clip hides about the top half inch of the open card.
    let at = |top: f64| {
        let mut card = card();
        card.carts = true;
        grid(&mut card, top, 4, 0.3);
        card
    };
    assert!(found("clip-zone", &at(0.5)).is_empty());
    let under = found("clip-zone", &at(0.3));
    // Hole numbers at 0.3 and the tee at 0.5: only the first stands under the clip.
    one(&under, Severity::Warning, &["0.3 in", "at least 0.5 in", "by 0.2 in"]);
    // The row's box may reach in where its text does not.
    let mut card = at(0.4);
    text(&mut card, Inside, "7", 6.0, (4.0, 5.41), Colour::BLACK);
    assert!(found("clip-zone", &card).is_empty());
    let mut walkers = at(0.1);
    walkers.carts = false;
    assert!(skipped("clip-zone", &walkers).contains("carts"));
}

#[test]
fn bleed_is_reached_on_every_side_or_told_by_how_much() {
    let ground = |over: f64| {
        let mut card = card();
        fill(&mut card, Outside, rect(-0.125, -0.125, 12.125, 6.0 + over), cmyk(60.0, 0.0, 80.0, 20.0));
        found("bleed", &card)
    };
    assert!(ground(0.125).is_empty());
    one(
        &ground(0.0625),
        Severity::Error,
        &["at the top runs 0.0625 in", "at least 0.125 in", "extend it by 0.0625 in"],
    );
    one(&ground(-0.01), Severity::Error, &["runs 0 in", "extend it by 0.135 in"]);
    // A ground that stops well inside is meant to.
    assert!(ground(-0.2).is_empty());
    // Bare paper needs no bleed.
    let mut card = card();
    fill(&mut card, Outside, rect(0.0, 0.0, 12.0, 6.0), Colour::WHITE);
    assert!(found("bleed", &card).is_empty());
}

#[test]
fn safe_margin_at_the_trim() {
    // Practice: 1/8 in at the least.
    let at = |x: f64| {
        let mut card = card();
        text(&mut card, Inside, "Heron", 8.0, (x, 3.0), Colour::BLACK);
        found("safe-margin", &card)
    };
    assert!(at(0.125).is_empty());
    one(&at(0.1), Severity::Warning, &["0.1 in", "left", "at least 0.125 in", "by 0.025 in"]);
    one(&at(-0.02), Severity::Error, &["past the trim", "by 0.145 in"]);
    let framed = |x0: f64| {
        let mut card = card();
        fill(&mut card, Inside, rect(x0, 2.0, 5.0, 4.0), cmyk(20.0, 0.0, 0.0, 0.0));
        found("safe-margin", &card)
    };
    assert!(framed(0.125).is_empty());
    assert!(framed(-0.125).is_empty(), "what bleeds is meant to");
    one(&framed(0.06), Severity::Warning, &["a drawn mark", "0.06 in"]);
}

#[test]
fn fold_margin_three_thirty_seconds() {
    // Practice: 3/32 in from a fold. The fold of the 12 in half fold is at 6 in.
    let at = |x: f64| {
        let mut card = card();
        text(&mut card, Inside, "Heron", 8.0, (x, 3.0), Colour::BLACK);
        found("fold-margin", &card)
    };
    assert!(at(6.09375).is_empty());
    one(&at(6.05), Severity::Warning, &["0.05 in", "at least 0.0938 in", "to the right"]);
    one(&at(5.95), Severity::Warning, &["runs across the fold at 6 in"]);
    let shown = |x0: f64, x1: f64| {
        let mut card = card();
        picture(&mut card, Outside, rect(x0, 0.5, x1, 5.0), (4000, 4000), PictureSpace::Cmyk, 8);
        found("fold-margin", &card)
    };
    assert!(shown(6.0, 11.0).is_empty(), "it ends on the fold");
    assert!(shown(2.0, 11.0).is_empty(), "it runs across");
    one(&shown(6.05, 11.0), Severity::Warning, &["left edge", "0.05 in"]);
    let mut flat = card_of(6.0, 12.0, FoldKind::None);
    text(&mut flat, Inside, "Heron", 8.0, (5.95, 3.0), Colour::BLACK);
    assert!(skipped("fold-margin", &flat).contains("does not fold"));
}

#[test]
fn a_fold_through_a_box_to_write_in() {
    let mut card = card();
    grid(&mut card, 0.75, 1, 0.3);
    // Columns run from 0.2 in: the names to 1.8, nine holes to 5.4, Out to 5.85, initials to 6.45; the fold at 6 cuts those.
    one(&found("fold-margin", &card), Severity::Warning, &["runs through a box", "shift the columns by 0.15 in"]);
}

#[test]
fn panel_widths_of_a_letter_fold() {
    // Published example: 11 in letter fold, 3.6875, 3.6875, 3.625; at least 1/32 in shorter, up to 1/8.
    let widths = |widths: [Length; 3]| {
        let mut card = card_of(8.5, 11.0, FoldKind::Letter);
        card.format.fold.panels = widths.to_vec();
        found("panel-widths", &card)
    };
    let n = |n: i64| Length::inches(n, 32);
    assert!(widths([n(118), n(118), n(116)]).is_empty());
    assert!(widths([n(116), n(118), n(118)]).is_empty(), "the left one may fold in as well");
    let equal = widths([Length::inches(11, 3), Length::inches(11, 3), Length::inches(11, 3)]);
    one(&equal, Severity::Error, &["shorter by 0 in", "at least 0.0313 in"]);
    let thick = widths([n(120), n(120), n(112)]);
    one(&thick, Severity::Warning, &["at most 0.125 in"]);
    let sum = widths([n(118), n(118), n(115)]);
    one(&sum, Severity::Error, &["add up to", "0.0313 in"]);
}

#[test]
fn panel_widths_of_the_other_folds() {
    for kind in [FoldKind::Half, FoldKind::Accordion, FoldKind::Gate] {
        assert!(found("panel-widths", &card_of(6.0, 12.0, kind)).is_empty(), "{kind:?}");
    }
    let mut half = card();
    half.format.fold.panels = vec![Length::inches(97, 16), Length::inches(95, 16)];
    one(&found("panel-widths", &half), Severity::Error, &["differ by 0.125 in", "move the fold by 0.0625 in"]);
}

#[test]
fn flat_size_against_the_name() {
    let trimmed = |width: f64, height: f64| {
        let mut card = card();
        card.faces.truncate(1);
        card.faces[0].boxes.trim = Size::new(Length::from_in(width), Length::from_in(height)).at_origin();
        found("flat-size", &card)
    };
    assert!(trimmed(12.0 + 1.0 / 64.0, 6.0).is_empty());
    one(&trimmed(12.02, 6.0), Severity::Error, &["6 x 12.02 in", "6 x 12 in", "-0.02 in"]);
    one(&trimmed(6.0, 12.0), Severity::Error, &["quarter turn"]);
    let mut card = card();
    card.faces[1].boxes.trim_from = "MediaBox";
    one(&found("flat-size", &card), Severity::Note, &["no TrimBox", "MediaBox"]);
}

#[test]
fn down_reading_has_its_top_at_the_left() {
    // Practice.
    let mut card = card();
    grid(&mut card, 0.75, 4, 0.3);
    assert!(found("down-reading", &card).is_empty());
    card.grid.as_mut().unwrap().direction = Direction::Down { top_at_left: true };
    assert!(found("down-reading", &card).is_empty());
    card.grid.as_mut().unwrap().direction = Direction::Down { top_at_left: false };
    one(&found("down-reading", &card), Severity::Warning, &["lies at the right"]);
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
fn overset_says_by_how_much() {
    let mut card = card();
    assert!(skipped("overset", &card).contains("artwork"));
    card.oversets.push(Overset {
        place: Place { side: Some(Inside), panel: Some(1), what: Some("row \"Heron\"".to_owned()), ..Place::default() },
        text: "Heron and Bracken".to_owned(),
        room: Length::inches(1, 1),
        needs: Length::inches(5, 4),
        in_height: false,
    });
    one(&found("overset", &card), Severity::Error, &["\"Heron and Bracken\"", "0.25 in (6.35 mm) too wide"]);
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
