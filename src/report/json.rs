//! The report for programs. Its version rises when a field changes its meaning or goes away; new fields may come at any time.

use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use super::Report;
use crate::card::Place;
use crate::check::{Checked, Finding, Outcome, Severity, Waived};
use crate::fault::Source;
use crate::unit::{Limit, Quantity, Reading};

/// The version that the field `report` states.
pub const REPORT_VERSION: u32 = 1;

/// The report for programs, as one JSON object whose shape [`schema()`] states.
pub fn json(report: &Report<'_>) -> Value {
    serde_json::to_value(Whole::from(report)).unwrap_or(Value::Null)
}

/// The JSON Schema of [`json()`].
pub fn schema() -> Value {
    schemars::schema_for!(Whole).to_value()
}

/// What the checks said about one card.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "fairfold report")]
struct Whole {
    /// Version of this shape.
    report: u32,
    /// The card.
    card: CardOf,
    /// The limits it was held against.
    limits: LimitsOf,
    /// The heaviest finding's severity; null where nothing was found.
    worst: Option<&'static str>,
    /// How many of each.
    counts: Counts,
    /// Every check and how it went.
    checks: Vec<CheckOf>,
    /// What was found, heaviest first, then by place.
    findings: Vec<FindingOf>,
    /// What was found and may stay.
    waived: Vec<WaivedOf>,
}

/// The card.
#[derive(Serialize, JsonSchema)]
struct CardOf {
    /// Its title.
    title: String,
    /// The file it came from.
    file: String,
}

/// The limits a card was held against.
#[derive(Serialize, JsonSchema)]
struct LimitsOf {
    /// The built-in set that held where the limits file says nothing else.
    set: &'static str,
    /// The limits that the limits file changed, by name.
    changed: Vec<&'static str>,
}

/// How many of each.
#[derive(Serialize, JsonSchema)]
struct Counts {
    /// Findings that weigh as errors.
    errors: usize,
    /// Findings that weigh as warnings.
    warnings: usize,
    /// Findings that weigh as notes.
    notes: usize,
    /// Findings that were waived.
    waived: usize,
    /// Checks that did not run.
    skipped: usize,
    /// Checks that should have run and could not.
    broken: usize,
}

/// How one check went.
#[derive(Serialize, JsonSchema)]
struct CheckOf {
    /// Its id.
    check: &'static str,
    /// `clean`, `found`, `waived` (all it found may stay), `skipped` or `broken`; only `clean` is a pass.
    outcome: &'static str,
    /// Why it was skipped or broke; null otherwise.
    why: Option<String>,
}

/// One thing that would print, fold, read or be written on badly.
#[derive(Serialize, JsonSchema)]
struct FindingOf {
    /// The check that found it.
    check: &'static str,
    /// `note`, `warning` or `error`.
    severity: &'static str,
    /// What is wrong.
    message: String,
    /// What to do.
    advice: String,
    /// What was measured and the limit it was held against; null where the check does not measure.
    reading: Option<ReadingOf>,
    /// Where.
    place: PlaceOf,
}

/// A finding that may stay.
#[derive(Serialize, JsonSchema)]
struct WaivedOf {
    /// Why it may stay.
    reason: String,
    /// The finding.
    finding: FindingOf,
}

/// What was measured and the limit it was held against.
#[derive(Serialize, JsonSchema)]
struct ReadingOf {
    /// The unit of all numbers here: mm, pt, %, :1, ppi, dE00, or empty for plain numbers.
    unit: &'static str,
    /// What was measured.
    measured: f64,
    /// The limit.
    limit: LimitOf,
}

/// A limit: one of these, or `at_least` and `at_most` together.
#[derive(Serialize, JsonSchema, Default)]
struct LimitOf {
    /// No less than this.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least: Option<f64>,
    /// More than this.
    #[serde(skip_serializing_if = "Option::is_none")]
    more_than: Option<f64>,
    /// No more than this.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<f64>,
    /// This.
    #[serde(skip_serializing_if = "Option::is_none")]
    exactly: Option<f64>,
}

/// A place on the card; fields that are not known are null.
#[derive(Serialize, JsonSchema)]
struct PlaceOf {
    /// `outside` or `inside`.
    face: Option<String>,
    /// The panel, from 1, left to right as the face is looked at.
    panel: Option<usize>,
    /// In words.
    what: Option<String>,
    /// The rectangle, in millimetres from the lower left corner of the face's trim.
    rect_mm: Option<RectOf>,
    /// The line of the card file or limits file, or the object of the PDF.
    source: SourceOf,
}

/// A rectangle.
#[derive(Serialize, JsonSchema)]
struct RectOf {
    left: f64,
    bottom: f64,
    right: f64,
    top: f64,
}

/// A file and a place in it; fields that do not apply are null.
#[derive(Serialize, JsonSchema, Default)]
struct SourceOf {
    /// The file's name as the user gave it.
    file: Option<String>,
    /// Line, from 1.
    line: Option<usize>,
    /// Column in characters, from 1.
    column: Option<usize>,
    /// Page of a PDF, from 1.
    page: Option<u32>,
    /// Object of a PDF.
    object: Option<u32>,
    /// Option of the command line.
    option: Option<String>,
}

impl From<&Report<'_>> for Whole {
    fn from(report: &Report<'_>) -> Self {
        let checked = report.checked;
        Self {
            report: REPORT_VERSION,
            card: CardOf { title: report.title.to_owned(), file: report.file.to_owned() },
            limits: LimitsOf { set: report.limits.set.name(), changed: report.limits.values.keys().copied().collect() },
            worst: checked.worst().map(Severity::name),
            counts: Counts {
                errors: checked.count(Severity::Error),
                warnings: checked.count(Severity::Warning),
                notes: checked.count(Severity::Note),
                waived: checked.waived.len(),
                skipped: checked.skipped().count(),
                broken: checked.broken().count(),
            },
            checks: checked.results.iter().map(|(check, outcome)| CheckOf::new(check.id, outcome, checked)).collect(),
            findings: checked.findings.iter().map(FindingOf::from).collect(),
            waived: checked.waived.iter().map(WaivedOf::from).collect(),
        }
    }
}

impl CheckOf {
    fn new(check: &'static str, outcome: &Outcome, checked: &Checked) -> Self {
        let (outcome, why) = match outcome {
            Outcome::Clean if checked.waived.iter().any(|w| w.finding.check == check) => ("waived", None),
            Outcome::Clean => ("clean", None),
            Outcome::Found(_) => ("found", None),
            Outcome::Skipped(why) => ("skipped", Some(why.clone())),
            Outcome::Broken(fault) => ("broken", Some(fault.to_string())),
        };
        Self { check, outcome, why }
    }
}

impl From<&Waived> for WaivedOf {
    fn from(waived: &Waived) -> Self {
        Self { reason: waived.reason.clone(), finding: FindingOf::from(&waived.finding) }
    }
}

impl From<&Finding> for FindingOf {
    fn from(finding: &Finding) -> Self {
        Self {
            check: finding.check,
            severity: finding.severity.name(),
            message: finding.message.clone(),
            advice: finding.advice.clone(),
            reading: finding.reading.as_ref().map(ReadingOf::from),
            place: PlaceOf::from(&finding.place),
        }
    }
}

/// Six decimals are a thousandth of a micrometre; more would be noise of the arithmetic.
fn rounded(v: f64) -> f64 {
    (v * 1e6).round() / 1e6
}

impl From<&Reading> for ReadingOf {
    fn from(reading: &Reading) -> Self {
        let of = |q: Quantity| Some(rounded(q.value()));
        let none = LimitOf::default;
        let limit = match reading.limit() {
            Limit::AtLeast(q) => LimitOf { at_least: of(q), ..none() },
            Limit::MoreThan(q) => LimitOf { more_than: of(q), ..none() },
            Limit::AtMost(q) => LimitOf { at_most: of(q), ..none() },
            Limit::Exactly(q) => LimitOf { exactly: of(q), ..none() },
            Limit::Within(lo, hi) => LimitOf { at_least: of(lo), at_most: of(hi), ..none() },
        };
        Self { unit: reading.measured().unit(), measured: rounded(reading.measured().value()), limit }
    }
}

impl From<&Place> for PlaceOf {
    fn from(place: &Place) -> Self {
        let rect_mm = place.rect.map(|r| RectOf {
            left: rounded(r.x0.to_mm()),
            bottom: rounded(r.y0.to_mm()),
            right: rounded(r.x1.to_mm()),
            top: rounded(r.y1.to_mm()),
        });
        Self {
            face: place.side.map(|s| s.to_string()),
            panel: place.panel,
            what: place.what.clone(),
            rect_mm,
            source: SourceOf::from(&place.source),
        }
    }
}

impl From<&Source> for SourceOf {
    fn from(source: &Source) -> Self {
        match source {
            Source::Nowhere => Self::default(),
            Source::File(file) => Self { file: Some(file.clone()), ..Self::default() },
            Source::Span(span) => {
                let (line, column) = span.line_column();
                Self { file: Some(span.file.name.clone()), line: Some(line), column: Some(column), ..Self::default() }
            }
            Source::Pdf { file, page, object } => {
                Self { file: Some(file.clone()), page: *page, object: *object, ..Self::default() }
            }
            Source::Option(option) => Self { option: Some(option.clone()), ..Self::default() },
        }
    }
}
