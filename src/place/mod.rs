//! A page of any artwork as a Form XObject: streams byte for byte, resources resolved and never merged by name, nothing carried
//! along that the page does not draw. The typesetter lays pages on panels with it and the press file lays them on sheets.

mod copy;
mod form;
mod layers;
mod names;
mod placer;
mod prune;
mod share;

pub use placer::{Placed, Placer};
