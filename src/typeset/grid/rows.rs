//! From the card file's `[grid]` to single rows and columns.

use crate::card::{ColumnRole, Half, RowRole};
use crate::model::{ColumnName, ColumnSection, ComboSection, ComboShown, GridSection, RowName, RowSection, WhoName};
use crate::scorecard::{ForWho, Scorecard, Who};
use crate::typeset::plan::{ColumnAsk, RowAsk};
use crate::unit::Length;

/// One row to set.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct GridRow {
    pub(super) ask: RowAsk,
    /// Texts of a free row.
    pub(super) cells: Vec<String>,
}

/// One column to set.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct GridColumn {
    pub(super) ask: ColumnAsk,
}

/// How many lines for players a card has that does not say (as the card file's description promises).
const PLAYERS: usize = 4;

/// The rows from the top. Tees and combinations that are named but unknown are left out; the reader of the card file has
/// spoken of them already.
pub(super) fn rows(section: &GridSection, card: &Scorecard, combos: &[ComboSection]) -> Vec<GridRow> {
    let mut found = Vec::new();
    let mut players = 0;
    for (n, row) in section.rows.iter().enumerate() {
        for (role, usual) in roles(row, card, combos, &mut players) {
            let label = row.label.clone().unwrap_or(usual);
            let ask = RowAsk { role, label, height: row.height.map(|m| m.0), least: Length::ZERO, section: n };
            found.push(GridRow { ask, cells: row.cells.clone() });
        }
    }
    found
}

fn roles(row: &RowSection, card: &Scorecard, combos: &[ComboSection], players: &mut usize) -> Vec<(RowRole, String)> {
    let named = |name: &str| row.of.as_ref().is_none_or(|of| of == name);
    match row.row {
        RowName::Holes => vec![(RowRole::Holes, "Hole".to_owned())],
        RowName::Tee => {
            let tees = card.tees.iter().enumerate().filter(|(_, t)| named(&t.name));
            tees.map(|(n, t)| (RowRole::Tee(n), t.name.clone())).collect()
        }
        RowName::Combo => {
            // A combination that is shown as marks has a row only where the grid asks for it by name.
            let shown = |n: usize| row.of.is_some() || combos.get(n).is_none_or(|c| c.shown == ComboShown::Row);
            let list = card.combos.iter().enumerate().filter(|(n, c)| named(&c.name) && shown(*n));
            list.map(|(n, c)| (RowRole::Combo(n), c.name.clone())).collect()
        }
        RowName::Par => vec![by_gender(row, &card.par, "Par", RowRole::Par, RowRole::ParBoth)],
        RowName::StrokeIndex => {
            vec![by_gender(row, &card.stroke_index, "Stroke index", RowRole::StrokeIndex, RowRole::StrokeIndexBoth)]
        }
        RowName::Players => {
            let count = row.count.unwrap_or(PLAYERS);
            let first = *players;
            *players += count;
            (first..first + count).map(|n| (RowRole::Player(n), String::new())).collect()
        }
        RowName::Pace => vec![(RowRole::Pace, "Pace".to_owned())],
        RowName::Free => vec![(RowRole::Free(row.label.clone().unwrap_or_default()), String::new())],
    }
}

/// A row of men, of women, of everyone, or of both with a slash; the label names the gender wherever it matters.
fn by_gender(
    row: &RowSection,
    list: &ForWho<Vec<Option<i64>>>,
    word: &str,
    single: fn(Who) -> RowRole,
    both: RowRole,
) -> (RowRole, String) {
    let entry = |who: Who| list.iter().find(|(w, _)| *w == who).map(|(_, v)| v);
    let (men, women) = (entry(Who::Men), entry(Who::Women));
    match (row.whose, men, women) {
        (Some(WhoName::Men), Some(_), _) | (_, Some(_), None) => (single(Who::Men), format!("{word} (men)")),
        (Some(WhoName::Women), _, Some(_)) | (_, None, Some(_)) => (single(Who::Women), format!("{word} (women)")),
        (None | Some(WhoName::Both), Some(men), Some(women)) if men != women => (both, format!("{word} (men/women)")),
        (None | Some(WhoName::Both), Some(_), Some(_)) => (both, word.to_owned()),
        (_, None, None) => (single(Who::Everyone), word.to_owned()),
    }
}

/// The columns from the left.
pub(super) fn columns(section: &GridSection) -> Vec<GridColumn> {
    let mut found = Vec::new();
    for (n, column) in section.columns.iter().enumerate() {
        let (name, width, heading) = match column {
            ColumnSection::Plain(name) => (*name, None, None),
            ColumnSection::Full(full) => (full.column, full.width.map(|m| m.0), full.heading.clone()),
        };
        for (role, usual) in column_roles(name, heading.as_deref()) {
            let heading = heading.clone().filter(|_| !matches!(role, ColumnRole::Hole(_))).unwrap_or(usual);
            found.push(GridColumn { ask: ColumnAsk { role, heading, width, least: Length::ZERO, section: n } });
        }
    }
    found
}

fn column_roles(name: ColumnName, heading: Option<&str>) -> Vec<(ColumnRole, String)> {
    let one = |role, text: &str| vec![(role, text.to_owned())];
    let nine = |from: u8| (from..from + 9).map(|n| (ColumnRole::Hole(n), n.to_string())).collect();
    match name {
        ColumnName::Names => one(ColumnRole::Name, ""),
        ColumnName::Member => one(ColumnRole::Member, "No."),
        ColumnName::Rating => one(ColumnRole::Rating, "Rating"),
        ColumnName::FirstNine => nine(1),
        ColumnName::Out => one(ColumnRole::Half(Half::Out), "Out"),
        ColumnName::Initials => one(ColumnRole::Initials, "Initials"),
        ColumnName::SecondNine => nine(10),
        ColumnName::In => one(ColumnRole::Half(Half::In), "In"),
        ColumnName::Total => one(ColumnRole::Total, "Total"),
        ColumnName::Handicap => one(ColumnRole::Handicap, "Hcp"),
        ColumnName::Net => one(ColumnRole::Net, "Net"),
        ColumnName::Free => one(ColumnRole::Free(heading.unwrap_or_default().to_owned()), ""),
    }
}
