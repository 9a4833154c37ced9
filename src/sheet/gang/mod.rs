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
mod task;

use crate::fault::{Fault, Result, Source};
use polish::Found;
use search::{Ending, Search};
use task::Task;

pub use plan::{GangForm, GangPlan, LotTally};
pub use request::{FormPattern, GangRequest, Lot, MOST_FORMS};

/// Steps that a search may take where nothing else is said; a few seconds of work. A step is one number of stations looked at.
pub const GANG_EFFORT: u64 = 400_000_000;

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
    let mut effort = ask.effort;
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
fn least_cost(task: &Task, best: &mut Option<Found>, effort: &mut u64, tasks_left: u64) -> Option<u64> {
    let mut bound = task.least_cost();
    // One form of the effort is kept for each task that is still to come; what a task leaves over goes to them.
    let mut mine = *effort / tasks_left;
    *effort -= mine;
    let mut halved = true;
    let ended = loop {
        let worst = best.as_ref().map_or(task.most_cost(), |found| found.cost - 1);
        if bound > worst {
            break None;
        }
        let aim = if halved { bound + (worst - bound) / 2 } else { worst };
        let mut slice = if halved { mine / 4 } else { mine };
        mine -= slice;
        let mut search = Search::new(task, aim, &mut slice);
        let ending = search.run(best);
        mine += slice;
        match ending {
            Ending::Better => {}
            Ending::None => bound = aim + 1,
            Ending::Unsure if halved => halved = false,
            Ending::Unsure => break Some(bound),
        }
    };
    *effort += mine;
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
