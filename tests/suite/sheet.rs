//! Press sheets: how many cards lie on one, the laws of stations, of the turned sheet and of marks, and what is said when a card
//! does not fit.

use fairfold::card::{Fold, FoldKind, Format, Side};
use fairfold::fault::Source;
use fairfold::ink::Ink;
use fairfold::sheet::{
    Form, FormSide, Grain, GripperEdge, Gutters, LayoutRequest, Line, Mark, MarkKind, MarkSet, Press, Remark, Rows,
    Sheet, SheetSize, Station, Stock, WorkStyle, lay_out, one_up,
};
use fairfold::unit::{Length, Point, Rect, Size, Turn, parse_size};
use proptest::prelude::*;

fn format(size: &str, kind: FoldKind, bleed: Length) -> Format {
    let flat = parse_size(size).unwrap();
    let fold = Fold::usual(kind, flat, 3, Length::inches(1, 32));
    Format { flat, bleed, safe: Length::inches(1, 8), fold }
}

fn request<'a>(format: &'a Format, sheet: &str, edge: GripperEdge) -> LayoutRequest<'a> {
    LayoutRequest {
        format,
        faces: &[Side::Outside, Side::Inside],
        sheet: SheetSize::parse(sheet, Source::Nowhere).unwrap().lying(edge),
        stock: Stock::default(),
        press: Press::default(),
        style: WorkStyle::Sheetwise,
        gutters: None,
        rows: Rows::HeadToFoot,
        turn: None,
        marks: MarkSet::ALL,
        inks: &Ink::PROCESS,
    }
}

/// Number out of one one-way grid, gripper 3/8, tail 1/2, sides 1/4 in, piece = trim + 1/4 in: computed by exhaustive search outside
/// this program.
#[test]
fn numbers_out_are_those_of_the_exhaustive_search() {
    let press = Press { tail: Length::inches(1, 2), ..Press::default() };
    for (sheet, numbers) in [("20x26", [8, 6, 4]), ("23x35", [8, 6, 5]), ("25x38", [15, 10, 6]), ("28x40", [16, 12, 8])]
    {
        for (card, want) in ["4.5 x 12 in", "6 x 12 in", "6 x 17 in"].into_iter().zip(numbers) {
            let format = format(card, FoldKind::Half, Length::inches(1, 8));
            let ask = LayoutRequest { press, ..request(&format, sheet, GripperEdge::Width) };
            assert_eq!(lay_out(&ask).unwrap().number_up(), want, "{card} out of {sheet}");
        }
    }
}

#[test]
fn a_card_that_does_not_fit_says_by_how_much_and_what_would_do() {
    let format = format("6 x 17 in", FoldKind::Letter, Length::inches(1, 8));
    // 13 in less two sides of 1/4 leave 12.5; 19 less 3/8 and 1/4 leave 18.375; the card with bleed takes 17.25 x 6.25. It fits
    // lying along the long side; held upright by request it does not: 17.25 - 12.5 = 4.75 in.
    let ask = request(&format, "13x19", GripperEdge::Short);
    assert_eq!(lay_out(&ask).unwrap().number_up(), 2);
    let told = lay_out(&LayoutRequest { turn: Some(Turn::None), ..ask.clone() }).unwrap_err().to_string();
    assert!(told.contains("4.75 in (120.65 mm) is missing in the width"), "{told}");
    assert!(told.contains("the smallest named sheet that takes it is 19x25"), "{told}");
    let told = lay_out(&LayoutRequest { turn: Some(Turn::None), style: WorkStyle::WorkAndTurn, ..ask }).unwrap_err();
    assert!(told.to_string().contains("print it sheetwise"), "{told}");
}

#[test]
fn gutters_narrower_than_two_bleeds_are_refused() {
    let format = format("6 x 12 in", FoldKind::Half, Length::inches(1, 8));
    let ask = LayoutRequest {
        gutters: Some(Gutters::all(Length::inches(1, 8))),
        ..request(&format, "23x35", GripperEdge::Long)
    };
    assert!(lay_out(&ask).unwrap_err().to_string().contains("make it at least 0.25 in (6.35 mm)"));
}

#[test]
fn faces_and_style_must_agree() {
    let format = format("6 x 12 in", FoldKind::Half, Length::inches(1, 8));
    let ask = LayoutRequest { faces: &[Side::Outside], ..request(&format, "23x35", GripperEdge::Long) };
    assert!(lay_out(&ask).unwrap_err().to_string().contains("only its outside"));
    let ask = LayoutRequest { style: WorkStyle::OneSide, ..ask };
    assert_eq!(lay_out(&ask).unwrap().forms.len(), 1);
}

#[test]
fn folds_across_the_grain_are_told_with_what_the_grain_would_give() {
    let format = format("6 x 12 in", FoldKind::Half, Length::inches(1, 8));
    let with = |grain, turn| {
        let stock = Stock { grain: Some(grain), gsm: Some(118.0), ..Stock::default() };
        lay_out(&LayoutRequest { stock, turn, ..request(&format, "25x38", GripperEdge::Short) }).unwrap()
    };
    // 25 x 38 upright: folds stand upright too where cards do, along the long side.
    let along = with(Grain::Long, None);
    assert_eq!(
        (along.number_up(), along.remarks.iter().any(|r| matches!(r, Remark::AgainstGrain { .. }))),
        (10, false)
    );
    let across = with(Grain::Short, None);
    let Some(Remark::AgainstGrain { planned, with_grain }) = across.remarks.first() else {
        panic!("{:?}", across.remarks)
    };
    // Turned: 24.5 / 6.25 = 3 columns, 37.375 / 12.25 = 3 rows.
    assert_eq!((*planned, *with_grain), (10, 9));
}

#[test]
fn equal_numbers_leave_the_choice_to_the_grain() {
    // 23 x 35 takes eight 4.5 x 12 in cards either way.
    let format = format("4.5 x 12 in", FoldKind::Half, Length::inches(1, 8));
    for grain in [Grain::Long, Grain::Short] {
        let stock = Stock { grain: Some(grain), ..Stock::default() };
        let sheet = lay_out(&LayoutRequest { stock, ..request(&format, "20x26", GripperEdge::Long) }).unwrap();
        let turned = sheet.forms[0].stations[0].turn.swaps();
        let across = sheet.remarks.iter().any(|r| matches!(r, Remark::AgainstGrain { .. }));
        let along_y = grain == Grain::Short; // the sheet lies on its long side
        assert!(across || turned != along_y, "{grain:?}");
    }
}

#[test]
fn missing_room_is_told_and_never_silent() {
    // 6.25 x 12.25 in into 12.5 x 18.375 in: 0.125 in beside the bleed at either side, so crop marks are half as long as usual.
    let format = format("6 x 12 in", FoldKind::Half, Length::inches(1, 8));
    let sheet = lay_out(&request(&format, "13x19", GripperEdge::Short)).unwrap();
    let eighth = Length::inches(1, 8);
    for edge in [fairfold::sheet::Edge::Left, fairfold::sheet::Edge::Right] {
        assert!(sheet.remarks.contains(&Remark::Shortened { mark: MarkKind::Crop, edge, length: eighth }), "{edge}");
    }
    // A sheet that the cards fill to the last bit has no room at all.
    let tight = Size::new(Length::inches(49, 4), Length::inches(25, 4));
    let ask = LayoutRequest { sheet: tight, press: Press::NO_MARGINS, ..request(&format, "13x19", GripperEdge::Short) };
    let sheet = lay_out(&ask).unwrap();
    assert!(sheet.forms.iter().all(|f| f.marks.is_empty()));
    for kind in [
        MarkKind::Crop,
        MarkKind::Fold,
        MarkKind::Centre,
        MarkKind::Register,
        MarkKind::Gripper,
        MarkKind::SideGuide,
        MarkKind::Strip,
        MarkKind::Slug,
    ] {
        let told = sheet.remarks.iter().any(|r| matches!(r, Remark::NoRoom { mark, .. } if *mark == kind));
        assert!(told, "{kind} vanished without a word");
    }
}

#[test]
fn one_up_is_the_card_with_its_bleed_and_room_for_marks() {
    let format = format("4.5 x 12 in", FoldKind::Half, Length::inches(1, 8));
    let sheet = one_up(&request(&format, "13x19", GripperEdge::Long)).unwrap();
    assert_eq!(sheet.size, Size::new(Length::inches(53, 4), Length::inches(23, 4)));
    assert_eq!(sheet.forms.len(), 2);
    assert_eq!(sheet.remarks.iter().filter(|r| matches!(r, Remark::NoRoom { .. })).count(), 0, "{:?}", sheet.remarks);
    for form in &sheet.forms {
        let count = |kind| form.marks.iter().filter(|m| m.kind() == kind).count();
        assert_eq!((count(MarkKind::Crop), count(MarkKind::Fold), count(MarkKind::Strip)), (8, 2, 0));
        assert_eq!(form.stations[0].trim.origin(), Point::new(Length::inches(5, 8), Length::inches(5, 8)));
    }
}

#[test]
fn the_strip_shows_every_ink_solid_and_half() {
    let format = format("6 x 12 in", FoldKind::Half, Length::inches(1, 8));
    let inks = [Ink::Cyan, Ink::Black, Ink::from_colorant("Otterby Heron"), Ink::All];
    let sheet = lay_out(&LayoutRequest { inks: &inks, ..request(&format, "23x35", GripperEdge::Long) }).unwrap();
    for form in &sheet.forms {
        let mut shown: Vec<(String, u8)> = Vec::new();
        for mark in &form.marks {
            if let Mark::Patch { rect, ink, percent } = mark {
                assert_eq!(rect.width().min(rect.height()), Length::inches(3, 16));
                let one = (ink.name().to_owned(), *percent);
                if !shown.contains(&one) {
                    shown.push(one);
                }
            }
        }
        let all = ["Cyan", "Black", "Otterby Heron"].map(|i| [(i.to_owned(), 100), (i.to_owned(), 50)]).concat();
        assert_eq!(shown, all);
    }
}

fn style() -> impl Strategy<Value = WorkStyle> {
    proptest::sample::select(WorkStyle::ALL.to_vec())
}

prop_compose! {
    /// Any plausible job: sizes in 1/32 in and in whole millimetres, any style, rows, turn and fold.
    fn plan()(
        style in style(),
        (w, h) in (320_i64..1280, 320_i64..1280),
        (card_h, card_w) in (96_i64..200, 128_i64..560),
        metric in any::<bool>(),
        bleed in 0_i64..6,
        gutter in 0_i64..16,
        head_to_head in any::<bool>(),
        turn in proptest::option::of(0_i64..4),
        kind in proptest::sample::select(vec![FoldKind::None, FoldKind::Half, FoldKind::Letter, FoldKind::Gate]),
        (gripper, tail, sides) in (10_i64..16, 8_i64..12, 8_i64..10),
    ) -> Option<Sheet> {
        let unit = if metric { Length::units(Length::PER_MM) } else { Length::inches(1, 32) };
        let flat = Size::new(unit * card_w, unit * card_h);
        let bleed = unit * bleed;
        let fold = Fold::usual(kind, flat, 3, Length::inches(1, 32));
        let format = Format { flat, bleed, safe: unit, fold };
        let both = [Side::Outside, Side::Inside];
        let faces = if style.two_sided() { both.as_slice() } else { &both[..1] };
        let gutters = Gutters { across: bleed * 2 + unit * gutter, up: bleed * 2 + unit * (15 - gutter) };
        lay_out(&LayoutRequest {
            format: &format,
            faces,
            sheet: Size::new(unit * w, unit * h),
            stock: Stock::default(),
            press: Press { gripper: unit * gripper, tail: unit * tail, sides: unit * sides },
            style,
            gutters: Some(gutters),
            rows: if head_to_head { Rows::HeadToHead } else { Rows::HeadToFoot },
            turn: turn.map(Turn::quarters),
            marks: MarkSet::ALL,
            inks: &Ink::PROCESS,
        })
        .ok()
    }
}

/// A place on the outside and the place behind it on the inside: the card turns over its upright axis.
fn through(at: Point, flat: Size) -> Point {
    Point::new(flat.width - at.x, at.y)
}

/// The sheet turned by hand: over its side for styles that keep the gripper, over its gripper edge for those that change it. Written
/// from the glossaries' words and not from the code.
fn turned_by_hand(sheet: &Sheet, at: Point) -> Point {
    match sheet.style {
        WorkStyle::Sheetwise | WorkStyle::WorkAndTurn | WorkStyle::OneSide => Point::new(sheet.size.width - at.x, at.y),
        WorkStyle::WorkAndTumble | WorkStyle::Perfecting => Point::new(at.x, sheet.size.height - at.y),
    }
}

fn every_pair<'a>(sheet: &'a Sheet, form: &'a Form) -> Vec<(&'a Station, &'a Station)> {
    let behind = sheet.behind(form).unwrap();
    let mut pairs = Vec::new();
    for station in &form.stations {
        let corner = turned_by_hand(sheet, station.trim.origin());
        let far = turned_by_hand(sheet, Point::new(station.trim.x1, station.trim.y1));
        let place = Rect::new(corner.x, corner.y, far.x, far.y);
        let mut there = behind.stations.iter().filter(|s| s.trim == place);
        pairs.push((station, there.next().expect("a card lies behind every card, to the unit")));
        assert!(there.next().is_none());
    }
    pairs
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn stations_never_overlap_and_stay_printable(sheet in plan()) {
        let Some(sheet) = sheet else { return Ok(()) };
        let bleed = sheet.format.bleed;
        for form in &sheet.forms {
            prop_assert_eq!(form.stations.len(), sheet.columns * sheet.rows);
            for (n, a) in form.stations.iter().enumerate() {
                // Every side of the sheet that is printed keeps the margins of the press, whichever edge the grippers hold.
                prop_assert!(sheet.printable.contains(a.piece(bleed)));
                prop_assert!(a.trim.x0 >= sheet.press.sides && sheet.size.width - a.trim.x1 >= sheet.press.sides);
                prop_assert!(a.trim.y0 >= sheet.press.gripper && sheet.size.height - a.trim.y1 >= sheet.press.tail);
                prop_assert_eq!(a.flat(), sheet.format.flat);
                for b in &form.stations[n + 1..] {
                    prop_assert!(a.piece(bleed).intersect(b.piece(bleed)).is_none());
                }
            }
        }
    }

    #[test]
    fn the_turned_sheet_brings_face_behind_face(sheet in plan(), (fx, fy) in (0_i64..97, 0_i64..89)) {
        let Some(sheet) = sheet else { return Ok(()) };
        if !sheet.style.two_sided() { return Ok(()) }
        let flat = sheet.format.flat;
        let places = [Point::default(), Point::new(flat.width, Length::ZERO), Point::new(flat.width * fx / 97, flat.height * fy / 89)];
        for form in &sheet.forms {
            for (front, back) in every_pair(&sheet, form) {
                prop_assert_ne!(front.face, back.face);
                for at in places {
                    let here = turned_by_hand(&sheet, front.on_form(at));
                    prop_assert_eq!(here, back.on_form(through(at, flat)), "{:?} {:?}", front, back);
                }
            }
        }
    }

    #[test]
    fn the_second_pass_keeps_the_grippers_off_the_cards(sheet in plan()) {
        let Some(sheet) = sheet else { return Ok(()) };
        for form in &sheet.forms {
            for station in &form.stations {
                // The edge in the grippers is the lower one of the form that prints, in either pass.
                prop_assert!(station.piece(sheet.format.bleed).y0 >= sheet.press.gripper);
            }
        }
    }

    #[test]
    fn marks_lie_outside_every_bleed_and_are_printable(sheet in plan()) {
        let Some(sheet) = sheet else { return Ok(()) };
        for form in &sheet.forms {
            for mark in &form.marks {
                let bounds = mark.bounds();
                prop_assert!(sheet.printable.contains(bounds), "{:?}", mark);
                for station in &form.stations {
                    prop_assert!(station.piece(sheet.format.bleed).intersect(bounds).is_none(), "{:?}", mark);
                }
            }
            // The colour strip, words and targets touch nothing; lines of cut and fold may share a corner.
            for (n, a) in form.marks.iter().enumerate().filter(|(_, m)| !matches!(m, Mark::Crop(_) | Mark::Fold(_))) {
                for b in &form.marks[..n] {
                    prop_assert!(a.bounds().intersect(b.bounds()).is_none(), "{:?} {:?}", a, b);
                }
            }
        }
    }

    #[test]
    fn every_cut_has_a_mark_at_both_ends_or_a_word_why_not(sheet in plan()) {
        let Some(sheet) = sheet else { return Ok(()) };
        for form in &sheet.forms {
            let crops: Vec<Line> = form.marks.iter().filter_map(|m| match m { Mark::Crop(l) => Some(*l), _ => None }).collect();
            let short = sheet.remarks.iter().any(|r| matches!(r, Remark::NoRoom { mark: MarkKind::Crop, .. }));
            let all = form.stations.iter().map(|s| s.trim).reduce(Rect::union).unwrap();
            for station in &form.stations {
                for x in [station.trim.x0, station.trim.x1] {
                    let above = crops.iter().any(|l| l.from.x == x && l.to.x == x && l.from.y >= all.y1);
                    let below = crops.iter().any(|l| l.from.x == x && l.to.x == x && l.from.y <= all.y0);
                    prop_assert!(short || (above && below));
                }
                for y in [station.trim.y0, station.trim.y1] {
                    let left = crops.iter().any(|l| l.from.y == y && l.to.y == y && l.from.x <= all.x0);
                    let right = crops.iter().any(|l| l.from.y == y && l.to.y == y && l.from.x >= all.x1);
                    prop_assert!(short || (left && right));
                }
            }
        }
    }

    #[test]
    fn marks_of_the_back_register_with_the_front(sheet in plan()) {
        let Some(sheet) = sheet else { return Ok(()) };
        let [front, back] = sheet.forms.as_slice() else { return Ok(()) };
        prop_assert_eq!((front.side, back.side), (FormSide::Front, FormSide::Back));
        let of = |form: &Form, kind| form.marks.iter().filter(|m| m.kind() == kind).map(Mark::bounds).collect::<Vec<_>>();
        for kind in [MarkKind::Crop, MarkKind::Fold, MarkKind::Centre, MarkKind::Register] {
            let behind: Vec<Rect> = of(front, kind).into_iter().map(|r| {
                let (a, b) = (turned_by_hand(&sheet, r.origin()), turned_by_hand(&sheet, Point::new(r.x1, r.y1)));
                Rect::new(a.x, a.y, b.x, b.y)
            }).collect();
            prop_assert_eq!(of(back, kind), behind);
        }
    }

    #[test]
    fn every_fold_of_every_card_has_a_mark_at_head_and_foot_or_a_word_why_not(sheet in plan()) {
        let Some(sheet) = sheet else { return Ok(()) };
        if sheet.remarks.iter().any(|r| matches!(r, Remark::NoRoom { mark: MarkKind::Fold, .. })) { return Ok(()) }
        for form in &sheet.forms {
            let folds: Vec<Line> = form.marks.iter().filter_map(|m| match m { Mark::Fold(l) => Some(*l), _ => None }).collect();
            for station in &form.stations {
                for x in sheet.format.fold.lines(station.face) {
                    let (foot, head) = (station.on_form(Point::new(x, Length::ZERO)), station.on_form(Point::new(x, station.flat().height)));
                    let beyond = |at: Point, from: Point| folds.iter().any(|l| {
                        let upright = foot.x == head.x;
                        let in_line = if upright { l.from.x == at.x && l.to.x == at.x } else { l.from.y == at.y && l.to.y == at.y };
                        let (here, there, start) = if upright { (at.y, l.to.y, from.y) } else { (at.x, l.to.x, from.x) };
                        in_line && (here > start) == (there > here)
                    });
                    prop_assert!(beyond(head, foot) && beyond(foot, head), "{:?} of {:?}", x, station);
                }
            }
        }
    }
}
