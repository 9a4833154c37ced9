//! The grid to play on: from its section of the card file to a plan and to what is drawn.

mod draw;
mod marked;
mod rows;
mod says;
mod style;
mod type_of;

pub(super) use says::rating_text;

use super::page::Page;
use super::plan::{ColumnAsk, GridAsk, Laid, Lie, Margins, Misfit, RowAsk, lay};
use crate::card::{Direction, Format, GridPlan, Side};
use crate::fault::{Fault, Result};
use crate::ink::Colour;
use crate::model::{DirectionName, FaceName, GridSection, Model, TopName};
use crate::scorecard::Scorecard;
use crate::unit::Length;
use rows::{GridColumn, GridRow};
use says::Facts;
use type_of::Types;

/// Everything about the grid that is known before it is laid out.
struct Setting<'a> {
    model: &'a Model,
    section: &'a GridSection,
    format: &'a Format,
    types: Types,
    /// The colour of each tee's numbers.
    tee_numbers: &'a [Colour],
    rows: Vec<GridRow>,
    columns: Vec<GridColumn>,
    /// What each cell says, row by row.
    texts: Vec<Vec<String>>,
    lie: Lie,
    side: Side,
}

impl Setting<'_> {
    fn text(&self, row: usize, column: usize) -> &str {
        self.texts.get(row).and_then(|r| r.get(column)).map_or("", String::as_str)
    }

    /// Weight of the rules; half a point where the card does not say (common practice).
    fn rule(&self) -> Length {
        self.section.rule.map_or(Length::units(Length::PER_PT / 2), |m| m.0)
    }
}

/// Which face the grid stands on.
pub(super) const fn side(section: &GridSection) -> Side {
    match section.face {
        FaceName::Outside => Side::Outside,
        FaceName::Inside => Side::Inside,
    }
}

/// Sets the grid on its page and gives its plan.
pub(super) fn set(
    page: &mut Page,
    model: &Model,
    section: &GridSection,
    numbers: &Scorecard,
    tee_numbers: &[Colour],
) -> Result<GridPlan> {
    let format = model.format();
    let direction = match (section.direction, section.top) {
        (DirectionName::Across, _) => Direction::Across,
        (DirectionName::Down, top) => Direction::Down { top_at_left: top == TopName::Left },
    };
    let rows = rows::rows(section, numbers, &model.file.combos);
    let columns = rows::columns(section);
    let pace = model.file.course.as_ref().map_or(&[][..], |c| &c.pace);
    let facts = Facts { numbers, pace };
    let texts = rows.iter().map(|row| (0..columns.len()).map(|c| facts.text(row, &columns, c)).collect()).collect();
    let lie = Lie { direction, flat: format.flat };
    let types = Types::of(section)?;
    let side = side(section);
    let mut setting = Setting { model, section, format: &format, types, tee_numbers, rows, columns, texts, lie, side };
    type_of::measure(&mut setting);
    let laid = laid(&setting)?;
    let stands = type_of::stands(&setting, &laid);
    Ok(draw::draw(page, &setting, laid, &stands))
}

fn laid(setting: &Setting<'_>) -> Result<Laid> {
    let Setting { section, format, .. } = setting;
    let margin = section.margin.map_or_else(|| format.safe.max(USUAL_MARGIN), |m| m.0);
    let margins = Margins {
        top: section.top_margin.map(|m| m.0),
        bottom: section.bottom_margin.map(|m| m.0),
        trim: margin,
        fold: section.fold_margin.map_or_else(|| margin.half().max(FROM_FOLD), |m| m.0),
    };
    let panels = match (section.panels.first(), section.panels.last()) {
        (Some(first), Some(last)) => *first..*last + 1,
        _ => 1..format.fold.panels.len() + 1,
    };
    let rows: Vec<RowAsk> = setting.rows.iter().map(|r| r.ask.clone()).collect();
    let columns: Vec<ColumnAsk> = setting.columns.iter().map(|c| c.ask.clone()).collect();
    let ask = GridAsk {
        side: setting.side,
        direction: setting.lie.direction,
        panels,
        margins,
        rows: &rows,
        columns: &columns,
    };
    lay(format, &ask).map_err(|misfit| fault(setting, &misfit).into())
}

/// A quarter inch is the better safe margin, an eighth the least (common practice); the grid takes what lies between.
const USUAL_MARGIN: Length = Length::inches(3, 16);
/// Needed matter keeps 3/32 in from a fold (common practice).
const FROM_FOLD: Length = Length::inches(3, 32);

fn fault(setting: &Setting<'_>, misfit: &Misfit) -> Fault {
    let at = |path: &str| setting.model.span(path);
    match misfit {
        Misfit::FewColumns => Fault::new(at("grid.columns"), "the grid has fewer columns than panels to stand on")
            .hint("let it cover fewer panels with `panels`, or give it more columns"),
        Misfit::Wide { panel, needs, room } => {
            let message = format!("the columns on panel {panel} need {needs} and there is {room}");
            Fault::new(at("grid.columns"), message).hint(format!(
                "take {} off their stated widths or off the margins, or use smaller type",
                *needs - *room
            ))
        }
        Misfit::High { needs, room } => {
            Fault::new(at("grid.rows"), format!("the rows need {needs} and there is {room}"))
                .hint(format!("take {} off their heights or off the margins, or leave a row out", *needs - *room))
        }
    }
}
