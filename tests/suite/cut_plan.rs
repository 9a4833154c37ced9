//! Cut plans, replayed by a guillotine of rectangles that knows nothing of the planner: every card comes out whole, once, at its trim;
//! nothing of the sheet is lost; the backgauge comes never too near. What is refused is judged by a search of every cut there is.

use fairfold::card::{Fold, FoldKind, Format, Side};
use fairfold::fault::Source;
use fairfold::ink::Ink;
use fairfold::sheet::{
    CutPlan, CutRequest, EFFORT, Edge, GripperEdge, Gutters, LEAST_GAUGE, LayoutRequest, Lie, MarkSet, PileFor, Press,
    Rows, SheetSize, Spacing, Stock, UpRequest, WorkStyle, cut_plan, lay_out, lifts, most_up,
};
use fairfold::unit::{Length, Rect, Size, Turn, parse_size};
use proptest::prelude::*;

fn inch(n: i64, d: i64) -> Length {
    Length::inches(n, d)
}

fn rect(x0: i64, y0: i64, x1: i64, y1: i64) -> Rect {
    Rect::new(inch(x0, 4), inch(y0, 4), inch(x1, 4), inch(y1, 4))
}

/// A pile on the table of the judge: where it was on the sheet, and how many quarters counter-clockwise it is turned by now.
#[derive(Clone, Copy, Debug)]
struct Piece {
    rect: Rect,
    quarters: i64,
}

impl Piece {
    /// Cuts with `gauge` of the pile behind the knife. A pile turned once to the left has the right edge of the sheet at the back.
    fn cut(self, gauge: Length) -> (Self, Self) {
        let r = self.rect;
        let (back, front) = match self.quarters {
            0 => (Rect { y0: r.y1 - gauge, ..r }, Rect { y1: r.y1 - gauge, ..r }),
            1 => (Rect { x0: r.x1 - gauge, ..r }, Rect { x1: r.x1 - gauge, ..r }),
            2 => (Rect { y1: r.y0 + gauge, ..r }, Rect { y0: r.y0 + gauge, ..r }),
            _ => (Rect { x1: r.x0 + gauge, ..r }, Rect { x0: r.x0 + gauge, ..r }),
        };
        (Self { rect: back, ..self }, Self { rect: front, ..self })
    }

    fn depth(self) -> Length {
        if self.quarters % 2 == 0 { self.rect.height() } else { self.rect.width() }
    }
}

fn area(rect: Rect) -> i128 {
    i128::from(rect.width().get()) * i128::from(rect.height().get())
}

/// Replays a plan and holds it to the sheet and its trims.
fn replay(plan: &CutPlan, ask: &CutRequest) {
    let sheet = ask.sheet.at_origin();
    let loaded = match plan.cuts.first().map(|cut| cut.edge) {
        Some(Edge::Right) => 1,
        Some(Edge::Bottom) => 2,
        Some(Edge::Left) => 3,
        _ => 0,
    };
    let mut table = std::collections::BTreeMap::from([(0, Piece { rect: sheet, quarters: loaded })]);
    for (n, cut) in plan.cuts.iter().enumerate() {
        assert!(!cut.partings.is_empty(), "cut {} cuts nothing", n + 1);
        assert!(cut.gauge >= ask.least_gauge, "cut {} at {}", n + 1, cut.gauge);
        for parting in &cut.partings {
            let mut pile = table.remove(&parting.pile).expect("the pile lies on the table");
            pile.quarters = (pile.quarters + parting.turn.degrees() / 90) % 4;
            assert!(Length::ZERO < cut.gauge && cut.gauge < pile.depth(), "cut {} misses its pile", n + 1);
            let (back, front) = pile.cut(cut.gauge);
            assert!(table.insert(parting.back, back).is_none() && table.insert(parting.front, front).is_none());
        }
        let good = table.values().filter(|piece| ask.trims.iter().any(|trim| piece.rect.intersect(*trim).is_some()));
        assert_eq!(good.count(), plan.piles_after(n + 1), "piles after cut {}", n + 1);
    }
    assert_eq!(table.values().map(|piece| area(piece.rect)).sum::<i128>(), area(sheet), "the sheet is all there");
    for (n, trim) in ask.trims.iter().enumerate() {
        let out: Vec<_> = table.iter().filter(|(_, piece)| piece.rect.intersect(*trim).is_some()).collect();
        let [(number, piece)] = out.as_slice() else { panic!("card {n} comes out in {} pieces", out.len()) };
        assert_eq!(piece.rect, *trim, "card {n} comes out at its trim");
        // What the plan says of its piles is what the judge saw.
        assert_eq!(plan.piles[**number].for_what, PileFor::Card(n));
        let way = plan.way_of(n);
        assert_eq!((way.first(), way.last()), (Some(&0), Some(*number)), "card {n} is traced");
    }
    for (number, piece) in &table {
        assert_eq!(plan.piles[*number].rect, piece.rect);
    }
    pile_by_pile(plan);
    let lines = plan.words();
    assert!(lines.iter().enumerate().all(|(n, line)| line.starts_with(&format!("{}. ", n + 1))));
    for line in plan.drawing() {
        let stroke = Rect::new(line.from.x, line.from.y, line.to.x, line.to.y);
        let through = |t: &Rect| stroke.x0 < t.x1 && t.x0 < stroke.x1 && stroke.y0 < t.y1 && t.y0 < stroke.y1;
        assert!(!ask.trims.iter().any(through), "{line:?} goes through a card");
    }
}

/// All cuts of one way on a pile come one after the other, the largest gauge first from either edge, with half a turn between at most.
fn pile_by_pile(plan: &CutPlan) {
    for pair in plan.cuts.windows(2) {
        let [one, next] = pair else { continue };
        let goes_on = next.partings.iter().all(|parting| one.partings.iter().any(|before| before.back == parting.pile));
        let level = |edge: Edge| edge.level();
        if goes_on && level(one.edge) == level(next.edge) {
            assert!(one.edge != next.edge || one.gauge > next.gauge, "{one:?} then {next:?}");
        } else {
            // The piles that were under the knife have no cut left this way.
            for parting in &one.partings {
                let again = |cut: &&fairfold::sheet::Cut| cut.partings.iter().any(|p| p.pile == parting.back);
                let later = plan.cuts.iter().find(again);
                assert!(later.is_none_or(|cut| level(cut.edge) != level(one.edge)), "{one:?} is left off");
            }
        }
    }
}

fn planned(sheet: Size, trims: &[Rect], least_gauge: Length) -> CutPlan {
    let ask = CutRequest { sheet, trims, least_gauge };
    let plan = cut_plan(&ask).unwrap_or_else(|faults| panic!("{faults}"));
    replay(&plan, &ask);
    plan
}

const CARDS: [&str; 3] = ["4.5 x 12 in", "6 x 12 in", "6 x 17 in"];
const SHEETS: [&str; 4] = ["20x26", "23x35", "25x38", "28x40"];

/// The trims of what `most_up` finds, in the middle of what a usual press prints.
fn most(sheet: Size, card: &str, bleed: Length, spacing: Spacing, lie: Lie) -> Vec<Rect> {
    let printable = Press::default().printable(sheet, WorkStyle::OneSide);
    let trim = parse_size(card).unwrap();
    let ask = UpRequest { room: printable.size(), trim, bleed, spacing, lie, effort: EFFORT };
    most_up(&ask).unwrap().placed(printable).into_iter().map(|(trim, _)| trim).collect()
}

#[test]
fn planned_sheets_come_apart_into_their_cards() {
    for sheet in SHEETS {
        for card in CARDS {
            for edge in [GripperEdge::Long, GripperEdge::Short] {
                let flat = parse_size(card).unwrap();
                let fold = Fold::usual(FoldKind::Half, flat, 2, inch(1, 32));
                let format = Format { flat, bleed: inch(1, 8), safe: inch(1, 8), fold };
                let laid = lay_out(&LayoutRequest {
                    format: &format,
                    faces: &[Side::Outside, Side::Inside],
                    sheet: SheetSize::parse(sheet, Source::Nowhere).unwrap().lying(edge),
                    stock: Stock::default(),
                    press: Press::default(),
                    style: WorkStyle::Sheetwise,
                    gutters: None,
                    rows: Rows::HeadToFoot,
                    turn: None,
                    marks: MarkSet::NONE,
                    inks: &Ink::PROCESS,
                })
                .unwrap();
                let plan = CutPlan::of_sheet(&laid, LEAST_GAUGE).unwrap();
                let trims: Vec<Rect> = laid.forms[0].stations.iter().map(|station| station.trim).collect();
                replay(&plan, &CutRequest { sheet: laid.size, trims: &trims, least_gauge: LEAST_GAUGE });
                // A grid with gutters has two cuts for every row and every column, and needs no more settings than these.
                assert_eq!(plan.cuts.len(), 2 * (laid.columns + laid.rows), "{card} on {sheet}");
                assert!(matches!(plan.cuts[0].edge, Edge::Bottom | Edge::Left), "{card} on {sheet}");
            }
        }
    }
}

#[test]
fn the_most_cards_of_a_sheet_come_apart() {
    for sheet in SHEETS {
        let sheet = SheetSize::parse(sheet, Source::Nowhere).unwrap().size;
        for card in CARDS {
            let bleed = inch(1, 8);
            let gutters = Spacing::Gutters(Gutters::all(bleed * 2));
            for (bleed, spacing) in [(bleed, gutters), (Length::ZERO, Spacing::CommonCuts)] {
                for lie in [Lie::BetterWay, Lie::Mixed] {
                    planned(sheet, &most(sheet, card, bleed, spacing, lie), LEAST_GAUGE);
                }
            }
        }
    }
}

#[test]
fn a_sheet_of_two_by_two_worked_by_hand() {
    // 20 x 16 in, four trims of 9 x 7 in, gripper margin 3/4, side margin 3/4, gutters 1/4 in. From the gripper edge: upper row's head
    // 15, its foot 8, lower row's head 7.75; the foot at 0.75 is too near, so half round: 7 is left behind the knife. From the guide
    // edge 19, 10, 9.75, and half round 9.
    let trims: Vec<Rect> = [(3, 3), (40, 3), (3, 32), (40, 32)].map(|(x, y)| rect(x, y, x + 36, y + 28)).to_vec();
    let plan = planned(Size::new(inch(20, 1), inch(16, 1)), &trims, inch(1, 1));
    let settings: Vec<(Edge, f64, usize)> =
        plan.cuts.iter().map(|cut| (cut.edge, cut.gauge.to_in(), cut.partings.len())).collect();
    let want = [
        (Edge::Bottom, 15.0, 1),
        (Edge::Bottom, 8.0, 1),
        (Edge::Bottom, 7.75, 1),
        (Edge::Top, 7.0, 1),
        (Edge::Left, 19.0, 2),
        (Edge::Left, 10.0, 2),
        (Edge::Left, 9.75, 2),
        (Edge::Right, 9.0, 2),
    ];
    assert_eq!(settings, want);
    // The lower row half round and each row a quarter, then half round.
    assert_eq!((plan.turns(), plan.strokes()), (1 + 2 + 2, 12));
    let turns: Vec<Turn> = plan.cuts[4].partings.iter().map(|parting| parting.turn).collect();
    assert_eq!(turns, [Turn::Left, Turn::Right], "what lay gripper to the back, and what lay tail to the back");
    assert_eq!(plan.words(), HAND_WORDS);
    let fifth: Vec<_> = plan.drawing().into_iter().filter(|line| line.number == 5).collect();
    let [line] = fifth.as_slice() else { panic!("one line for both rows: {fifth:?}") };
    assert_eq!((line.from.x, line.from.y, line.to.y), (inch(19, 1), inch(3, 4), inch(15, 1)));
}

/// Written by hand from the drawing of that sheet, before the plan was made.
const HAND_WORDS: [&str; 8] = [
    "1. Load face up: gripper side to the backgauge, guide side on the right. At 15 in (381 mm): waste falls in front. 1 pile on the table.",
    "2. The pile at 8 in (203.2 mm): cards 3, 4 in front, to be cut on. 2 piles on the table.",
    "3. The pile of cards 1, 2 at 7.75 in (196.85 mm): waste falls in front. 2 piles on the table.",
    "4. Turn the pile of cards 1, 2 half round: tail side to the backgauge, guide side on the left. At 7 in (177.8 mm): waste falls in front. 2 piles on the table.",
    "5. Turn both piles: guide side to the backgauge, gripper side on the left. At 19 in (482.6 mm): waste falls in front. 2 piles on the table.",
    "6. Both piles at 10 in (254 mm): finished cards 2, 4. 4 piles on the table.",
    "7. Both piles at 9.75 in (247.65 mm): waste falls in front. 4 piles on the table.",
    "8. Turn both piles half round: side away from the guide to the backgauge, gripper side on the right. At 9 in (228.6 mm): waste falls in front; finished cards 1, 3. 4 piles on the table.",
];

#[test]
fn trims_that_touch_share_one_cut() {
    // Three by two with no gutters, margins of 1 in all round: one cut for each row and column, and one more.
    let trims: Vec<Rect> =
        (0..6).map(|n| rect(4 + n % 3 * 12, 4 + n / 3 * 16, 16 + n % 3 * 12, 20 + n / 3 * 16)).collect();
    let plan = planned(Size::new(inch(11, 1), inch(10, 1)), &trims, inch(1, 1));
    assert_eq!(plan.cuts.len(), 3 + 4);
    // With a nearer edge at 1 in, everything is measured from the true edges; the knife need not wait for half a turn.
    assert!(plan.cuts.iter().all(|cut| matches!(cut.edge, Edge::Bottom | Edge::Left)));
}

#[test]
fn four_round_a_pin_cannot_be_cut() {
    let pinwheel = [rect(0, 0, 20, 8), rect(20, 0, 28, 20), rect(8, 20, 28, 28), rect(0, 8, 8, 28)];
    let sheet = Size::new(inch(7, 1), inch(7, 1));
    let fault = cut_plan(&CutRequest { sheet, trims: &pinwheel, least_gauge: LEAST_GAUGE }).unwrap_err().to_string();
    assert!(fault.contains("no cut from edge to edge"), "{fault}");
    assert!(fault.contains("lay them in a grid"), "{fault}");
}

#[test]
fn what_is_no_layout_is_refused() {
    let sheet = Size::new(inch(7, 1), inch(7, 1));
    let told = |trims: &[Rect], least_gauge| {
        cut_plan(&CutRequest { sheet, trims, least_gauge }).map(|_| ()).unwrap_err().to_string()
    };
    assert!(told(&[], LEAST_GAUGE).contains("no card on the sheet"));
    assert!(told(&[rect(4, 4, 30, 8)], LEAST_GAUGE).contains("trim 1 does not lie on the sheet of 7 x 7 in"));
    assert!(told(&[rect(4, 4, 4, 8)], LEAST_GAUGE).contains("trim 1 does not lie"));
    assert!(told(&[rect(0, 0, 12, 12), rect(8, 8, 20, 20)], LEAST_GAUGE).contains("trims 1 and 2 overlap"));
    // Two strips of 3.5 in, and a backgauge that comes no nearer than 4 in.
    let fault = told(&[rect(0, 0, 28, 14), rect(0, 14, 28, 28)], inch(4, 1));
    assert!(
        fault.contains("at a gauge of 3.5 in (88.9 mm)") && fault.contains("no nearer to the knife than 4 in"),
        "{fault}"
    );
}

#[test]
fn narrow_strips_fall_before_the_knife() {
    // Strips of 1/2 in beside one of 6 in, which alone can be left to the last: at either end, and in the middle.
    for wide in 0..4_i64 {
        let mut x = 0;
        let mut trims = Vec::new();
        for n in 0..4 {
            let end = x + if n == wide { 24 } else { 2 };
            trims.push(rect(x, 0, end, 28));
            x = end;
        }
        planned(Size::new(inch(x, 4), inch(7, 1)), &trims, inch(1, 1));
    }
}

#[test]
fn a_run_is_cut_in_lifts() {
    // A stock of 0.010 in, 3 in high: 300 sheets a lift; 5000 sheets are 16 lifts of 300 and one of 200.
    let run = lifts(5000, inch(1, 100), inch(3, 1)).unwrap();
    assert_eq!((run.count, run.each, run.last), (17, 300, 200));
    assert_eq!(run.to_string(), "17 lifts of 300 sheets, the last of 200");
    assert_eq!(lifts(600, inch(1, 100), inch(3, 1)).unwrap().to_string(), "2 lifts of 300 sheets");
    assert_eq!(lifts(0, inch(1, 100), inch(3, 1)).unwrap().count, 0);
    assert!(lifts(600, Length::ZERO, inch(3, 1)).unwrap_err().to_string().contains("has no thickness"));
    assert!(lifts(600, inch(4, 1), inch(3, 1)).is_err());
}

/// Whether any order of edge-to-edge cuts parts the trims: every cut at every trim's edge is tried, without any thought.
fn can_be_parted(trims: &[Rect]) -> bool {
    let parts = |low: Vec<Rect>, high: Vec<Rect>| {
        low.len() + high.len() == trims.len()
            && !low.is_empty()
            && !high.is_empty()
            && can_be_parted(&low)
            && can_be_parted(&high)
    };
    let among = |keep: &dyn Fn(&Rect) -> bool| trims.iter().copied().filter(|trim| keep(trim)).collect::<Vec<_>>();
    trims.len() < 2
        || trims.iter().any(|at| {
            parts(among(&|t| t.x1 <= at.x1), among(&|t| t.x0 >= at.x1))
                || parts(among(&|t| t.y1 <= at.y1), among(&|t| t.y0 >= at.y1))
        })
}

/// Parts a room at random, edge to edge; every part holds one trim that leaves at random how much of it as waste.
fn guillotine(room: Rect, draws: &mut impl Iterator<Item = u32>, trims: &mut Vec<Rect>) {
    let mut draw = |most: i64| i64::from(draws.next().unwrap_or(0)) % (most + 1);
    // Quarters of an inch; a part is 3 in at least and a trim 2 in.
    let (w, h) = (room.width().times(inch(1, 4)), room.height().times(inch(1, 4)));
    let (ways, gap) = (draw(5), draw(2));
    let part = |size: i64, at: i64| 12 + at % (size - 24 - gap + 1);
    if ways < 2 && w >= 24 + gap {
        let cut = room.x0 + inch(part(w, draw(1000)), 4);
        guillotine(Rect { x1: cut, ..room }, draws, trims);
        guillotine(Rect { x0: cut + inch(gap, 4), ..room }, draws, trims);
    } else if ways < 5 && h >= 24 + gap {
        let cut = room.y0 + inch(part(h, draw(1000)), 4);
        guillotine(Rect { y1: cut, ..room }, draws, trims);
        guillotine(Rect { y0: cut + inch(gap, 4), ..room }, draws, trims);
    } else {
        let (left, right, low, high) = (draw(2), draw(2), draw(2), draw(2));
        trims.push(Rect {
            x0: room.x0 + inch(left, 4),
            x1: room.x1 - inch(right, 4),
            y0: room.y0 + inch(low, 4),
            y1: room.y1 - inch(high, 4),
        });
    }
}

proptest! {
    #[test]
    fn any_layout_of_a_guillotine_comes_apart(
        w in 12_i64..160, h in 12_i64..160, draws in prop::collection::vec(any::<u32>(), 200)
    ) {
        let sheet = Size::new(inch(w, 4), inch(h, 4));
        let mut trims = Vec::new();
        guillotine(sheet.at_origin(), &mut draws.into_iter(), &mut trims);
        planned(sheet, &trims, LEAST_GAUGE);
    }

    #[test]
    fn what_is_refused_cannot_be_cut(
        places in prop::collection::vec((0_i64..8, 0_i64..8, 1_i64..5, 1_i64..5), 1..12)
    ) {
        let mut trims: Vec<Rect> = Vec::new();
        for (x, y, w, h) in places {
            let trim = rect(x * 4, y * 4, (x + w).min(8) * 4, (y + h).min(8) * 4);
            if trims.iter().all(|other| other.intersect(trim).is_none()) {
                trims.push(trim);
            }
        }
        let sheet = Size::new(inch(8, 1), inch(8, 1));
        let ask = CutRequest { sheet, trims: &trims, least_gauge: inch(1, 1) };
        let plan = cut_plan(&ask);
        prop_assert_eq!(plan.is_ok(), can_be_parted(&trims), "{:?}", trims);
        if let Ok(plan) = plan {
            replay(&plan, &ask);
        }
    }
}
