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
    (0..7)
        .map(|_| {
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

criterion_group!(benches, figures);
criterion_main!(benches);
