use std::fmt::Write as _;

use serde_json::json;

use super::Palette;
use crate::card::Breach;
use crate::check::Severity;
use crate::claim::{NOT_TESTED, RULES, Standard};
use crate::fault::{Fault, Result, Source};

/// What a file is held against, and what is against it.
#[derive(Clone, Copy, Debug)]
pub struct ClaimReport<'a> {
    /// The file, as the user named it.
    pub file: &'a str,
    /// The standard.
    pub standard: Standard,
    /// What was found, by page and object.
    pub breaches: &'a [Breach],
}

impl ClaimReport<'_> {
    fn rules(&self) -> usize {
        RULES.iter().filter(|r| r.holds(self.standard)).count()
    }

    /// For people: every breach with its place and what to do, what is not tested, and one line that sums up.
    pub fn text(&self, palette: Palette) -> String {
        let mut out = String::new();
        for breach in self.breaches {
            let head = format!("error[{}]", breach.rule);
            let place = Source::Pdf { file: self.file.to_owned(), page: breach.page, object: breach.object };
            let _ = writeln!(
                out,
                "{}: {}\n  {} {place}\n  {} advice: {}\n",
                palette.severity(Severity::Error, head),
                palette.strong(&breach.message),
                palette.quiet("-->"),
                palette.quiet("="),
                breach.advice
            );
        }
        for what in NOT_TESTED {
            let _ = writeln!(out, "{} {what}", palette.quiet("not tested:"));
        }
        let (version, rules) = (self.standard.version(), self.rules());
        let sum = match self.breaches.len() {
            0 => palette.good(format!("nothing against {version}")).to_string(),
            1 => palette.severity(Severity::Error, format!("1 thing against {version}")).to_string(),
            n => palette.severity(Severity::Error, format!("{n} things against {version}")).to_string(),
        };
        let _ = writeln!(out, "\n{}: {sum} from {rules} rules", palette.strong(self.file));
        out
    }

    /// For programs: one JSON object, whose version rises as that of the report on cards does.
    ///
    /// # Errors
    /// It cannot be written.
    pub fn json(&self) -> Result<String> {
        let breaches: Vec<_> = self
            .breaches
            .iter()
            .map(|b| {
                json!({ "rule": b.rule, "page": b.page, "object": b.object, "message": b.message, "advice": b.advice })
            })
            .collect();
        let whole = json!({
            "report": super::REPORT_VERSION,
            "file": self.file,
            "standard": self.standard.version(),
            "rules": self.rules(),
            "breaches": breaches,
            "not_tested": NOT_TESTED,
        });
        serde_json::to_string_pretty(&whole)
            .map_err(|e| Fault::new(Source::Nowhere, format!("the report cannot be written: {e}")).into())
    }
}
