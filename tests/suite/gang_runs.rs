//! Gang runs: published instances, an exact model of a constraint solver, an exhaustive search of small ones, and the laws of a plan.

use fairfold::sheet::{FormPattern, GANG_EFFORT, GangPlan, GangRequest, Lot, gang};
use proptest::prelude::*;

/// Lots of plain numbers, as many of each as said.
fn lots(quantities: &[(u64, usize)]) -> Vec<Lot> {
    let each = quantities.iter().flat_map(|(quantity, times)| std::iter::repeat_n(*quantity, *times));
    each.enumerate().map(|(at, quantity)| Lot::new(format!("card {}", at + 1), quantity)).collect()
}

fn once(quantities: &[u64]) -> Vec<Lot> {
    lots(&quantities.iter().map(|quantity| (*quantity, 1)).collect::<Vec<_>>())
}

/// What any plan must keep, counted from its stations and runs alone.
pub(super) fn sound(ask: &GangRequest, plan: &GangPlan) {
    assert!(plan.forms.len() <= ask.most_forms && plan.bound <= plan.cost);
    let mut overs = 0;
    for (at, lot) in ask.lots.iter().enumerate() {
        let made: u64 = plan.forms.iter().map(|form| u64::from(form.stations[at]) * form.impressions).sum();
        assert!(lot.least <= made && lot.most.is_none_or(|most| made <= most), "{made} of {lot:?}");
        assert_eq!(plan.lots[at].made, made);
        assert_eq!(plan.lots[at].made + plan.lots[at].under, lot.quantity + plan.lots[at].over);
        assert!(plan.lots[at].over == 0 || plan.lots[at].under == 0);
        overs += made.saturating_sub(lot.quantity);
    }
    for form in &plan.forms {
        let pattern = &ask.patterns[form.pattern];
        for size in 0..pattern.stations.len() {
            let taken = ask.lots.iter().zip(&form.stations).filter(|(lot, _)| lot.size == size).map(|(_, n)| n);
            assert!(taken.sum::<u32>() <= pattern.stations[size]);
        }
        assert!(form.impressions > 0);
        assert_eq!(form.stations.iter().sum::<u32>() + form.blank, pattern.stations.iter().sum::<u32>());
    }
    let forms = u64::try_from(plan.forms.len()).unwrap();
    let cost = ask.per_form * forms + ask.per_impression * plan.impressions() + ask.per_over * overs;
    assert_eq!(plan.cost, cost, "{plan:?}");
}

fn planned(ask: &GangRequest) -> GangPlan {
    let plan = gang(ask).unwrap();
    sound(ask, &plan);
    plan
}

fn fewest(lots: Vec<Lot>, stations: u32, forms: usize) -> GangPlan {
    planned(&GangRequest::fewest_impressions(lots, stations, forms))
}

#[test]
fn nine_stations_of_seven_lots() {
    // CSPLib problem 002 (template design; Proll and Smith 1997), in thousands: 550, 418 and 408 with one, two and three templates.
    let quantities = [250, 255, 260, 500, 500, 800, 1100];
    for (forms, impressions) in [(1, 550), (2, 418), (3, 408)] {
        let plan = fewest(once(&quantities), 9, forms);
        assert!(plan.proven(), "{} of {}", plan.cost, plan.bound);
        assert_eq!(plan.impressions(), impressions, "{forms} forms");
    }
}

#[test]
fn forty_two_stations_of_thirty_lots() {
    // CSPLib problem 002, the herbs instance: 87 with two templates; 84, its lower bound, with three.
    let quantities = [(280, 2), (230, 4), (150, 1), (100, 4), (90, 6), (80, 4), (70, 7), (60, 2)];
    assert!(fewest(lots(&quantities), 42, 2).impressions() <= 87);
    let three = fewest(lots(&quantities), 42, 3);
    assert_eq!((three.impressions(), three.proven()), (84, true));
}

/// CSPLib problem 002, the fifty lots of forty stations.
fn fifty() -> Vec<Lot> {
    let low = [(50, 1), (53, 1), (55, 1), (60, 1), (85, 1), (90, 1), (100, 2), (105, 1), (110, 1), (137, 1), (140, 3)];
    let middle = [(150, 8), (168, 1), (170, 2), (195, 2), (200, 3), (210, 2), (225, 1), (230, 3), (250, 8)];
    let high = [(265, 1), (270, 2), (375, 2), (405, 1)];
    lots(&[&low[..], &middle, &high].concat())
}

#[test]
fn forty_stations_of_fifty_lots() {
    assert_eq!(fifty().len(), 50);
    // CSPLib problem 002 (Proll and Smith 1997): 270, 245 and 241 with two, three and four templates.
    assert!(fewest(fifty(), 40, 2).impressions() <= 270);
    for (forms, impressions, part) in [(3, 245, 20), (4, 241, 5)] {
        // A part of the usual effort, so that this is quick without optimisation too.
        let ask = GangRequest { effort: GANG_EFFORT / part, ..GangRequest::fewest_impressions(fifty(), 40, forms) };
        assert!(planned(&ask).impressions() <= impressions, "{forms} forms");
    }
}

#[test]
fn covers_of_three_books() {
    // The cover printing problem (Teghem, Pirlot and Antoniadis 1995; Romero and Alonso-Pecina 2018) with 4 stations, in cents:
    // 139 280.96, two forms of (0 1 3) and (2 2 0), or better.
    let books = GangRequest::fewest_impressions(once(&[4500, 9000, 16000]), 4, 3);
    let plan = planned(&GangRequest { per_form: 1_867_600, per_impression: 1344, ..books });
    assert!(plan.cost <= 13_928_096 && plan.proven(), "{plan:?}");
    // No plan can do with fewer impressions than a quarter of all copies.
    assert!(plan.impressions() >= 29_500 / 4);
}

/// The least cost by trying every run and every number of stations of up to two forms; none where nothing keeps the limits.
fn by_trying(ask: &GangRequest) -> Option<u64> {
    let longest = ask.lots.iter().map(|lot| lot.least).max().unwrap();
    let most_second = if ask.most_forms == 1 { 0 } else { longest };
    let all = ask.patterns.iter().flat_map(|first| ask.patterns.iter().map(move |second| [first, second]));
    let runs = (1..=longest).flat_map(|first| (0..=most_second.min(first)).map(move |second| [first, second]));
    let costs =
        runs.flat_map(|runs| all.clone().map(move |patterns| (runs, patterns))).filter_map(|(runs, patterns)| {
            let forms = if runs[1] == 0 { 1 } else { 2 };
            let room = [0, 1].map(|form| [0, 1].map(|size| if runs[form] == 0 { 0 } else { patterns[form].of(size) }));
            let overs = fewest_overs(&ask.lots, runs, room)?;
            Some(ask.per_form * forms + ask.per_impression * runs.iter().sum::<u64>() + ask.per_over * overs)
        });
    costs.min()
}

/// The fewest overs of lots on what room is left by form and size, by trying.
fn fewest_overs(lots: &[Lot], runs: [u64; 2], room: [[u32; 2]; 2]) -> Option<u64> {
    let Some((lot, rest)) = lots.split_first() else { return Some(0) };
    let mut best: Option<u64> = None;
    for first in 0..=room[0][lot.size] {
        for second in 0..=room[1][lot.size] {
            let made = u64::from(first) * runs[0] + u64::from(second) * runs[1];
            if made < lot.least || lot.most.is_some_and(|most| made > most) {
                continue;
            }
            let mut left = room;
            left[0][lot.size] -= first;
            left[1][lot.size] -= second;
            let Some(others) = fewest_overs(rest, runs, left) else { continue };
            let overs = others + made.saturating_sub(lot.quantity);
            best = Some(best.map_or(overs, |best| best.min(overs)));
        }
    }
    best
}

prop_compose! {
    /// Requests that are small enough to try everything: of one size, or of two with one or two patterns.
    fn small()(
        wanted in prop::collection::vec((1_u64..18, 0_u64..3, prop::option::of(0_u64..4), 0_usize..2), 1..4),
        one_size in any::<bool>(), patterns in prop::collection::vec((1_u32..5, 1_u32..4), 1..3), stations in 2_u32..6,
        most_forms in 1_usize..3, per_form in 0_u64..30, per_impression in 1_u64..8, per_over in 0_u64..3,
    ) -> GangRequest {
        let lot = |(at, (quantity, unders, overs, size)): (usize, (u64, u64, Option<u64>, usize))| Lot {
            least: quantity.saturating_sub(unders).max(1),
            most: overs.map(|overs| quantity + overs),
            size: if one_size { 0 } else { size },
            ..Lot::new(format!("card {at}"), quantity)
        };
        let lots = wanted.into_iter().enumerate().map(lot).collect();
        let both = patterns.iter().map(|(first, second)| FormPattern { stations: vec![*first, *second] });
        let fewest = GangRequest::fewest_impressions(lots, stations, most_forms);
        let patterns = if one_size { fewest.patterns.clone() } else { both.collect() };
        GangRequest { patterns, per_form, per_impression, per_over, ..fewest }
    }
}

prop_compose! {
    /// Requests of two sizes, with stations for one, for the other, or for both on a form.
    fn of_two_sizes()(
        wanted in prop::collection::vec((20_u64..3000, 0_usize..2), 1..8),
        patterns in prop::collection::vec((1_u32..5, 1_u32..5), 1..3), alone in 1_u32..9,
        per_form in 0_u64..9000, per_over in 0_u64..2,
    ) -> GangRequest {
        let lot = |(quantity, size)| Lot { size, ..Lot::new(format!("{quantity} of size {size}"), quantity) };
        let both = patterns.into_iter().map(|(first, second)| FormPattern { stations: vec![first, second] });
        let patterns = both.chain([FormPattern { stations: vec![alone] }]).collect();
        let lots = wanted.into_iter().map(lot).collect();
        let effort = 200_000;
        GangRequest { lots, patterns, per_form, per_impression: 7, per_over, most_forms: 3, effort }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn no_small_plan_is_cheaper(ask in small()) {
        match (gang(&ask), by_trying(&ask)) {
            (Ok(plan), Some(least)) => {
                sound(&ask, &plan);
                prop_assert!(plan.proven());
                prop_assert_eq!(plan.cost, least);
            }
            (Err(_), None) => {}
            (plan, least) => prop_assert!(false, "{:?} against {:?}", plan, least),
        }
    }

    #[test]
    fn plans_of_two_sizes_are_sound(ask in of_two_sizes()) {
        match gang(&ask) {
            Ok(plan) => sound(&ask, &plan),
            Err(faults) => prop_assert!(faults.iter().any(|fault| fault.message.contains("no room")), "{faults:?}"),
        }
    }

    #[test]
    fn less_effort_claims_no_more(ask in small(), effort in 0_u64..3000) {
        let Some(least) = by_trying(&ask) else { return Ok(()) };
        if let Ok(plan) = gang(&GangRequest { effort, ..ask.clone() }) {
            sound(&ask, &plan);
            prop_assert!(plan.bound <= least && least <= plan.cost);
        }
    }
}

#[test]
fn no_effort_still_plans_what_has_no_limits() {
    let ask = GangRequest { effort: 0, ..GangRequest::fewest_impressions(fifty(), 40, 3) };
    // 9358 copies on 40 stations are 233.95 impressions.
    let plan = planned(&ask);
    assert_eq!((plan.bound, plan.proven()), (234, false));
}

#[test]
fn limits_that_no_run_keeps() {
    // Two lots of 7 and 11 on one form of two stations: one run cannot make both to the copy.
    let exact = |lots: Vec<Lot>, forms| {
        let lots = lots.into_iter().map(|lot| lot.within(0, 0)).collect();
        gang(&GangRequest::fewest_impressions(lots, 2, forms))
    };
    let faults = exact(once(&[7, 11]), 1).unwrap_err();
    assert!(faults.iter().any(|fault| fault.message.contains("no gang run keeps within")), "{faults:?}");
    // On two forms, one of each and then two of the second: 7 and 7 + 2 × 2, no impression more than 18 copies on 2 stations.
    assert_eq!(exact(once(&[7, 11]), 2).unwrap().impressions(), 9);
}

#[test]
fn requests_that_cannot_be_planned() {
    let good = || GangRequest::fewest_impressions(once(&[100, 200]), 4, 2);
    let one_size = |stations| vec![FormPattern { stations: vec![stations] }];
    let wrong = [
        ("0 copies", GangRequest { lots: once(&[100, 0]), ..good() }),
        ("gang run of 0 lots", GangRequest { lots: Vec::new(), ..good() }),
        ("9 lots have no room on the 8 stations", GangRequest { lots: lots(&[(50, 9)]), ..good() }),
        ("no form has a station", GangRequest { patterns: one_size(0), ..good() }),
        ("no form has a station", GangRequest { patterns: Vec::new(), ..good() }),
        ("more than 1000 stations", GangRequest { patterns: one_size(1001), ..good() }),
        ("up to 0 forms", GangRequest { most_forms: 0, ..good() }),
        ("up to 9 forms", GangRequest { most_forms: 9, ..good() }),
        (
            "too many ways",
            GangRequest { patterns: vec![FormPattern { stations: vec![4] }; 9], most_forms: 4, ..good() },
        ),
        ("costs nothing", GangRequest { per_impression: 0, ..good() }),
        ("too large", GangRequest { per_form: u64::MAX / 3, ..good() }),
        ("leave out its 100", GangRequest { lots: vec![Lot::new("Heron", 100).within(100, 0)], ..good() }),
        ("leave out its 100", GangRequest { lots: vec![Lot { most: Some(99), ..Lot::new("Heron", 100) }], ..good() }),
        ("no form has a station", GangRequest { lots: vec![Lot { size: 3, ..Lot::new("Heron", 100) }], ..good() }),
    ];
    for (part, ask) in wrong {
        let faults = gang(&ask).unwrap_err();
        assert!(faults.iter().any(|fault| fault.message.contains(part)), "{part}: {faults:?}");
        assert!(faults.iter().all(|fault| !fault.hints.is_empty()));
    }
    assert!(gang(&good()).is_ok());
}
