//! A folder of `src` uses only the folders above it in the list of layers in DEVELOPERS.md.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn layers() -> Vec<String> {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let rows = text.lines().filter_map(|line| line.strip_prefix("| `")).filter_map(|line| line.split_once('`'));
    rows.map(|(name, _)| name.to_owned()).collect()
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
    found
}

/// The first name of every path that starts with `crate::`, with `crate::{a::b, c::d}` opened up.
fn used(text: &str) -> BTreeSet<String> {
    let word = |t: &str| t.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let mut names = BTreeSet::new();
    for after in text.split("crate::").skip(1) {
        let Some(list) = after.strip_prefix('{') else {
            names.insert(word(after));
            continue;
        };
        let mut depth = 0_usize;
        for part in list.split(',') {
            if depth == 0 {
                names.insert(word(part));
            }
            let (open, shut) = (part.matches('{').count(), part.matches('}').count());
            if shut > depth + open {
                break;
            }
            depth = depth + open - shut;
        }
    }
    names
}

#[test]
fn every_folder_is_a_layer() {
    let layers = layers();
    for entry in fs::read_dir(root().join("src")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        assert!(!path.is_dir() || layers.contains(&name), "src/{name} stands in no layer of DEVELOPERS.md");
    }
}

#[test]
fn a_folder_uses_only_those_above_it() {
    let layers = layers();
    assert!(layers.len() > 10, "the list of layers was not found in DEVELOPERS.md");
    let mut wrong = Vec::new();
    for (n, layer) in layers.iter().enumerate() {
        let folder = root().join("src").join(layer);
        for file in if folder.is_dir() { sources(&folder) } else { Vec::new() } {
            for name in used(&fs::read_to_string(&file).unwrap()) {
                if layers.iter().position(|l| *l == name).is_some_and(|at| at > n) {
                    wrong.push(format!("{} uses `{name}`, which stands below `{layer}`", file.display()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn grouped_paths_are_opened_up() {
    let names = used("use crate::{ink::{Colour, Ink}, card::Card};\nlet a = crate::unit::Length::ZERO;");
    assert_eq!(names.into_iter().collect::<Vec<_>>(), ["card", "ink", "unit"]);
}

#[test]
fn the_top_level_holds_what_it_should_and_nothing_else() {
    const HELD: [&str; 10] = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "LICENSE",
        "src",
        "fonts-open",
        "tests",
        "proofs-demo",
    ];
    for entry in fs::read_dir(root()).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(
            HELD.contains(&name.as_str()) || name.starts_with('.') || name == "target",
            "{name} stands at the top level"
        );
    }
}
