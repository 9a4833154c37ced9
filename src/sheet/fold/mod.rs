//! The fold and score list: the panels of a card in order, every fold with its place, its direction and its turn, and whether the
//! stock is scored first, and why.

mod score;
mod words;

use super::{Sheet, Stock};
use crate::card::{Fold, FoldKind, Format, Side};
use crate::fault::{Fault, Faults, Result, Source};
use crate::unit::Length;

pub use score::{Score, ScoreWhy, Unsure};

/// Which way a fold closes, as the inside of the card is looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FoldWay {
    /// Towards the eye: the inside of both panels meets.
    Inwards,
    /// Away from it: the outside of both panels meets.
    Outwards,
}

/// One fold.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FoldLine {
    /// How far it runs from the left edge of the open card, its inside looked at.
    pub from_left: Length,
    /// How far it runs from the left edge, the outside looked at.
    pub from_left_outside: Length,
    /// Which way it closes.
    pub way: FoldWay,
    /// When it is folded, from 1.
    pub step: usize,
}

/// Panels, folds and the score of a card.
#[derive(Clone, PartialEq, Debug)]
pub struct FoldList {
    /// Panel widths on the inside, left to right.
    pub panels: Vec<Length>,
    /// The folds on the inside, left to right.
    pub folds: Vec<FoldLine>,
    /// Whether to score before folding; nothing where nothing folds.
    pub score: Option<Score>,
}

impl FoldList {
    /// The list of a planned sheet, whose grain and lay tell how the folds run. Of a page with one card alone the grain is not known,
    /// for it is another printer's sheet that it will lie on.
    ///
    /// # Errors
    /// As [`fold_list`].
    pub fn of_sheet(sheet: &Sheet) -> Result<Self> {
        let along_y = if sheet.one_up { None } else { sheet.stock.grain_along_y(sheet.size) };
        let mut turns = sheet.forms.iter().flat_map(|form| &form.stations).map(|station| station.turn);
        // Folds run along y on a card that stands upright.
        let across = along_y.map(|along_y| turns.any(|turn| turn.swaps() == along_y));
        fold_list(&sheet.format, &sheet.stock, across)
    }
}

/// The list of a card on a stock. `across_grain` says whether the folds run across the grain; nothing where that is not known.
///
/// Directions: half, letter and gate folds close inwards; an accordion closes inwards at its first fold from the left and outwards at
/// the next, and so on, which leaves the outside of the left panel on top (common practice). Order: of a letter fold the shorter outer
/// panel first, for it lies inside; the right-hand one where both are alike. All others from the left.
///
/// # Errors
/// Panels that are too few or too many for their fold, that have no width, or that do not add up to the card's width.
pub fn fold_list(format: &Format, stock: &Stock, across_grain: Option<bool>) -> Result<FoldList> {
    let fold = &format.fold;
    sound(format)?;
    let lines = fold.lines(Side::Inside);
    let last = lines.len();
    let right_first = fold.kind == FoldKind::Letter && fold.panels.last() <= fold.panels.first();
    let line = |(n, from_left): (usize, Length)| FoldLine {
        from_left,
        from_left_outside: format.flat.width - from_left,
        way: if fold.kind == FoldKind::Accordion && n % 2 == 1 { FoldWay::Outwards } else { FoldWay::Inwards },
        step: if right_first { last - n } else { n + 1 },
    };
    let folds: Vec<FoldLine> = lines.into_iter().enumerate().map(line).collect();
    let score = (!folds.is_empty()).then(|| Score::of(stock, across_grain));
    Ok(FoldList { panels: fold.widths(Side::Inside), folds, score })
}

fn sound(format: &Format) -> Result<()> {
    let Fold { kind, panels } = &format.fold;
    let mut faults = Faults::new();
    let (right, wants) = match kind {
        FoldKind::None => (panels.len() == 1, "a card without a fold has one panel"),
        FoldKind::Half => (panels.len() == 2, "a half fold has two panels"),
        FoldKind::Letter => (panels.len() == 3, "a letter fold has three panels"),
        FoldKind::Gate => (panels.len() == 3, "a gate fold has three panels"),
        FoldKind::Accordion => (panels.len() >= 2, "an accordion has two panels or more"),
    };
    if !right {
        let fault = Fault::new(Source::Nowhere, format!("{wants}, and the card has {}", panels.len()));
        faults.push(fault.hint("state as many panel widths, or another fold"));
    }
    if let Some(n) = panels.iter().position(|width| *width <= Length::ZERO) {
        let fault = Fault::new(Source::Nowhere, format!("panel {} has no width", n + 1));
        faults.push(fault.hint("give every panel a width above zero"));
    }
    let sum: Length = panels.iter().copied().sum();
    if sum != format.flat.width {
        let message = format!("the panels add up to {sum}, and the card is {} wide", format.flat.width);
        faults.push(Fault::new(Source::Nowhere, message).hint("make the panels as wide together as the card"));
    }
    faults.or(())
}
