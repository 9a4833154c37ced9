//! `fairfold check`: findings on a card.

use std::process::ExitCode;

use crate::claim::{Standard, in_artwork};
use crate::cli::args::{CheckArgs, ReportShape, StandardName};
use crate::cli::input::Input;
use crate::cli::settings;
use crate::cli::terminal::{Progress, say};
use crate::fault::{Fault, Result, Source};
use crate::job;
use crate::report::{ClaimReport, Palette};

pub(in crate::cli) fn run(args: &CheckArgs) -> Result<ExitCode> {
    if let Some(standard) = args.claim {
        return claim(args, standard);
    }
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

/// Any PDF against what PDF/X asks.
fn claim(args: &CheckArgs, standard: StandardName) -> Result<ExitCode> {
    if args.pages.is_some() {
        let fault =
            Fault::new(Source::Option("--pages".to_owned()), "a PDF that is held against a claim has its pages");
        return Err(fault.hint("leave out --pages, or --claim").into());
    }
    let mut input = Input::open(&args.card.input)?;
    let progress = Progress::begin("reading the file");
    let artwork = input.pdf(args.card.password.as_deref())?;
    let standard = match standard {
        StandardName::X4 => Standard::X4,
        StandardName::X1a => Standard::X1a,
    };
    let breaches = in_artwork(&artwork, standard)?;
    drop(progress);
    let report = ClaimReport { file: artwork.name(), standard, breaches: &breaches };
    let text = match args.card.report {
        ReportShape::Json => report.json().map(|json| json + "\n")?,
        ReportShape::Text if args.out.is_none() => report.text(Palette::colours()),
        ReportShape::Text => report.text(Palette::plain()),
    };
    match &args.out {
        Some(path) => input.disk.output(path, text.as_bytes())?,
        None => say(&text)?,
    }
    Ok(ExitCode::from(u8::from(!breaches.is_empty())))
}
