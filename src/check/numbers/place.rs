use crate::card::{Card, ColumnRole, GridPlan, Half, Place, RowRole};
use crate::fault::Source;
use crate::scorecard::{Part, Scorecard, Who};

/// Where a number of the scorecard stands: its cell on the grid and its line in the card file. `None` as the column
/// means the whole row.
pub(in crate::check) fn place(card: &Card, numbers: &Scorecard, row: &RowRole, column: Option<&ColumnRole>) -> Place {
    let cell = card.grid.as_ref().and_then(|grid| {
        let at = shown(grid, row)?;
        let rect = match column {
            Some(column) => grid.cell(at, drawn(card, grid, column)?)?.rect,
            None => grid.rows.get(at)?.rect,
        };
        Some((grid.side, rect))
    });
    let mut place = match cell {
        Some((side, rect)) => card.place(side, rect, None),
        None => Place { source: Source::File(card.file.clone()), ..Place::default() },
    };
    if column.is_none() {
        place.panel = None;
    }
    let row_words = format!("row \"{}\"", name_of(numbers, row));
    place.what = Some(match column {
        Some(column) => format!("{row_words}, {}", words(column)),
        None => row_words,
    });
    if let Some(span) = card.trace.number(row, column) {
        place.source = span.clone().into();
    }
    place
}

/// The grid's row for a row of numbers: its own, the one that it shares with the other gender, or everyone's.
fn shown(grid: &GridPlan, row: &RowRole) -> Option<usize> {
    use Who::{Everyone, Men, Women};
    let others: &[RowRole] = match row {
        RowRole::Par(Everyone) => &[RowRole::ParBoth, RowRole::Par(Men), RowRole::Par(Women)],
        RowRole::Par(_) => &[RowRole::ParBoth, RowRole::Par(Everyone)],
        RowRole::StrokeIndex(Everyone) => {
            &[RowRole::StrokeIndexBoth, RowRole::StrokeIndex(Men), RowRole::StrokeIndex(Women)]
        }
        RowRole::StrokeIndex(_) => &[RowRole::StrokeIndexBoth, RowRole::StrokeIndex(Everyone)],
        _ => &[],
    };
    grid.row(row).or_else(|| others.iter().find_map(|role| grid.row(role)))
}

/// The grid's column for a number. Artwork without a column for ratings has them behind the tees' names; a card file's stand
/// where its blocks put them.
fn drawn(card: &Card, grid: &GridPlan, column: &ColumnRole) -> Option<usize> {
    let behind_name = *column == ColumnRole::Rating && card.trace.numbers.is_empty();
    grid.column(column).or_else(|| grid.column(&ColumnRole::Name).filter(|_| behind_name))
}

/// A row's name in words: the tee's or combination's own, `Par`, `Stroke index, women`.
pub(in crate::check) fn name_of(numbers: &Scorecard, row: &RowRole) -> String {
    let for_whom = |what: &str, who: Who| match who {
        Who::Everyone => what.to_owned(),
        Who::Men | Who::Women => format!("{what}, {who}"),
    };
    match row {
        RowRole::Tee(n) => numbers.tees.get(*n).map(|t| t.name.clone()).unwrap_or_default(),
        RowRole::Combo(n) => numbers.combos.get(*n).map(|c| c.name.clone()).unwrap_or_default(),
        RowRole::Par(who) => for_whom("Par", *who),
        RowRole::StrokeIndex(who) => for_whom("Stroke index", *who),
        RowRole::ParBoth => "Par".to_owned(),
        RowRole::StrokeIndexBoth => "Stroke index".to_owned(),
        RowRole::Holes => "Hole".to_owned(),
        RowRole::Pace => "Pace".to_owned(),
        RowRole::Player(n) => format!("player {}", n + 1),
        RowRole::Free(label) => label.clone(),
    }
}

fn words(column: &ColumnRole) -> String {
    match column {
        ColumnRole::Hole(n) => format!("hole {n}"),
        ColumnRole::Half(Half::Out) => Part::Out.name().to_owned(),
        ColumnRole::Half(Half::In) => Part::In.name().to_owned(),
        ColumnRole::Total => Part::Total.name().to_owned(),
        ColumnRole::Rating => "rating".to_owned(),
        ColumnRole::Name => "name".to_owned(),
        ColumnRole::Member => "member number".to_owned(),
        ColumnRole::Initials => "initials".to_owned(),
        ColumnRole::Handicap => "handicap".to_owned(),
        ColumnRole::Net => "net".to_owned(),
        ColumnRole::Free(heading) => heading.clone(),
    }
}

/// The column of a hole, counted from 1.
pub(in crate::check) fn hole(hole: usize) -> ColumnRole {
    ColumnRole::Hole(u8::try_from(hole).unwrap_or(u8::MAX))
}

/// The column of a total.
pub(in crate::check) const fn column_of(part: Part) -> ColumnRole {
    match part {
        Part::Out => ColumnRole::Half(Half::Out),
        Part::In => ColumnRole::Half(Half::In),
        Part::Total => ColumnRole::Total,
    }
}
