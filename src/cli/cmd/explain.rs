//! `fairfold explain`: the checks in their own words.

use std::process::ExitCode;

use crate::check::{self, Limits};
use crate::cli::args::ExplainArgs;
use crate::cli::terminal::say;
use crate::fault::Result;
use crate::report::{self, Palette};

pub(in crate::cli) fn run(args: &ExplainArgs) -> Result<ExitCode> {
    let text = if let Some(id) = &args.check {
        report::explained(&check::explain(id)?, &Limits::default(), Palette::colours())
    } else {
        let list = report::listed(Palette::colours());
        format!(
            "{list}\n`fairfold explain <check>` tells what it checks, why, what to do, and the source of its limit.\n"
        )
    };
    say(&text)?;
    Ok(ExitCode::SUCCESS)
}
