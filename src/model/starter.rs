//! The card file that a new card starts from.

use super::FoldName;
use crate::card::{Fold, Side};
use crate::fault::{Fault, Result};
use crate::model::CardSection;
use crate::unit::{Length, Size};

const TEMPLATE: &str = include_str!("starter.toml");

/// The least height that the starter's matter needs: eight lines to write on under ten printed rows.
const LEAST_HEIGHT: Length = Length::inches(9, 2);
/// Between the edges of a panel and what stands on it.
const MARGIN: Length = Length::inches(3, 10);
/// Below this breadth of the grid the columns to add up in get what two figures need, and initials, handicap and net go.
const AMPLE: Length = Length::inches(11, 1);
/// The narrowest panel of several on which the usual columns find room however they break at the folds.
const ROOMY: Length = Length::inches(17, 4);

/// A commented card file to start from: an invented course of 18 holes with five tees and eight players' lines, set out for `size`
/// (flat) and `fold`.
///
/// # Errors
/// A size that the starter's matter does not fit.
pub fn starter(title: &str, size: Size, fold: FoldName) -> Result<String> {
    let panels = Fold::usual(fold.kind(), size, 4, CardSection::ALLOWANCE).widths(Side::Outside);
    let (back, cover) = match fold {
        FoldName::None => (1, 1),
        _ => (panels.len() - 1, panels.len()),
    };
    let width = |number: usize| panels.get(number - 1).copied().unwrap_or(size.width);
    let whole = fold == FoldName::None;
    let back_width = if whole { size.width.half() } else { width(back) };
    let cover_width = if whole { size.width.half() } else { width(cover) };
    let least = least_width(fold);
    if size.width < least || size.height < LEAST_HEIGHT {
        let message = format!("the starter card does not fit on {} with fold \"{}\"", size.card_text(), fold.word());
        let hint = format!(
            "with this fold it needs {} or more; start from a larger card and take out what yours does not need",
            Size::new(least, LEAST_HEIGHT).card_text()
        );
        return Err(Fault::new(crate::fault::Source::Nowhere, message).hint(hint).into());
    }
    let grid = grid_panels(fold, size.width);
    let inner = |w: Length| w - MARGIN * 2;
    let sign = (inner(back_width) - MARGIN).half();
    let cover_y = size.height / 5;
    let cover_x = if whole { size.width.half() + MARGIN } else { MARGIN };
    let name = if title.trim().is_empty() { "New card" } else { title.trim() };
    let values: [(&str, String); 23] = [
        ("name", one_line(name)),
        ("title", toml::Value::String(name.to_owned()).to_string()),
        ("size", size_text(size)),
        ("fold", fold.word().to_owned()),
        ("fold_note", fold_note(fold)),
        ("columns", columns(ample(&panels, &grid)).to_owned()),
        ("grid_panels", format!("{grid:?}")),
        ("grid_note", grid_note(fold, grid.len()).to_owned()),
        ("back", back.to_string()),
        ("back_width", measure(inner(back_width))),
        ("sign_y", measure(size.height - Length::inches(21, 20))),
        ("sign_x", measure(MARGIN * 2 + sign)),
        ("sign_width", measure(sign)),
        ("cover", if whole { String::new() } else { format!("panel = {cover}") }),
        ("cover_note", if whole { ", on the right half of the same face" } else { "" }.to_owned()),
        ("cover_x", measure(cover_x)),
        ("cover_y", measure(cover_y)),
        ("cover_width", measure(inner(cover_width))),
        ("under_y", measure(cover_y + Length::inches(8, 5))),
        ("flag_y", measure(cover_y + Length::inches(2, 1))),
        ("title_size", format!("{} pt", title_size(name, inner(cover_width)))),
        ("band_y", measure(size.height - Length::inches(3, 10))),
        ("band_width", measure(if whole { size.width } else { cover_width })),
    ];
    Ok(filled(&values))
}

/// The template with every `{{name}}` replaced, in one pass, so that a title cannot bring in a name of its own.
fn filled(values: &[(&str, String)]) -> String {
    let mut text = String::with_capacity(TEMPLATE.len() + 512);
    let mut rest = TEMPLATE;
    while let Some((before, after)) = rest.split_once("{{") {
        let (name, after) = after.split_once("}}").unwrap_or((after, ""));
        text.push_str(before);
        text.push_str(values.iter().find(|(n, _)| *n == name).map_or("", |(_, v)| v));
        rest = after;
    }
    text.push_str(rest);
    text
}

/// The comment beside the fold, in the column of the other comments.
fn fold_note(fold: FoldName) -> String {
    let gap = " ".repeat(21_usize.saturating_sub(fold.word().len()));
    let panels = if fold == FoldName::Accordion { "\npanels = 4                    # of the accordion" } else { "" };
    format!("{gap}# none, half, letter, accordion or gate{panels}")
}

/// The least flat width at which eighteen holes each take a figure and the sums two, at margins that keep clear of the folds.
const fn least_width(fold: FoldName) -> Length {
    match fold {
        FoldName::None | FoldName::Half => Length::inches(15, 2),
        FoldName::Letter => Length::inches(9, 1),
        FoldName::Accordion => Length::inches(10, 1),
        FoldName::Gate => Length::inches(12, 1),
    }
}

/// The panels of the inside that the grid covers: the full middle of a gate fold, the two full panels of a letter fold where
/// they are wide enough, all of them otherwise.
fn grid_panels(fold: FoldName, width: Length) -> Vec<usize> {
    match fold {
        FoldName::None => vec![1],
        FoldName::Half => vec![1, 2],
        FoldName::Letter if width >= Length::inches(27, 2) => vec![1, 2],
        FoldName::Letter => vec![1, 2, 3],
        FoldName::Accordion => vec![1, 2, 3, 4],
        FoldName::Gate => vec![2],
    }
}

const fn grid_note(fold: FoldName, covered: usize) -> &'static str {
    match (fold, covered) {
        (FoldName::Gate, _) => "; the flaps are free for notes or a map",
        (FoldName::Letter, 2) => "; panel 3 is free for notes or a map",
        _ => "",
    }
}

/// Whether the usual columns find their room on these panels; `outside` lists the panels as the outside shows them.
fn ample(outside: &[Length], grid: &[usize]) -> bool {
    let inside: Vec<Length> = outside.iter().rev().copied().collect();
    let covered: Vec<Length> = grid.iter().filter_map(|n| inside.get(n - 1)).copied().collect();
    let breadth: Length = covered.iter().copied().sum();
    breadth >= AMPLE && (covered.len() < 3 || covered.iter().all(|w| *w >= ROOMY))
}

/// All the usual columns; where room is short fewer, and those to add up in at a stated width, so that the holes keep theirs.
fn columns(ample: bool) -> &'static str {
    if ample {
        r#"["names", "first-nine", "out", "initials", "second-nine", "in", "total", "handicap", "net"]"#
    } else {
        r#"[
    { column = "names", width = "1.02 in" }, "first-nine", { column = "out", width = "0.31 in" },
    "second-nine", { column = "in", width = "0.31 in" }, { column = "total", width = "0.31 in" },
]"#
    }
}

/// A length as the file writes it: in inches where four decimals say it exactly, else in millimetres.
fn measure(length: Length) -> String {
    let exact = |text: &str| crate::unit::parse_length(text) == Ok(length);
    let (inches, mm) = (length.in_text(), length.mm_text());
    if exact(&inches) || !exact(&mm) { inches } else { mm }
}

/// A size as the file writes it, height x width, exact wherever inches or millimetres say it.
fn size_text(size: Size) -> String {
    let (inches, mm) = (
        format!("{} x {}", size.height.in_text().trim_end_matches(" in"), size.width.in_text()),
        format!("{} x {}", size.height.mm_text().trim_end_matches(" mm"), size.width.mm_text()),
    );
    let exact = |text: &str| crate::unit::parse_size(text) == Ok(size);
    if exact(&inches) || !exact(&mm) { inches } else { mm }
}

/// The title as a comment can hold it.
fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A size in whole points at which the title stands on its cover: its longest word across, and all of it on four lines at the
/// most. Counts 0.62 em a letter, which is more than a serif's letters take (judgement).
fn title_size(title: &str, width: Length) -> i64 {
    let longest = title.split_whitespace().map(|w| w.chars().count()).max().unwrap_or(1).max(1);
    let all = title.chars().count().max(1);
    let fits = |points: i64| {
        let em = Length::pt(points).scaled(0.62);
        let lines = (em * count(all)).get() / width.get().max(1) + 1;
        em * count(longest) <= width && Length::pt(points) * lines * 13 / 10 <= Length::inches(3, 2) && lines <= 4
    };
    (10..=34).rev().find(|p| fits(*p)).unwrap_or(10)
}

fn count(n: usize) -> i64 {
    i64::try_from(n.min(10_000)).unwrap_or(10_000)
}
