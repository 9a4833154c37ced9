//! Arguments, disk and terminal: the thin edge around [`crate::job`].

mod args;
mod cmd;
mod disk;
mod input;
mod settings;
mod terminal;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::Parser as _;
use clap::error::ErrorKind;

pub use args::Cli;

use args::{Command, ReportShape};

use crate::card::Card;
use crate::check::{Checked, Limits};
use crate::fault::{Fault, Result, Source};
use crate::report::{self, Palette, Report};

/// Runs the program on its arguments and gives its exit code: 0 nothing found at or above the failing severity, 1 findings,
/// 2 could not run.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let cli = match Cli::try_parse_from(arguments) {
        Ok(cli) => cli,
        Err(error) => {
            let asked = matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
            // Where the terminal is gone there is nobody left to tell.
            let _ = error.print();
            return ExitCode::from(if asked { 0 } else { 2 });
        }
    };
    let done = match cli.command {
        Command::Check(args) => cmd::check::run(&args),
        Command::Impose(args) => cmd::impose::run(&args),
        Command::Plates(args) => cmd::plates::run(&args),
        Command::New(args) => cmd::new::run(&args),
        Command::Schema(args) => cmd::schema::run(&args),
        Command::Explain(args) => cmd::explain::run(&args),
        Command::Completions(args) => cmd::texts::completions(&args),
        Command::Manual => cmd::texts::manual(),
    };
    done.unwrap_or_else(|faults| {
        terminal::complain(&faults);
        ExitCode::from(2)
    })
}

/// The report in the asked-for shape; styled where it may go to a terminal.
fn reported(card: &Card, limits: &Limits, checked: &Checked, shape: ReportShape, styled: bool) -> Result<String> {
    let report = Report::new(card, limits, checked);
    match shape {
        ReportShape::Text if styled => Ok(report::text(&report, Palette::colours())),
        ReportShape::Text => Ok(report::text(&report, Palette::plain())),
        ReportShape::Json => serde_json::to_string_pretty(&report::json(&report))
            .map(|text| text + "\n")
            .map_err(|e| Fault::new(Source::Nowhere, format!("the report cannot be written: {e}")).into()),
    }
}
