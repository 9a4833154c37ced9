//! `fairfold completions` and `fairfold manual`: texts made from the same arguments.

use std::process::ExitCode;

use clap::CommandFactory as _;

use crate::cli::args::{Cli, CompletionsArgs};
use crate::cli::terminal::say;
use crate::fault::{Fault, Result, Source};

pub(in crate::cli) fn completions(args: &CompletionsArgs) -> Result<ExitCode> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "fairfold", &mut text);
    say(&String::from_utf8_lossy(&text))?;
    Ok(ExitCode::SUCCESS)
}

pub(in crate::cli) fn manual() -> Result<ExitCode> {
    let mut text = Vec::new();
    let made = clap_mangen::Man::new(Cli::command()).render(&mut text);
    made.map_err(|e| Fault::new(Source::Nowhere, format!("the manual page cannot be made: {e}")))?;
    say(&String::from_utf8_lossy(&text))?;
    Ok(ExitCode::SUCCESS)
}
