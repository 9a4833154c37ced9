//! The room there is: to write, to trim, to fold and to hold, on cards built by hand. For each check a clean case, a found
//! one that is the clean one plus one change, and the edge between them. Limits are those of the sources named beside
//! them, not of the program.

use fairfold::card::{Card, Direction, FoldKind, Overset, PictureSpace, Place};
use fairfold::check::Severity;
use fairfold::ink::Colour;
use fairfold::unit::{Length, Size};

use super::hand_card::{Inside, Outside, card, card_of, cmyk, fill, grid, picture, rect, spot, text};
use super::one_check::{found, one, skipped};

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
