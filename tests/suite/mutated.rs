//! The bodies of the fuzz targets on mutated files: some seconds of what `tests/fuzz` does for hours, the same in every run.

use std::fs;
use std::panic::catch_unwind;

use super::program::{demo, root};

#[path = "../fuzz/bodies.rs"]
mod bodies;

/// A 64-bit xorshift.
struct Dice(u64);

impl Dice {
    fn next(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 16).unwrap_or(0) % below.max(1)
    }
}

/// Words that turn one thing into another.
const WORDS: [&str; 24] = [
    "0",
    "-1",
    "1e39",
    "999999999",
    "0 R",
    "1 0 R",
    "3 0 R",
    "obj",
    "endobj",
    "stream\n",
    "endstream",
    "<<",
    ">>",
    "[",
    "]",
    "(",
    ")",
    "<",
    ">",
    "%",
    "/Length",
    "/Filter",
    "/FlateDecode",
    "null",
];

/// Some changes: bytes turned, cut out, doubled, or replaced by a word.
fn mutated(seed: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=dice.next(4) {
        if bytes.is_empty() {
            break;
        }
        let at = dice.next(bytes.len());
        let to = (at + 1 + dice.next(24)).min(bytes.len());
        match dice.next(4) {
            0 => bytes[at] ^= 1 << dice.next(8),
            1 => drop(bytes.drain(at..to)),
            2 => {
                let piece = bytes[at..to].to_vec();
                bytes.splice(at..at, piece);
            }
            _ => {
                bytes.splice(at..to, WORDS[dice.next(WORDS.len())].bytes());
            }
        }
    }
    bytes
}

/// Runs a body on so many mutations of each seed; a panic names the seed and is a failure.
fn survives(body: fn(&[u8]), seeds: &[(String, Vec<u8>)], times: usize) {
    let mut dice = Dice(0x0F41_12F0_1D00_0000 | 1);
    for (name, seed) in seeds {
        for turn in 0..times {
            let bytes = mutated(seed, &mut dice);
            let kept = bytes.clone();
            if catch_unwind(|| body(&bytes)).is_err() {
                let file = std::env::temp_dir().join("fairfold-mutated.pdf");
                fs::write(&file, kept).unwrap();
                panic!("mutation {turn} of {name} brings it down; it was kept as {}", file.display());
            }
        }
    }
}

/// The small files of the hostile corpus, and small honest ones.
fn files() -> Vec<(String, Vec<u8>)> {
    let folder = fs::read_dir(root().join("tests/hostile")).unwrap();
    let mut paths: Vec<_> =
        folder.map(|e| e.unwrap().path()).filter(|p| p.extension().is_some_and(|e| e == "pdf")).collect();
    paths.sort();
    let mut seeds: Vec<(String, Vec<u8>)> = paths
        .into_iter()
        .map(|p| (p.display().to_string(), fs::read(p).unwrap()))
        .filter(|(_, b)| (1..3000).contains(&b.len()))
        .collect();
    seeds.push(("a plain card".to_owned(), super::press_files::marked_card()));
    seeds
}

#[test]
fn mutated_files_are_cards_or_faults() {
    survives(bodies::file, &files(), 60);
}

#[test]
fn mutated_files_have_plates_or_faults() {
    survives(bodies::plates, &files(), 25);
    let art = fs::read(demo("otterby-art.pdf")).unwrap();
    survives(bodies::plates, &[("the awkward card".to_owned(), art)], 6);
}

#[test]
fn mutated_content_is_read_to_its_end() {
    let contents = [
        "q 1 0 0 1 20 20 cm /S cs 0.5 scn 0 0 50 50 re f Q BT /F 12 Tf 20 20 Td (Heron) Tj [(a) -20 (b)] TJ ET /X Do",
        "/G gs /Pattern cs /T scn 10 10 80 40 re B* /I cs 1 sc 0 0 9 9 re W n /A sh q 9 0 0 9 0 0 cm BI /W 2 /H 2 /BPC 8 /CS /G ID abcd EI Q",
        "/OC /M BDC 0.1 0.2 0.3 rg 0 0 m 1 2 3 4 5 6 c 7 8 9 10 v h S EMC [3 2] 0 d 2 w 1 J /L cs 50 10 10 scn 5 5 5 5 re f* /P Do",
    ];
    let seeds: Vec<(String, Vec<u8>)> = contents.iter().map(|c| ((*c).to_owned(), c.as_bytes().to_vec())).collect();
    survives(bodies::content, &seeds, 700);
}

#[test]
fn what_is_written_of_a_mutated_file_reads_back() {
    survives(bodies::place, &files(), 25);
    // An honest card with pictures, layers and annotations, mutated in its objects.
    let art = fs::read(demo("otterby-art.pdf")).unwrap();
    survives(bodies::place, &[("the awkward card".to_owned(), art)], 6);
}
