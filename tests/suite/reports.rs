//! Reports: the text a person reads, and the JSON whose shape an outside validator holds against its schema.

use std::io::Write as _;
use std::process::{Command, Stdio};

use fairfold::check::{LimitSet, Limits, explain, run};
use fairfold::fault::Text;
use fairfold::ink::Colour;
use fairfold::report::{Palette, Report, explained, json, schema, text};
use serde_json::Value;

use super::hand_card::{self, Inside, Outside};

/// A card with one error, a finding on many marks, a waived one and a note.
fn planted() -> (fairfold::card::Card, Limits) {
    let mut card = hand_card::card();
    hand_card::grid(&mut card, 0.75, 4, 0.22);
    for hole in 0..4_u8 {
        let x = 2.0 + f64::from(hole) * 0.4;
        hand_card::text(&mut card, Inside, "385", 4.5, (x, 5.0), Colour::BLACK);
    }
    hand_card::fill(&mut card, Outside, hand_card::rect(6.0, 0.5, 12.05, 5.5), Colour::BLACK);
    hand_card::font(&mut card, Inside, "ArchivoNarrow-Regular", None);
    let file = Text::new(
        "limits.toml",
        "[limits.fold-margin]\nmargin = \"1/8 in\"\n[[waive]]\ncheck = \"writing-height\"\nreason = \"the club keeps eight lines\"\n",
    );
    (card, Limits::read(&file, LimitSet::CoatedOffset).unwrap())
}

fn report(palette: Palette) -> String {
    let (card, limits) = planted();
    let checked = run(&card, &limits).unwrap();
    text(&Report::new(&card, &limits, &checked), palette)
}

#[test]
fn the_text_names_place_advice_waivers_and_what_was_skipped() {
    let plain = report(Palette::plain());
    for want in [
        "error[bleed]: ink that touches the trim at the right runs 0.05 in (1.27 mm) past it; at least 0.125 in (3.18 mm)\n  \
         --> otterby.pdf, page 1, object 7 · outside, panel 2\n  = advice: extend it by 0.075 in (1.91 mm) at the right",
        "warning[text-size]: text in one ink is 4.5 pt (1.59 mm); at least 5 pt (1.76 mm)\n  \
         --> otterby.pdf, page 2, object 7 · inside, panel 1, \"385\", 4 places\n",
        "waived[writing-height]: a player's line is 0.22 in (5.59 mm) high",
        "  = reason: the club keeps eight lines\n",
        "skipped[clip-zone]: because the card does not say that carts are used\n",
        "\nOtterby Common: 1 error, ",
        ", 1 waived; limits: coated-offset, 1 changed\n",
    ] {
        assert!(plain.contains(want), "missing:\n{want}\nin:\n{plain}");
    }
    assert!(!plain.contains('\u{1b}'));
}

#[test]
fn styles_add_nothing_but_styles() {
    let styled = report(Palette::colours());
    assert!(styled.contains("\u{1b}["));
    let bare: String = anstream::adapter::strip_str(&styled).to_string();
    assert_eq!(bare, report(Palette::plain()));
}

#[test]
fn a_finding_of_waived_checks_does_not_set_the_exit_code() {
    use fairfold::check::Severity::{Error, Note, Warning};
    let (card, limits) = planted();
    let checked = run(&card, &limits).unwrap();
    assert_eq!([Error, Warning, Note].map(|s| checked.exit_code(s)), [1, 1, 1]);
    let mut clean = hand_card::card();
    for side in [Outside, Inside] {
        hand_card::fill(&mut clean, side, hand_card::rect(2.0, 2.0, 3.0, 3.0), hand_card::cmyk(0.0, 0.0, 0.0, 60.0));
    }
    let clean = run(&clean, &Limits::default()).unwrap();
    assert_eq!(clean.worst(), None, "{:#?}", clean.findings);
    assert_eq!(clean.exit_code(Note), 0);
}

#[test]
fn the_json_keeps_to_its_schema() {
    let (card, limits) = planted();
    let checked = run(&card, &limits).unwrap();
    let value = json(&Report::new(&card, &limits, &checked));
    assert_eq!(value["report"], 1);
    assert_eq!(value["worst"], "error");
    assert_eq!(value["limits"]["changed"][0], "fold-margin.margin");
    let bleed = &value["findings"][0];
    // 0.05 in and 1/8 in are 1.27 mm and 3.175 mm, by definition of the inch.
    assert_eq!(bleed["reading"]["measured"], 1.27);
    assert_eq!(bleed["reading"]["limit"]["at_least"], 3.175);
    assert_eq!(bleed["reading"]["unit"], "mm");
    assert_eq!(bleed["place"]["source"]["page"], 1);
    let how =
        |id: &str| value["checks"].as_array().unwrap().iter().find(|c| c["check"] == id).unwrap()["outcome"].clone();
    assert_eq!(
        ["bleed", "writing-height", "clip-zone", "flat-size"].map(how),
        ["found", "waived", "skipped", "clean"].map(Value::from)
    );
    validate(&schema(), &value);
}

/// Holds `value` against `schema` with the validator of PyPI `jsonschema`.
fn validate(schema: &Value, value: &Value) {
    let script = "import json, sys, jsonschema\n\
                  schema, value = json.load(sys.stdin)\n\
                  jsonschema.Draft202012Validator.check_schema(schema)\n\
                  jsonschema.Draft202012Validator(schema).validate(value)\n\
                  del value['findings'][0]['place']\n\
                  assert not jsonschema.Draft202012Validator(schema).is_valid(value), 'the schema lets anything pass'\n";
    let mut judge = Command::new("python3")
        .args(["-c", script])
        .stdin(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("this test needs python3");
    judge
        .stdin
        .take()
        .unwrap()
        .write_all(Value::from(vec![schema.clone(), value.clone()]).to_string().as_bytes())
        .unwrap();
    let done = judge.wait_with_output().unwrap();
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(!said.contains("No module named"), "this test needs a validator: pip install jsonschema\n{said}");
    assert!(done.status.success(), "{said}");
}

#[test]
fn explain_tells_the_limits_in_force() {
    let (_, limits) = planted();
    let told = explained(&explain("fold-margin").unwrap(), &limits, Palette::plain());
    for want in
        ["What it checks\n  What stands at a fold", "Source of the limit\n", "fold-margin.margin = 0.125 in (3.18 mm)"]
    {
        assert!(told.contains(want), "missing: {want}\nin:\n{told}");
    }
    assert!(told.lines().all(|line| line.chars().count() <= 120), "{told}");
}
