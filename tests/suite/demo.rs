//! The demo is rebuilt and matches to the byte what stands in `proofs-demo`.
//!
//! With `FAIRFOLD_REBUILD=1` the files are written anew; then every picture is to be looked at before they are committed.

use std::fs;
use std::path::Path;

use super::demo_art;
use super::program::{demo, fairfold, judge, said};

/// Cards that check without errors and go on a sheet.
const CARDS: [&str; 6] =
    ["otterby-4.5x12", "otterby-6x12", "otterby-6x17", "otterby-down", "netherwick-art", "otterby-art"];

fn rebuild() -> bool {
    std::env::var_os("FAIRFOLD_REBUILD").is_some()
}

/// Compares with, or writes, a file of the demo.
fn same(name: &str, made: &[u8]) {
    let kept = demo(name);
    if rebuild() {
        fs::write(&kept, made).unwrap();
        return;
    }
    let wanted = fs::read(&kept).unwrap_or_default();
    assert!(wanted == made, "proofs-demo/{name} is not what is made now; see DEVELOPERS.md on rebuilding the demo");
}

fn press(card: &str, folder: &Path) -> Vec<u8> {
    let out = folder.join(format!("{card}.pdf"));
    let output = fairfold(&["impose", &format!("{card}-job.toml"), "--out", out.to_str().unwrap()]);
    let said = String::from_utf8_lossy(&output.stdout) + String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{card}: {said}");
    fs::read(out).unwrap()
}

#[test]
fn press_files_and_previews_match_to_the_byte() {
    let folder = tempfile::tempdir().unwrap();
    for card in CARDS {
        let bytes = press(card, folder.path());
        let pdf = folder.path().join(format!("{card}.pdf"));
        same(&format!("{card}-press.pdf"), &bytes);

        // A small picture of each press page, and of each face of the card.
        let pages = folder.path().join(format!("{card}-pages.pdf"));
        // Artwork has its job file say what it cannot say itself.
        let input = if card.ends_with("-art") { format!("{card}-job.toml") } else { format!("{card}.toml") };
        let output = fairfold(&["check", &input, "--pages", pages.to_str().unwrap()]);
        assert!(output.status.code() == Some(0), "{card}: {}", String::from_utf8_lossy(&output.stdout));
        for (file, kind, ppi) in [(&pdf, "press", "24"), (&pages, "card", "60")] {
            let prefix = folder.path().join(format!("{card}-{kind}"));
            let drawn = judge("pdftoppm", &["-r", ppi, "-png", file.to_str().unwrap(), prefix.to_str().unwrap()]);
            assert!(drawn.status.success());
            for page in 1..=2 {
                let name = format!("{card}-{kind}-{page}.png");
                if let Ok(picture) = fs::read(folder.path().join(&name)) {
                    same(&name, &picture);
                } else {
                    assert!(page > 1, "{name} was not drawn");
                }
            }
        }
    }
}

#[test]
fn the_artwork_is_made_again_to_the_byte() {
    same("netherwick-art.pdf", &demo_art::plain());
    same("otterby-art.pdf", &demo_art::awkward());
}

/// A plate and the map of total ink, as the README shows them.
#[test]
fn pictures_of_plates_match_to_the_byte() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("plates");
    let card = demo("otterby-6x17.toml");
    let drawn = fairfold(&["plates", card.to_str().unwrap(), "--ppi", "60", "--out", out.to_str().unwrap()]);
    assert!(drawn.status.success(), "{}", String::from_utf8_lossy(&drawn.stderr));
    for (made, kept) in [
        ("otterby-6x17-1-Otterby-Heath.png", "otterby-6x17-plate-heath.png"),
        ("otterby-6x17-1-total-ink.png", "otterby-6x17-total-ink.png"),
    ] {
        same(kept, &fs::read(out.join(made)).unwrap());
    }
}

#[test]
fn two_runs_give_the_same_bytes() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    assert!(press("otterby-6x12", one.path()) == press("otterby-6x12", two.path()));
}

#[test]
fn the_report_on_the_card_with_planted_faults_is_the_expected_one() {
    let output = fairfold(&["check", "otterby-faults.toml"]);
    assert_eq!(output.status.code(), Some(1));
    same("otterby-faults-report.txt", &output.stdout);
}

#[test]
fn imposing_the_card_with_planted_faults_is_refused_and_leaves_no_file() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("press.pdf");
    let out = out.to_str().unwrap();
    let output = fairfold(&["impose", "otterby-faults.toml", "--sheet", "28x40", "--date", "2027-01-15", "--out", out]);
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn qpdf_finds_nothing_wrong_and_every_font_is_embedded_and_subset() {
    for card in CARDS {
        let kept = demo(&format!("{card}-press.pdf"));
        let kept = kept.to_str().unwrap();
        let checked = said("qpdf", &["--check", kept]);
        assert!(checked.contains("No syntax or stream encoding errors found"), "{checked}");
        let fonts = said("pdffonts", &[kept]);
        let rows: Vec<&str> = fonts.lines().skip(2).collect();
        assert!(!rows.is_empty());
        for row in rows {
            // The columns from the right: object, generation, uni, sub, emb.
            let words: Vec<&str> = row.split_whitespace().rev().collect();
            assert_eq!(words[2..5], ["yes", "yes", "yes"], "{row}");
        }
    }
}

#[test]
fn demo_files_validate_against_the_schema_by_an_outside_validator() {
    let folder = tempfile::tempdir().unwrap();
    for (of, pattern) in [("card", "otterby-*.toml"), ("job", "otterby-*-job.toml")] {
        let schema = folder.path().join(format!("{of}.json"));
        fs::write(&schema, fairfold(&["schema", of]).stdout).unwrap();
        let program = "
import glob, json, sys, tomllib, jsonschema
schema = json.load(open(sys.argv[1]))
jsonschema.Draft202012Validator.check_schema(schema)
names = [n for n in sorted(glob.glob(sys.argv[2])) if ('-job' in n) == ('-job' in sys.argv[2])]
assert len(names) >= 4, names
for name in names:
    jsonschema.Draft202012Validator(schema).validate(tomllib.load(open(name, 'rb')))
print(len(names))
";
        said("python3", &["-c", program, schema.to_str().unwrap(), demo(pattern).to_str().unwrap()]);
    }
}

#[test]
fn the_cover_is_painted_again_to_the_byte() {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("heath.jpg");
    let run = std::process::Command::new(cargo)
        .current_dir(super::program::root())
        .args(["run", "-q", "--locked", "--example", "paint-cover", "--", out.to_str().unwrap()])
        .output()
        .unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    same("heath.jpg", &fs::read(out).unwrap());
}
