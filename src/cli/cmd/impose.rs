//! `fairfold impose`: a marked press PDF, if the card passes its checks.

use std::path::PathBuf;
use std::process::ExitCode;

use crate::cli::args::ImposeArgs;
use crate::cli::input::Input;
use crate::cli::settings;
use crate::cli::terminal::{Progress, remark, say};
use crate::fault::Result;
use crate::job::{self, Imposed};

pub(in crate::cli) fn run(args: &ImposeArgs) -> Result<ExitCode> {
    let mut input = Input::open(&args.card.input)?;
    let wishes = settings::sheet_wishes(&args.sheet, input.job())?;
    let date = settings::date(&args.sheet, input.date())?;
    let progress = Progress::begin("checking the card");
    let mut prepared = input.prepare(&args.card)?;
    prepared.draw_plates();
    let limits = input.limits(&args.card, &prepared)?;
    let checked = job::check(&prepared, &limits)?;
    drop(progress);
    let code = checked.exit_code(settings::failing(args.card.fail_on));
    if code != 0 {
        say(&crate::cli::reported(&prepared.card, &limits, &checked, args.card.report, true)?)?;
        remark("no press file was written: mend the card, or waive a finding with its reason in the limits file");
        return Ok(ExitCode::from(code));
    }
    if !(checked.findings.is_empty() && checked.waived.is_empty()) {
        remark(&crate::cli::reported(&prepared.card, &limits, &checked, args.card.report, true)?);
    }
    let progress = Progress::begin("writing the press file and reading it back");
    let Imposed { press, plan } = job::impose(prepared, &checked, &wishes, date)?;
    let out = args.out.clone().unwrap_or_else(|| press_name(&args.card.input));
    let (stations, docket) = input.disk.proven(&out, &press, |read| {
        plan.prove(read)?;
        // Taken only where it is asked for: what was read back is what was composed.
        let digest =
            if args.stations.is_some() || args.docket.is_some() { job::digest(press.bytes()) } else { String::new() };
        let stations = args.stations.as_ref().map(|path| (path, plan.stations(&digest)));
        let docket = match &args.docket {
            Some(path) => Some((path, plan.docket(&digest)?)),
            None => None,
        };
        Ok((stations, docket))
    })?;
    drop(progress);
    if let Some((path, stations)) = stations {
        let text = serde_json::to_string_pretty(&stations).unwrap_or_default();
        input.disk.output(path, format!("{text}\n").as_bytes())?;
    }
    if let Some((path, docket)) = docket {
        input.disk.output(path, &docket)?;
    }
    for line in &plan.sheet.remarks {
        remark(&format!("note: {line}"));
    }
    say(&format!("{}\n{}: {} bytes, read back and found as planned\n", plan.summary, out.display(), press.len()))?;
    Ok(ExitCode::SUCCESS)
}

/// `otterby-press.pdf` beside `otterby.toml`.
fn press_name(input: &std::path::Path) -> PathBuf {
    let stem = input.file_stem().unwrap_or_default().to_string_lossy();
    input.with_file_name(format!("{stem}-press.pdf"))
}
