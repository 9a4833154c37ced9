//! Gang runs judged by an exact model in OR-Tools' CP-SAT, which proves the least cost by its own way: as many requests as it can
//! solve in a few seconds, and the time it takes where they are larger.

use std::io::Write;
use std::process::{Command, Stdio};
use std::time::Instant;

use fairfold::sheet::{GangRequest, Lot, gang};
use serde_json::{Value, json};

use super::gang_runs::sound;

/// Solves every request that it reads, each for so many seconds at most; says status and least cost.
const MODEL: &str = "
import json, sys
from ortools.sat.python import cp_model

def solve(ask):
    model, stations, forms = cp_model.CpModel(), ask['stations'], range(ask['forms'])
    longest = max(least for _, least, _ in ask['lots'])
    runs = [model.new_int_var(0, longest, '') for _ in forms]
    used = [model.new_bool_var('') for _ in forms]
    taken, overs = [[] for _ in forms], []
    for form in forms:
        model.add(runs[form] <= longest * used[form])
        if form: model.add(runs[form - 1] >= runs[form])
    for quantity, least, most in ask['lots']:
        made = []
        for form in forms:
            number, product = model.new_int_var(0, stations, ''), model.new_int_var(0, stations * longest, '')
            model.add_multiplication_equality(product, [number, runs[form]])
            taken[form].append(number)
            made.append(product)
        model.add(sum(made) >= least)
        if most is not None: model.add(sum(made) <= most)
        over = model.new_int_var(0, len(forms) * stations * longest, '')
        model.add(over >= sum(made) - quantity)
        overs.append(over)
    for form in forms: model.add(sum(taken[form]) <= stations)
    model.add(stations * sum(runs) >= sum(least for _, least, _ in ask['lots']))
    model.minimize(ask['per_form'] * sum(used) + ask['per_impression'] * sum(runs) + ask['per_over'] * sum(overs))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds, solver.parameters.random_seed = ask['seconds'], 1
    status = solver.status_name(solver.solve(model))
    return [status, round(solver.objective_value) if status in ('OPTIMAL', 'FEASIBLE') else None]

print(json.dumps([solve(ask) for ask in json.load(sys.stdin)]))
";

/// What CP-SAT says of every request, in status and cost.
fn judged(asks: &[GangRequest], seconds: f64) -> Vec<(String, Option<u64>)> {
    let request = |ask: &GangRequest| {
        let lots: Vec<Value> = ask.lots.iter().map(|lot| json!([lot.quantity, lot.least, lot.most])).collect();
        json!({
            "lots": lots, "stations": ask.patterns[0].stations[0], "forms": ask.most_forms, "seconds": seconds,
            "per_form": ask.per_form, "per_impression": ask.per_impression, "per_over": ask.per_over,
        })
    };
    let requests: Vec<Value> = asks.iter().map(request).collect();
    let mut python = Command::new("python3");
    python.args(["-c", MODEL]).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut judge = python.spawn().expect("this test needs python3 with ortools: bash tests/all.sh installs it");
    judge.stdin.take().unwrap().write_all(Value::from(requests).to_string().as_bytes()).unwrap();
    let output = judge.wait_with_output().unwrap();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "python3 with ortools (bash tests/all.sh installs it): {errors}");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Numbers without a pattern, the same at every run (a linear congruence with Knuth's multiplier, *The Art of Computer Programming*,
/// volume 2, 3.3.4).
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % (most + 1)
    }
}

/// A request of so many lots of up to so many copies: half of them with limits on overs, some with unders.
fn thrown(dice: &mut Dice, lots: usize, stations: u32, forms: usize, most: u64) -> GangRequest {
    let lots = (0..lots).map(|at| {
        let quantity = 1 + dice.up_to(most - 1);
        let unders = if dice.up_to(3) == 0 { dice.up_to(quantity / 10) } else { 0 };
        let overs = quantity / 5 + dice.up_to(quantity);
        let limits = (dice.up_to(1) == 0).then_some(quantity + overs);
        Lot { least: quantity - unders, most: limits, ..Lot::new(format!("card {}", at + 1), quantity) }
    });
    let fewest = GangRequest::fewest_impressions(lots.collect(), stations, forms);
    let (per_form, per_impression, per_over) = (dice.up_to(3) * 20, 2 + dice.up_to(5), dice.up_to(2) / 2);
    GangRequest { per_form, per_impression, per_over, ..fewest }
}

#[test]
fn thrown_requests_cost_what_an_exact_model_says() {
    let mut dice = Dice(2);
    let shapes =
        [(2, 3, 3, 30), (3, 4, 2, 90), (4, 6, 3, 40), (5, 8, 2, 90), (6, 9, 2, 70), (7, 12, 2, 60), (8, 12, 2, 60)];
    let throw = |_| shapes.map(|(lots, stations, forms, most)| thrown(&mut dice, lots, stations, forms, most));
    let asks: Vec<GangRequest> = (0..6).flat_map(throw).collect();
    let mut proven = 0;
    for (ask, (status, cost)) in asks.iter().zip(judged(&asks, 5.0)) {
        match (status.as_str(), gang(ask)) {
            ("OPTIMAL", Ok(plan)) => {
                sound(ask, &plan);
                assert!(plan.proven(), "{ask:?}");
                assert_eq!(Some(plan.cost), cost, "{ask:?}");
                proven += 1;
            }
            ("INFEASIBLE", Err(faults)) => assert!(faults.iter().all(|fault| !fault.hints.is_empty())),
            // What the model cannot prove in its time is at least no worse here.
            ("FEASIBLE", Ok(plan)) => assert!(plan.cost <= cost.unwrap(), "{ask:?}"),
            ("UNKNOWN", _) => {}
            (_, plan) => panic!("{status} {cost:?}, yet {plan:?} for {ask:?}"),
        }
    }
    assert!(proven >= 30, "only {proven} of {} requests were judged", asks.len());
}

#[test]
fn twelve_lots_on_sixteen_stations_ten_times_faster_than_an_exact_model() {
    let quantities = [3120, 950, 4400, 610, 2750, 8800, 1200, 5350, 700, 2100, 640, 7450];
    let lots = quantities.iter().map(|quantity| Lot::new(format!("{quantity} cards"), *quantity)).collect();
    let ask = GangRequest { per_form: 30_000, per_impression: 100, ..GangRequest::fewest_impressions(lots, 16, 2) };
    let began = Instant::now();
    let plan = gang(&ask).unwrap();
    let took = began.elapsed().as_secs_f64();
    sound(&ask, &plan);
    assert!(plan.proven());
    let [(status, cost)] = judged(&[ask], took * 10.0).try_into().unwrap();
    assert_ne!(status, "OPTIMAL", "CP-SAT proves it within ten times {took} s");
    assert!(cost.is_none_or(|cost| plan.cost <= cost), "{cost:?} of CP-SAT against {}", plan.cost);
}
