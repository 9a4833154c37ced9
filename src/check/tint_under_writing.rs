//! # What it checks
//!
//! How dark the tint under the boxes of the player lines is; under a picture, pattern or blend as the plates have it, a twentieth of the box
//! left aside.
//! Black and spot inks count in full and of cyan, magenta and yellow the strongest counts, because equal parts of
//! the three make a gray of about that tint.
//!
//! # Why it matters
//!
//! Pencil is gray. On a tint of more than about a seventh it stops being legible, and a solid tint takes pencil
//! badly.
//!
//! # What to do
//!
//! Make the tint lighter, or leave the boxes as bare paper and tint only the name cells or every other hole.
//!
//! # Source of the limit
//!
//! About 15 % and less under writing: common practice. How inks count together: judgement.

use super::frame::named;
use super::ground::Ground;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::{GridPlan, Place};
use crate::ink::{Colour, Ink};
use crate::unit::{Length, Limit, Quantity, Rect};

pub(super) const CHECK: Check = Check {
    id: "tint-under-writing",
    title: "Tints too dark to write on",
    severity: Severity::Warning,
    bounds: &[TINT],
    doc: include_str!("tint_under_writing.rs"),
    run,
};

const TINT: Bound = Bound::same(
    "tint-under-writing.tint",
    "tint under a box to write in",
    Quantity::Percent(15.0),
    "practice: about 15 % and less",
);

fn run(cx: &Context<'_>) -> Outcome {
    let Some(grid) = &cx.card.grid else {
        return Outcome::skipped("the card has no grid that could be read");
    };
    let Some(face) = cx.card.face(grid.side) else {
        return Outcome::skipped("the face with the grid is not there");
    };
    if grid.players() == 0 {
        return Outcome::skipped("the grid has no player lines");
    }
    let mut found = Vec::new();
    for (index, row) in grid.rows.iter().enumerate().filter(|(_, row)| row.role.is_written()) {
        let mut told: Vec<Ground> = Vec::new();
        for cell in grid.cells.iter().filter(|c| c.row == index) {
            for ground in cx.grounds(grid.side, face.elements.len(), cell.rect) {
                if !told.contains(&ground) {
                    found.extend(judge(cx, grid, cell.rect, &row.label, &ground));
                    told.push(ground);
                }
            }
        }
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, grid: &GridPlan, rect: Rect, label: &str, ground: &Ground) -> Option<Finding> {
    let mut place = cx.card.place(grid.side, rect, None);
    place.what = Some(if label.is_empty() { "player lines".to_owned() } else { format!("player line \"{label}\"") });
    let colour = match ground {
        Ground::Flat(colour) if colour.is_paper() => return None,
        Ground::Flat(colour) => colour,
        Ground::Unclear(what) if cx.plates(grid.side).is_some() => return measured(cx, grid, rect, place, what),
        Ground::Unclear(what) => {
            let message = format!("{what} lies under the boxes to write in; nobody can say how dark it is");
            return Some(CHECK.finding(place, message, "leave these boxes as bare paper or a light flat tint"));
        }
    };
    let Some(tint) = tint(colour) else {
        let message = format!("{colour} lies under the boxes to write in and has no ink of its own to measure");
        return Some(CHECK.finding(place, message, "state the tint as process or spot ink"));
    };
    let reading = Limit::AtMost(cx.limit(&TINT)).broken_by(Quantity::Percent(tint))?;
    let (under, tinted) = (named(colour), reading.measured());
    let message = format!("{under} lies under the boxes to write in, a tint of {tinted}; {}", reading.limit());
    let share = cx.number(&TINT) / tint * 100.0;
    let advice = format!("bring the tint down to {share:.0} % of what it is, or leave the boxes as bare paper");
    Some(CHECK.finding(place, message, advice).with(reading))
}

/// The darkest spot of a box by its plates, where a picture or a blend lies under it. Rules and edges are left out by a little.
fn measured(cx: &Context<'_>, grid: &GridPlan, rect: Rect, place: Place, what: &str) -> Option<Finding> {
    let plates = cx.plates(grid.side)?;
    let pixels = plates.inside(rect.grown(Length::ZERO - EDGE));
    let tints = pixels.each().filter_map(|(x, y)| tint(&plates.colour(&plates.amounts(x, y))));
    let mut tints: Vec<f64> = tints.collect();
    tints.sort_by(f64::total_cmp);
    // A twentieth of the box may be darker: a speck does not hide a figure.
    let darkest = tints.get(tints.len().saturating_sub(tints.len() / 20 + 1)).copied()?;
    let reading = Limit::AtMost(cx.limit(&TINT)).broken_by(Quantity::Percent(darkest))?;
    let (tinted, limit) = (reading.measured(), reading.limit());
    let message = format!("{what} under the boxes to write in comes to a tint of {tinted} on the plates; {limit}");
    let share = cx.number(&TINT) / darkest * 100.0;
    let advice = format!("lighten it to {share:.0} % of what it is, or leave the boxes as bare paper");
    Some(CHECK.finding(place, message, advice).with(reading))
}

/// What of a box's edge is not looked at.
const EDGE: Length = Length::um(500);

/// How dark a colour is as a tint, in percent; `None` for colours without plates.
fn tint(colour: &Colour) -> Option<f64> {
    let (mut full, mut strongest) = (0.0, 0.0_f64);
    for (ink, tint) in colour.tints()? {
        match ink {
            Ink::Cyan | Ink::Magenta | Ink::Yellow => strongest = strongest.max(tint),
            Ink::Black | Ink::Spot(_) | Ink::All => full += tint,
            Ink::None => {}
        }
    }
    Some((full + strongest) * 100.0)
}
