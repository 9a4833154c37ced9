//! The figures of the README, each beside an outside tool in the same run.
//!
//! `cargo bench` prints times of both; the last lines give the ratios, the bytes and the memory. Ratios hold across machines where times
//! do not.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark measures time, reads the demo and prints"
)]

mod artwork;

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};

fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("proofs-demo").join(name)
}

fn fairfold() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_fairfold"));
    program.current_dir(demo(""));
    program
}

fn succeeds(command: &mut Command) {
    let output = command.output().expect("the program is installed");
    assert!(output.status.success(), "{command:?}: {}", String::from_utf8_lossy(&output.stderr));
}

/// The best of a few runs.
fn best(command: &mut dyn FnMut()) -> Duration {
    best_into(&[], command)
}

/// The same, each run writing its files anew: replacing a file makes some file systems wait for the disk.
fn best_into(files: &[&Path], command: &mut dyn FnMut()) -> Duration {
    (0..7)
        .map(|_| {
            for file in files {
                let _ = fs::remove_file(file);
            }
            let start = Instant::now();
            command();
            start.elapsed()
        })
        .min()
        .unwrap()
}

/// Peak memory of a command in MiB, as the kernel counted it.
fn peak(arguments: &[&str]) -> f64 {
    let program = "
import resource, subprocess, sys
subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024)
";
    let output = Command::new("python3").current_dir(demo("")).args(["-c", program]).args(arguments).output().unwrap();
    String::from_utf8_lossy(&output.stdout).trim().parse().unwrap()
}

fn figures(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (press, pages, copy) = (at("press.pdf"), at("pages.pdf"), at("copy.pdf"));
    succeeds(fairfold().args(["check", "otterby-6x12.toml", "--pages", &pages]));

    let mut check = || succeeds(black_box(fairfold().args(["check", "otterby-6x12.toml"])));
    let mut trace = || succeeds(Command::new("mutool").args(["draw", "-q", "-F", "trace", "-o", "/dev/null", &pages]));
    let mut impose = || succeeds(fairfold().args(["impose", "otterby-6x12-job.toml", "--out", &press]));
    impose();
    let mut rewrite = || succeeds(Command::new("qpdf").args([press.as_str(), copy.as_str()]));

    let mut group = c.benchmark_group("6x12");
    group.sample_size(10);
    group.bench_function("fairfold check", |b| b.iter(&mut check));
    group.bench_function("mutool trace of the same pages", |b| b.iter(&mut trace));
    group.bench_function("fairfold impose 12-up", |b| b.iter(&mut impose));
    group.bench_function("qpdf rewrite of the press file", |b| b.iter(&mut rewrite));
    group.finish();

    let ratio = |ours: Duration, theirs: Duration| ours.as_secs_f64() / theirs.as_secs_f64();
    let (checked, traced) = (best(&mut check), best(&mut trace));
    let (imposed, rewritten) = (best(&mut impose), best(&mut rewrite));
    let size = |path: &str| fs::metadata(path).unwrap().len() as f64;
    println!("check the 6x12 card: {checked:.0?}, {:.2} times mutool's listing of its pages", ratio(checked, traced));
    println!("impose it 12-up: {imposed:.0?}, {:.2} times qpdf's rewriting of the result", ratio(imposed, rewritten));
    println!("bytes of the press file: {:.0}, {:.2} times one card's", size(&press), size(&press) / size(&pages));
    let ours = peak(&[env!("CARGO_BIN_EXE_fairfold"), "impose", "otterby-6x12-job.toml", "--out", &press]);
    let theirs = peak(&["qpdf", &press, &copy]);
    println!("peak memory of imposing: {ours:.0} MiB, {:.2} times qpdf's", ours / theirs);
}

/// Finished artwork: a card of two pages, one of 150 MB, one of 300 000 objects.
fn artwork_figures(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let (heavy, crowded, out, copy) = (at("heavy.pdf"), at("crowded.pdf"), at("press.pdf"), at("copy.pdf"));
    artwork::heavy(&heavy);
    artwork::crowded(&crowded);
    let paper = ["--size", "4.5 x 12 in"];
    let run = |art: &Path| {
        let mut program = fairfold();
        let (art, out) = (art.to_str().unwrap(), out.to_str().unwrap());
        program.args(["impose", art, "--sheet", "20x26", "--date", "2027-01-15", "--out", out]).args(paper);
        program
    };
    let rewrite = |art: &Path| {
        let mut program = Command::new("qpdf");
        program.arg(art).arg(&copy);
        program
    };
    let plain = demo("netherwick-art.pdf");
    let mut check = || succeeds(black_box(fairfold().args(["check", "netherwick-art-job.toml"])));
    c.bench_function("fairfold check of a two-page card PDF", |b| b.iter(&mut check));

    let ratio = |ours: Duration, theirs: Duration| ours.as_secs_f64() / theirs.as_secs_f64();
    let pages = plain.to_str().unwrap();
    let mut trace = || succeeds(Command::new("mutool").args(["draw", "-q", "-F", "trace", "-o", "/dev/null", pages]));
    let (checked, traced) = (best(&mut check), best(&mut trace));
    println!("check a two-page card PDF: {checked:.1?}, {:.2} times mutool's listing of it", ratio(checked, traced));
    for (name, art) in [("150 MB", &heavy), ("300 000 objects", &crowded)] {
        let imposed = best_into(&[&out], &mut || succeeds(&mut run(art)));
        let rewritten = best_into(&[&copy], &mut || succeeds(&mut rewrite(art)));
        println!(
            "impose artwork of {name}: {imposed:.2?}, {:.2} times qpdf's rewriting of it",
            ratio(imposed, rewritten)
        );
        let (art, out) = (art.to_str().unwrap(), out.to_str().unwrap());
        let ours = peak(&[
            env!("CARGO_BIN_EXE_fairfold"),
            "impose",
            art,
            "--size",
            "4.5 x 12 in",
            "--sheet",
            "20x26",
            "--date",
            "2027-01-15",
            "--out",
            out,
        ]);
        let size = fs::metadata(art).unwrap().len() as f64 / f64::from(1 << 20);
        println!("peak memory of that: {ours:.0} MiB, {:.2} times the file", ours / size);
    }
}

/// Plates of the large demo sheet, files and pictures of them included, beside two programs that separate it.
fn plate_figures(c: &mut Criterion) {
    let folder = tempfile::tempdir().unwrap();
    let press = demo("otterby-6x12-press.pdf");
    let (press, out) = (press.to_str().unwrap(), folder.path().join("plates"));
    let out = out.to_str().unwrap();
    let separated = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (tiff, pam) = (separated("gs-%d.tif"), separated("mutool-%d.pam"));
    let mut ours = || succeeds(fairfold().args(["plates", press, "--ppi", "300", "--out", out]));
    let gs = ["-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=tiffsep", "-r300", "-sOutputFile", press];
    let into = format!("-sOutputFile={tiff}");
    let gs: Vec<&str> = gs.iter().map(|a| if *a == "-sOutputFile" { into.as_str() } else { a }).collect();
    let mut ghostscript = || succeeds(Command::new("gs").args(&gs));
    let mut mutool = || {
        succeeds(
            Command::new("mutool").args(["draw", "-q", "-c", "cmyk", "-r", "300", "-F", "pam", "-o", &pam, press]),
        );
    };
    let mut group = c.benchmark_group("plates at 300 ppi");
    group.sample_size(10);
    group.bench_function("fairfold", |b| b.iter(&mut ours));
    group.finish();
    let ratio = |ours: Duration, theirs: Duration| ours.as_secs_f64() / theirs.as_secs_f64();
    let (drawn, by_gs, by_mutool) = (best(&mut ours), best(&mut ghostscript), best(&mut mutool));
    println!(
        "plates of the 12-up sheet at 300 ppi: {drawn:.2?}, {:.2} times mutool's, {:.2} times Ghostscript's",
        ratio(drawn, by_mutool),
        ratio(drawn, by_gs)
    );
    let memory = peak(&[env!("CARGO_BIN_EXE_fairfold"), "plates", press, "--ppi", "300", "--out", out]);
    println!("peak memory of that: {memory:.0} MiB");
}

criterion_group!(benches, figures, artwork_figures, plate_figures);
criterion_main!(benches);
