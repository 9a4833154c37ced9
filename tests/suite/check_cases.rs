//! The cases of the checks, from the card file through the typesetter and the artwork reader: under `tests/checks/<id>` a clean
//! one, a found one and one at the edge. A case is the good card, or the good card with one change.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use fairfold::card::{Card, Trace};
use fairfold::check::{CHECKS, Check, Finding, Limits, Outcome, Severity, run, run_one};
use fairfold::fault::{Source, Text};
use fairfold::grid::recognise;
use fairfold::job::{CardSource, CardWishes, Files, prepare};
use fairfold::model::Syntax;
use serde::Deserialize;

/// One case.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    /// What it shows.
    shows: String,
    /// The one change to the good card.
    change: Option<Change>,
    /// Every finding that the check must make, in any order, and no other.
    #[serde(default)]
    finding: Vec<Expected>,
}

/// A text that stands once in the good card, and what stands there instead.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Change {
    replace: String,
    with: String,
}

/// A finding.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct Expected {
    severity: String,
    /// The place in words.
    place: String,
    /// What message and advice say, in pieces.
    says: Vec<String>,
    /// What stands on the line of the card file that it points at.
    line: Option<String>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/checks")
}

pub(super) fn good() -> String {
    fs::read_to_string(folder().join("good.toml")).unwrap()
}

/// A card file's card, its pages set and read as they will print.
pub(super) fn card_of(text: &str) -> Card {
    let source = CardSource::File(Text::new("case.toml", text), Syntax::Toml);
    let mut prepared = prepare(&source, &NoFiles, &CardWishes::default()).unwrap_or_else(|f| panic!("{f}"));
    prepared.draw_plates();
    prepared.card
}

/// The cases name no other files.
struct NoFiles;

impl Files for NoFiles {
    fn read(&self, name: &str) -> fairfold::fault::Result<Arc<[u8]>> {
        panic!("a case names {name}")
    }
}

impl Case {
    fn read(path: &Path) -> Self {
        let text = fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        toml::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
    }

    fn text(&self) -> String {
        let good = good();
        let Some(Change { replace, with }) = &self.change else { return good };
        assert_eq!(
            good.matches(replace.as_str()).count(),
            1,
            "{}: stands once in the good card: {replace}",
            self.shows
        );
        assert_ne!(replace, with);
        good.replacen(replace.as_str(), with, 1)
    }

    fn hold(&self, check: &Check, kind: &str) {
        let about = format!("{} {kind}: {}", check.id, self.shows);
        let mut found = match run_one(check, &card_of(&self.text()), &Limits::default()).unwrap() {
            Outcome::Clean => Vec::new(),
            Outcome::Found(found) => found,
            other => panic!("{about}: {other:?}"),
        };
        for expected in &self.finding {
            let at = found.iter().position(|f| expected.is(f));
            found.remove(at.unwrap_or_else(|| panic!("{about}: no such finding: {expected:#?}\namong {found:#?}")));
        }
        assert!(found.is_empty(), "{about}: not expected: {found:#?}");
    }
}

impl Expected {
    fn is(&self, finding: &Finding) -> bool {
        let text = format!("{} = {}", finding.message, finding.advice);
        let line = match &finding.place.source {
            Source::Span(span) => span.file.text.lines().nth(span.line_column().0 - 1).unwrap_or_default(),
            _ => "",
        };
        Severity::from_name(&self.severity) == Some(finding.severity)
            && finding.place.words() == self.place
            && self.says.iter().all(|piece| text.contains(piece))
            && self.line.as_ref().is_none_or(|expected| line.contains(expected))
    }
}

fn ids() -> Vec<String> {
    let entries = fs::read_dir(folder()).unwrap().map(|e| e.unwrap());
    let mut ids: Vec<String> =
        entries.filter(|e| e.file_type().unwrap().is_dir()).map(|e| e.file_name().into_string().unwrap()).collect();
    ids.sort();
    ids
}

#[test]
fn every_case_finds_what_it_says_and_nothing_else() {
    for id in ids() {
        let check = CHECKS.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("there is no check {id}"));
        let case = |kind: &str| Case::read(&folder().join(&id).join(format!("{kind}.toml")));
        let (clean, found, edge) = (case("clean"), case("found"), case("edge"));
        assert!(clean.finding.is_empty(), "{id}: a clean case has no findings");
        assert!(!found.finding.is_empty() && found.change.is_some(), "{id}: found is one change and its findings");
        assert!(edge.change.is_some(), "{id}: the edge is one change");
        for (kind, case) in [("clean", clean), ("found", found), ("edge", edge)] {
            case.hold(check, kind);
        }
    }
}

/// What a card file cannot get wrong, or not without a picture beside it; these are tried on cards built by hand.
const BY_HAND: [&str; 5] = ["flat-size", "font-rights", "fonts-embedded", "picture-resolution", "waiver-unused"];

/// Where the faults of artwork that no card file can have are tried on artwork.
const ON_ARTWORK: [&str; 5] = [
    include_str!("artwork_checks.rs"),
    include_str!("ink_checks.rs"),
    include_str!("overprint_checks.rs"),
    include_str!("plate_checks.rs"),
    include_str!("spot_checks.rs"),
];

#[test]
fn every_check_has_its_cases() {
    let ids = ids();
    let on_artwork = |id: &str| ON_ARTWORK.iter().any(|tests| tests.contains(&format!("\"{id}\"")));
    let has = |id: &str| BY_HAND.contains(&id) || on_artwork(id) || ids.iter().any(|i| i == id);
    let missing: Vec<&str> = CHECKS.iter().map(|c| c.id).filter(|id| !has(id)).collect();
    assert!(missing.is_empty(), "no cases under tests/checks for {missing:?}");
}

#[test]
fn the_good_card_passes_every_check() {
    let checked = run(&card_of(&good()), &Limits::default()).unwrap();
    assert!(checked.findings.is_empty(), "{:#?}", checked.findings);
    let broken: Vec<_> = checked.broken().collect();
    assert!(broken.is_empty(), "{broken:#?}");
}

/// The same card as a plain PDF, whose grid and numbers are recognised in its print.
fn as_artwork(text: &str) -> Card {
    let card = card_of(text);
    let read = recognise(&card.faces);
    let (grid, numbers) = read.unwrap_or_else(|| panic!("no grid is recognised"));
    Card { grid: Some(grid), numbers: Some(numbers), trace: Trace::default(), file: "case.pdf".to_owned(), ..card }
}

#[test]
fn numbers_read_from_the_print_are_held_against_the_same_rules() {
    let said = |card: &Card| -> Vec<String> {
        let numbers = CHECKS.iter().filter(|c| ["totals", "par-row", "stroke-index", "tee-order"].contains(&c.id));
        let found = numbers.flat_map(|c| match run_one(c, card, &Limits::default()).unwrap() {
            Outcome::Found(found) => found,
            Outcome::Clean => Vec::new(),
            other => panic!("{}: {other:?}", c.id),
        });
        found.map(|f| format!("{}: {}: {}", f.check, f.place.words(), f.message)).collect()
    };
    assert_eq!(said(&as_artwork(&good())), Vec::<String>::new());
    for id in ["totals", "stroke-index", "tee-order"] {
        let case = Case::read(&folder().join(id).join("found.toml"));
        let printed = said(&as_artwork(&case.text()));
        assert_eq!(printed.iter().filter(|s| s.starts_with(id)).count(), case.finding.len(), "{printed:#?}");
        for expected in &case.finding {
            assert!(printed.iter().any(|s| s.contains(&expected.place)), "{}: {printed:#?}", expected.place);
        }
    }
}
