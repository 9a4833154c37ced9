//! `fairfold plates`: what each plate prints, and how they look together.

use std::fmt::Write as _;
use std::path::Path;
use std::process::ExitCode;

use crate::cli::args::PlatesArgs;
use crate::cli::disk::Disk;
use crate::cli::input::Input;
use crate::cli::terminal::{Progress, remark, say};
use crate::fault::{Fault, Result, Source};
use crate::ink::Sight;
use crate::plates::{self, Coverage, Means, Plates};

pub(in crate::cli) fn run(args: &PlatesArgs) -> Result<ExitCode> {
    if !(MOST_PPI.contains(&args.ppi)) {
        let fault = Fault::new(Source::Option("--ppi".to_owned()), format!("{} is no resolution of a plate", args.ppi));
        return Err(fault.hint("give 10 to 2400 pixels an inch; 300 shows what a designer needs to see").into());
    }
    let mut input = Input::open(&args.input)?;
    let pages = input.pages(args)?;
    let folder = args.out.clone().unwrap_or_else(|| args.input.with_extension("plates"));
    Disk::folder(&folder)?;
    let sights: &[Sight] = if args.sights { &[Sight::Protan, Sight::Deutan] } else { &[] };
    let stem = args.input.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    for number in 1..=pages.artwork.page_count() {
        let progress = Progress::begin("drawing plates");
        let area = pages.artwork.page_area(number)?;
        let drawn = Plates::of_page(&pages.artwork, number, area, args.ppi, &pages.condition, Means::Ample)?;
        let files = plates::files(&drawn, &pages.condition, &pages.spots, sights)?;
        drop(progress);
        let name = |what: &str, ending: &str| folder.join(format!("{stem}-{number}-{}.{ending}", plain(what)));
        for (ink, plate) in &files.plates {
            input.disk.output(&name(ink.name(), "png"), plate)?;
        }
        let look = name("together", "png");
        input.disk.output(&look, &files.look)?;
        for (sight, picture) in &files.sights {
            input.disk.output(&name(&format!("together-{sight}"), "png"), picture)?;
        }
        input.disk.output(&name("total-ink", "png"), &files.total)?;
        let (width, height) = drawn.size();
        say(&table(number, (width, height), args.ppi, &files.coverage, &look))?;
        let limit = pages.condition.total_ink;
        say(&format!("  all together: {:.0} % at most, {limit:.0} % allowed in this condition\n", files.most))?;
        for line in drawn.not_drawn() {
            remark(&format!("note: page {number}: not drawn as it should be: {line}"));
        }
        if drawn.separated() {
            remark(&format!(
                "note: page {number}: has colour that is in no ink; it was separated by the profile {}",
                pages.condition.identifier
            ));
        }
    }
    Ok(ExitCode::SUCCESS)
}

const MOST_PPI: std::ops::RangeInclusive<f64> = 10.0..=2400.0;

/// A plate's name as part of a file's: what a file system may not like becomes a dash.
fn plain(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { '-' }).collect()
}

fn table(page: u32, (width, height): (usize, usize), ppi: f64, coverage: &[Coverage], look: &Path) -> String {
    let mut text = format!("page {page}: {width} x {height} pixels at {ppi} ppi; together in {}\n", look.display());
    let longest = coverage.iter().map(|c| c.ink.name().chars().count()).max().unwrap_or(0).max(5);
    // Writing to a string does not fail.
    let _ = writeln!(text, "  {:<longest$}  coverage   as solid   strongest", "plate");
    for c in coverage {
        let name = c.ink.name();
        let _ = writeln!(text, "  {name:<longest$}  {:>6.2} %  {:>6.1} cm2  {:>7.0} %", c.percent, c.solid_cm2, c.most);
    }
    text
}
