//! Finds the grid of a scorecard, and its numbers, among the elements of any page.
//!
//! The row of hole numbers says which way the grid reads; rules and fills around it give rows and columns; what stands in the cells
//! gives each its role. What cannot be told apart is left out: a number that does not read is `None`, and a page without
//! a convincing grid has none.

mod lattice;
mod lines;
mod numbers;
mod roles;
mod view;

use crate::card::{Face, GridPlan};
use crate::scorecard::Scorecard;

/// The grid and its numbers on the first face that has a convincing one: nine hole numbers in a line, in ruled or filled cells, with
/// rows of numbers or of boxes to write in under them.
pub fn recognise(faces: &[Face]) -> Option<(GridPlan, Scorecard)> {
    faces.iter().find_map(|face| view::ALL.into_iter().find_map(|view| in_view(face, view)))
}

fn in_view(face: &Face, view: view::View) -> Option<(GridPlan, Scorecard)> {
    let words = lattice::words(face, view);
    let lattice = lattice::find(face, view, &words)?;
    let plan = roles::plan(face.side, view, &lattice)?;
    let numbers = numbers::read(&plan);
    Some((plan, numbers))
}
