//! Draws the laid-out grid: fills, rules, then what the cells say.

use kurbo::Rect as Points;

use super::Setting;
use super::marked::{self, Number, STAR, STAR_GAP};
use super::style::Look;
use super::type_of::{Stands, Types};
use crate::card::{ColumnRole, GridPlan, RowRole};
use crate::fault::Span;
use crate::ink::Colour;
use crate::typeset::frame::Frame;
use crate::typeset::page::{Page, Spot};
use crate::typeset::plan::{Laid, Stretch};
use crate::unit::{Length, Rect, Turn};

/// Draws the grid and gives its plan with the cells' texts.
pub(super) fn draw(page: &mut Page, setting: &Setting<'_>, laid: Laid, stands: &Stands) -> GridPlan {
    page.trace(laid.plan.bounds, "grid", &setting.model.span("grid"));
    for row in 0..setting.rows.len() {
        let words = words(setting, row);
        if let Some(r) = laid.plan.rows.get(row) {
            page.trace(r.rect, words, &span(setting, row));
        }
        fills(page, setting, &laid, row);
    }
    rules(page, setting, &laid);
    let mut plan = laid.plan;
    for cell in &mut plan.cells {
        setting.text(cell.row, cell.column).clone_into(&mut cell.text);
        if !cell.text.is_empty() {
            set_cell(page, setting, (cell.row, cell.column), cell.rect, stands);
        }
    }
    plan
}

/// A row in words, as findings name it.
fn words(setting: &Setting<'_>, row: usize) -> String {
    match setting.rows.get(row).map(|r| (&r.ask.role, &r.ask.label)) {
        Some((RowRole::Player(n), label)) if label.is_empty() => format!("players' line {}", n + 1),
        Some((RowRole::Holes, _)) => "row of hole numbers".to_owned(),
        Some((_, label)) => format!("row \"{label}\""),
        None => "row".to_owned(),
    }
}

/// Where the card file speaks of a row: its tee or combination, else its line in `rows`.
fn span(setting: &Setting<'_>, row: usize) -> Span {
    let path = match setting.rows.get(row).map(|r| &r.ask) {
        Some(ask) => match ask.role {
            RowRole::Tee(n) => format!("tees[{n}]"),
            RowRole::Combo(n) => format!("combos[{n}]"),
            _ => format!("grid.rows[{}]", ask.section),
        },
        None => "grid.rows".to_owned(),
    };
    setting.model.span(&path)
}

fn fills(page: &mut Page, setting: &Setting<'_>, laid: &Laid, row: usize) {
    let Some(down) = laid.down.get(row) else { return };
    if let Some(fill) = setting.row_look(row).fill.filter(|f| !f.is_paper()) {
        for part in parts(laid) {
            page.block(setting.lie.rect(part, *down), &fill);
        }
    }
    for (column, along) in laid.along.iter().enumerate() {
        if let Some(fill) = setting.cell_look(row, column).and_then(|l| l.fill).filter(|f| !f.is_paper()) {
            page.block(setting.lie.rect(*along, *down), &fill);
        }
    }
}

/// The grid's stretch on each panel.
fn parts(laid: &Laid) -> Vec<Stretch> {
    let columns = laid.parts.iter().filter_map(|range| laid.along.get(range.clone()));
    columns.filter_map(|c| Some(Stretch::new(c.first()?.from, c.last()?.to))).collect()
}

fn rules(page: &mut Page, setting: &Setting<'_>, laid: &Laid) {
    let colour =
        setting.section.rule_colour.as_ref().map_or(Colour::Cmyk([0.0, 0.0, 0.0, 0.6]), |c| setting.model.colour(c));
    let weight = setting.rule();
    let edges = |stretches: &[Stretch]| -> Vec<Length> {
        let mut edges: Vec<Length> = stretches.iter().map(|s| s.from).collect();
        edges.extend(stretches.last().map(|s| s.to));
        edges
    };
    let mut rule = |along: Stretch, down: Stretch| {
        let rect = setting.lie.rect(along, down);
        let (from, to) = (rect.origin(), crate::unit::Point::new(rect.x1, rect.y1));
        page.rule(from, to, weight, &colour);
    };
    let (Some(first), Some(last)) = (laid.down.first(), laid.down.last()) else { return };
    for (part, range) in parts(laid).into_iter().zip(&laid.parts) {
        for edge in edges(&laid.down) {
            rule(part, Stretch::new(edge, edge));
        }
        for edge in edges(laid.along.get(range.clone()).unwrap_or_default()) {
            rule(Stretch::new(edge, edge), Stretch::new(first.from, last.to));
        }
    }
}

fn set_cell(page: &mut Page, setting: &Setting<'_>, (row, column): (usize, usize), rect: Rect, stands: &Stands) {
    let (Some(r), Some(c)) = (setting.rows.get(row), setting.columns.get(column)) else { return };
    let (row_role, column_role) = (&r.ask.role, &c.ask.role);
    let look = setting.cell_look(row, column).unwrap_or_else(|| setting.row_look(row));
    let lettering = setting.types.at(row_role, column_role);
    let line = lettering.line(setting.text(row, column));
    let turn = stands.at(row_role, column_role);
    let frame = Frame::new(rect, turn);
    let (size, width, cap) = (frame.size(), line.width(), lettering.cap());
    let signature = setting.is_signature(row, column);

    let is_label = *column_role == ColumnRole::Name;
    let starts_left = is_label && !(setting.lie.is_down() && turn != Turn::None);
    let beside = if signature { cap.scaled(STAR_GAP + STAR * 2.0) } else { Length::ZERO };
    let edge = Types::air() + setting.rule().half();
    let x = if starts_left {
        setting.types.indent()
    } else {
        // The number stays in the middle of its column; a star beside it moves it only where there is no room for both.
        let middle = (size.width - width).half();
        middle.min(size.width - edge - beside - width)
    };
    let y = (size.height + cap).half();
    let number = Number {
        frame,
        digits: Points::new(x.to_pt(), (size.height - y).to_pt(), (x + width).to_pt(), (size.height - y + cap).to_pt()),
    };
    let mark_short = setting.draw_marks(page, (row, column), number, &look.text);
    if signature {
        marked::star(page, number, &look.text);
    }

    let room = size.width - edge - if starts_left { x } else { edge };
    let needs = width + beside;
    let what = format!("{}, {}", words(setting, row), column_words(column_role));
    let place = setting.model.span(&cell_path(setting, row, column));
    let spot = Spot { rect, panel: setting.panel(rect), what: &what, span: &place };
    if needs > room {
        page.overset(&spot, &line.text, room, needs, false);
    }
    if let Some((needs, room)) = mark_short {
        let what = format!("{what}, mark of a combination");
        page.overset(&Spot { what: &what, ..spot }, &line.text, room, needs, false);
    }
    let high = size.height - setting.rule();
    if cap > high {
        page.overset(&spot, &line.text, high, cap, true);
    }
    let Look { text, .. } = look;
    page.set_from(&place);
    page.text(line, frame.point(x, y), turn, &text);
}

/// Where the card file states what a cell says, as near as it does.
fn cell_path(setting: &Setting<'_>, row: usize, column: usize) -> String {
    let (Some(r), Some(c)) = (setting.rows.get(row), setting.columns.get(column)) else { return "grid".to_owned() };
    let hole = match c.ask.role {
        ColumnRole::Hole(n) => Some(usize::from(n).saturating_sub(1)),
        _ => None,
    };
    match (&r.ask.role, hole) {
        (RowRole::Tee(n), Some(hole)) => format!("tees[{n}].lengths[{hole}]"),
        (RowRole::Tee(n), None) if c.ask.role == ColumnRole::Name => format!("tees[{n}].name"),
        (RowRole::Tee(n), None) => format!("tees[{n}]"),
        (RowRole::Combo(n), Some(hole)) => format!("combos[{n}].tees[{hole}]"),
        (RowRole::Combo(n), None) => format!("combos[{n}].name"),
        (RowRole::Holes, _) => format!("grid.columns[{}]", c.ask.section),
        _ => format!("grid.rows[{}]", r.ask.section),
    }
}

fn column_words(role: &ColumnRole) -> String {
    match role {
        ColumnRole::Name => "label".to_owned(),
        ColumnRole::Member => "member number".to_owned(),
        ColumnRole::Hole(n) => format!("hole {n}"),
        ColumnRole::Half(crate::card::Half::Out) => "out".to_owned(),
        ColumnRole::Half(crate::card::Half::In) => "in".to_owned(),
        ColumnRole::Initials => "initials".to_owned(),
        ColumnRole::Total => "total".to_owned(),
        ColumnRole::Handicap => "handicap".to_owned(),
        ColumnRole::Net => "net".to_owned(),
        ColumnRole::Rating => "rating".to_owned(),
        ColumnRole::Free(heading) => format!("column \"{heading}\""),
    }
}

impl Setting<'_> {
    /// The panel under a place.
    fn panel(&self, rect: Rect) -> Option<usize> {
        self.format.panels(self.side).into_iter().find(|p| p.rect.holds(rect.centre())).map(|p| p.number)
    }
}
