//! Runs the program and the outside judges.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// The project's folder.
pub(super) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A file of the demo.
pub(super) fn demo(name: &str) -> PathBuf {
    root().join("proofs-demo").join(name)
}

/// Runs `fairfold` inside the demo's folder, so that reports name files as a user there would see them.
pub(super) fn fairfold(arguments: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_fairfold"));
    program.current_dir(root().join("proofs-demo")).env_remove("SOURCE_DATE_EPOCH").env("NO_COLOR", "1");
    program.args(arguments).output().expect("the program was built for the tests")
}

/// Runs an outside judge; a missing one fails the test and says what to install.
pub(super) fn judge(program: &str, arguments: &[&str]) -> Output {
    let package = match program {
        "qpdf" => "qpdf",
        "gs" => "ghostscript",
        "mutool" => "mupdf-tools",
        "python3" => "python3, then bash tests/all.sh for its packages",
        _ => "poppler-utils",
    };
    match Command::new(program).args(arguments).output() {
        Ok(output) => output,
        Err(e) => panic!("the outside judge `{program}` cannot be run ({e}): install {package}"),
    }
}

/// The standard output of a judge that must succeed.
pub(super) fn said(program: &str, arguments: &[&str]) -> String {
    let output = judge(program, arguments);
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    assert!(output.status.success(), "{program} {arguments:?}: {}{}", text(&output.stdout), text(&output.stderr));
    text(&output.stdout)
}
