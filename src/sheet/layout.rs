use super::fit::Gutters;
use super::grid::Grid;
use super::marks::{self, Mark, MarkSet};
use super::{Press, Remark, Rows, Station, Stock, WorkStyle};
use crate::card::{Format, Side};
use crate::fault::{Fault, Faults, Result, Source};
use crate::ink::Ink;
use crate::unit::{Length, Rect, Size, Turn};

/// What is asked of a sheet.
#[derive(Clone, Debug)]
pub struct LayoutRequest<'a> {
    /// The card.
    pub format: &'a Format,
    /// The faces that print, the front one first; two at most.
    pub faces: &'a [Side],
    /// The sheet as it lies in the press: the width is the gripper edge.
    pub sheet: Size,
    /// The stock.
    pub stock: Stock,
    /// Margins of the press.
    pub press: Press,
    /// How the faces come onto the sheet.
    pub style: WorkStyle,
    /// Space between trims; two bleeds where not stated.
    pub gutters: Option<Gutters>,
    /// How rows meet.
    pub rows: Rows,
    /// How every card is turned; the better of upright and turned left where not stated.
    pub turn: Option<Turn>,
    /// Which marks are wanted.
    pub marks: MarkSet,
    /// The inks of the job, for the colour strip.
    pub inks: &'a [Ink],
}

/// Which side of the sheet a form prints.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FormSide {
    /// The first side.
    Front,
    /// The second side.
    Back,
    /// Both, one after the other.
    Both,
}

/// Everything that one set of plates prints.
#[derive(Clone, PartialEq, Debug)]
pub struct Form {
    /// Which side it prints.
    pub side: FormSide,
    /// The cards on it.
    pub stations: Vec<Station>,
    /// The marks on it.
    pub marks: Vec<Mark>,
}

/// A planned press sheet.
#[derive(Clone, PartialEq, Debug)]
pub struct Sheet {
    /// Its size as it lies; the width is the gripper edge.
    pub size: Size,
    /// The stock.
    pub stock: Stock,
    /// Margins of the press.
    pub press: Press,
    /// How the faces come onto the sheet.
    pub style: WorkStyle,
    /// The card.
    pub format: Format,
    /// What can be printed of every form.
    pub printable: Rect,
    /// Columns of cards.
    pub columns: usize,
    /// Rows of cards.
    pub rows: usize,
    /// Whether it is one card alone, for a printer who imposes himself.
    pub one_up: bool,
    /// One form, or front and back.
    pub forms: Vec<Form>,
    /// What the press room must know.
    pub remarks: Vec<Remark>,
}

impl Sheet {
    /// Finished cards out of one sheet.
    pub fn number_up(&self) -> usize {
        self.forms.first().map_or(0, |f| f.stations.len())
    }

    /// The form that prints behind this one, as the turned sheet is looked at; itself where one form prints both sides,
    /// `None` where nothing prints there.
    pub fn behind(&self, form: &Form) -> Option<&Form> {
        let side = match form.side {
            FormSide::Both => FormSide::Both,
            FormSide::Front => FormSide::Back,
            FormSide::Back => FormSide::Front,
        };
        self.forms.iter().find(|f| f.side == side)
    }

    /// TrimBox and BleedBox of a form's page: the sheet's own edges, for what is trimmed off a press sheet is the sheet; of one card alone
    /// the card's.
    pub fn page_boxes(&self, form: &Form) -> (Rect, Rect) {
        match form.stations.first().filter(|_| self.one_up) {
            Some(station) => (station.trim, station.piece(self.format.bleed)),
            None => (self.rect(), self.rect()),
        }
    }

    /// The whole sheet as a rectangle.
    pub fn rect(&self) -> Rect {
        self.size.at_origin()
    }
}

/// Plans a sheet: the most cards in one grid and one orientation, centred in the printable area, with everything behind them
/// and all marks for which there is room.
///
/// # Errors
/// The card does not fit (by how much, and which sheet would take it); the style needs two faces and the card has one; gutters
/// are narrower than two bleeds.
pub fn lay_out(ask: &LayoutRequest) -> Result<Sheet> {
    let (front, back) = faces(ask)?;
    let least = ask.format.bleed * 2;
    let gutters = ask.gutters.unwrap_or(Gutters::all(least));
    let narrow = gutters.across.min(gutters.up);
    if narrow < least {
        let message = format!("the gutter of {narrow} is narrower than two bleeds, {least}");
        let fault = Fault::new(Source::Nowhere, message);
        return Err(fault.hint(format!("make it at least {least}, or the bleed at most {}", narrow.half())).into());
    }
    let printable = ask.press.printable(ask.sheet, ask.style);
    let (grid, other) = Grid::best(ask, printable, gutters)?;
    let sheet = plan(ask, grid, printable, front, back);
    let mut remarks = grain(ask, &grid, other.as_ref());
    remarks.extend(sheet.remarks);
    Ok(Sheet { remarks, ..sheet })
}

/// Room for marks round a single card, beyond its bleed: 1/2 in.
const ONE_UP_ROOM: Length = Length::inches(1, 2);

/// Plans one card alone with bleed and crop marks, for a printer who imposes himself: a page for each face, as large as the
/// card, its bleed and room for the marks. Sheet, press, gutters, rows and turn of the request count for nothing.
///
/// # Errors
/// The request has no face, or more than two.
pub fn one_up(ask: &LayoutRequest) -> Result<Sheet> {
    let around = (ask.format.bleed + ONE_UP_ROOM) * 2;
    let flat = ask.format.flat;
    let style = if ask.faces.len() > 1 { WorkStyle::Sheetwise } else { WorkStyle::OneSide };
    let ask = LayoutRequest {
        sheet: Size::new(flat.width + around, flat.height + around),
        press: Press::NO_MARGINS,
        style,
        marks: MarkSet { guides: false, strip: false, ..ask.marks },
        ..ask.clone()
    };
    let (front, back) = faces(&ask)?;
    let sheet = plan(&ask, Grid::single(Turn::None), ask.sheet.at_origin(), front, back);
    Ok(Sheet { one_up: true, ..sheet })
}

/// The face of the front and the face of the back.
fn faces(ask: &LayoutRequest) -> Result<(Side, Option<Side>)> {
    let mut faults = Faults::new();
    let (front, back) = match *ask.faces {
        [front] => (front, None),
        [front, back] if front != back => (front, Some(back)),
        _ => {
            let message = format!("a sheet takes one face or two different ones, not {}", ask.faces.len());
            return Err(Fault::new(Source::Nowhere, message).hint("name the outside and the inside").into());
        }
    };
    if ask.style.two_sided() && back.is_none() {
        let message = format!("{} prints both sides, and the card has only its {front}", ask.style);
        faults.push(Fault::new(Source::Nowhere, message).hint("print it on one side, or add the other face"));
    }
    if !ask.style.two_sided() && back.is_some() {
        let message = "the card has two faces, and the sheet is to be printed on one side";
        faults.push(
            Fault::new(Source::Nowhere, message).hint("print it sheetwise or work-and-turn, or name one face only"),
        );
    }
    faults.or((front, back))
}

fn plan(ask: &LayoutRequest, grid: Grid, printable: Rect, front: Side, back: Option<Side>) -> Sheet {
    let stations = grid.stations(ask, printable, front, back);
    let mut forms = Vec::new();
    let mut remarks = Vec::new();
    let ground = marks::Ground { ask, printable };
    if ask.style.one_form_for_both() || back.is_none() {
        let side = if back.is_some() { FormSide::Both } else { FormSide::Front };
        let marks = ground.first_form(&stations, side, &mut remarks);
        forms.push(Form { side, stations, marks });
    } else if let Some(back) = back {
        let behind: Vec<Station> = stations
            .iter()
            .map(|s| Station {
                number: s.number,
                face: back,
                trim: ask.style.rect_behind(s.trim, ask.sheet),
                turn: ask.style.turn_behind(s.turn),
            })
            .collect();
        let front_marks = ground.first_form(&stations, FormSide::Front, &mut remarks);
        let back_marks = ground.second_form(&behind, &front_marks, &mut remarks);
        forms.push(Form { side: FormSide::Front, stations, marks: front_marks });
        forms.push(Form { side: FormSide::Back, stations: behind, marks: back_marks });
    }
    let count = |n: i64| usize::try_from(n).unwrap_or(0);
    Sheet {
        size: ask.sheet,
        stock: ask.stock.clone(),
        press: ask.press,
        style: ask.style,
        format: ask.format.clone(),
        printable,
        columns: count(grid.columns),
        rows: count(grid.rows),
        one_up: false,
        forms,
        remarks,
    }
}

/// What folds and grain have to say to each other.
fn grain(ask: &LayoutRequest, grid: &Grid, other: Option<&Grid>) -> Vec<Remark> {
    let mut remarks = Vec::new();
    if ask.format.fold.panels.len() < 2 {
        return remarks;
    }
    let folds_along_y = !grid.turn.swaps();
    match ask.stock.grain_along_y(ask.sheet) {
        Some(along_y) if along_y != folds_along_y => remarks.push(Remark::AgainstGrain {
            planned: usize::try_from(grid.number()).unwrap_or(0),
            with_grain: other.map_or(0, |o| usize::try_from(o.number()).unwrap_or(0)),
        }),
        Some(_) => {}
        None => remarks
            .push(Remark::GrainUnknown { folds_along_long: folds_along_y == (ask.sheet.height >= ask.sheet.width) }),
    }
    if ask.stock.wants_score() == Some(true) {
        remarks.push(Remark::WantsScore);
    }
    remarks
}
