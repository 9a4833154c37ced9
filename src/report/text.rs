use std::fmt::{self, Write};

use super::{Palette, Report};
use crate::card::Place;
use crate::check::{Checked, Explained, Finding, Limits, Outcome, Severity, list};
use crate::fault::Source;

/// The report for people: every finding with place and advice, what was waived and why, what was skipped and why, and one line
/// that sums up. Ends with a line break.
pub fn text(report: &Report<'_>, palette: Palette) -> String {
    let mut out = String::new();
    // Writing to a string does not fail.
    let _ = whole(&mut out, report, palette);
    out
}

fn whole(out: &mut String, report: &Report<'_>, palette: Palette) -> fmt::Result {
    let checked = report.checked;
    for finding in &checked.findings {
        heading(out, palette, finding)?;
        writeln!(out, "  {} advice: {}\n", palette.quiet("="), finding.advice)?;
    }
    for waived in &checked.waived {
        let finding = &waived.finding;
        writeln!(out, "{}: {}", palette.quiet(format_args!("waived[{}]", finding.check)), finding.message)?;
        arrow(out, palette, &finding.place)?;
        writeln!(out, "  {} reason: {}\n", palette.quiet("="), waived.reason)?;
    }
    for (check, fault) in checked.broken() {
        writeln!(out, "{}: {fault}\n", palette.severity(Severity::Error, format_args!("broken[{}]", check.id)))?;
    }
    let mut any = false;
    for (check, why) in checked.skipped() {
        writeln!(out, "{} because {why}", palette.quiet(format_args!("skipped[{}]:", check.id)))?;
        any = true;
    }
    if any {
        writeln!(out)?;
    }
    writeln!(out, "{}: {}", palette.strong(report.title), summary(checked, report.limits, palette))
}

fn heading(out: &mut String, palette: Palette, finding: &Finding) -> fmt::Result {
    let head = format_args!("{}[{}]", finding.severity, finding.check).to_string();
    writeln!(out, "{}: {}", palette.severity(finding.severity, head), palette.strong(&finding.message))?;
    arrow(out, palette, &finding.place)
}

/// `  --> otterby.toml:61:3 · inside, panel 1, row "Heron"`; nothing where no place is known.
fn arrow(out: &mut String, palette: Palette, place: &Place) -> fmt::Result {
    let source = Some(place.source.to_string()).filter(|_| place.source != Source::Nowhere);
    let words = Some(place.words()).filter(|w| !w.is_empty());
    let parts: Vec<String> = [source, words].into_iter().flatten().collect();
    if parts.is_empty() { Ok(()) } else { writeln!(out, "  {} {}", palette.quiet("-->"), parts.join(" · ")) }
}

/// `2 errors, 1 note from 20 checks, 3 skipped, 1 waived; limits: coated-offset`.
fn summary(checked: &Checked, limits: &Limits, palette: Palette) -> String {
    let mut counts = Vec::new();
    for severity in Severity::ALL.into_iter().rev() {
        let n = checked.count(severity);
        if n > 0 {
            counts.push(palette.severity(severity, counted(n, severity.name())).to_string());
        }
    }
    if counts.is_empty() {
        counts.push(palette.good("nothing found").to_string());
    }
    let ran = checked.results.iter().filter(|(_, o)| matches!(o, Outcome::Clean | Outcome::Found(_))).count();
    let mut text = format!("{} from {}", counts.join(", "), counted(ran, "check"));
    for (n, what) in
        [(checked.skipped().count(), "skipped"), (checked.broken().count(), "broken"), (checked.waived.len(), "waived")]
    {
        if n > 0 {
            let _ = write!(text, ", {n} {what}");
        }
    }
    let _ = write!(text, "; limits: {}", limits.set);
    if !limits.values.is_empty() {
        let _ = write!(text, ", {} changed", limits.values.len());
    }
    text
}

fn counted(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// The list of all checks, one a line.
pub fn listed(palette: Palette) -> String {
    let widest = list().map(|c| c.id.len()).max().unwrap_or(0);
    let mut out = String::new();
    for check in list() {
        let id = format!("{:widest$}", check.id);
        let severity = format!("{:7}", check.severity.name());
        let _ =
            writeln!(out, "{}  {}  {}", palette.strong(id), palette.severity(check.severity, severity), check.title);
    }
    out
}

/// One check in its own words, with the values of its limits that are in force.
pub fn explained(explained: &Explained, limits: &Limits, palette: Palette) -> String {
    let check = explained.check;
    let mut out = format!("{}: {} ({})\n", palette.strong(check.id), check.title, check.severity);
    for (head, body) in &explained.sections {
        let _ = write!(out, "\n{}\n", palette.strong(head));
        for line in body.lines() {
            wrapped(&mut out, line);
        }
    }
    if !check.bounds.is_empty() {
        let _ = write!(out, "\n{}\n", palette.strong(format_args!("Limits ({})", limits.set)));
        for bound in check.bounds {
            let value = limits.value(bound);
            let _ = writeln!(out, "  {} = {value}: {}", bound.name, bound.what);
            let _ = writeln!(out, "    {}", palette.quiet(bound.source));
        }
    }
    out
}

/// A line wrapped to 88 letters, two in from the left and list items four.
fn wrapped(out: &mut String, line: &str) {
    let rest = if line.starts_with("- ") { "    " } else { "  " };
    let mut width = 0;
    for word in line.split(' ').filter(|w| !w.is_empty()) {
        let long = word.chars().count();
        if width == 0 {
            out.push_str("  ");
            width = 2;
        } else if width + 1 + long > 88 {
            out.push('\n');
            out.push_str(rest);
            width = rest.len();
        } else {
            out.push(' ');
            width += 1;
        }
        out.push_str(word);
        width += long;
    }
    out.push('\n');
}
