//! Gang runs: many cards of one size share forms, so that their plates and make-readies are paid for once.
//!
//! A form with `a` stations of a card that runs `r` times makes `a × r` of it. Chosen are the number of forms, the stations of every
//! card on each, and how often each runs, for the least cost of forms, impressions and overs. The search goes over boxes of runs
//! ([`runs`]): in every box it asks which numbers of stations could make a lot ([`choice`]) and whether all lots together find room
//! on the forms ([`pack`]). A box that has no room is done with; the others are halved ([`search`]), until the least cost is proven
//! or the effort is used up.

mod choice;
mod pack;
mod plan;
mod polish;
mod request;
mod runs;
mod search;
mod start;
mod task;

use crate::fault::{Fault, Result, Source};
use polish::Found;
use search::{Effort, Ending, Search};
use task::Task;

pub use plan::{GangForm, GangPlan, LotTally};
pub use request::{FormPattern, GangRequest, Lot, MOST_FORMS};

/// Steps that a search may take where nothing else is said; a few seconds of work. A step is one number of stations looked at.
pub const GANG_EFFORT: u64 = 400_000_000;

/// Parts of the effort that is left; one goes to every aim but the last.
const SLICES: u64 = 8;

/// Plans a gang run of the least cost. Of equal costs the plan with fewer forms. A plan that is not proven says what no plan can go
/// below.
///
/// # Errors
/// A request that no form can fulfil, or limits of overs that no plan was found to keep.
pub fn gang(ask: &GangRequest) -> Result<GangPlan> {
    request::sound(ask)?;
    let tasks = task::tasks(ask);
    if tasks.is_empty() {
        let message = format!("{} lots have no room on the stations of {} forms", ask.lots.len(), ask.most_forms);
        return Err(Fault::new(Source::Nowhere, message).hint("allow more forms, or part the job").into());
    }
    let mut best: Option<Found> = None;
    let mut effort = Effort { left: ask.effort };
    let mut bounds = Vec::with_capacity(tasks.len());
    for (done, task) in tasks.iter().enumerate() {
        let rest = u64::try_from(tasks.len() - done).unwrap_or(1);
        let bound = least_cost(task, &mut best, &mut effort, rest);
        bounds.push(bound);
    }
    let bound = bounds.into_iter().flatten().min();
    match best {
        Some(found) => {
            let bound = bound.map_or(found.cost, |bound| bound.min(found.cost));
            Ok(plan::plan(ask, &found, bound))
        }
        None => Err(no_plan(bound.is_some()).into()),
    }
}

/// Betters `best` by plans of this task. What no plan of it can go below, or none where it has no plan at all below the best.
fn least_cost(task: &Task, best: &mut Option<Found>, effort: &mut Effort, tasks_left: u64) -> Option<u64> {
    let mut bound = task.least_cost();
    if best.is_none() {
        *best = start::first_plan(task);
    }
    // Every task that is still to come has an equal part of the effort; what one leaves over goes to the others.
    let mut mine = effort.left / tasks_left;
    effort.left -= mine;
    // Halfway aims first: plans are found soon far above the least cost, and proofs far below it. Between lies what stays unsure.
    let (mut plans_from, mut proofs_to) = (bound, u64::MAX);
    let ended = loop {
        let worst = best.as_ref().map_or(task.most_cost(), |found| found.cost - 1);
        if bound > worst {
            break None;
        }
        plans_from = plans_from.max(bound);
        proofs_to = proofs_to.min(worst);
        let (aim, last) = if plans_from <= worst {
            (plans_from + (worst - plans_from) / 2, false)
        } else if bound <= proofs_to {
            (bound + (proofs_to - bound) / 2, false)
        } else {
            (worst, true)
        };
        let mut slice = Effort { left: if last { mine } else { mine / SLICES } };
        mine -= slice.left;
        let ending = Search::new(task, aim).run(best, &mut slice);
        mine += slice.left;
        match ending {
            Ending::Better => {}
            Ending::None => bound = aim + 1,
            Ending::Unsure if last => break Some(bound),
            Ending::Unsure => {
                plans_from = plans_from.max(aim + 1);
                proofs_to = aim.saturating_sub(1);
            }
        }
    };
    effort.left += mine;
    ended
}

fn no_plan(unsure: bool) -> Fault {
    let hint = "allow more overs or unders, or more forms";
    if unsure {
        let message = "no gang run within these overs and unders was found before the effort was used up";
        Fault::new(Source::Nowhere, message).hint("allow more effort").hint(hint)
    } else {
        Fault::new(Source::Nowhere, "no gang run keeps within these overs and unders").hint(hint)
    }
}
