//! `fairfold new`: a commented starter card file.

use std::process::ExitCode;

use crate::cli::args::NewArgs;
use crate::cli::disk::Disk;
use crate::cli::settings;
use crate::cli::terminal::say;
use crate::fault::{Fault, Result, Source};
use crate::model::{self, Syntax};

pub(in crate::cli) fn run(args: &NewArgs) -> Result<ExitCode> {
    let name = args.file.display().to_string();
    if args.file.exists() {
        let fault = Fault::new(Source::File(name), "is there already, and a starter never writes over a card");
        return Err(fault.hint("give it another name, or move the old one away").into());
    }
    let syntax = settings::syntax(&args.file).ok_or_else(|| {
        let fault = Fault::new(Source::File(name.clone()), "ends neither in .toml nor in .json");
        fault.hint("name the card file something like otterby.toml")
    })?;
    let size = settings::size(&args.size, "--size")?;
    let fold = settings::fold(&args.fold, "--fold")?;
    if fold.panels.is_some_and(|n| n != 4) {
        let fault = Fault::new(Source::Option("--fold".to_owned()), "a starter's accordion fold has four panels");
        return Err(fault.hint("write accordion, and change its panels in the file").into());
    }
    let mut text = model::starter(&args.title, size, fold.kind)?;
    if syntax == Syntax::Json {
        text = as_json(&text)?;
    }
    Disk::beside(&args.file).output(&args.file, text.as_bytes())?;
    say(&format!("{name} is a starter card that checks clean; change it line by line, then: fairfold check {name}\n"))?;
    Ok(ExitCode::SUCCESS)
}

/// The same card as JSON, which has no comments.
fn as_json(toml: &str) -> Result<String> {
    let wrong = |e: String| Fault::new(Source::Nowhere, format!("the starter cannot be written as JSON: {e}"));
    let value: serde_json::Value = toml::from_str(toml).map_err(|e| wrong(e.to_string()))?;
    let text = serde_json::to_string_pretty(&value).map_err(|e| wrong(e.to_string()))?;
    Ok(text + "\n")
}
