//! The most pieces out of a sheet: published puzzles and sheet tables, an exhaustive search of small sheets, and the laws of a layout.

use std::collections::BTreeMap;

use fairfold::fault::Source;
use fairfold::sheet::{
    EFFORT, Grain, Gutters, Lie, MostUp, Press, SheetRange, SheetSize, Spacing, UpRequest, WorkStyle, equal_parts,
    most_up, sheets_out_of,
};
use fairfold::unit::{Length, Size, Turn, parse_size};
use proptest::prelude::*;

fn inches(w: i64, h: i64, d: i64) -> Size {
    Size::new(Length::inches(w, d), Length::inches(h, d))
}

/// Plain pieces in a room, one cut between neighbours.
fn plain(room: Size, trim: Size, lie: Lie) -> UpRequest {
    UpRequest { room, trim, bleed: Length::ZERO, spacing: Spacing::CommonCuts, lie, effort: EFFORT }
}

fn number(ask: &UpRequest) -> i64 {
    let found = most_up(ask).unwrap();
    assert!(found.proven(), "{} of at most {}", found.number(), found.bound);
    found.number()
}

#[test]
fn published_puzzle_of_one_grid_and_mixed() {
    // Published puzzle: 3 x 2 out of 13 x 8 gives 12 or 16 in one grid and 17 mixed.
    let (room, piece) = (inches(13, 8, 1), inches(3, 2, 1));
    assert_eq!(number(&plain(room, piece, Lie::OneWay(Turn::None))), 16);
    assert_eq!(number(&plain(room, piece, Lie::OneWay(Turn::Left))), 12);
    assert_eq!(number(&plain(room, piece, Lie::BetterWay)), 16);
    assert_eq!(number(&plain(room, piece, Lie::Mixed)), 17);
}

#[test]
fn published_sheet_tables() {
    // Published: 8.5 x 11 out of 23 x 35 gives 8, 12 x 18 out of 26 x 40 gives 4.
    assert_eq!(number(&plain(inches(23, 35, 1), inches(17, 22, 2), Lie::BetterWay)), 8);
    assert_eq!(sheets_out_of(inches(26, 40, 1), inches(12, 18, 1)).unwrap().number(), 4);
}

/// Gripper 3/8, tail 1/2, sides 1/4 in, piece = trim + 1/4 in, one grid | mixed: computed by exhaustive search outside this program.
#[test]
fn numbers_out_of_the_usual_sheets() {
    let press = Press { tail: Length::inches(1, 2), ..Press::default() };
    let table = [
        ("20x26", [(8, 8), (6, 6), (4, 4)]),
        ("23x35", [(8, 11), (6, 7), (5, 5)]),
        ("25x38", [(15, 15), (10, 10), (6, 7)]),
        ("28x40", [(16, 17), (12, 12), (8, 8)]),
    ];
    for (sheet, numbers) in table {
        for (card, (one_way, mixed)) in ["4.5 x 12 in", "6 x 12 in", "6 x 17 in"].into_iter().zip(numbers) {
            let size = SheetSize::parse(sheet, Source::Nowhere).unwrap().size;
            let bleed = Length::inches(1, 8);
            let ask = |lie| UpRequest {
                room: press.printable(size, WorkStyle::OneSide).size(),
                trim: parse_size(card).unwrap(),
                bleed,
                spacing: Spacing::Gutters(Gutters::all(bleed * 2)),
                lie,
                effort: EFFORT,
            };
            assert_eq!(number(&ask(Lie::BetterWay)), one_way, "{card} out of {sheet}, one way");
            assert_eq!(number(&ask(Lie::Mixed)), mixed, "{card} out of {sheet}, mixed");
            assert_eq!(most_up(&ask(Lie::Mixed)).unwrap().mixed(), mixed > one_way, "{card} out of {sheet}");
        }
    }
}

#[test]
fn a_search_that_is_cut_short_says_what_it_may_miss() {
    // A stamp of 7 x 11 mm out of 700 x 1000 mm: more places than 10 000 steps can look at.
    let mm = |w, h| Size::new(Length::mm(w), Length::mm(h));
    let ask = UpRequest { effort: 10_000, ..plain(mm(700, 1000), mm(7, 11), Lie::Mixed) };
    let found = most_up(&ask).unwrap();
    // 700 x 1000 mm² hold 9090 times 7 x 11 mm² by area; one grid alone gives 100 x 90.
    assert_eq!(found.bound, 9090);
    assert!((9000..=9090).contains(&found.number()), "{}", found.number());
}

#[test]
fn a_small_piece_of_a_large_sheet_is_still_proven() {
    // 2 x 3.5 in out of 28 x 40 in: 14 x 11 = 154 upright is 1078 of 1120 in²; 8 x 20 = 160 turned is the whole area.
    assert_eq!(number(&plain(inches(28, 40, 1), inches(4, 7, 2), Lie::Mixed)), 160);
}

#[test]
fn what_is_no_piece_is_refused() {
    let room = inches(13, 8, 1);
    assert!(most_up(&plain(room, Size::default(), Lie::Mixed)).is_err());
    let narrow = UpRequest {
        bleed: Length::inches(1, 8),
        spacing: Spacing::Gutters(Gutters::all(Length::inches(1, 8))),
        ..plain(room, inches(3, 2, 1), Lie::Mixed)
    };
    assert!(most_up(&narrow).unwrap_err().to_string().contains("narrower than two bleeds"));
    assert_eq!(most_up(&plain(inches(1, 1, 1), inches(3, 2, 1), Lie::Mixed)).unwrap().number(), 0);
}

#[test]
fn parents_are_cut_down_to_what_the_press_takes() {
    // 26 x 40 halved along the long side is 26 x 20, quartered 13 x 20: the usual cuts of the trade (common practice).
    let range = SheetRange { least: inches(8, 10, 1), most: inches(20, 26, 1) };
    let cuts = equal_parts(inches(26, 40, 1), &range);
    let found = |sheet: Size, out: i64| cuts.iter().find(|c| c.sheet == sheet && c.out() == out);
    assert!(cuts.iter().all(|c| c.out() > 1), "the whole parent is too large");
    let half = found(inches(26, 20, 1), 2).unwrap();
    found(inches(13, 20, 1), 4).unwrap();
    // Grain long on the parent runs along 40; on the half sheet that is its short side, on the quarter its long one again.
    assert_eq!(half.grain(Grain::Long), Grain::Short);
    assert_eq!(found(inches(13, 20, 1), 4).unwrap().grain(Grain::Long), Grain::Long);
}

/// Every edge-to-edge cut at every whole unit, both ways of lying: slow, and without any thought.
fn exhaustive(w: i64, h: i64, piece: (i64, i64), known: &mut BTreeMap<(i64, i64), i64>) -> i64 {
    if let Some(n) = known.get(&(w, h)) {
        return *n;
    }
    let fits = |a: i64, b: i64| w >= a && h >= b;
    let mut best = i64::from(fits(piece.0, piece.1) || fits(piece.1, piece.0));
    for x in 1..w {
        best = best.max(exhaustive(x, h, piece, known) + exhaustive(w - x, h, piece, known));
    }
    for y in 1..h {
        best = best.max(exhaustive(w, y, piece, known) + exhaustive(w, h - y, piece, known));
    }
    known.insert((w, h), best);
    best
}

fn laws(ask: &UpRequest, found: &MostUp, gutters: Gutters) {
    let placed = found.placed(ask.room.at_origin());
    assert_eq!(i64::try_from(placed.len()).unwrap(), found.number());
    for (n, (trim, turn)) in placed.iter().enumerate() {
        assert!(ask.room.at_origin().contains(trim.grown(ask.bleed)), "a bleed leaves the room");
        assert_eq!(trim.size(), ask.trim.turned(*turn));
        for (other, _) in &placed[n + 1..] {
            let apart = |a: Length, b: Length, c: Length, d: Length, gutter| a >= d + gutter || c >= b + gutter;
            assert!(
                apart(trim.x0, trim.x1, other.x0, other.x1, gutters.across)
                    || apart(trim.y0, trim.y1, other.y0, other.y1, gutters.up),
                "{trim:?} and {other:?} are too near"
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn small_sheets_agree_with_the_exhaustive_search(w in 1_i64..26, h in 1_i64..26, a in 1_i64..8, b in 1_i64..8) {
        let mm = |w, h| Size::new(Length::mm(w), Length::mm(h));
        let found = number(&plain(mm(w, h), mm(a, b), Lie::Mixed));
        prop_assert_eq!(found, exhaustive(w, h, (a, b), &mut BTreeMap::new()));
    }

    #[test]
    fn layouts_keep_their_spacing_and_their_room(
        (w, h) in (200_i64..900, 200_i64..900),
        (a, b) in (40_i64..300, 40_i64..300),
        (bleed, across, up) in (0_i64..4, 0_i64..6, 0_i64..6),
        common in any::<bool>(),
        effort in proptest::sample::select(vec![EFFORT, 3000]),
    ) {
        let mm = |w, h| Size::new(Length::mm(w), Length::mm(h));
        let bleed = Length::mm(bleed);
        let gutters = Gutters { across: bleed * 2 + Length::mm(across), up: bleed * 2 + Length::mm(up) };
        let spacing = if common { Spacing::CommonCuts } else { Spacing::Gutters(gutters) };
        let gutters = if common { Gutters::all(Length::ZERO) } else { gutters };
        let ask = |lie| UpRequest { room: mm(w, h), trim: mm(a, b), bleed, spacing, lie, effort };
        let mixed = most_up(&ask(Lie::Mixed)).unwrap();
        let one_way = most_up(&ask(Lie::BetterWay)).unwrap();
        prop_assert!(mixed.number() >= one_way.number() && !one_way.mixed() && one_way.proven());
        prop_assert!(mixed.bound >= mixed.number());
        laws(&ask(Lie::Mixed), &mixed, gutters);
        laws(&ask(Lie::BetterWay), &one_way, gutters);
    }
}
