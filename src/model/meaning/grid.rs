use super::{Ground, rows};
use crate::model::{ColumnName, ColumnSection, DirectionName, GridSection};
use crate::unit::Length;

/// `[grid]`: its panels, its columns, its measures; the rows have a file of their own.
pub(super) fn look(ground: &mut Ground<'_>) {
    let file = ground.file;
    let Some(grid) = file.grid.as_ref() else { return };
    if file.course.is_none() && ground.sound("course") {
        ground.fault("grid", "the grid needs [course] with its pars", "add [course] with `name` and `par`");
    }
    panels(ground, grid);
    columns(ground, grid);
    rows::look(ground, grid);
    measures(ground, grid);
    room(ground, grid);
}

fn panels(ground: &mut Ground<'_>, grid: &GridSection) {
    if !ground.firm(&["card.fold", "card.panels", "card.widths", "grid.panels"]) {
        return;
    }
    let there = ground.file.card.panel_count();
    for (n, panel) in grid.panels.iter().enumerate().filter(|(_, p)| !(1..=there).contains(*p)) {
        let message = format!("there is no panel {panel} with fold \"{}\"", ground.file.card.fold.word());
        ground.fault(&format!("grid.panels[{n}]"), message, format!("panels run from 1 to {there}, left to right"));
    }
    let beside = grid.panels.windows(2).all(|w| matches!(w, [a, b] if *b == a + 1));
    if !beside {
        let hint = "name them left to right, each once: `panels = [1, 2]`";
        ground.fault("grid.panels", "the grid's panels do not stand side by side", hint);
    }
}

fn columns(ground: &mut Ground<'_>, grid: &GridSection) {
    use ColumnName as C;
    if ground.spans.get("grid.columns").is_none() {
        return;
    }
    let holes =
        ground.file.course.as_ref().map(crate::model::CourseSection::holes).filter(|_| ground.sound("course.par"));
    let names: Vec<ColumnName> = grid.columns.iter().map(ColumnSection::name).collect();
    for (n, name) in names.iter().enumerate() {
        let path = format!("grid.columns[{n}]");
        if *name != C::Free && names.iter().take(n).any(|c| c == name) {
            ground.fault(
                &path,
                "this column is already there",
                "each column stands once; only \"free\" may come again",
            );
        }
        if holes == Some(9) && matches!(name, C::SecondNine | C::In) {
            ground.fault(&path, "a card of 9 holes has no second nine", "take this column out");
        }
        if let Some(ColumnSection::Full(full)) = grid.columns.get(n) {
            if let Some(width) = full.width {
                let most = Length::inches(20, 1);
                ground.within(&format!("{path}.width"), width.0, Length::um(500), most, "the width of a column");
            }
            if *name == C::Free && full.heading.as_deref().is_none_or(|h| h.trim().is_empty()) {
                ground.fault(&path, "a free column needs a heading", "add `heading`");
            }
        } else if *name == C::Free {
            let hint = "write { column = \"free\", heading = \"…\" }";
            ground.fault(&path, "a free column needs a heading", hint);
        }
    }
    let missing = |name: C| !names.contains(&name);
    if missing(C::FirstNine) {
        ground.fault("grid.columns", "there is no column \"first-nine\", so holes 1 to 9 have no place", "");
    }
    if holes == Some(18) && missing(C::SecondNine) {
        ground.fault("grid.columns", "there is no column \"second-nine\", so holes 10 to 18 have no place", "");
    }
}

fn measures(ground: &mut Ground<'_>, grid: &GridSection) {
    if let Some(size) = grid.size {
        ground.within("grid.size", size.0, Length::pt(3), Length::pt(36), "the size of the numbers");
    }
    let margins = [
        ("grid.margin", grid.margin),
        ("grid.top_margin", grid.top_margin),
        ("grid.bottom_margin", grid.bottom_margin),
        ("grid.fold_margin", grid.fold_margin),
    ];
    for (path, margin) in margins {
        if let Some(margin) = margin {
            ground.within(path, margin.0, Length::ZERO, Length::inches(10, 1), "this margin");
        }
    }
    if let Some(rule) = grid.rule {
        ground.within("grid.rule", rule.0, Length::um(10), Length::pt(6), "the weight of the rules");
    }
}

/// Faults where stated widths or heights are more than the panels have.
fn room(ground: &mut Ground<'_>, grid: &GridSection) {
    let measures =
        ["card.size", "card.fold", "card.panels", "card.widths", "grid.panels", "grid.face", "grid.direction"];
    let margins = ["grid.margin", "grid.top_margin", "grid.bottom_margin"];
    if !ground.firm(&measures) || !ground.firm(&margins) {
        return;
    }
    let format = ground.file.card.format();
    let side = match grid.face {
        crate::model::FaceName::Outside => crate::card::Side::Outside,
        crate::model::FaceName::Inside => crate::card::Side::Inside,
    };
    let covered = |n: usize| grid.panels.is_empty() || grid.panels.contains(&n);
    let along: Length = format.panels(side).iter().filter(|p| covered(p.number)).map(|p| p.rect.width()).sum();
    let zero = |m: Option<crate::model::Measure>| m.map_or(Length::ZERO, |m| m.0);
    let margin = zero(grid.margin);
    let over_and_under = grid.top_margin.map_or(margin, |m| m.0) + grid.bottom_margin.map_or(margin, |m| m.0);
    // Holes run along the long way of the card whichever way the grid is read; its top and bottom are those of the reader.
    let across = grid.direction == DirectionName::Across;
    let (wide, high) = if across {
        (along - margin * 2, format.flat.height - over_and_under)
    } else {
        (along - over_and_under, format.flat.height - margin * 2)
    };
    let columns: Length = grid.columns.iter().map(column_width).sum();
    let rows: Length = grid.rows.iter().map(|r| zero(r.height) * rows::lines(r, ground.file)).sum();
    let (room_along, room_up) = if across { ("wide", "high") } else { ("long", "wide") };
    if columns > wide && ground.firm(&["grid.columns"]) {
        let message = format!("the columns' stated widths add up to {columns}, and the grid is {wide} {room_along}");
        ground.fault("grid.columns", message, format!("take {} off them, or off the margins", columns - wide));
    }
    let firm = |n: usize| ground.firm(&[&format!("grid.rows[{n}].height"), &format!("grid.rows[{n}].count")]);
    if rows > high && ground.sound("tees") && (0..grid.rows.len()).all(firm) {
        let message = format!("the rows' stated heights add up to {rows}, and the grid is {high} {room_up}");
        ground.fault("grid.rows", message, format!("take {} off them, or off the margins", rows - high));
    }
}

fn column_width(column: &ColumnSection) -> Length {
    let ColumnSection::Full(full) = column else { return Length::ZERO };
    let times = if matches!(full.column, ColumnName::FirstNine | ColumnName::SecondNine) { 9 } else { 1 };
    full.width.map_or(Length::ZERO, |w| w.0 * times)
}
