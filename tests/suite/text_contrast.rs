//! The contrast of text against its ground, through the profile of the print condition, on cards built by hand.
//!
//! Expected ratios are worked out here from WCAG 2.2 (relative luminance, ratio) and the CIE definition of L*, and for
//! process inks from the measured data of CGATS TR 006.

use fairfold::card::{Card, Mark, Paint, PaintSpace, PatternPaint, PictureSpace};
use fairfold::check::{CHECKS, Finding, Limits, Outcome, Severity, run_one};
use fairfold::ink::Colour;

use super::hand_card::{Inside, card, cmyk, fill, last_run, paint, picture, rect, text};

fn found(card: &Card) -> Vec<Finding> {
    let check = CHECKS.iter().find(|c| c.id == "text-contrast").unwrap();
    match run_one(check, card, &Limits::default()).unwrap() {
        Outcome::Clean => Vec::new(),
        Outcome::Found(found) => found,
        other => panic!("it did not run: {other:?}"),
    }
}

/// Relative luminance of a lightness (CIE 15, ISO 11664-4), L* above 8.
fn luminance(l: f64) -> f64 {
    ((l + 16.0) / 116.0).powi(3)
}

/// WCAG 2.2: (L1 + 0.05) / (L2 + 0.05).
fn ratio(light: f64, dark: f64) -> f64 {
    (luminance(light) + 0.05) / (luminance(dark) + 0.05)
}

fn measured(finding: &Finding) -> f64 {
    finding.reading.unwrap().measured().value()
}

/// Text of a colour on a ground, over a tenth of the panel.
fn set(size: f64, colour: Colour, ground: Option<Colour>) -> Card {
    let mut card = card();
    if let Some(ground) = ground {
        fill(&mut card, Inside, rect(1.0, 1.0, 5.0, 4.0), ground);
    }
    text(&mut card, Inside, "385", size, (2.0, 2.0), colour);
    card
}

#[test]
fn yellow_figures_on_paper_and_black_ones_on_yellow() {
    // TR006 coated: paper L* 95, yellow L* 88.94, black L* 14.95; the profile keeps to its data within 0.6 Delta E.
    let yellow = cmyk(0.0, 0.0, 100.0, 0.0);
    let found_on_paper = found(&set(9.0, yellow.clone(), None));
    assert_eq!(found_on_paper.len(), 1);
    assert_eq!(found_on_paper[0].severity, Severity::Error);
    let want = ratio(95.0, 88.94);
    assert!((measured(&found_on_paper[0]) - want).abs() < 0.02, "{} is not {want}", measured(&found_on_paper[0]));
    assert!(found_on_paper[0].message.contains("on bare paper"), "{}", found_on_paper[0].message);
    assert!(
        found_on_paper[0].advice.contains("black on a fill of the text's colour reads"),
        "{}",
        found_on_paper[0].advice
    );
    assert!(found(&set(9.0, Colour::BLACK, Some(yellow))).is_empty());
    assert!(found(&set(9.0, Colour::BLACK, None)).is_empty());
}

#[test]
fn the_limit_is_four_and_a_half_and_three_for_large_or_bold_type() {
    let gray = |l: f64| Colour::Lab([l, 0.0, 0.0]);
    // Both sides of each limit on a ground of L* 90.
    let at = |want: f64| 116.0 * ((luminance(90.0) + 0.05) / want - 0.05).cbrt() - 16.0;
    let fails = |size: f64, bold: bool, l: f64| {
        let mut card = set(size, gray(l), Some(gray(90.0)));
        last_run(&mut card, Inside).bold = bold;
        !found(&card).is_empty()
    };
    for (size, bold, limit) in
        [(9.0, false, 4.5), (17.9, false, 4.5), (18.0, false, 3.0), (13.9, true, 4.5), (14.0, true, 3.0)]
    {
        assert!(!fails(size, bold, at(limit + 0.01)), "{size} pt, bold {bold}, just above {limit}");
        assert!(fails(size, bold, at(limit - 0.01)), "{size} pt, bold {bold}, just below {limit}");
    }
}

#[test]
fn what_lies_on_top_of_the_ground_is_what_counts() {
    let mut covered = set(9.0, Colour::BLACK, Some(cmyk(0.0, 0.0, 0.0, 90.0)));
    assert_eq!(found(&covered).len(), 1);
    // The same ground with a white box between it and the text.
    let face = covered.faces.iter_mut().find(|f| f.side == Inside).unwrap();
    let words = face.elements.pop().unwrap();
    fill(&mut covered, Inside, rect(1.9, 1.9, 3.0, 3.0), Colour::WHITE);
    covered.faces.iter_mut().find(|f| f.side == Inside).unwrap().elements.push(words);
    assert!(found(&covered).is_empty());
    // What is painted after the text is no ground of it.
    fill(&mut covered, Inside, rect(6.0, 1.0, 7.0, 2.0), Colour::BLACK);
    assert!(found(&covered).is_empty());
}

#[test]
fn text_half_on_a_dark_ground_is_judged_on_both() {
    let mut card = card();
    fill(&mut card, Inside, rect(1.0, 1.0, 2.1, 4.0), Colour::BLACK);
    text(&mut card, Inside, "Heron", 20.0, (2.0, 2.0), Colour::BLACK);
    let found = found(&card);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!((measured(&found[0]) - 1.0).abs() < 0.001);
}

#[test]
fn white_text_without_a_ground_is_lost() {
    let lost = found(&set(9.0, Colour::WHITE, None));
    assert!(lost[0].message.contains("bare paper on bare paper reads 1 : 1"), "{}", lost[0].message);
}

#[test]
fn text_over_a_picture_a_pattern_or_a_blend_is_said_not_to_be_judged() {
    let mut card = card();
    picture(&mut card, Inside, rect(1.0, 1.0, 5.0, 4.0), (2000, 1500), PictureSpace::Cmyk, 8);
    text(&mut card, Inside, "385", 9.0, (2.0, 2.0), Colour::BLACK);
    let space = PaintSpace { family: PictureSpace::Cmyk, calibrated: false };
    paint(&mut card, Inside, Mark::Shading(space), rect(7.0, 1.0, 9.0, 4.0));
    text(&mut card, Inside, "386", 9.0, (8.0, 2.0), Colour::BLACK);
    let ground = fill(&mut card, Inside, rect(9.0, 1.0, 11.0, 4.0), Colour::WHITE);
    let Mark::Path(path) = &mut ground.mark else { panic!() };
    path.fill = Some(Paint::Pattern(PatternPaint { kind: "tiling".to_owned(), spaces: Vec::new() }));
    text(&mut card, Inside, "387", 9.0, (10.0, 2.0), Colour::BLACK);
    let see_through = fill(&mut card, Inside, rect(7.0, 4.5, 9.0, 5.5), Colour::BLACK);
    see_through.blend.alpha_fill = 0.5;
    text(&mut card, Inside, "388", 9.0, (8.0, 5.0), Colour::BLACK);
    let found = found(&card);
    let said: Vec<&str> = found.iter().map(|f| f.message.as_str()).collect();
    assert_eq!(
        said,
        [
            "text over a picture was not judged",
            "text over a blend of colours was not judged",
            "text over a pattern was not judged",
            "text over something transparent was not judged",
        ]
    );
    assert!(found.iter().all(|f| f.severity == Severity::Note));
}

#[test]
fn black_that_overprints_is_judged_as_the_inks_together() {
    // Overprinting black on a dark green lies on top of it: both inks print, and neither stands out from the other.
    let green = cmyk(90.0, 40.0, 90.0, 60.0);
    let mut card = set(9.0, Colour::BLACK, Some(green));
    card.faces.iter_mut().flat_map(|f| &mut f.elements).last().unwrap().blend.overprint_fill = true;
    assert_eq!(found(&card).len(), 1);
}

#[test]
fn the_advice_is_something_that_reads_well_enough() {
    let advice = |text: Colour, ground: Colour| found(&set(9.0, text, Some(ground))).remove(0).advice;
    // On a deep green bare paper reads, on yellow black does.
    assert!(advice(Colour::BLACK, cmyk(90.0, 40.0, 90.0, 60.0)).starts_with("set it in bare paper, which reads"));
    assert!(advice(Colour::WHITE, cmyk(0.0, 0.0, 100.0, 0.0)).starts_with("set it in black, which reads"));
    // On a middle gray neither does as it is: what the advice names must pass when it is done.
    let told = advice(Colour::WHITE, cmyk(0.0, 0.0, 0.0, 58.0));
    let share: f64 = told.split_once("lighten the ground to ").unwrap().1.split(' ').next().unwrap().parse().unwrap();
    assert!(found(&set(9.0, Colour::BLACK, Some(cmyk(0.0, 0.0, 0.0, 58.0 * share / 100.0)))).is_empty(), "{told}");
    // On a middle orange bare paper nearly does.
    let told = advice(Colour::WHITE, cmyk(10.0, 60.0, 90.0, 20.0));
    let more: f64 = told.split_once("give the ground ").unwrap().1.split(' ').next().unwrap().parse().unwrap();
    assert!(found(&set(9.0, Colour::WHITE, Some(cmyk(10.0, 60.0, 90.0, 20.0 + more)))).is_empty(), "{told}");
}
