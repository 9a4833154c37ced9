//! Finished artwork named on the command line or from a job file: what it cannot say itself is said beside it.

use std::fs;
use std::path::PathBuf;
use std::process::Output;

use tempfile::TempDir;

use super::press_files::{judged, saved, text};
use super::program::{fairfold, root};

/// A folder with the pages of the large demo card as artwork.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let art = folder.path().join("art.pdf");
    assert!(fairfold(&["check", "otterby-6x12.toml", "--pages", text(&art)]).status.success());
    folder
}

fn job(folder: &TempDir, artwork: &str) -> PathBuf {
    let job = format!(
        "[job]\nname = \"Otterby Common\"\ncard = \"art.pdf\"\ndate = \"2027-01-15\"\n{artwork}\n[sheet]\nsize = \"13x19\"\n"
    );
    saved(folder, "job.toml", job.as_bytes())
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

#[test]
fn a_job_says_of_artwork_what_the_command_line_says() {
    let folder = folder();
    let job = job(
        &folder,
        "[artwork]\nsize = \"6 x 12 in\"\nfold = \"half\"\ncondition = \"uncoated\"\nrequired = [\"Nobody wrote this.\"]\n",
    );
    let of_job = fairfold(&["check", text(&job), "--report", "json"]);
    assert_eq!(of_job.status.code(), Some(1), "{}", told(&of_job));
    let report: serde_json::Value = serde_json::from_slice(&of_job.stdout).unwrap();
    assert_eq!(report["limits"]["set"], "uncoated-offset");
    assert!(told(&of_job).contains("Nobody wrote this."), "{report}");

    let art = folder.path().join("art.pdf");
    let of_line = fairfold(&[
        "check",
        text(&art),
        "--size",
        "6 x 12 in",
        "--fold",
        "half",
        "--condition",
        "uncoated",
        "--report",
        "json",
    ]);
    assert_eq!(of_line.status.code(), Some(0), "{}", told(&of_line));

    // The command line goes over the job file.
    let other = fairfold(&["check", text(&job), "--size", "5 x 12 in"]);
    assert!(told(&other).contains("error[flat-size]"), "{}", told(&other));
}

#[test]
fn a_profile_stands_beside_whoever_names_it() {
    let folder = folder();
    let profile = root().join("src/ink/profiles/coated-tr006.icc");
    fs::create_dir(folder.path().join("press")).unwrap();
    fs::copy(&profile, folder.path().join("press/house.icc")).unwrap();
    let named = job(&folder, "[artwork]\ncondition = \"press/house.icc\"\n");
    let read = fairfold(&["check", text(&named)]);
    assert_eq!(read.status.code(), Some(0), "{}", told(&read));

    let lost = job(&folder, "[artwork]\ncondition = \"press/lost.icc\"\n");
    let read = fairfold(&["check", text(&lost)]);
    assert_eq!(read.status.code(), Some(2));
    assert!(told(&read).contains("job.toml:6:13") && told(&read).contains("lost.icc"), "{}", told(&read));

    // On the command line a profile is named from where the user stands: the program runs in proofs-demo.
    let art = folder.path().join("art.pdf");
    let read = fairfold(&["check", text(&art), "--condition", "../src/ink/profiles/coated-tr006.icc"]);
    assert_eq!(read.status.code(), Some(0), "{}", told(&read));
}

#[test]
fn pages_in_another_order_are_named() {
    let folder = folder();
    let art = folder.path().join("art.pdf");
    // A cover sheet, the inside, the outside.
    let swapped = folder.path().join("swapped.pdf");
    judged("qpdf", &["--empty", "--pages", text(&art), "1,2,1", "--", text(&swapped)]);
    let refused = fairfold(&["check", text(&swapped)]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(
        told(&refused).contains("has 3 pages") && told(&refused).contains("--outside 1 --inside 2"),
        "{}",
        told(&refused)
    );

    let press = |name: &str, art: &str, pages: [&str; 2]| {
        let out = folder.path().join(name);
        let run = [
            "impose",
            art,
            "--outside",
            pages[0],
            "--inside",
            pages[1],
            "--sheet",
            "13x19",
            "--date",
            "2027-01-15",
            "--condition",
            "uncoated",
            "--job",
            "Otterby Common",
            "--out",
            text(&out),
        ];
        let done = fairfold(&run);
        assert_eq!(done.status.code(), Some(0), "{}", told(&done));
        super::press_files::drawn(&out, 1, 60).pixels
    };
    let plain = press("plain.pdf", text(&art), ["1", "2"]);
    let named = press("named.pdf", text(&swapped), ["3", "2"]);
    // Only the digest of the input on the slug line may differ.
    let off = plain.iter().zip(&named).filter(|(a, b)| a.abs_diff(**b) > 32).count();
    assert!(plain.len() == named.len() && off * 1000 < plain.len(), "{off} of {}", plain.len());
    let none = fairfold(&["check", text(&art), "--outside", "7"]);
    assert!(none.status.code() == Some(2) && told(&none).contains("no page 7"), "{}", told(&none));
}

#[test]
fn a_card_file_says_these_things_itself() {
    let folder = tempfile::tempdir().unwrap();
    fs::copy(root().join("tests/checks/good.toml"), folder.path().join("otterby.toml")).unwrap();
    let job = "[job]\ncard = \"otterby.toml\"\ndate = \"2027-01-15\"\n\n[artwork]\nfold = \"half\"\n\n[sheet]\nsize = \"13x19\"\n";
    let job = saved(&folder, "job.toml", job.as_bytes());
    let refused = fairfold(&["check", text(&job)]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(told(&refused).contains("job.toml:5") && told(&refused).contains("under [card]"), "{}", told(&refused));
    let card = folder.path().join("otterby.toml");
    let refused = fairfold(&["check", text(&card), "--bleed", "3 mm"]);
    assert!(refused.status.code() == Some(2) && told(&refused).contains("are for artwork PDFs"), "{}", told(&refused));
}
