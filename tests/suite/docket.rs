//! The docket, read back by poppler and measured by Python's hashlib.

use std::fs;

use super::press_files::{judged, text};
use super::program::fairfold;

/// The press file and docket of a demo job.
fn made(job: &str, folder: &tempfile::TempDir) -> (std::path::PathBuf, std::path::PathBuf) {
    let (press, docket) = (folder.path().join("press.pdf"), folder.path().join("docket.pdf"));
    let output = fairfold(&["impose", job, "--out", text(&press), "--docket", text(&docket)]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    (press, docket)
}

/// What a docket says, its lines joined.
fn says(docket: &std::path::Path) -> String {
    judged("pdftotext", &["-layout", text(docket), "-"]).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_docket_says_what_the_shop_needs_and_names_its_press_file() {
    let folder = tempfile::tempdir().unwrap();
    let (press, docket) = made("otterby-art-job.toml", &folder);
    let said = says(&docket);
    for words in [
        "Otterby Common letter fold 2027, artwork",
        "2027-01-15",
        "not approved",
        "6 x 17 in (152.4 x 431.8 mm) flat",
        "216 g/m²",
        "grain short",
        "38 x 25 in (965.2 x 635 mm), sheetwise",
        // 12 000 cards at 6 up; six inks on two sets of plates.
        "12000 wanted, 6 up: 2000 good sheets",
        "12 (2 sets of 6:",
        "Otterby Bracken",
        "same gripper edge",
        "score before folding",
        "trained operators",
        "1o up",
        "6i up",
    ] {
        assert!(said.contains(words), "`{words}` is not in: {said}");
    }
    let program = "import hashlib, sys; print(hashlib.sha256(open(sys.argv[1], 'rb').read()).hexdigest())";
    let digest = judged("python3", &["-c", program, text(&press)]);
    assert!(said.contains(&format!("Press file, SHA-256: {}", digest.trim())), "{digest} is not in: {said}");
    let art = judged("python3", &["-c", program, text(&super::program::demo("otterby-art.pdf"))]);
    assert!(said.contains(&format!("Card pages, SHA-256: {}", art.trim())));
}

#[test]
fn equal_jobs_have_equal_dockets_of_one_sound_page() {
    let (one, two) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let (_, docket) = made("otterby-6x12-job.toml", &one);
    let (_, again) = made("otterby-6x12-job.toml", &two);
    assert!(fs::read(&docket).unwrap() == fs::read(again).unwrap());
    judged("qpdf", &["--check", text(&docket)]);
    let about = judged("pdfinfo", &[text(&docket)]);
    assert!(about.contains("Pages:           1") && about.contains("612 x 792 pts"), "{about}");
    let fonts = judged("pdffonts", &[text(&docket)]);
    assert!(fonts.lines().skip(2).all(|row| row.split_whitespace().rev().nth(4) == Some("yes")), "{fonts}");
    assert!(says(&docket).contains("turn the pile over its side, same plates"));
}
