//! Where the grid stands: rows, columns and cells, exact, before anything is drawn.

mod columns;
mod lie;
mod rows;
mod share;

pub(crate) use columns::ColumnAsk;
pub(crate) use lie::{Lie, Stretch};
pub(crate) use rows::RowAsk;

use std::ops::Range;

use crate::card::{Cell, Column, Direction, Format, GridPlan, Row, Side};
use crate::unit::{Length, Rect};

/// A grid as it is asked for.
#[derive(Debug)]
pub(crate) struct GridAsk<'a> {
    pub(crate) side: Side,
    pub(crate) direction: Direction,
    /// The panels it covers, from 1, side by side.
    pub(crate) panels: Range<usize>,
    pub(crate) margins: Margins,
    pub(crate) rows: &'a [RowAsk],
    pub(crate) columns: &'a [ColumnAsk],
}

/// Space around the grid. Top and bottom are the grid's own, so on a grid that reads down the top lies at the left or right of
/// the face.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Margins {
    pub(crate) top: Option<Length>,
    pub(crate) bottom: Option<Length>,
    /// At trim edges.
    pub(crate) trim: Length,
    /// On either side of a fold.
    pub(crate) fold: Length,
}

/// A plan, and how it was made.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Laid {
    pub(crate) plan: GridPlan,
    /// The columns on each panel.
    pub(crate) parts: Vec<Range<usize>>,
    pub(crate) along: Vec<Stretch>,
    pub(crate) down: Vec<Stretch>,
}

/// Why a grid does not go on its panels.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Misfit {
    /// Fewer columns than panels.
    FewColumns,
    /// The columns on a panel of this number are wider than the room.
    Wide { panel: usize, needs: Length, room: Length },
    /// The rows are higher than the room.
    High { needs: Length, room: Length },
}

/// Lays the grid out; the cells are still empty.
pub(crate) fn lay(format: &Format, ask: &GridAsk<'_>) -> Result<Laid, Misfit> {
    let lie = Lie { direction: ask.direction, flat: format.flat };
    let panels = panel_stretches(format, ask, lie);
    let rooms: Vec<Length> = panels.iter().map(|p| p.length()).collect();
    let groups = columns::grouped(ask.columns, &rooms).ok_or(Misfit::FewColumns)?;
    let by_panel = columns::stretches(ask.columns, &groups, &panels);
    for (n, (here, panel)) in by_panel.iter().zip(&panels).enumerate() {
        let needs: Length = here.iter().map(|s| s.length()).sum();
        if needs > panel.length() {
            let panel_number = if lie.runs_left() { ask.panels.end - 1 - n } else { ask.panels.start + n };
            return Err(Misfit::Wide { panel: panel_number, needs, room: panel.length() });
        }
    }
    let room = down_room(format, ask, lie);
    let down = rows::stretches(ask.rows, room).map_err(|needs| Misfit::High { needs, room: room.length() })?;

    let mut parts = Vec::new();
    let mut first = 0;
    for count in groups {
        parts.push(first..first + count);
        first += count;
    }
    let along: Vec<Stretch> = by_panel.into_iter().flatten().collect();
    let plan = plan(ask, lie, &along, &down);
    Ok(Laid { plan, parts, along, down })
}

fn plan(ask: &GridAsk<'_>, lie: Lie, along: &[Stretch], down: &[Stretch]) -> GridPlan {
    let all = |s: &[Stretch]| match (s.first(), s.last()) {
        (Some(a), Some(b)) => Stretch::new(a.from, b.to),
        _ => Stretch::default(),
    };
    let (whole_along, whole_down) = (all(along), all(down));
    let row = |(ask, place): (&RowAsk, &Stretch)| Row {
        role: ask.role.clone(),
        label: ask.label.clone(),
        rect: lie.rect(whole_along, *place),
    };
    let column =
        |(ask, place): (&ColumnAsk, &Stretch)| Column { role: ask.role.clone(), rect: lie.rect(*place, whole_down) };
    let mut cells = Vec::new();
    for (r, row) in down.iter().enumerate() {
        for (c, column) in along.iter().enumerate() {
            cells.push(Cell { row: r, column: c, rect: lie.rect(*column, *row), text: String::new() });
        }
    }
    GridPlan {
        side: ask.side,
        direction: ask.direction,
        bounds: lie.rect(whole_along, whole_down),
        rows: ask.rows.iter().zip(down).map(row).collect(),
        columns: ask.columns.iter().zip(along).map(column).collect(),
        cells,
    }
}

/// The room on each panel along the holes, in the order in which the holes run.
fn panel_stretches(format: &Format, ask: &GridAsk<'_>, lie: Lie) -> Vec<Stretch> {
    let margins = &ask.margins;
    let width = format.flat.width;
    let mut found: Vec<Stretch> = format
        .panels(ask.side)
        .into_iter()
        .filter(|p| ask.panels.contains(&p.number))
        .map(|p| along_panel(p.rect, width, lie))
        .collect();
    if lie.runs_left() {
        found.reverse();
    }
    let at_edge = |at: Length, stated: Option<Length>| {
        let usual = if at == Length::ZERO || at == width { margins.trim } else { margins.fold };
        if lie.is_down() { stated.unwrap_or(usual) } else { usual }
    };
    let last = found.len().saturating_sub(1);
    found
        .iter()
        .enumerate()
        .map(|(n, s)| {
            let before = if n == 0 { at_edge(s.from, margins.top) } else { margins.fold };
            let after = if n == last { at_edge(s.to, margins.bottom) } else { margins.fold };
            Stretch::new(s.from + before, s.to - after)
        })
        .collect()
}

fn along_panel(rect: Rect, width: Length, lie: Lie) -> Stretch {
    if lie.runs_left() { Stretch::new(width - rect.x1, width - rect.x0) } else { Stretch::new(rect.x0, rect.x1) }
}

fn down_room(format: &Format, ask: &GridAsk<'_>, lie: Lie) -> Stretch {
    let margins = &ask.margins;
    let of = |stated: Option<Length>| if lie.is_down() { margins.trim } else { stated.unwrap_or(margins.trim) };
    Stretch::new(of(margins.top), format.flat.height - of(margins.bottom))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::card::{ColumnRole, Fold, FoldKind, Half, RowRole};
    use crate::unit::Size;
    use proptest::prelude::*;

    fn format(height: i64, width: i64, kind: FoldKind) -> Format {
        let flat = Size::new(Length::inches(width, 1), Length::inches(height, 1));
        let eighth = Length::inches(1, 8);
        Format { flat, bleed: eighth, safe: eighth, fold: Fold::usual(kind, flat, 3, Length::inches(1, 16)) }
    }

    fn columns() -> Vec<ColumnAsk> {
        let mut roles = vec![ColumnRole::Name];
        roles.extend((1..=9).map(ColumnRole::Hole));
        roles.extend([ColumnRole::Half(Half::Out), ColumnRole::Initials]);
        roles.extend((10..=18).map(ColumnRole::Hole));
        roles.extend([ColumnRole::Half(Half::In), ColumnRole::Total]);
        let ask = |role| ColumnAsk { role, heading: String::new(), width: None, least: Length::pt(10), section: 0 };
        roles.into_iter().map(ask).collect()
    }

    fn rows(players: usize) -> Vec<RowAsk> {
        let mut roles = vec![RowRole::Holes, RowRole::Tee(0), RowRole::ParBoth];
        roles.extend((0..players).map(RowRole::Player));
        let ask = |role| RowAsk { role, label: String::new(), height: None, least: Length::pt(14), section: 0 };
        roles.into_iter().map(ask).collect()
    }

    fn margins() -> Margins {
        let (trim, fold) = (Length::inches(1, 5), Length::inches(1, 8));
        Margins { top: Some(Length::inches(1, 2)), bottom: None, trim, fold }
    }

    proptest! {
        #[test]
        fn cells_tile_the_panels_and_none_crosses_a_fold(
            height in 4_i64..9, width in 11_i64..18, letter in any::<bool>(), way in 0..3, players in 1_usize..9,
        ) {
            let kind = if letter { FoldKind::Letter } else { FoldKind::Half };
            let format = format(height, width, kind);
            let direction = match way {
                0 => Direction::Across,
                n => Direction::Down { top_at_left: n == 1 },
            };
            let (rows, columns) = (rows(players), columns());
            let panels = 1..format.fold.panels.len() + 1;
            let ask = GridAsk { side: Side::Inside, direction, panels, margins: margins(), rows: &rows, columns: &columns };
            let Ok(laid) = lay(&format, &ask) else { return Err(TestCaseError::fail("does not fit")) };
            let folds = format.fold.lines(Side::Inside);
            let area: f64 = laid.plan.cells.iter().map(|c| c.rect.area_sq_in()).sum();
            let gaps: f64 = margins().fold.to_in() * 2.0 * folds.len() as f64 * laid.plan.bounds.height().to_in();
            prop_assert!((area + gaps - laid.plan.bounds.area_sq_in()).abs() < 1e-6);
            for cell in &laid.plan.cells {
                prop_assert!(format.trim().contains(cell.rect));
                for fold in &folds {
                    prop_assert!(cell.rect.x1 <= *fold - margins().fold || cell.rect.x0 >= *fold + margins().fold);
                }
            }
            for (n, a) in laid.plan.cells.iter().enumerate() {
                prop_assert!(laid.plan.cells.iter().skip(n + 1).all(|b| a.rect.intersect(b.rect).is_none()));
            }
        }
    }

    #[test]
    fn a_grid_that_reads_down_has_its_tees_from_the_bottom_edge_up_and_its_holes_from_the_left() {
        let format = format(6, 12, FoldKind::Half);
        let (rows, columns) = (rows(4), columns());
        let direction = Direction::Down { top_at_left: true };
        let ask =
            GridAsk { side: Side::Inside, direction, panels: 1..3, margins: margins(), rows: &rows, columns: &columns };
        let plan = lay(&format, &ask).unwrap().plan;
        assert!(plan.rows[0].rect.y1 <= plan.rows[1].rect.y0);
        assert!(plan.columns[1].rect.x1 <= plan.columns[2].rect.x0);
        assert_eq!(plan.bounds.x0, Length::inches(1, 2));
        assert_eq!(plan.bounds.y0, Length::inches(1, 5));
    }
}
