//! Card file to pages: the typesetter. It lays out the grid exactly, sets the panels' blocks and writes one PDF, the outside
//! first, which the artwork reader then reads like any other.

mod artworks;
mod blocks;
mod frame;
mod grid;
mod lettering;
mod marks;
mod page;
mod palette;
mod picture;
mod pictures;
mod plan;
mod write;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::artwork::OpenOptions;
use crate::card::{GridPlan, Overset, Side, Trace};
use crate::fault::{Faults, Result};
use crate::ink::{Condition, Judge};
use crate::model::Model;
use artworks::Artworks;
use blocks::Files;
use page::Page;
use pictures::Pictures;

/// Files that the card file names, by the name as it writes them.
pub type Assets = BTreeMap<String, Arc<[u8]>>;

/// What the typesetter made of a card file.
#[derive(Clone, Debug)]
pub struct Typeset {
    /// Two pages: the outside, then the inside.
    pub pdf: Vec<u8>,
    /// Where the grid stands, exactly.
    pub grid: Option<GridPlan>,
    /// Text that does not fit where it was to go. It is drawn as it is, neither shrunk nor cut.
    pub oversets: Vec<Overset>,
    /// From the faces back to the card file.
    pub trace: Trace,
}

/// Sets a card for a print condition, which decides whether black or bare paper reads better on a tee's fill. `opening` says how
/// artwork PDFs are opened.
///
/// # Errors
/// Files that are missing or cannot be used, rows or columns that have no room on their panels, characters that a font
/// does not have: all of them in one run, each with its place in the card file.
pub fn typeset(model: &Model, assets: &Assets, condition: &Condition, opening: &OpenOptions) -> Result<Typeset> {
    let judge = Judge::new(condition)?.with_spots(&model.spots());
    let format = model.format();
    let mut files = Files { pictures: Pictures::default(), artworks: Artworks::new(opening.clone()) };
    let mut faults = Faults::new();
    let mut grid = None;
    let mut pages = Vec::new();
    for side in [Side::Outside, Side::Inside] {
        let mut page = Page::new(side);
        faults.take(blocks::set(&mut page, model, assets, &mut files));
        let section = model.file.grid.as_ref().filter(|g| grid::side(g) == side);
        if let (Some(section), Some(numbers)) = (section, model.scorecard()) {
            let tee_numbers = palette::numbers(model, &judge);
            let set = grid::set(&mut page, model, section, &numbers, &tee_numbers);
            grid = faults.take(set).or(grid);
        }
        faults.extend(std::mem::take(&mut page.faults));
        pages.push(page);
    }
    let pdf = faults.take(write::write(&pages, &format, &model.file.card.title, &model.spots()));
    let mut trace = model.trace_numbers();
    let mut oversets = Vec::new();
    for page in pages {
        trace.parts.extend(page.parts);
        oversets.extend(page.oversets);
    }
    faults.or(())?;
    Ok(Typeset { pdf: pdf.unwrap_or_default(), grid, oversets, trace })
}
