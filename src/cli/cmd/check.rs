//! `fairfold check`: findings on a card.

use std::process::ExitCode;

use crate::cli::args::CheckArgs;
use crate::cli::input::Input;
use crate::cli::settings;
use crate::cli::terminal::{Progress, say};
use crate::fault::Result;
use crate::job;

pub(in crate::cli) fn run(args: &CheckArgs) -> Result<ExitCode> {
    let mut input = Input::open(&args.card.input)?;
    let progress = Progress::begin("checking the card");
    let mut prepared = input.prepare(&args.card)?;
    if !args.no_plates {
        prepared.draw_plates();
    }
    let limits = input.limits(&args.card, &prepared)?;
    let checked = job::check(&prepared, &limits)?;
    drop(progress);
    if let Some(path) = &args.pages {
        input.disk.output(path, &prepared.pages)?;
    }
    let report = crate::cli::reported(&prepared.card, &limits, &checked, args.card.report, args.out.is_none())?;
    match &args.out {
        Some(path) => input.disk.output(path, report.as_bytes())?,
        None => say(&report)?,
    }
    Ok(ExitCode::from(checked.exit_code(settings::failing(args.card.fail_on))))
}
