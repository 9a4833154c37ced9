//! **fairfold** checks a folded golf scorecard before it prints, and lays it many-up on one marked press PDF.
//!
//! The way of a card through this library:
//!
//! 1. **Read.** A card file (TOML or JSON) becomes a [`model`] with every fault of the file at its line, and [`typeset`] sets its
//!    pages as a PDF in memory. An artwork PDF is such a set of pages already. Either way [`artwork`] reads the pages that will
//!    print, element by element, and [`grid`] finds the grid and its numbers, so that there is one path to the checks.
//! 2. **Check.** [`mod@check`] holds the [`card::Card`] against limits: can it be read, written on, folded and cut; is it true
//!    ([`scorecard`]); how it looks on the paper is judged by [`ink`]. [`report`] says what was found.
//! 3. **Plan.** [`sheet`] lays stations and marks on the press sheet, in exact lengths ([`mod@unit`]) and with no PDF in sight.
//! 4. **Press.** [`press`] lays the pages, as they are ([`mod@place`]), on the sheet, writes marks, inks and the output intent, and reads its own bytes back before
//!    anyone else does. What it writes with stands in [`pdf`] and [`font`]. The [`mod@docket`] goes with it
//!    through the shop.
//!
//! [`job`] knows the whole way and touches no disk; [`cli`] does. What cannot run is a [`fault`], with its place and the way out.
//! A folder uses only those that stand above it in the list of layers in `DEVELOPERS.md`; a test holds that.

pub mod artwork;
pub mod card;
pub mod check;
pub mod claim;
pub mod cli;
pub mod docket;
pub mod fault;
pub mod font;
pub mod grid;
pub mod ink;
pub mod job;
pub mod model;
pub mod pdf;
pub mod place;
pub mod plates;
pub mod press;
pub mod report;
pub mod scorecard;
pub mod sheet;
pub mod typeset;
pub mod unit;
