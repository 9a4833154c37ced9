use super::fit::{Gutters, number_up};
use super::layout::LayoutRequest;
use super::style::{Rows, WorkStyle};
use super::{SheetSize, Station};
use crate::card::Side;
use crate::fault::{Fault, Result, Source};
use crate::unit::{Length, Point, Rect, Size, Turn};

/// Cards in columns and rows, all lying the same way (or head to head).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Grid {
    pub(super) columns: i64,
    pub(super) rows: i64,
    pub(super) turn: Turn,
    gutters: Gutters,
}

/// More cards than this on one form are taken for a slip of the pen.
const MOST: i64 = 2000;

impl Grid {
    /// The best grid of a request in one orientation, with how many the other orientation would give.
    pub(super) fn best(ask: &LayoutRequest, printable: Rect, gutters: Gutters) -> Result<(Self, Option<Self>)> {
        let turns = match ask.turn {
            Some(turn) => vec![turn],
            None => vec![Turn::None, Turn::Left],
        };
        let grids: Vec<Self> = turns.iter().map(|turn| Self::filled(ask, printable, gutters, *turn)).collect();
        let with_grain = |grid: &Self| ask.stock.grain_along_y(ask.sheet).is_some_and(|y| y != grid.turn.swaps());
        // Most cards first; of equals the one whose folds run with the grain; of equals still the upright one.
        let best = grids.iter().rev().max_by_key(|g| (g.number(), with_grain(g))).copied();
        let Some(best) = best.filter(|g| g.number() > 0) else { return Err(no_fit(ask, printable, gutters, &turns)) };
        if best.number() > MOST {
            let message = format!("{} cards would lie on one sheet; at most {MOST} are planned", best.number());
            return Err(Fault::new(Source::Nowhere, message)
                .hint("check the size of the card and of the sheet")
                .into());
        }
        Ok((best, grids.into_iter().find(|g| g.turn != best.turn)))
    }

    /// As many as fit this way; both halves alike where one form carries both faces.
    fn filled(ask: &LayoutRequest, printable: Rect, gutters: Gutters, turn: Turn) -> Self {
        let trim = ask.format.flat.turned(turn);
        let (columns, rows) = number_up(printable.size(), trim, gutters, ask.format.bleed);
        let (columns, rows) = match ask.style {
            WorkStyle::WorkAndTurn => (columns / 2 * 2, rows),
            WorkStyle::WorkAndTumble => (columns, rows / 2 * 2),
            _ => (columns, rows),
        };
        Self { columns, rows, turn, gutters }
    }

    /// One card alone.
    pub(super) const fn single(turn: Turn) -> Self {
        Self { columns: 1, rows: 1, turn, gutters: Gutters::all(Length::ZERO) }
    }

    /// Cards on the form.
    pub(super) const fn number(&self) -> i64 {
        self.columns.saturating_mul(self.rows)
    }

    /// The stations of the front form, or of the one form for both faces; centred in the printable area.
    pub(super) fn stations(
        &self,
        ask: &LayoutRequest,
        printable: Rect,
        front: Side,
        back: Option<Side>,
    ) -> Vec<Station> {
        let trim = ask.format.flat.turned(self.turn);
        let (step_x, step_y) = (trim.width + self.gutters.across, trim.height + self.gutters.up);
        let width = step_x * self.columns - self.gutters.across;
        let height = step_y * self.rows - self.gutters.up;
        let x0 = printable.x0 + (printable.width() - width).half();
        let y0 = printable.y0 + (printable.height() - height).half();
        let mut stations: Vec<Station> = Vec::new();
        for row in 0..self.rows {
            for column in 0..self.columns {
                let number = stations.len() + 1;
                let at = Point::new(x0 + step_x * column, y0 + step_y * row);
                let turn = self.turn_at(ask.rows, column, row);
                let station = Station { number, face: front, trim: Rect::at(at, trim), turn };
                let second_half = match ask.style {
                    WorkStyle::WorkAndTurn => column >= self.columns / 2,
                    WorkStyle::WorkAndTumble => row >= self.rows / 2,
                    _ => false,
                };
                stations.push(match back {
                    Some(back) if second_half => {
                        // What stands here is what the card of the first half has behind it.
                        let (c, r) = match ask.style {
                            WorkStyle::WorkAndTumble => (column, self.rows - 1 - row),
                            _ => (self.columns - 1 - column, row),
                        };
                        let turn = ask.style.turn_behind(self.turn_at(ask.rows, c, r));
                        Station { face: back, turn, ..station }
                    }
                    _ => station,
                });
            }
        }
        stations
    }

    /// Head to head, every second row stands on its head; rows run across the way the heads point.
    fn turn_at(&self, rows: Rows, column: i64, row: i64) -> Turn {
        let line = if self.turn.swaps() { column } else { row };
        let flipped = rows == Rows::HeadToHead && line % 2 == 1;
        if flipped { self.turn.then(Turn::Half) } else { self.turn }
    }
}

/// Says by how much the nearest orientation misses, and on which sheet the card would fit.
fn no_fit(ask: &LayoutRequest, printable: Rect, gutters: Gutters, turns: &[Turn]) -> crate::fault::Faults {
    let room = printable.size();
    let need = |turn: Turn| {
        let trim = ask.format.flat.turned(turn);
        let ends = ask.format.bleed * 2;
        let one = Size::new(trim.width + ends, trim.height + ends);
        match ask.style {
            WorkStyle::WorkAndTurn => Size::new(one.width + trim.width + gutters.across, one.height),
            WorkStyle::WorkAndTumble => Size::new(one.width, one.height + trim.height + gutters.up),
            _ => one,
        }
    };
    let short = |n: Size, r: Size| ((n.width - r.width).max(Length::ZERO), (n.height - r.height).max(Length::ZERO));
    let nearest = turns.iter().map(|t| need(*t)).min_by_key(|n| {
        let (w, h) = short(*n, room);
        w + h
    });
    let needed = nearest.unwrap_or(ask.format.flat);
    let (w, h) = short(needed, room);
    let missing = match (w > Length::ZERO, h > Length::ZERO) {
        (true, true) => format!("{w} is missing in the width and {h} in the height"),
        (true, false) => format!("{w} is missing in the width"),
        _ => format!("{h} is missing in the height"),
    };
    let pieces =
        if ask.style.one_form_for_both() { "two cards side by side or one above the other" } else { "one card" };
    let message = format!(
        "the card of {} does not fit {} on a sheet of {}: {pieces} with bleed take {}, {} can be printed; {missing}",
        ask.format.flat.card_text(),
        ask.style,
        ask.sheet.sheet_text(),
        needed.sheet_text(),
        room.sheet_text(),
    );
    let mut fault = Fault::new(Source::Nowhere, message);
    if let Some(name) =
        smallest(ask, |room| turns.iter().any(|t| short(need(*t), room) == (Length::ZERO, Length::ZERO)))
    {
        fault = fault.hint(format!("the smallest named sheet that takes it is {name}"));
    }
    if ask.style.one_form_for_both() {
        fault = fault.hint("print it sheetwise, which needs room for one card only");
    }
    fault.into()
}

/// The smallest named sheet, lying as the one that was asked for, that passes.
fn smallest(ask: &LayoutRequest, fits: impl Fn(Size) -> bool) -> Option<&'static str> {
    let upright = ask.sheet.height >= ask.sheet.width;
    let edge = if upright { super::GripperEdge::Short } else { super::GripperEdge::Long };
    let fitting = SheetSize::named().into_iter().filter(|s| fits(ask.press.printable(s.lying(edge), ask.style).size()));
    fitting.min_by_key(|s| s.size.width.times(Length::mm(1)) * s.size.height.times(Length::mm(1))).and_then(|s| s.name)
}
