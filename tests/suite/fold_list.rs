//! Fold and score lists: published widths, the thresholds of the trade, and a strip of paper folded panel by panel.

use fairfold::card::{Fold, FoldKind, Format, Side};
use fairfold::fault::Source;
use fairfold::ink::Ink;
use fairfold::sheet::{
    CAUTION, FoldList, FoldWay, Grain, GripperEdge, LayoutRequest, MarkSet, Press, Rows, Score, ScoreWhy, SheetSize,
    Stock, Unsure, WorkStyle, fold_list, lay_out, one_up,
};
use fairfold::unit::{Length, Size, Turn};
use proptest::prelude::*;

fn inch(n: i64, d: i64) -> Length {
    Length::inches(n, d)
}

fn format(flat: Size, kind: FoldKind, count: usize, allowance: Length) -> Format {
    Format { flat, bleed: inch(1, 8), safe: inch(1, 8), fold: Fold::usual(kind, flat, count, allowance) }
}

fn list(format: &Format) -> FoldList {
    fold_list(format, &Stock::default(), None).unwrap()
}

#[test]
fn a_letter_fold_has_the_published_widths_and_its_short_panel_goes_in_first() {
    // Published example: 11 in letter fold is 3.6875, 3.6875, 3.625; the short panel folds inside, and so first.
    let list = list(&format(Size::new(inch(11, 1), inch(17, 2)), FoldKind::Letter, 3, inch(1, 16)));
    assert_eq!(list.panels, [inch(59, 16), inch(59, 16), inch(29, 8)]);
    let folds: Vec<_> = list.folds.iter().map(|fold| (fold.from_left.to_in(), fold.way, fold.step)).collect();
    assert_eq!(folds, [(3.6875, FoldWay::Inwards, 2), (7.375, FoldWay::Inwards, 1)]);
    assert_eq!(list.folds[0].from_left_outside, inch(117, 16));
    assert_eq!(
        list.words(),
        [
            "Panels, inside up, left to right: 3.6875 in (93.66 mm) | 3.6875 in (93.66 mm) | 3.625 in (92.08 mm).",
            "Fold 1: 7.375 in (187.33 mm) from the left, inwards, inside to inside.",
            "Fold 2: 3.6875 in (93.66 mm) from the left, inwards, inside to inside.",
            "Score: try a fold first: neither weight nor thickness of the stock is stated; how the folds run to the grain is not known.",
        ]
    );
    assert!(CAUTION.contains("trained operators"));
}

#[test]
fn a_letter_fold_with_its_short_panel_at_the_left_starts_there() {
    let flat = Size::new(inch(11, 1), inch(17, 2));
    let mut card = format(flat, FoldKind::Letter, 3, inch(1, 16));
    card.fold.panels.reverse();
    assert_eq!(list(&card).folds.iter().map(|fold| fold.step).collect::<Vec<_>>(), [1, 2]);
}

#[test]
fn an_accordion_goes_to_and_fro() {
    let list = list(&format(Size::new(inch(16, 1), inch(6, 1)), FoldKind::Accordion, 4, Length::ZERO));
    let folds: Vec<_> = list.folds.iter().map(|fold| (fold.from_left.to_in(), fold.way)).collect();
    assert_eq!(folds, [(4.0, FoldWay::Inwards), (8.0, FoldWay::Outwards), (12.0, FoldWay::Inwards)]);
}

#[test]
fn a_card_without_a_fold_says_so() {
    let list = list(&format(Size::new(inch(8, 1), inch(6, 1)), FoldKind::None, 1, Length::ZERO));
    assert!(list.folds.is_empty() && list.score.is_none());
    assert_eq!(list.words()[1], "No fold.");
}

#[test]
fn scores_follow_weight_thickness_and_grain() {
    // Published and common practice: above about 150 g/m² or 0.005 in, or across the grain.
    let card = format(Size::new(inch(12, 1), inch(6, 1)), FoldKind::Half, 2, Length::ZERO);
    let score = |gsm, caliper, across| {
        fold_list(&card, &Stock { gsm, caliper, ..Stock::default() }, across).unwrap().score.unwrap()
    };
    let thick = inch(9, 1000);
    assert_eq!(score(Some(150.0), None, Some(false)), Score::None);
    assert_eq!(score(Some(216.0), None, Some(false)), Score::First(vec![ScoreWhy::Heavy(216.0)]));
    assert_eq!(score(None, Some(inch(5, 1000)), Some(false)), Score::None);
    assert_eq!(
        score(Some(216.0), Some(thick), Some(true)),
        Score::First(vec![ScoreWhy::Heavy(216.0), ScoreWhy::Thick(thick), ScoreWhy::AcrossGrain])
    );
    assert_eq!(score(Some(90.0), None, Some(true)), Score::First(vec![ScoreWhy::AcrossGrain]));
    assert_eq!(score(Some(90.0), None, None), Score::Unsure(vec![Unsure::Grain]));
    assert_eq!(score(None, None, Some(false)), Score::Unsure(vec![Unsure::Weight]));
    assert_eq!(
        score(Some(216.0), None, Some(true)).to_string(),
        "score first, the bead on the inside of the fold: 216 g/m² is above 150 g/m²; the folds run across the grain"
    );
}

#[test]
fn the_lay_of_a_sheet_tells_how_folds_run_to_the_grain() {
    let card = format(Size::new(inch(12, 1), inch(6, 1)), FoldKind::Half, 2, Length::ZERO);
    // A sheet that lies on its long side: grain short runs up it, and so do the folds of an upright card.
    for (grain, turn, across) in [
        (Grain::Short, Turn::None, false),
        (Grain::Short, Turn::Left, true),
        (Grain::Long, Turn::None, true),
        (Grain::Long, Turn::Left, false),
    ] {
        let ask = LayoutRequest {
            format: &card,
            faces: &[Side::Outside, Side::Inside],
            sheet: SheetSize::parse("23x35", Source::Nowhere).unwrap().lying(GripperEdge::Long),
            stock: Stock { grain: Some(grain), gsm: Some(90.0), ..Stock::default() },
            press: Press::default(),
            style: WorkStyle::Sheetwise,
            gutters: None,
            rows: Rows::HeadToHead,
            turn: Some(turn),
            marks: MarkSet::NONE,
            inks: &Ink::PROCESS,
        };
        let want = if across { Score::First(vec![ScoreWhy::AcrossGrain]) } else { Score::None };
        assert_eq!(FoldList::of_sheet(&lay_out(&ask).unwrap()).unwrap().score, Some(want), "{grain:?} {turn:?}");
        let alone = FoldList::of_sheet(&one_up(&ask).unwrap()).unwrap();
        assert_eq!(alone.score, Some(Score::Unsure(vec![Unsure::Grain])), "another printer's sheet");
    }
}

#[test]
fn panels_that_are_no_fold_are_refused() {
    let told = |kind, panels: &[Length]| {
        let fold = Fold { kind, panels: panels.to_vec() };
        let card = Format { fold, ..format(Size::new(inch(12, 1), inch(6, 1)), FoldKind::None, 1, Length::ZERO) };
        fold_list(&card, &Stock::default(), None).unwrap_err().to_string()
    };
    assert!(told(FoldKind::Half, &[inch(12, 1)]).contains("a half fold has two panels, and the card has 1"));
    assert!(
        told(FoldKind::Half, &[inch(6, 1), inch(5, 1)]).contains("add up to 11 in (279.4 mm), and the card is 12 in")
    );
    assert!(told(FoldKind::Half, &[inch(12, 1), Length::ZERO]).contains("panel 2 has no width"));
    assert!(told(FoldKind::None, &[]).contains("one panel, and the card has 0"));
}

/// Lays a strip down fold by fold: where every panel lies when all folds are closed, from the left edge of the first.
fn folded(panels: &[Length]) -> Vec<(Length, Length)> {
    let (mut x, mut right) = (Length::ZERO, true);
    let mut places = Vec::new();
    for width in panels {
        let to = if right { x + *width } else { x - *width };
        places.push((x.min(to), x.max(to)));
        (x, right) = (to, !right);
    }
    places
}

proptest! {
    #[test]
    fn folds_lie_between_their_panels_and_nothing_stands_out(
        width in 40_i64..200, kind in 0_usize..4, count in 2_usize..8, allowance in 0_i64..5
    ) {
        let kind = [FoldKind::Half, FoldKind::Letter, FoldKind::Accordion, FoldKind::Gate][kind];
        let flat = Size::new(inch(width, 8), inch(6, 1));
        let list = list(&format(flat, kind, count, inch(allowance, 32)));
        // Measured from one end panel by panel, every fold stands where the list says, seen from either face.
        let mut x = Length::ZERO;
        for (panel, fold) in list.panels.iter().zip(&list.folds) {
            x += *panel;
            prop_assert_eq!((fold.from_left, fold.from_left + fold.from_left_outside), (x, flat.width));
        }
        prop_assert_eq!(list.folds.len() + 1, list.panels.len());
        let mut steps: Vec<usize> = list.folds.iter().map(|fold| fold.step).collect();
        steps.sort_unstable();
        prop_assert_eq!(steps, (1..=list.folds.len()).collect::<Vec<_>>());
        let places = folded(&list.panels);
        match kind {
            // The flaps of a gate lie over the middle and not over each other; both go inwards.
            FoldKind::Gate => {
                prop_assert!(places[0].1 - places[0].0 + (places[2].1 - places[2].0) <= list.panels[1]);
                prop_assert!(list.folds.iter().all(|fold| fold.way == FoldWay::Inwards));
            }
            // What is folded in first lies inside: it is no wider than what closes over it.
            FoldKind::Letter => {
                let first = list.folds.iter().position(|fold| fold.step == 1).unwrap();
                let (inner, outer) = if first == 0 { (places[0], places[2]) } else { (places[2], places[0]) };
                prop_assert!(inner.1 - inner.0 <= outer.1 - outer.0);
            }
            // To and fro: all panels lie on one another, but for what a division leaves over.
            _ => for place in places {
                prop_assert!(place.0 >= Length::units(-8) && place.1 <= list.panels[0] + Length::units(8));
            },
        }
    }
}
