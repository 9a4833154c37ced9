//! The search over boxes of runs.

use std::rc::Rc;

use super::choice::{Choice, Choices};
use super::pack::{Group, Pack, Packing, Prices, first_prices};
use super::polish::{Found, Wanted, polished};
use super::runs::{Run, Runs};
use super::task::{Alike, SizeTask, Task};

/// The most ways that are kept while lots are put on forms, the more the less is settled; the last in a box of one set of runs only.
const WIDTHS: [usize; 3] = [40, 500, 20_000];

/// Steps that are left.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Effort {
    /// So many.
    pub(super) left: u64,
}

impl Effort {
    /// Takes steps off.
    pub(super) fn spend(&mut self, steps: usize) {
        self.left = self.left.saturating_sub(u64::try_from(steps).unwrap_or(u64::MAX));
    }
}

/// How a search ended.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Ending {
    /// A plan within the aim was found.
    Better,
    /// There is none.
    None,
    /// None was found, yet there may be one.
    Unsure,
}

/// A search for a plan that costs no more than its aim.
pub(super) struct Search<'a> {
    task: &'a Task,
    aim: u64,
}

/// A box, and the prices by size that showed most in the box it came from.
struct Node {
    runs: Runs,
    prices: Vec<Prices>,
    /// Stations that found room in the box it came from.
    room: Option<Rc<Room>>,
}

/// Stations for all lots, and the runs of the plan that was made of them.
struct Room {
    lots: Vec<Wanted>,
    /// Whether no other stations have fewer overs.
    fewest_overs: bool,
    near: Option<Vec<u64>>,
}

/// What a box holds.
enum Content {
    Nothing,
    /// There may be plans in it; stations that found room.
    Open(Option<Room>),
}

impl<'a> Search<'a> {
    /// Of a task, with an aim that its least cost does not exceed.
    pub(super) fn new(task: &'a Task, aim: u64) -> Self {
        Self { task, aim }
    }

    /// Goes through all boxes until a plan within the aim is found. Any plan that betters `best` takes its place.
    pub(super) fn run(&self, best: &mut Option<Found>, effort: &mut Effort) -> Ending {
        let Some(money) = self.aim.checked_sub(self.task.forms_cost) else { return Ending::None };
        let total =
            Run { lo: self.task.least_total, hi: (money / self.task.per_impression).min(self.task.most_total()) };
        let runs = Runs::new(self.task.forms(), self.task.longest, total);
        let prices = first_prices(runs.forms.iter().map(|run| run.hi));
        let mut sure = true;
        let mut open = vec![Node { runs, prices: vec![prices; self.task.sizes.len()], room: None }];
        while let Some(mut node) = open.pop() {
            if effort.left == 0 {
                return Ending::Unsure;
            }
            if !node.runs.drawn_in() {
                continue;
            }
            let kept = node.room.take().filter(|room| self.still_room(room, &node.runs));
            let room = if let Some(room) = kept.filter(|_| !node.runs.single()) {
                effort.spend(room.lots.len());
                Some(room)
            } else {
                let Content::Open(room) = self.content(&mut node, effort) else { continue };
                let found = room.as_ref().and_then(|room| self.plan(room, &node.runs));
                let near = found.as_ref().map(|found| found.runs.clone());
                let within = found.as_ref().is_some_and(|found| found.cost <= self.aim);
                if let Some(found) = found
                    && best.as_ref().is_none_or(|best| found.cost < best.cost)
                {
                    *best = Some(found);
                }
                if within {
                    return Ending::Better;
                }
                room.map(|room| Rc::new(Room { near, ..room }))
            };
            if let Some((short, long, at)) = node.runs.halves() {
                // The half that the plan found lies in comes off the pile first.
                let middle = short.forms.get(at).map_or(0, |run| run.hi);
                let near = room.as_ref().and_then(|room| room.near.as_ref()?.get(at).copied());
                let (first, then) = if near.is_none_or(|run| run <= middle) { (short, long) } else { (long, short) };
                open.push(Node { runs: then, prices: node.prices.clone(), room: room.clone() });
                open.push(Node { runs: first, prices: node.prices, room });
            } else {
                sure &= room.is_some_and(|room| room.fewest_overs);
            }
        }
        if sure { Ending::None } else { Ending::Unsure }
    }

    /// Whether stations that had room in a larger box make enough in this one, and not too much.
    fn still_room(&self, room: &Room, runs: &Runs) -> bool {
        let mut overs = 0;
        let within = room.lots.iter().all(|lot| {
            let least = runs.least_made(&lot.stations);
            overs += least.saturating_sub(lot.quantity);
            least <= lot.most && runs.most_made(&lot.stations) >= lot.least
        });
        within && (self.task.per_over == 0 || overs <= self.overs(runs))
    }

    /// The most overs that leave a plan within the aim.
    fn overs(&self, runs: &Runs) -> u64 {
        let money = self.aim - self.task.forms_cost - self.task.per_impression * runs.least_total();
        money.checked_div(self.task.per_over).unwrap_or(u64::MAX)
    }

    /// Whether the lots of every size find room somewhere in the box.
    fn content(&self, node: &mut Node, effort: &mut Effort) -> Content {
        let counted = self.task.per_over > 0;
        let groups: Vec<Vec<Group>> = self.task.sizes.iter().map(|size| groups(size, &node.runs, counted)).collect();
        effort.spend(groups.iter().flatten().map(|group| group.0.len()).sum());
        let least: Vec<u64> = groups.iter().map(|groups| groups.iter().map(least_over).sum()).collect();
        let least_all: u64 = least.iter().sum();
        let overs = self.overs(&node.runs);
        if least_all > overs {
            return Content::Nothing;
        }
        let widths = WIDTHS.get(..if node.runs.single() { 3 } else { 2 }).unwrap_or(&WIDTHS);
        let mut room = Some(Room { lots: Vec::new(), fewest_overs: true, near: None });
        let sizes = self.task.sizes.iter().zip(groups).zip(least).zip(&mut node.prices);
        for (((size, groups), least), prices) in sizes {
            let pack = Pack::new(groups, &size.stations, overs - (least_all - least), widths);
            match pack.packed(prices, effort) {
                Packing::None => return Content::Nothing,
                Packing::Unsure => room = None,
                Packing::Room(choices, all) => {
                    if let Some(room) = &mut room {
                        room.lots.extend(self.wanted(size, &choices));
                        room.fewest_overs &= all;
                    }
                }
            }
        }
        Content::Open(room)
    }

    /// Lots of one size with the stations chosen for them.
    fn wanted(&self, size: &SizeTask, choices: &[Choice]) -> Vec<Wanted> {
        let lots = size.lots.iter().flat_map(|alike| alike.lots.iter().map(move |lot| (alike, *lot)));
        let chosen = lots.zip(choices).map(|((alike, lot), choice)| {
            let stations = choice.stations.iter().take(self.task.forms()).map(|n| u64::from(*n)).collect();
            let Alike { least, quantity, most, .. } = *alike;
            Wanted { lot, least, quantity, most, stations }
        });
        chosen.collect()
    }

    /// A plan of these stations, from the longest runs of the box.
    fn plan(&self, room: &Room, runs: &Runs) -> Option<Found> {
        let longest: Vec<u64> = runs.forms.iter().map(|run| run.hi).collect();
        polished(self.task, &room.lots, &longest)
    }
}

/// The choices of every lot of a size, those alike together.
fn groups(size: &SizeTask, runs: &Runs, counted: bool) -> Vec<Group> {
    size.lots.iter().map(|alike| (Choices::of(alike, runs, &size.stations, counted), alike.lots.len())).collect()
}

/// The overs that lots alike cannot do without.
fn least_over((choices, times): &Group) -> u64 {
    choices.iter().map(|choice| choice.over).min().unwrap_or(0) * u64::try_from(*times).unwrap_or(1)
}
