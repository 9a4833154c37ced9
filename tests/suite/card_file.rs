//! The card file: every fault in one run, TOML and JSON alike, and a schema that an outside validator can use.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use fairfold::fault::Text;
use fairfold::model::{Syntax, read};

fn demos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("proofs-demo");
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.retain(|f| {
        f.file_name().unwrap().to_str().unwrap().starts_with("otterby") && f.extension().unwrap() == "toml"
    });
    files.sort();
    files
}

#[test]
fn every_demo_reads_without_fault() {
    assert!(demos().len() >= 4);
    for file in demos() {
        let text: Arc<Text> = Text::new(file.to_str().unwrap(), fs::read_to_string(&file).unwrap());
        if let Err(faults) = read(&text, Syntax::Toml) {
            panic!("{faults}");
        }
    }
}
