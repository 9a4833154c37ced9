//! The card file: every fault in one run, TOML and JSON alike, a schema that an outside validator can use, a starter that reads clean.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use fairfold::fault::{Faults, Source, Text};
use fairfold::model::{FoldName, Model, Syntax, read, schema, starter};
use fairfold::unit::{Length, Size};
use proptest::prelude::*;

/// The card files of the demo: what is TOML and has a `[card]`.
fn demos() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("proofs-demo");
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.retain(|f| f.extension().is_some_and(|e| e == "toml"));
    files.sort();
    let named =
        files.iter().map(|f| (f.file_name().unwrap().to_str().unwrap().to_owned(), fs::read_to_string(f).unwrap()));
    named.filter(|(_, text)| text.lines().any(|l| l == "[card]")).collect()
}

fn toml(text: &str) -> Result<Model, Faults> {
    read(&Text::new("card.toml", text), Syntax::Toml)
}

fn json(text: &str) -> Result<Model, Faults> {
    read(&Text::new("card.json", text), Syntax::Json)
}

/// The same card as JSON.
fn twin(toml: &str) -> String {
    let value: toml::Value = toml::from_str(toml).unwrap();
    serde_json::to_string_pretty(&value).unwrap()
}

fn six_by_twelve() -> String {
    starter("Sallow Hythe", Size::new(Length::inches(12, 1), Length::inches(6, 1)), FoldName::Half).unwrap()
}

/// Each fault as `line:column message`.
fn places(faults: &Faults) -> Vec<String> {
    let place = |source: &Source| match source {
        Source::Span(span) => format!("{}:{}", span.line_column().0, span.line_column().1),
        other => format!("{other:?}"),
    };
    faults.iter().map(|f| format!("{} {}", place(&f.source), f.message)).collect()
}

fn hints(faults: &Faults, n: usize) -> String {
    faults.iter().nth(n).unwrap().hints.join("; ")
}

#[test]
fn every_demo_reads_without_fault() {
    assert!(demos().len() >= 4);
    for (name, text) in demos() {
        if let Err(faults) = read(&Text::new(name, text), Syntax::Toml) {
            panic!("{faults}");
        }
    }
}

/// Lines and columns were counted by hand in an editor.
const PLANTED: &str = r#"[card]
title = ""
siez = "6 x 12 in"
fold = "leter"
bleed = "3"
condition = "coted"

[inks]
heath = { process = [70, 42, 178, 0] }

[course]
name = "Sallow Hythe"
par = [4, 4, 4, 3, 5, 4, 3, 4, 5]

[[tees]]
name = "Heron"
lengths = [392, 418, 397, 187, 521, 371, 164, 446]
colour = "heeth 40 %"

[[tees]]
name = "Heron"
lengths = "yards"
shown = "fil"
colour = "heath 140 %"

[grid]
rows = [{ row = "parr" }, { row = "pace" }, { row = "players", for = "men" }]

[[panel]]
face = "inside"
block = [
  { block = "tekst", at = 1 },
  { block = "text", text = "Fore" },
]
"#;

#[test]
fn all_planted_faults_come_in_one_run_each_at_its_place() {
    let faults = toml(PLANTED).unwrap_err();
    let want = [
        "2:9 the title is blank",
        "3:1 unknown key `siez` in `card`",
        "4:8 `fold` cannot be \"leter\"",
        "5:9 `3` has no unit",
        "6:13 \"coted\" is no print condition",
        "9:30 yellow of 178 % cannot be printed",
        "17:11 there are 8 lengths for 9 holes: 1 missing",
        "18:10 there is no ink \"heeth\" in [inks]",
        "21:8 the tee \"Heron\" is already there, in line 16",
        "22:11 `lengths` must be a list, and this is a text",
        "23:9 `shown` cannot be \"fil\"",
        "24:10 `heath 140 %` has a tint that is not between 0 and 100 %",
        "27:17 `row` cannot be \"parr\"",
        "27:27 there are no times to show",
        "27:70 `for` is for rows of pars and stroke indexes",
        "32:13 `block` cannot be \"tekst\"",
        "33:3 `at` is missing in `block`, number 2",
    ];
    assert_eq!(places(&faults), want);
    assert!(hints(&faults, 1).contains("nearest is `size`"));
    assert!(hints(&faults, 1).contains("title, size, fold"));
    assert!(hints(&faults, 2).contains("nearest is \"letter\""));
    assert!(hints(&faults, 7).contains("nearest is \"heath\""));
    assert!(hints(&faults, 15).contains("\"text\", \"rule\", \"box\""));
    let shown = faults.to_string();
    assert!(shown.starts_with("card.toml:2:9: the title is blank\n"), "{shown}");
}

#[test]
fn json_faults_have_their_places_too() {
    let text = "{\n  \"card\": {\n    \"title\": \"Sallow Hythe\",\n    \"size\": \"6 by 12\",\n    \"fold\": 2,\n    \"carts\": \"yes\"\n  },\n  \"tee\": []\n}\n";
    let want = [
        "4:13 `6 by 12` is not a size",
        "5:13 `fold` must be one of its words, and this is a number",
        "6:14 `carts` must be true or false, and this is a text",
        "8:3 unknown key `tee`",
    ];
    assert_eq!(places(&json(text).unwrap_err()), want);
}

#[test]
fn faults_of_the_syntax_have_their_place() {
    let faults =
        toml("[card]\ntitle = \"Sallow\nsize = 6 x 12 in\ntitle = \"again\"\nbleed = \"3 furlongs\"\n").unwrap_err();
    let lines: Vec<usize> =
        faults.iter().map(|f| if let Source::Span(span) = &f.source { span.line_column().0 } else { 0 }).collect();
    assert!([2, 3, 4, 5].iter().all(|l| lines.contains(l)), "{faults}");
    assert!(!faults.to_string().contains("missing"), "nothing is missing that stands there unreadable: {faults}");

    assert_eq!(places(&json("{\n  \"card\": {,}\n}").unwrap_err()).len(), 1);
    assert!(places(&json("{\n  \"card\": {,}\n}").unwrap_err())[0].starts_with("2:12 this is not JSON"));
    assert!(places(&json("// a card\n{}").unwrap_err())[0].starts_with("1:1 this is not JSON"));
    assert_eq!(places(&json("").unwrap_err()), ["1:1 the file is empty"]);
    assert_eq!(places(&toml("").unwrap_err()), ["1:1 `card` is missing"]);
    assert_eq!(
        places(&json("{\"card\": 1,\n \"card\": 2}").unwrap_err())[1],
        "2:2 this key stands twice in the same table"
    );
}

/// A good card with one change: what the one fault says. A pair of texts is found and replaced.
#[test]
fn one_change_brings_one_fault() {
    let good = six_by_twelve();
    assert_eq!(toml(&good).err().map(|f| f.to_string()), None);
    // An ink that is gone is missed wherever it was used; a panel or time may be wrong in two ways.
    let many = |to: &str| ["black = {", "panels = [1, 3]", "pace = "].iter().any(|t| to.contains(t));
    for (from, to, want) in [
        ("size = \"6 x 12 in\"", "size = \"60 x 12 in\"", "larger than any sheet"),
        ("size = \"6 x 12 in\"", "size = \"6 x 12 mm\"", "too small to hold"),
        ("carts = false", "widths = [\"6 in\", \"5.5 in\"]", "0.5 in (12.7 mm) missing"),
        ("carts = false", "widths = [\"6 in\", \"6 in\", \"1 in\"]", "`widths` has 3 and the fold makes 2 panels"),
        ("carts = false", "panels = 3", "has 2 panels, not 3"),
        ("fold = \"half\"", "fold = \"accordion\"", "an accordion fold needs `panels`"),
        ("panel = 2", "panel = 3", "there is no panel 3 with fold \"half\""),
        ("panel = 2", "panel = 1", "this panel is already described"),
        ("men = [9, 5", "men = [5", "there are 17 stroke indexes for 18 holes: 1 missing"),
        ("name = \"Pine\"", "name = \"slate\"", "the tee \"slate\" is already there, in line 39"),
        ("pine = {", "black = {", "an ink cannot be called \"black\""),
        ("safe = \"1/8 in\"", "safe = \"-1 mm\"", "the safe margin is"),
        ("face = \"inside\"\n", "face = \"inside\"\npanels = [1, 3]\n", "there is no panel 3"),
        ("{ row = \"tee\", height", "{ row = \"tee\", of = \"Slat\", height", "there is no tee \"Slat\""),
        ("for = \"women\"", "for = \"men\"", "this row is already there"),
        ("count = 8", "count = 80", "80 players' lines cannot be made"),
        ("count = 8", "count = 8, height = \"1 in\"", "the rows' stated heights add up to"),
        ("height = \"0.9 in\" }\ntext", "height = \"0 in\" }\ntext", "the height is 0 in (0 mm)"),
        ("x = \"0.3 in\", y = \"0.3 in\"", "x = \"7 in\", y = \"0.3 in\"", "stands outside its panel"),
        ("path = \"M29", "path = \"K29", "the path cannot be drawn"),
        (", fill = \"slate\" }", " }", "neither fill nor stroke"),
        ("lengths = [405", "lengths = [0", "hole 1 of \"Slate\" cannot be 0 long"),
        ("units = \"yards\"", "units = \"yards\"\nsignature = [7, 19]", "there is no hole 19"),
        ("units = \"yards\"", "units = \"yards\"\npace = [\"14\"]", "there are 1 times for 18 holes"),
        ("text = \"18 holes", "tracking = \"6\"\ntext = \"18 holes", "`6` has no unit"),
        ("size = \"9 pt\"", "size = 9", "must be a length in quotes"),
        ("carts = false", "carts = 1979-05-27", "must be true or false, and this is a date"),
        ("process = [70, 50, 26, 42] ", "process = [70, 50, 26, 42], spot = \"Cyan\" ", "cannot be called \"Cyan\""),
    ] {
        let bad = good.replacen(from, to, 1);
        assert_ne!(bad, good, "{from}");
        let faults = toml(&bad).unwrap_err();
        assert!(faults.iter().any(|f| f.message.contains(want)), "{to}: {faults}");
        assert!(faults.iter().count() <= if many(to) { 7 } else { 1 }, "{to}: {faults}");
    }
}

#[test]
fn numbers_past_what_can_be_held_are_faults_at_their_place() {
    let text = |page: &str, panel: &str| {
        format!(
            "[card]\ntitle = \"Sallow Hythe\"\nsize = \"6 x 12 in\"\n\n[[panel]]\nface = \"outside\"\npanel = {panel}\n\n\
             [[panel.block]]\nblock = \"page\"\nfile = \"art.pdf\"\npage = {page}\n"
        )
    };
    assert_eq!(toml(&text("1", "1")).err().map(|f| f.to_string()), None);
    for (page, panel, want) in [
        ("5000000000", "1", "12:8 `page` must be 4294967295 or less"),
        ("-1", "1", "12:8 `page` must be 0 or more"),
        ("0", "1", "12:8 there is no page 0"),
        ("1.5", "1", "12:8 `page` must be a whole number"),
        ("inf", "1", "12:8 `page` is not a number that can be used"),
        ("1", "99999999999999999999", "7:9 `panel` is too large a number"),
    ] {
        assert_eq!(places(&toml(&text(page, panel)).unwrap_err()), [want], "{page} {panel}");
    }
}

#[test]
fn toml_and_json_of_one_card_give_one_model() {
    for text in demos().into_iter().map(|(_, text)| text).chain([six_by_twelve()]) {
        let (from_toml, from_json) = (toml(&text).unwrap(), json(&twin(&text)).unwrap());
        assert_eq!(from_toml.file, from_json.file);
        assert_eq!(from_toml.scorecard(), from_json.scorecard());
        assert_eq!(from_toml.format(), from_json.format());
    }
}

#[test]
fn the_starter_reads_clean_in_every_size_and_fold() {
    let inches = |h: i64, w: i64| Size::new(Length::inches(w, 2), Length::inches(h, 2));
    let sizes = [(9, 24), (12, 24), (12, 34), (10, 24), (12, 16), (12, 20), (15, 24)];
    let mut made = 0;
    for size in sizes.map(|(h, w)| inches(h, w)).into_iter().chain([Size::new(Length::mm(300), Length::mm(148))]) {
        for fold in [FoldName::None, FoldName::Half, FoldName::Letter, FoldName::Accordion, FoldName::Gate] {
            for title in ["Sallow Hythe", "Über \"Den\" {{size}}\n", "St Ebba's-on-the-Wold and Lower Netherwick Links"]
            {
                let Ok(text) = starter(title, size, fold) else { continue };
                made += 1;
                let model =
                    toml(&text).unwrap_or_else(|faults| panic!("{} {fold:?}: {faults}\n{text}", size.card_text()));
                assert_eq!(model.file.card.title, title.trim());
                assert_eq!(model.format().flat, size);
                assert!(title.contains("{{") || !text.contains("{{"));
            }
        }
    }
    assert!(made >= 60, "{made}");
    let small = starter("Sallow Hythe", inches(8, 10), FoldName::Half).unwrap_err();
    assert!(small.to_string().contains("does not fit on 4 x 5 in"), "{small}");
}

#[test]
fn the_starters_numbers_keep_the_rules() {
    // Rules of Handicapping: a stroke index is a permutation of 1 to 18; slope runs from 55 to 155. Par by length (Appendix F) as ranges.
    let card = toml(&six_by_twelve()).unwrap().scorecard().unwrap();
    for (_, index) in &card.stroke_index {
        let mut sorted: Vec<i64> = index.iter().map(|i| i.unwrap()).collect();
        sorted.sort_unstable();
        assert_eq!(sorted, (1..=18).collect::<Vec<i64>>());
    }
    assert_eq!(card.par[0].1.iter().map(|p| p.unwrap()).sum::<i64>(), 72);
    for pair in card.tees.windows(2) {
        assert!(pair[0].lengths.iter().zip(&pair[1].lengths).all(|(a, b)| a > b));
    }
    for tee in &card.tees {
        for (who, rating) in &tee.ratings {
            assert!((55..=155).contains(&rating.slope.unwrap()));
            let women = who.to_string() == "women";
            for (length, par) in tee.lengths.iter().zip(&card.par[0].1) {
                let range = match (par.unwrap(), women) {
                    (3, false) => 1..=260,
                    (4, false) => 240..=490,
                    (_, false) => 450..=710,
                    (3, true) => 1..=220,
                    (4, true) => 200..=420,
                    (_, true) => 370..=600,
                };
                assert!(range.contains(&length.unwrap()), "{}: {length:?} par {par:?}", tee.name);
            }
        }
    }
}

#[test]
fn totals_are_added_up_unless_typed() {
    // Added by hand: 405 + 428 + 188 + 531 + 392 + 417 + 171 + 440 + 546 = 3518; the second nine 3557.
    let good = six_by_twelve();
    let card = toml(&good).unwrap().scorecard().unwrap();
    let printed = card.tees[0].printed;
    assert_eq!((printed.out, printed.inward, printed.total), (Some(3518), Some(3557), Some(7075)));
    let typed = good.replacen("colour = \"slate\"", "colour = \"slate\"\ntotals = { out = 3519 }", 1);
    let model = toml(&typed).unwrap();
    let printed = model.scorecard().unwrap().tees[0].printed;
    assert_eq!((printed.out, printed.inward, printed.total), (Some(3519), Some(3557), Some(7075)));
    let trace = model.trace_numbers();
    let tee = fairfold::card::RowRole::Tee(0);
    let out = fairfold::card::ColumnRole::Half(fairfold::card::Half::Out);
    let line = |n: usize| typed.lines().nth(n - 1).unwrap();
    assert!(line(trace.number(&tee, Some(&out)).unwrap().line_column().0).contains("3519"));
    let (at, column) = trace.number(&tee, Some(&fairfold::card::ColumnRole::Hole(4))).unwrap().line_column();
    assert!(line(at).get(column - 1..).unwrap().starts_with("531"));
    assert!(line(trace.setting("card.size").unwrap().line_column().0).starts_with("size ="));
}

#[test]
fn panel_widths_are_the_usual_ones_or_the_stated_ones() {
    let wide = Size::new(Length::inches(17, 1), Length::inches(6, 1));
    let letter = toml(&starter("Sallow Hythe", wide, FoldName::Letter).unwrap()).unwrap();
    // 1/32 in shorter for most papers (published): the full panels share the rest.
    let panels = letter.format().fold.panels;
    assert_eq!(panels.iter().copied().sum::<Length>(), Length::inches(17, 1));
    assert!((panels[0] - panels[2]).near(Length::inches(1, 32), Length::units(3)), "{panels:?}");
    // Published example: 11 in letter fold, 3.6875, 3.6875, 3.625.
    let text = "[card]\ntitle = \"Sallow Hythe\"\nsize = \"8.5 x 11 in\"\nfold = \"letter\"\nwidths = [\"3.6875 in\", \"3.6875 in\", \"3.625 in\"]\n";
    assert_eq!(toml(text).unwrap().format().fold.panels, [59, 59, 58].map(|n| Length::inches(n, 16)));
}

#[test]
fn colours_come_in_their_own_inks() {
    let good = six_by_twelve().replacen(
        "pine = { process = [84, 46, 80, 60] }",
        "pine = { process = [84, 46, 80, 60], spot = \"Hythe Pine\" }",
        1,
    );
    let model = toml(&good).unwrap();
    let colour = |text: &str| model.colour(&fairfold::model::ColourText(text.to_owned())).to_string();
    assert_eq!(colour("pine 40 %"), "Hythe Pine 40 %");
    assert_eq!(colour("barley 50 %"), "C 5 M 10 Y 23 K 2");
    assert_eq!(colour("C 60 M 0 Y 80 K 20"), "C 60 M 0 Y 80 K 20");
    assert_eq!(colour("black 60 %"), "C 0 M 0 Y 0 K 60");
    assert_eq!(colour("white"), "C 0 M 0 Y 0 K 0");
    assert_eq!(model.spots().iter().map(|s| s.name.to_string()).collect::<Vec<_>>(), ["Hythe Pine"]);
}

#[test]
fn an_outside_validator_agrees() {
    // PyPI jsonschema, draft 2020-12: the schema itself, every good card, and cards with one change each.
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write("schema.json", &serde_json::to_string(&schema()).unwrap());
    let good = six_by_twelve();
    write("good-starter.json", &twin(&good));
    for (name, text) in demos() {
        write(&format!("good-{name}.json"), &twin(&text));
    }
    for (n, (from, to)) in [
        ("fold = \"half\"", "fold = \"leter\""),
        ("carts = false", "cart = false"),
        ("carts = false", "carts = 1"),
        ("process = [70, 50, 26, 42]", "process = [70, 50, 26]"),
        ("units = \"yards\"", "units = \"feet\""),
        ("lengths = [405", "lengths = [\"405\""),
        ("block = \"symbol\"", "block = \"symbols\""),
        ("x = \"0.3 in\", y = \"0.3 in\", ", "x = \"0.3 in\", "),
        ("rating = { men = 73.0 }", "rating = { man = 73.0 }"),
    ]
    .into_iter()
    .enumerate()
    {
        let bad = good.replacen(from, to, 1);
        assert_ne!(bad, good);
        assert!(toml(&bad).is_err());
        write(&format!("bad-{n}.json"), &twin(&bad));
    }
    let script = r#"
import json, pathlib, sys
import jsonschema
folder = pathlib.Path(sys.argv[1])
schema = json.loads((folder / "schema.json").read_text())
jsonschema.Draft202012Validator.check_schema(schema)
judge = jsonschema.Draft202012Validator(schema)
seen = 0
for file in sorted(folder.glob("*-*.json")):
    faults = [e.message for e in judge.iter_errors(json.loads(file.read_text()))]
    seen += 1
    if bool(faults) != file.name.startswith("bad"):
        sys.exit(f"{file.name}: {faults}")
print(seen)
"#;
    let run = Command::new("python3").arg("-c").arg(script).arg(folder.path()).output();
    let run = run.expect("python3 is needed: install it, and `pip install jsonschema`");
    let said = String::from_utf8_lossy(&run.stderr).into_owned();
    assert!(!said.contains("ModuleNotFoundError"), "the outside judge is missing: pip install jsonschema");
    assert!(run.status.success(), "{said}");
    let seen: usize = String::from_utf8_lossy(&run.stdout).trim().parse().unwrap();
    assert_eq!(seen, demos().len() + 10);
}

#[test]
fn the_schema_is_the_same_bytes_every_time_and_says_what_each_key_is() {
    let (one, two) = (schema(), schema());
    assert_eq!(serde_json::to_string(&one).unwrap(), serde_json::to_string(&two).unwrap());
    assert_eq!(one["$schema"], "https://json-schema.org/draft/2020-12/schema");
    let tables = one["$defs"].as_object().unwrap().values().chain([&one]);
    let mut keys = 0;
    for table in tables.filter_map(|t| t.get("properties")).filter_map(|p| p.as_object()) {
        for (key, own) in table {
            assert!(own.get("description").is_some(), "{key}");
            keys += 1;
        }
    }
    assert!(keys > 60, "{keys}");
}

/// A piece that is put into the starter, or nothing.
fn shred() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[ -~]{1,6}",
        "\\PC{1,3}",
        Just("\n".to_owned()),
        Just("\"".to_owned()),
        Just("]".to_owned()),
        Just("{".to_owned()),
        Just("-1".to_owned()),
        Just("99999999999999999999".to_owned()),
        Just("1e999".to_owned()),
        Just("é %".to_owned()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 160, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn noise_is_read_or_refused_and_never_ends_the_program(text in "(?s).{0,200}") {
        if let Err(faults) = toml(&text) {
            prop_assert!(!faults.is_empty());
        }
        if let Err(faults) = json(&text) {
            prop_assert!(!faults.is_empty());
        }
    }

    #[test]
    fn a_shredded_starter_is_read_or_refused(cuts in prop::collection::vec((any::<prop::sample::Index>(), 0..12_usize, shred()), 1..6), as_json in any::<bool>()) {
        let mut text = if as_json { twin(&six_by_twelve()) } else { six_by_twelve() };
        for (at, length, put) in cuts {
            let boundary = |mut n: usize| { while !text.is_char_boundary(n) { n -= 1; } n };
            let from = boundary(at.index(text.len()));
            let to = boundary((from + length).min(text.len()));
            text.replace_range(from..to.max(from), &put);
        }
        let result = if as_json { json(&text) } else { toml(&text) };
        match result {
            Ok(model) => {
                model.format();
                model.scorecard();
                model.trace_numbers();
                model.external_files();
            }
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                // The walk of the shape names every fault; serde finds none after it.
                prop_assert!(!faults.to_string().contains("cannot be read:"), "{}", faults);
            }
        }
    }
}
