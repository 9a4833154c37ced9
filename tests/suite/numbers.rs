//! The rules of the scorecard's numbers against their published values, and the checks that hold a card against
//! them: for each a clean card, one change that is found, and the edge between them.

use fairfold::card::Card;
use fairfold::check::{CHECKS, Finding, Limits, Outcome, Severity, run_one};
use fairfold::scorecard::{
    Combo, Part, PrintedTotals, Rating, Scorecard, Sum, Tee, Units, Who, course_handicap, course_handicap_exact,
    nine_hole_index, pars_for, permutation, recommended, sum,
};
use proptest::prelude::*;

use super::hand_card::card;

const HERON: [i64; 18] = [392, 521, 418, 187, 371, 446, 164, 548, 405, 410, 356, 203, 533, 428, 382, 439, 172, 519];
const WREN: [i64; 18] = [279, 376, 306, 133, 269, 372, 117, 398, 288, 295, 260, 143, 385, 313, 273, 318, 119, 373];
const PAR: [i64; 18] = [4, 5, 4, 3, 4, 4, 3, 5, 4, 4, 4, 3, 5, 4, 4, 4, 3, 5];
/// Odd out and even in; 1 and 2 in the middle triads, 3 and 4 in the last ones, 5 and 6 in the first ones, none
/// side by side.
const INDEX: [i64; 18] = [11, 5, 17, 13, 1, 9, 15, 3, 7, 12, 6, 18, 14, 2, 10, 16, 4, 8];

fn list(values: &[i64]) -> Vec<Option<i64>> {
    values.iter().copied().map(Some).collect()
}

/// Totals added up here, apart from the program.
fn added(values: &[i64]) -> PrintedTotals {
    let inward = values.get(9..18).map(|v| v.iter().sum());
    PrintedTotals { out: Some(values[..9].iter().sum()), inward, total: Some(values.iter().sum()) }
}

fn tee(name: &str, lengths: &[i64], who: Who, course: f64, slope: i64) -> Tee {
    let rating = Rating { course: Some(course), slope: Some(slope) };
    Tee { name: name.into(), lengths: list(lengths), printed: added(lengths), ratings: vec![(who, rating)] }
}

pub(super) fn otterby() -> Scorecard {
    let women = PAR.iter().enumerate().map(|(n, par)| if n == 5 { 5 } else { *par }).collect::<Vec<_>>();
    let tees = ["Heron", "Wren", "Heron", "Heron", "Wren", "Wren", "Heron", "Wren", "Heron"].repeat(2);
    let mixed: Vec<i64> =
        tees.iter().enumerate().map(|(n, t)| if *t == "Heron" { HERON[n] } else { WREN[n] }).collect();
    Scorecard {
        course: "Otterby Common".into(),
        units: Units::Yards,
        holes: 18,
        tees: vec![tee("Heron", &HERON, Who::Men, 73.1, 134), tee("Wren", &WREN, Who::Women, 68.9, 117)],
        combos: vec![Combo {
            name: "Heron + Wren".into(),
            tees: tees.iter().map(ToString::to_string).collect(),
            lengths: list(&mixed),
            printed: added(&mixed),
            ratings: Vec::new(),
        }],
        par: vec![(Who::Men, list(&PAR)), (Who::Women, list(&women))],
        par_printed: vec![added(&PAR), added(&women)],
        stroke_index: vec![(Who::Men, list(&INDEX)), (Who::Women, list(&INDEX))],
    }
}

/// The front nine of Otterby as a course of its own.
fn nine() -> Scorecard {
    let mut numbers = otterby();
    numbers.holes = 9;
    numbers.combos.clear();
    for tee in &mut numbers.tees {
        tee.lengths.truncate(9);
        tee.printed.inward = None;
        tee.printed.total = tee.printed.out;
        for (_, rating) in &mut tee.ratings {
            rating.course = rating.course.map(|v| (v * 5.0).round() / 10.0);
        }
    }
    for ((_, par), printed) in numbers.par.iter_mut().zip(&mut numbers.par_printed) {
        par.truncate(9);
        *printed = PrintedTotals { inward: None, total: printed.out, ..*printed };
    }
    numbers.stroke_index.iter_mut().for_each(|(_, index)| index.truncate(9));
    numbers
}

/// A card with these numbers and no grid.
pub(super) fn with(numbers: Scorecard) -> Card {
    Card { numbers: Some(numbers), ..card() }
}

pub(super) fn changed(change: impl FnOnce(&mut Scorecard)) -> Card {
    let mut numbers = otterby();
    change(&mut numbers);
    with(numbers)
}

pub(super) fn outcome(id: &str, card: &Card) -> Outcome {
    let check = CHECKS.iter().find(|c| c.id == id).unwrap();
    run_one(check, card, &Limits::default()).unwrap()
}

#[track_caller]
pub(super) fn found(id: &str, card: &Card) -> Vec<Finding> {
    match outcome(id, card) {
        Outcome::Clean => Vec::new(),
        Outcome::Found(found) => found,
        other => panic!("{id} did not run: {other:?}"),
    }
}

/// The only finding, whose message and advice hold these words.
#[track_caller]
pub(super) fn one(found: &[Finding], severity: Severity, words: &[&str]) {
    assert_eq!(found.len(), 1, "{found:#?}");
    let text = format!("{} = {}", found[0].message, found[0].advice);
    for word in words {
        assert!(text.contains(word), "`{word}` is not in: {text}");
    }
    assert_eq!(found[0].severity, severity);
}

const NUMBER_CHECKS: [&str; 8] =
    ["totals", "par-row", "stroke-index", "stroke-allocation", "ratings", "tee-order", "par-length", "combo-tees"];

#[test]
fn a_true_card_is_clean_and_one_without_numbers_is_skipped() {
    for id in NUMBER_CHECKS {
        assert_eq!(outcome(id, &with(otterby())), Outcome::Clean, "{id}");
        assert!(matches!(outcome(id, &card()), Outcome::Skipped(why) if why.contains("no numbers")), "{id}");
    }
    for id in ["totals", "par-row", "stroke-index", "ratings", "tee-order", "par-length"] {
        assert_eq!(outcome(id, &with(nine())), Outcome::Clean, "{id} on nine holes");
    }
    assert!(matches!(outcome("stroke-allocation", &with(nine())), Outcome::Skipped(_)));
    assert!(matches!(outcome("combo-tees", &with(nine())), Outcome::Skipped(_)));
    assert!(matches!(outcome("row-economy", &with(otterby())), Outcome::Skipped(why) if why.contains("grid")));
}

#[test]
fn course_handicap_as_in_the_published_example() {
    // USGA, local guidance for Rule 6: index 8.7, halved to 4.35 and rounded to 4.4; 4.4 × 121 ÷ 113 + (35.3 − 36)
    // = 4.011… → 4.
    let index = nine_hole_index(87);
    assert_eq!(index, 44);
    let exact = course_handicap_exact(index, 121, 353, 36);
    assert!((exact - 4.011).abs() < 0.001, "{exact}");
    assert_eq!(course_handicap(index, 121, 353, 36), 4);
}

#[test]
fn lengths_for_each_par_as_published() {
    // Rules of Handicapping, Appendix F, yards: shortest and longest for men and women.
    let published = [
        (3, (None, Some(260)), (None, Some(220))),
        (4, (Some(240), Some(490)), (Some(200), Some(420))),
        (5, (Some(450), Some(710)), (Some(370), Some(600))),
        (6, (Some(670), None), (Some(570), None)),
    ];
    for (par, men, women) in published {
        for (who, (least, most)) in [(Who::Men, men), (Who::Women, women)] {
            let range = recommended(par, who, Units::Yards).unwrap();
            assert_eq!((range.least, range.most), (least, most), "par {par} for {who}");
        }
    }
    // Its note: 470 yards for men or 400 yards for women may be a par 4 or a par 5.
    assert_eq!(pars_for(470, Who::Men, Units::Yards), [4, 5]);
    assert_eq!(pars_for(400, Who::Women, Units::Yards), [4, 5]);
    assert_eq!((recommended(2, Who::Men, Units::Yards), recommended(7, Who::Men, Units::Yards)), (None, None));
}

#[test]
fn metres_follow_the_published_metres_and_the_exact_yard() {
    // Appendix F beside the yards: par 4 for women 180 to 380 metres; 420 yd × 0.9144 = 384.05 m.
    let holds = |par, who, metres| recommended(par, who, Units::Metres).unwrap().holds(metres);
    assert!(holds(4, Who::Women, 180) && !holds(4, Who::Women, 179));
    assert!(holds(4, Who::Women, 384) && !holds(4, Who::Women, 385));
    // Par 3 for men up to 240 metres (260 yd = 237.74 m).
    assert!(holds(3, Who::Men, 240) && !holds(3, Who::Men, 241));
}

#[test]
fn totals_name_what_is_printed_computed_and_the_difference() {
    let card = changed(|n| n.tees[0].printed.out = Some(3442));
    // 392 + 521 + 418 + 187 + 371 + 446 + 164 + 548 + 405 = 3452, added up by hand.
    one(
        &found("totals", &card),
        Severity::Error,
        &["Out of \"Heron\"", "printed as 3442", "add up to 3452", "10 too low"],
    );
    let card = changed(|n| n.combos[0].printed.total = n.combos[0].printed.total.map(|t| t + 100));
    one(&found("totals", &card), Severity::Error, &["Total of \"Heron + Wren\"", "100 too high"]);
}

#[test]
fn totals_of_holes_that_cannot_be_read_are_named_as_not_checked() {
    let card = changed(|n| n.tees[0].lengths[6] = None);
    let unsure = found("totals", &card);
    assert_eq!(unsure.len(), 2, "Out and Total: {unsure:#?}");
    assert!(unsure.iter().all(|f| f.severity == Severity::Warning && f.message.contains("hole 7 has no number")));
    // Out and In are still held against the Total.
    let card = changed(|n| {
        n.tees[0].lengths[6] = None;
        n.tees[0].printed.total = Some(6984);
    });
    let wrong: Vec<Finding> = found("totals", &card).into_iter().filter(|f| f.severity == Severity::Error).collect();
    one(&wrong, Severity::Error, &["Total of \"Heron\"", "6984", "6894"]);
}

#[test]
fn nine_holes_have_no_in_and_marked_combinations_are_added_up_from_their_tees() {
    let mut numbers = nine();
    numbers.tees[0].printed.inward = Some(3452);
    one(&found("totals", &with(numbers)), Severity::Error, &["has an In of 3452", "9 holes"]);
    let card = changed(|n| {
        n.combos[0].lengths.clear();
        n.combos[0].printed.out = Some(1);
    });
    one(&found("totals", &card), Severity::Error, &["Out of \"Heron + Wren\""]);
    let card = changed(|n| {
        n.tees.iter_mut().for_each(|t| t.printed = PrintedTotals::default());
        n.combos.clear();
    });
    assert!(matches!(outcome("totals", &card), Outcome::Skipped(_)));
}

proptest! {
    /// One length changed breaks the totals that its hole belongs to, and no others.
    #[test]
    fn one_changed_length_breaks_exactly_its_totals(hole in 0_usize..18, by in prop_oneof![-90_i64..=-1, 1_i64..=90]) {
        let card = changed(|n| {
            n.combos.clear();
            n.tees[0].lengths[hole] = Some(HERON[hole] + by);
        });
        let half = if hole < 9 { "the Out of" } else { "the In of" };
        let mut said: Vec<String> = found("totals", &card).into_iter().map(|f| f.message).collect();
        said.sort();
        prop_assert_eq!(said.len(), 2);
        prop_assert!(said[0].starts_with(half) && said[1].starts_with("the Total of"), "{:?}", said);
        let off = format!("{} too {}", by.abs(), if by > 0 { "low" } else { "high" });
        prop_assert!(said.iter().all(|s| s.ends_with(&off)), "{:?}", said);
    }

    /// Out and In always make the Total.
    #[test]
    fn halves_make_the_round(lengths in prop::collection::vec(50_i64..700, 18)) {
        let lengths = list(&lengths);
        let [Some(Sum::Is(out)), Some(Sum::Is(inward)), Some(Sum::Is(total))] = Part::ALL.map(|p| sum(&lengths, 18, p))
        else { panic!("all holes have a length") };
        prop_assert_eq!(out + inward, total);
    }

    /// Every order of 1 to 18 is a stroke index; with one number replaced, the doubled and the missing one are named.
    #[test]
    fn permutations_pass_and_one_replaced_number_is_named(
        order in Just((1..=18).collect::<Vec<i64>>()).prop_shuffle(),
        hole in 0_usize..18,
        other in 1_i64..=18,
    ) {
        prop_assert_eq!(permutation(&list(&order), 18), Ok(()));
        let was = order[hole];
        prop_assume!(other != was);
        let mut broken = order.clone();
        broken[hole] = other;
        let wrong = permutation(&list(&broken), 18).unwrap_err();
        let mut twice = vec![hole + 1, order.iter().position(|v| *v == other).unwrap() + 1];
        twice.sort_unstable();
        prop_assert_eq!(wrong.doubled, vec![(other, twice)]);
        prop_assert_eq!(wrong.missing, vec![was]);
    }
}

#[test]
fn pars_are_one_a_hole_and_three_to_six() {
    let par = |hole: usize, par: Option<i64>| {
        changed(|n| {
            n.par[0].1[hole] = par;
            n.par_printed[0] = PrintedTotals::default();
        })
    };
    assert!(found("par-row", &par(0, Some(3))).is_empty() && found("par-row", &par(0, Some(6))).is_empty());
    one(&found("par-row", &par(0, Some(2))), Severity::Error, &["hole 1 is a par 2", "between 3 and 6"]);
    one(&found("par-row", &par(0, Some(7))), Severity::Error, &["par 7"]);
    one(&found("par-row", &par(4, None)), Severity::Error, &["hole 5 has no par"]);
    let short = changed(|n| {
        n.par[1].1.pop();
        n.par_printed[1] = PrintedTotals::default();
    });
    let found_short = found("par-row", &short);
    one(&found_short, Severity::Error, &["17 pars for 18 holes"]);
    assert_eq!(found_short[0].place.what.as_deref(), Some("row \"Par, women\""));
    let total = changed(|n| n.par_printed[0].total = Some(71));
    // 36 out and 36 in: the pars above, added up by hand.
    one(&found("par-row", &total), Severity::Error, &["Total of \"Par, men\"", "printed as 71", "72", "1 too low"]);
}

#[test]
fn stroke_index_names_doubles_and_gaps() {
    let card = changed(|n| n.stroke_index[1].1[6] = Some(16));
    let findings = found("stroke-index", &card);
    let said =
        ["for women", "16 stands on holes 7 and 16", "15 is missing", "give one of holes 7 and 16 the number 15"];
    one(&findings, Severity::Error, &said);
    assert_eq!(findings[0].place.what.as_deref(), Some("row \"Stroke index, women\", hole 16"));
    let card = changed(|n| n.stroke_index[0].1[6] = Some(19));
    one(
        &found("stroke-index", &card),
        Severity::Error,
        &["hole 7 has 19", "15 is missing", "give hole 7 the number 15"],
    );
    let card = changed(|n| n.stroke_index[0].1[6] = None);
    one(&found("stroke-index", &card), Severity::Error, &["hole 7 cannot be read", "15 is missing"]);
    // Nine holes of a published allocation for eighteen keep their numbers (Appendix E, nine-hole play).
    assert_eq!(outcome("stroke-index", &with(nine())), Outcome::Clean);
}

#[test]
fn stroke_allocation_repeats_the_published_advice_as_notes() {
    // Rules of Handicapping, Appendix E: low numbers (6 or less) not on consecutive holes. 1 on hole 5, 5 on hole 6.
    let card = changed(|n| n.stroke_index[0].1.swap(1, 5));
    one(&found("stroke-allocation", &card), Severity::Note, &["for men", "holes 5 and 6 have 1 and 5", "consecutive"]);
    // Odd on one nine, even on the other.
    let card = changed(|n| n.stroke_index[0].1.swap(6, 15));
    one(&found("stroke-allocation", &card), Severity::Note, &["holes 7 and 16", "front nine is odd"]);
    // The lowest of a nine in the middle triad or beside it: hole 8 is neither.
    let card = changed(|n| n.stroke_index[0].1.swap(4, 7));
    let said: Vec<String> = found("stroke-allocation", &card).into_iter().map(|f| f.message).collect();
    assert!(said.iter().any(|s| s.contains("1, the lowest of the front nine, stands on hole 8")), "{said:?}");
    assert!(said.iter().any(|s| s.contains("3, the second lowest of the front nine, stands on hole 5")), "{said:?}");
}

#[test]
fn ratings_keep_to_their_published_ranges() {
    let rated = |course: f64, slope: i64| {
        changed(|n| n.tees[0].ratings[0].1 = Rating { course: Some(course), slope: Some(slope) })
    };
    // Slope Rating 55 to 155 (Rules of Handicapping, definitions).
    assert!(found("ratings", &rated(73.1, 55)).is_empty() && found("ratings", &rated(73.1, 155)).is_empty());
    one(&found("ratings", &rated(73.1, 54)), Severity::Error, &["\"Heron\" for men", "54", "between 55 and 155"]);
    one(&found("ratings", &rated(73.1, 156)), Severity::Error, &["156"]);
    // Course Rating: one decimal (the same).
    one(&found("ratings", &rated(73.15, 134)), Severity::Warning, &["73.15", "one decimal"]);
    // Plausible: judgement.
    one(&found("ratings", &rated(37.1, 134)), Severity::Warning, &["37.1"]);
    assert!(found("ratings", &rated(81.0, 134)).is_empty(), "nine from par 72");
    one(&found("ratings", &rated(81.1, 134)), Severity::Note, &["9.1 from par 72", "at most 9.0"]);
    let lone = changed(|n| n.tees[0].ratings[0].1.slope = None);
    one(&found("ratings", &lone), Severity::Note, &["Course Rating", "without the Slope Rating"]);
    let mut twice = nine();
    twice.tees[0].ratings[0].1.course = Some(73.1);
    one(&found("ratings", &with(twice)), Severity::Note, &["one of eighteen holes", "card of nine"]);
}

#[test]
fn lengths_fall_from_tee_to_tee() {
    let wren = |hole: usize, length: i64| changed(|n| n.tees[1].lengths[hole] = Some(length));
    assert!(found("tee-order", &wren(6, 164)).is_empty(), "equal lengths are in order");
    let found_one = found("tee-order", &wren(6, 165));
    one(&found_one, Severity::Warning, &["hole 7 is 164 from \"Heron\" and 165 from \"Wren\"", "1 or more"]);
    assert_eq!(found_one[0].place.what.as_deref(), Some("row \"Heron\", hole 7"));
    // Longest first or shortest first are both an order; neither is not.
    let curlew: Vec<i64> = HERON.iter().map(|v| v - 20).collect();
    let tees = |order: [usize; 3]| {
        changed(|n| {
            let all = [n.tees[0].clone(), tee("Curlew", &curlew, Who::Men, 71.2, 129), n.tees[1].clone()];
            n.tees = order.map(|i| all[i].clone()).to_vec();
        })
    };
    assert!(found("tee-order", &tees([0, 1, 2])).is_empty() && found("tee-order", &tees([2, 1, 0])).is_empty());
    one(&found("tee-order", &tees([0, 2, 1])), Severity::Note, &["\"Curlew\"", "stands after \"Wren\""]);
}

#[test]
fn par_suits_length_for_those_who_play_from_the_tee() {
    // Appendix F: par 4 for men 240 to 490 yards, par 3 up to 260; for women par 4 200 to 420.
    let heron = |length: i64| changed(|n| n.tees[0].lengths[4] = Some(length));
    assert!(found("par-length", &heron(240)).is_empty() && found("par-length", &heron(490)).is_empty());
    let words = ["hole 5 of \"Heron\", 239 yards", "par 4 for men", "240 to 490 yards", "suits par 3"];
    one(&found("par-length", &heron(239)), Severity::Warning, &words);
    one(&found("par-length", &heron(491)), Severity::Warning, &["491", "suits par 5"]);
    // Hole 6 is a par 5 for women: 370 yards at least.
    let wren = |length: i64| changed(|n| n.tees[1].lengths[5] = Some(length));
    assert!(found("par-length", &wren(370)).is_empty());
    one(&found("par-length", &wren(369)), Severity::Warning, &["par 5 for women", "370 to 600", "suits par 4"]);
    // Without any ratings it is not known who plays: the ranges of both hold.
    let unrated = |length: i64| {
        changed(|n| {
            n.tees.iter_mut().for_each(|t| t.ratings.clear());
            n.tees[0].lengths[4] = Some(length);
        })
    };
    assert!(found("par-length", &unrated(200)).is_empty());
    one(&found("par-length", &unrated(199)), Severity::Warning, &["200 to 490"]);
    // A junior tee on a card that rates others is not held against the ranges.
    let junior = changed(|n| n.tees.push(Tee { ratings: Vec::new(), ..tee("Leveret", &[90; 18], Who::Men, 60.0, 90) }));
    assert!(found("par-length", &junior).is_empty());
    // On a card without any ratings it is told of once, from the seventh hole of eighteen on.
    let short = |holes: usize| {
        changed(|n| {
            n.tees.iter_mut().for_each(|t| t.ratings.clear());
            n.tees[0].lengths = HERON.iter().enumerate().map(|(i, v)| Some(if i < holes { 100 } else { *v })).collect();
        })
    };
    // Holes 4 and 7 are par 3, which 100 yards suit.
    assert_eq!(found("par-length", &short(8)).iter().filter(|f| f.severity == Severity::Warning).count(), 6);
    one(&found("par-length", &short(9)), Severity::Note, &["holes 1, 2, 3, 5, 6, 8 and 9 of \"Heron\"", "juniors"]);
}

#[test]
fn combinations_lead_to_tees_of_the_card() {
    let named = changed(|n| n.combos[0].tees[3] = "Herron".into());
    one(
        &found("combo-tees", &named),
        Severity::Error,
        &["hole 4", "\"Herron\"", "no such tee", "nearest is \"Heron\""],
    );
    let length = changed(|n| n.combos[0].lengths[3] = Some(186));
    one(&found("combo-tees", &length), Severity::Error, &["hole 4", "is 186", "\"Heron\", which is 187"]);
    let print = changed(|n| {
        n.combos[0].tees[3] = String::new();
        n.combos[0].lengths[3] = Some(186);
    });
    one(&found("combo-tees", &print), Severity::Error, &["hole 4", "is 186", "no tee of the card"]);
    let short = changed(|n| {
        n.combos[0].tees.pop();
    });
    one(&found("combo-tees", &short), Severity::Error, &["17 tees for 18 holes"]);
}
