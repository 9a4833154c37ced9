//! `fairfold schema`: the JSON Schema of the files that people write.

use std::process::ExitCode;

use crate::cli::args::{SchemaArgs, SchemaName};
use crate::cli::terminal::say;
use crate::fault::{Fault, Result, Source};
use crate::{job, model};

pub(in crate::cli) fn run(args: &SchemaArgs) -> Result<ExitCode> {
    let schema = match args.of {
        SchemaName::Card => model::schema(),
        SchemaName::Job => job::schema(),
    };
    let text = serde_json::to_string_pretty(&schema)
        .map_err(|e| Fault::new(Source::Nowhere, format!("the schema cannot be written: {e}")))?;
    say(&format!("{text}\n"))?;
    Ok(ExitCode::SUCCESS)
}
