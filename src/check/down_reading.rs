//! # What it checks
//!
//! On a grid that reads down the turned card: whether its top lies at the left of the opened card.
//!
//! # Why it matters
//!
//! The card is opened, and then turned clockwise to be read. With the top at the right it is upside down at that
//! moment, and the cover and the grid never stand upright in the same hand.
//!
//! # What to do
//!
//! Turn the grid by half a turn, so that the row of hole numbers lies along the left side of the opened card.
//!
//! # Source of the limit
//!
//! Common practice.

use super::{Check, Context, Outcome, Severity};
use crate::card::Direction;

pub(super) const CHECK: Check = Check {
    id: "down-reading",
    title: "Top of a grid that reads down",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("down_reading.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    match grid.direction {
        Direction::Across | Direction::Down { top_at_left: true } => Outcome::Clean,
        Direction::Down { top_at_left: false } => {
            let mut place = cx.card.place(grid.side, grid.bounds, None);
            let stated = ["grid.top", "grid.direction", "grid"].into_iter().find_map(|s| cx.card.trace.setting(s));
            if let Some(span) = stated {
                place.source = span.clone().into();
            }
            (place.panel, place.what) = (None, Some("grid".to_owned()));
            let message =
                "the grid reads down and its top lies at the right of the opened card; it belongs at the left";
            Outcome::Found(vec![CHECK.finding(place, message, "turn the grid by half a turn")])
        }
    }
}
