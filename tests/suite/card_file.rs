//! The card file: every fault in one run, TOML and JSON alike, and a schema that an outside validator can use.

use std::fs;
use std::path::{Path, PathBuf};

use fairfold::fault::Text;
use fairfold::model::{Syntax, read};

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

#[test]
fn every_demo_reads_without_fault() {
    assert!(demos().len() >= 4);
    for (name, text) in demos() {
        let text = Text::new(name, text);
        if let Err(faults) = read(&text, Syntax::Toml) {
            panic!("{faults}");
        }
    }
}
