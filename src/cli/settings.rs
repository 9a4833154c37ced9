//! From words to meaning: every option is read here, and every fault of the command line is told in one run.

use std::path::Path;

use crate::check::{LimitSet, Severity};
use crate::fault::{Fault, Faults, Result, Source};
use crate::job::{
    CardWishes, Date, FoldWish, GrainWord, JobFile, MarksSection, RowsWord, SheetWishes, StandardWord, StyleWord,
};
use crate::model::{FoldName, Measure, Syntax};
use crate::unit::{Length, Size, parse_length, parse_size};

use super::args::{CardArgs, FailOn, GrainName, RowsName, SheetArgs, StandardName, StyleName};

/// TOML or JSON, by the ending of a file's name.
pub(super) fn syntax(path: &Path) -> Option<Syntax> {
    match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
        "toml" => Some(Syntax::Toml),
        "json" => Some(Syntax::Json),
        _ => None,
    }
}

fn option(name: &str) -> Source {
    Source::Option(name.to_owned())
}

/// A size, height x width.
pub(super) fn size(text: &str, name: &str) -> Result<Size> {
    parse_size(text).map_err(|e| Fault::new(option(name), e.message).hint(e.hint).into())
}

fn length(text: &str, name: &str) -> Result<Length> {
    let length = parse_length(text).map_err(|e| Fault::new(option(name), e.message).hint(e.hint))?;
    if length < Length::ZERO {
        return Err(Fault::new(option(name), format!("`{text}` is below zero")).into());
    }
    Ok(length)
}

/// A fold, such as `half` or `accordion:4`.
pub(super) fn fold(text: &str, name: &str) -> Result<FoldWish> {
    let wrong = || {
        let fault = Fault::new(option(name), format!("`{text}` is not a fold"));
        fault.hint("write none, half, letter, gate, or accordion with its panels: accordion:4")
    };
    let (kind, panels) = match text.split_once(':') {
        Some((kind, count)) => {
            (kind, Some(count.parse::<usize>().ok().filter(|n| (2..=12).contains(n)).ok_or_else(wrong)?))
        }
        None => (text, None),
    };
    let kind = match kind.trim() {
        "none" => FoldName::None,
        "half" => FoldName::Half,
        "letter" => FoldName::Letter,
        "gate" => FoldName::Gate,
        "accordion" => FoldName::Accordion,
        _ => return Err(wrong().into()),
    };
    if panels.is_some() && kind != FoldName::Accordion {
        return Err(wrong().hint("only an accordion fold takes a count of panels").into());
    }
    Ok(FoldWish { kind, panels })
}

/// What the job file says of an artwork PDF, and over it what the command line says; all but the print condition.
pub(super) fn card_wishes(args: &CardArgs, job: Option<&JobFile>) -> Result<CardWishes> {
    let mut faults = Faults::new();
    let of_job = job.and_then(|j| j.artwork.clone()).unwrap_or_default();
    let size = args.size.as_deref().and_then(|t| faults.take(size(t, "--size")));
    let folds = args.fold.as_deref().and_then(|t| faults.take(fold(t, "--fold")));
    let mut measure = |text: &Option<String>, name: &str, of_job: Option<Measure>| match text {
        Some(text) => faults.take(length(text, name)),
        None => of_job.map(|m| m.0),
    };
    let wishes = CardWishes {
        size: size.or(of_job.size.map(|s| s.0)),
        fold: folds.or(of_job.fold.map(|kind| FoldWish { kind, panels: of_job.panels })),
        bleed: measure(&args.bleed, "--bleed", of_job.bleed),
        safe: measure(&args.safe, "--safe", of_job.safe),
        condition: None,
        carts: args.carts || of_job.carts,
        required: of_job.required,
        outside: args.outside.or(of_job.outside),
        inside: args.inside.or(of_job.inside),
        password: args.password.clone(),
    };
    faults.or(wishes)
}

/// The built-in set that the command line asks for.
pub(super) fn limit_set(text: &str) -> Result<LimitSet> {
    LimitSet::from_name(text).ok_or_else(|| {
        let names = LimitSet::ALL.map(|set| set.to_string()).join(", ");
        Fault::new(option("--for"), format!("there is no set of limits `{text}`"))
            .hint(format!("the sets are {names}"))
            .into()
    })
}

/// The least severity that fails.
pub(super) fn failing(fail_on: FailOn) -> Severity {
    match fail_on {
        FailOn::Error => Severity::Error,
        FailOn::Warning => Severity::Warning,
        FailOn::Note => Severity::Note,
    }
}

/// What the job file says of the sheet, and over it what the command line says.
pub(super) fn sheet_wishes(args: &SheetArgs, job: Option<&JobFile>) -> Result<SheetWishes> {
    let mut faults = Faults::new();
    let mut measure = |text: &Option<String>, name: &str, of_job: Option<Measure>| match text {
        Some(text) => faults.take(length(text, name)),
        None => of_job.map(|m| m.0),
    };
    let sheet = job.map(|j| &j.sheet);
    let wishes = SheetWishes {
        name: args.job.clone().or_else(|| job.and_then(|j| j.job.name.clone())),
        quantity: job.and_then(|j| j.job.quantity),
        size: args.sheet.clone().or_else(|| sheet.and_then(|s| s.size.clone())),
        style: args.style.map(style).or_else(|| sheet.and_then(|s| s.style)),
        rows: args.rows.map(rows).or_else(|| sheet.and_then(|s| s.rows)),
        grain: args.grain.map(grain).or_else(|| job.and_then(|j| j.stock.grain)),
        gripper: measure(&args.gripper, "--gripper", sheet.and_then(|s| s.gripper)),
        tail: measure(&args.tail, "--tail", sheet.and_then(|s| s.tail)),
        sides: measure(&args.sides, "--sides", sheet.and_then(|s| s.sides)),
        gutter: measure(&args.gutter, "--gutter", sheet.and_then(|s| s.gutter)),
        standard: args.standard.map(standard).or_else(|| sheet.and_then(|s| s.standard)),
        one_up: args.one_up || sheet.is_some_and(|s| s.one_up),
        marks: job.map_or_else(MarksSection::default, |j| j.marks),
        stock: job.map(|j| j.stock.clone()).unwrap_or_default(),
    };
    faults.or(wishes)
}

fn grain(name: GrainName) -> GrainWord {
    match name {
        GrainName::Long => GrainWord::Long,
        GrainName::Short => GrainWord::Short,
    }
}

fn style(name: StyleName) -> StyleWord {
    match name {
        StyleName::Sheetwise => StyleWord::Sheetwise,
        StyleName::WorkAndTurn => StyleWord::WorkAndTurn,
        StyleName::WorkAndTumble => StyleWord::WorkAndTumble,
        StyleName::Perfecting => StyleWord::Perfecting,
        StyleName::OneSide => StyleWord::OneSide,
    }
}

fn standard(name: StandardName) -> StandardWord {
    match name {
        StandardName::X4 => StandardWord::X4,
        StandardName::X1a => StandardWord::X1a,
    }
}

fn rows(name: RowsName) -> RowsWord {
    match name {
        RowsName::HeadToFoot => RowsWord::HeadToFoot,
        RowsName::HeadToHead => RowsWord::HeadToHead,
    }
}

/// The date of the job: the command line's, else the job file's, else SOURCE_DATE_EPOCH.
pub(super) fn date(args: &SheetArgs, of_job: Option<(&str, Source)>) -> Result<Date> {
    if let Some(text) = args.date.as_deref() {
        return if text == "today" { today() } else { Date::parse(text, option("--date")) };
    }
    if let Some((text, source)) = of_job {
        return Date::parse(text, source);
    }
    if let Ok(text) = std::env::var("SOURCE_DATE_EPOCH") {
        return text.trim().parse::<i64>().ok().and_then(Date::from_epoch).ok_or_else(|| {
            let fault =
                Fault::new(option("SOURCE_DATE_EPOCH"), format!("`{text}` is not a count of seconds since 1970"));
            fault.hint("set it to a whole number, or give --date").into()
        });
    }
    let fault = Fault::new(option("--date"), "the job has no date, and the press file needs one");
    Err(fault
        .hint("give one: --date 2027-01-15, or --date today; or state it under [job] in the job file")
        .hint("the clock is not asked by itself, so that the same input gives the same bytes")
        .into())
}

#[expect(clippy::disallowed_methods, reason = "the user asked for today by name")]
fn today() -> Result<Date> {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    let seconds = since.ok().and_then(|s| i64::try_from(s.as_secs()).ok());
    seconds.map(|s| s - s % 86_400).and_then(Date::from_epoch).ok_or_else(|| {
        Fault::new(option("--date"), "this machine's clock shows no usable date")
            .hint("write it out: --date 2027-01-15")
            .into()
    })
}
