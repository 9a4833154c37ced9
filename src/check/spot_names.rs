//! # What it checks
//!
//! Which spot inks the card names, wherever they stand: in fills, pictures, blends, patterns and spaces of several
//! inks. Found are names that differ only by case, blanks or a suffix of the paper kind; names that mean a process
//! ink but are not spelt as one; one name that is defined in two ways; and, as notes, technical inks (cutting,
//! creasing, varnish, white) and the list of all spots of artwork.
//!
//! # Why it matters
//!
//! Every name is a plate of its own. "Heron" and "HERON U" make two plates where one was paid for, and a cutting
//! line left in the artwork prints as a line.
//!
//! # What to do
//!
//! Give each ink one name and one definition in the layout program. Tell the printer what each technical ink is
//! for, and take out those that are none of his.
//!
//! # Source of the limit
//!
//! Ghent Workgroup 2022 specification: spot names that differ only by case or suffix, or that name one tint twice.
//! Names of technical inks: common practice.

use std::collections::BTreeMap;

use super::frame::file_place;
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{Face, InkUse, Place};
use crate::fault::Source;
use crate::ink::Colour;

pub(super) const CHECK: Check = Check {
    id: "spot-names",
    title: "Spot inks and their names",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("spot_names.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let mut spots: BTreeMap<&str, Vec<(&Face, &InkUse)>> = BTreeMap::new();
    for face in &cx.card.faces {
        for ink in face.inks.iter().filter(|i| i.ink.is_spot()) {
            spots.entry(ink.ink.name()).or_default().push((face, ink));
        }
    }
    let mut found = Vec::new();
    let mut plates: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for (name, uses) in &spots {
        plates.entry(plate(name)).or_default().push(name);
        found.extend(judge(cx, name, uses));
    }
    for names in plates.values().filter(|names| names.len() > 1) {
        let quoted: Vec<String> = names.iter().map(|n| format!("\"{n}\"")).collect();
        let message = format!(
            "the spot names {} differ only by case, blanks or suffix and make {} plates",
            quoted.join(" and "),
            names.len()
        );
        found.push(CHECK.finding(place(cx, &spots, names), message, "give the ink one name in the layout program"));
    }
    if !spots.is_empty() && !cx.card.facts.set_here {
        let names: Vec<&str> = spots.keys().copied().collect();
        let message = format!("{} spot inks, a plate each: {}", names.len(), names.join(", "));
        let message =
            if names.len() == 1 { format!("one spot ink, a plate of its own: {}", names.concat()) } else { message };
        found.push(
            CHECK.finding(file_place(cx.card), message, "see that the printer runs these inks").at(Severity::Note),
        );
    }
    Outcome::from(found)
}

/// The first face that uses one of these names.
fn place(cx: &Context<'_>, spots: &BTreeMap<&str, Vec<(&Face, &InkUse)>>, names: &[&str]) -> Place {
    let face = names.iter().find_map(|n| spots.get(n)?.first()).map(|(face, _)| *face);
    let source = Source::Pdf { file: cx.card.file.clone(), page: face.map(|f| f.page), object: None };
    Place { side: face.map(|f| f.side), what: Some(format!("ink {}", names.join(", "))), source, ..Place::default() }
}

fn judge(cx: &Context<'_>, name: &str, uses: &[(&Face, &InkUse)]) -> Vec<Finding> {
    let at = || {
        let face = uses.first().map(|(face, _)| *face);
        let source = Source::Pdf { file: cx.card.file.clone(), page: face.map(|f| f.page), object: None };
        Place { side: face.map(|f| f.side), what: Some(format!("ink {name}")), source, ..Place::default() }
    };
    let mut found = Vec::new();
    if let Some(process) = meant_as_process(name) {
        let message = format!("the spot ink \"{name}\" makes a plate of its own beside {process}");
        found.push(CHECK.finding(at(), message, format!("set it in the process ink {process}")).at(Severity::Error));
    }
    let looks: Vec<&Colour> = uses.iter().filter_map(|(_, ink)| ink.solid.as_ref()).collect();
    if let Some((one, other)) =
        looks.iter().enumerate().find_map(|(n, a)| Some((*a, *looks.iter().skip(n + 1).find(|b| !same(a, b))?)))
    {
        let message = format!("the spot ink \"{name}\" is defined in two ways, as {one} and as {other}");
        found.push(CHECK.finding(at(), message, "give it one definition in the layout program"));
    }
    if let Some(kind) = technical(name) {
        let message = format!("the ink \"{name}\" seems to be for {kind} and not for printing");
        let advice = "tell the printer what it is for, or take it out of the artwork";
        found.push(CHECK.finding(at(), message, advice).at(Severity::Note));
    }
    found
}

/// Two looks of one solid: the same within two hundredths a component, what programs round to.
fn same(a: &Colour, b: &Colour) -> bool {
    let near = |a: &[f64], b: &[f64], by: f64| a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() <= by);
    match (a, b) {
        (Colour::Cmyk(a), Colour::Cmyk(b)) => near(a, b, 0.02),
        (Colour::Rgb(a), Colour::Rgb(b)) => near(a, b, 0.02),
        (Colour::Lab(a), Colour::Lab(b)) => near(a, b, 1.0),
        (Colour::Gray(a), Colour::Gray(b)) => near(&[*a], &[*b], 0.02),
        _ => false,
    }
}

/// Words behind a name that tell the paper of the swatch book it was picked from.
const SUFFIXES: [&str; 11] = ["c", "u", "m", "cv", "cvc", "cvu", "cp", "up", "ec", "coated", "uncoated"];

/// A name without what does not make it another ink.
fn plate(name: &str) -> String {
    let lower = name.to_lowercase();
    let mut words: Vec<&str> =
        lower.split(|c: char| c.is_whitespace() || matches!(c, '-' | '_')).filter(|w| !w.is_empty()).collect();
    if words.len() > 1 && words.last().is_some_and(|last| SUFFIXES.contains(last)) {
        words.pop();
    }
    words.concat()
}

/// The process ink that a spot name means.
fn meant_as_process(name: &str) -> Option<&'static str> {
    let plate = plate(name);
    let bare = plate.strip_prefix("process").unwrap_or(&plate);
    [("cyan", "Cyan"), ("magenta", "Magenta"), ("yellow", "Yellow"), ("black", "Black")]
        .into_iter()
        .find_map(|(word, ink)| (bare == word).then_some(ink))
}

/// What a technical ink is for, by the words in its name.
fn technical(name: &str) -> Option<&'static str> {
    let lower = name.to_lowercase();
    let kinds: [(&[&str], &str); 6] = [
        (&["cut", "die", "trim", "kiss"], "cutting"),
        (&["crease", "fold", "score", "perf"], "creasing, folding or perforating"),
        (&["varnish", "coating", "lacquer", "gloss", "laminat"], "varnish or coating"),
        (&["white", "primer"], "a white under other inks"),
        (&["glue", "emboss", "deboss", "foil"], "finishing"),
        (&["guide", "dimension", "legend", "technical"], "guides and notes"),
    ];
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    let has = |part: &str| {
        words.iter().any(|w| w.starts_with(part))
            || (part.len() > 3 && lower.contains(part))
            || lower.starts_with(part)
            || lower.ends_with("contour") && part == "cut"
    };
    kinds.into_iter().find_map(|(parts, kind)| parts.iter().any(|p| has(p)).then_some(kind))
}
