//! The `fairfold` program: hands its arguments to the library and its exit code to the shell.

use std::process::ExitCode;

fn main() -> ExitCode {
    fairfold::cli::run(std::env::args_os())
}
