//! Whether lots find room together: one choice of each, so that no form has more stations taken than it has, nor more overs made
//! than may be.
//!
//! Forms have prices (multipliers): if the cheapest choice of every lot costs more than all stations together are worth, there is no
//! room, whatever the prices. Good prices are sought by raising those of forms that are too full. Where that settles nothing, lots are
//! put on the forms one after the other, and of all the ways to have put the first ones those are kept that no other way betters.

use super::choice::{Choice, lane_tops, lanes};
use super::search::Effort;

/// Parts into which the overs that may be are parted.
const SHARES: u64 = 1024;

/// What a station is worth before anything is known, at least.
const PRICE: u64 = 1 << 20;

/// Rounds in which better prices are sought.
const ROUNDS: u64 = 24;

/// Prices of a station on each form, and last of a share of overs.
pub(super) type Prices = Vec<u64>;

/// Lots that are alike: their choices, and how many they are.
pub(super) type Group = (Vec<Choice>, usize);

/// What came of it.
pub(super) enum Packing {
    /// There is no room.
    None,
    /// No room was found, yet there may be some.
    Unsure,
    /// A choice for every lot, group after group; and whether none has fewer overs.
    Room(Vec<Choice>, bool),
}

/// Lots of one size that want room.
pub(super) struct Pack<'a> {
    groups: Vec<Group>,
    stations: &'a [u32],
    overs: u64,
    /// The most ways that are kept from lot to lot: few at first, and more where those settle nothing.
    widths: &'a [usize],
}

/// One way to have put the first lots.
#[derive(Clone, Copy)]
struct Way {
    lanes: u128,
    over: u64,
    price: u64,
    from: u32,
    choice: u32,
}

/// First prices: what a form makes while it runs.
pub(super) fn first_prices(runs: impl Iterator<Item = u64>) -> Prices {
    let runs: Vec<u64> = runs.collect();
    let total = runs.iter().sum::<u64>().max(1);
    let forms = u64::try_from(runs.len()).unwrap_or(1);
    let price =
        |run: u64| (u128::from(run) * u128::from(PRICE * forms) / u128::from(total)).try_into().unwrap_or(PRICE);
    runs.into_iter().map(price).chain([0]).collect()
}

impl<'a> Pack<'a> {
    /// Groups with their choices, the stations of each form, and how many overs there may be.
    pub(super) fn new(mut groups: Vec<Group>, stations: &'a [u32], overs: u64, widths: &'a [usize]) -> Self {
        for (choices, _) in &mut groups {
            choices.retain(|choice| choice.over <= overs);
            for choice in choices {
                let share = u128::from(choice.over) * u128::from(SHARES) / (u128::from(overs) + 1);
                choice.share = u64::try_from(share).unwrap_or(SHARES);
            }
        }
        Self { groups, stations, overs, widths }
    }

    /// Looks for room; the prices are bettered on the way.
    pub(super) fn packed(&self, prices: &mut Prices, effort: &mut Effort) -> Packing {
        if self.groups.iter().any(|(choices, _)| choices.is_empty()) {
            return Packing::None;
        }
        if self.no_room(prices, effort) {
            return Packing::None;
        }
        let worth = self.worth(prices);
        let Some(lots) = self.lots(prices, worth) else { return Packing::None };
        let mut packing = Packing::Unsure;
        for width in self.widths {
            packing = self.put(&lots, worth, *width, effort);
            if !matches!(packing, Packing::Unsure) {
                break;
            }
        }
        packing
    }

    /// What there is of each form, and last of overs.
    fn room(&self) -> impl Iterator<Item = u64> + '_ {
        self.stations.iter().map(|n| u64::from(*n)).chain([SHARES - 1])
    }

    fn worth(&self, prices: &Prices) -> u64 {
        self.room().zip(prices).map(|(room, price)| room * price).sum()
    }

    /// Seeks prices at which no choice of all lots can be paid for. Leaves the best prices it saw.
    fn no_room(&self, prices: &mut Prices, effort: &mut Effort) -> bool {
        let number: usize = self.groups.iter().map(|(choices, _)| choices.len()).sum();
        let mut best: Option<(i128, Prices)> = None;
        let mut trial = prices.clone();
        for round in 0..ROUNDS {
            effort.spend(number);
            let mut taken = vec![0; prices.len()];
            let mut paid = 0;
            for (choices, times) in &self.groups {
                let Some((price, choice)) = cheapest(choices, &trial) else { return true };
                let times = u64::try_from(*times).unwrap_or(1);
                paid += price * times;
                for (taken, asked) in taken.iter_mut().zip(demand(choice, self.stations.len())) {
                    *taken += asked * times;
                }
            }
            let worth = self.worth(&trial);
            if paid > worth {
                *prices = trial;
                return true;
            }
            let short = i128::from(paid) - i128::from(worth);
            if best.as_ref().is_none_or(|(least, _)| short > *least) {
                best = Some((short, trial.clone()));
            }
            let total: u64 = trial.iter().sum();
            let mut still = true;
            for ((price, taken), room) in trial.iter_mut().zip(taken).zip(self.room()) {
                let step = i128::from(taken) - i128::from(room);
                still &= step <= 0;
                let pace = i128::from(room.max(1)) * i128::from(round + 2);
                let moved = i128::from(*price) + step * i128::from(total) / pace;
                *price = u64::try_from(moved.clamp(0, i128::from(PRICE) << 8)).unwrap_or(0);
            }
            if still || trial.iter().all(|price| *price == 0) {
                break;
            }
        }
        if let Some((_, seen)) = best {
            *prices = seen;
        }
        false
    }

    /// Puts lot after lot, those first that have the fewest choices left. Ways that the prices show to have no room for the rest are
    /// dropped at once.
    fn put(&self, lots: &[PricedLot], worth: u64, width: usize, effort: &mut Effort) -> Packing {
        let top = lane_tops(self.stations.len());
        // What the lots from each on cost at least, in price and in overs.
        let mut rest = vec![(0, 0)];
        for lot in lots.iter().rev() {
            let (price, over) = rest.last().copied().unwrap_or_default();
            rest.push((price + lot.price, over + lot.over));
        }
        rest.pop();
        let start = lanes(self.stations.iter().map(|n| u16::try_from((1 << 15) - 1 - i64::from(*n)).unwrap_or(0)));
        let mut ways = vec![Way { lanes: start, over: 0, price: 0, from: 0, choice: 0 }];
        let mut steps: Vec<Vec<Way>> = Vec::with_capacity(lots.len());
        let mut all = true;
        for (lot, (rest_price, rest_over)) in lots.iter().zip(rest.into_iter().rev()) {
            let mut next = Vec::new();
            for (number, (choice, price)) in (0..).zip(&lot.choices) {
                for (from, way) in (0..).zip(&ways) {
                    let (lanes, over, price) = (way.lanes + choice.lanes, way.over + choice.over, way.price + price);
                    if lanes & top == 0 && price + rest_price <= worth && over + rest_over <= self.overs {
                        next.push(Way { lanes, over, price, from, choice: number });
                    }
                }
            }
            effort.spend(ways.len() * lot.choices.len() + next.len() * 4);
            all &= kept(&mut next, width);
            if next.is_empty() {
                return if all { Packing::None } else { Packing::Unsure };
            }
            ways.clone_from(&next);
            steps.push(next);
        }
        let last = (0..).zip(&ways).min_by_key(|(_, way)| way.over).map_or(0, |(at, _)| at);
        traced(lots, &steps, last).map_or(Packing::Unsure, |choices| Packing::Room(choices, all))
    }

    /// Every lot with the choices that the prices leave it; none where a lot has none left.
    fn lots(&self, prices: &Prices, worth: u64) -> Option<Vec<PricedLot>> {
        let cheapest = |(choices, times): &Group| Some((cheapest(choices, prices)?.0, u64::try_from(*times).ok()?));
        let least: Vec<(u64, u64)> = self.groups.iter().map(cheapest).collect::<Option<_>>()?;
        let paid: u64 = least.iter().map(|(price, times)| price * times).sum();
        let mut lots = Vec::new();
        for ((choices, times), (least, _)) in self.groups.iter().zip(least) {
            let priced = choices.iter().map(|choice| (*choice, price(choice, prices)));
            let left: Vec<(Choice, u64)> = priced.filter(|(_, price)| paid - least + price <= worth).collect();
            let over = left.iter().map(|(choice, _)| choice.over).min()?;
            for _ in 0..*times {
                lots.push(PricedLot { place: lots.len(), price: least, over, choices: left.clone() });
            }
        }
        lots.sort_by_key(|lot| lot.choices.len());
        Some(lots)
    }
}

/// A lot, its choices with their prices, and the least price and overs among them.
struct PricedLot {
    place: usize,
    price: u64,
    over: u64,
    choices: Vec<(Choice, u64)>,
}

/// Keeps the ways that no other betters on the last form or in overs, and of these so many as there is width for; whether that was
/// all. They come in sorted stretches, which a stable sort only merges.
fn kept(ways: &mut Vec<Way>, width: usize) -> bool {
    ways.sort_by_key(|way| (way.lanes, way.over));
    let mut lead: Option<(u128, u64)> = None;
    ways.retain(|way| {
        let row = way.lanes >> 16;
        let better = lead.is_none_or(|(of, over)| of != row || way.over < over);
        if better {
            lead = Some((row, way.over));
        }
        better
    });
    if ways.len() <= width {
        return true;
    }
    ways.sort_by_key(|way| way.price);
    ways.truncate(width);
    ways.sort_by_key(|way| (way.lanes, way.over));
    false
}

/// The choices that led to the last way, in the order of the lots as they came.
fn traced(lots: &[PricedLot], steps: &[Vec<Way>], last: u32) -> Option<Vec<Choice>> {
    let mut at = last;
    let mut choices = Vec::with_capacity(lots.len());
    for (lot, step) in lots.iter().zip(steps).rev() {
        let way = step.get(usize::try_from(at).ok()?)?;
        choices.push((lot.place, lot.choices.get(usize::try_from(way.choice).ok()?)?.0));
        at = way.from;
    }
    choices.sort_by_key(|(place, _)| *place);
    Some(choices.into_iter().map(|(_, choice)| choice).collect())
}

/// What a choice takes of each form, and last of the shares of overs.
fn demand(choice: &Choice, forms: usize) -> impl Iterator<Item = u64> + '_ {
    choice.stations.iter().take(forms).map(|n| u64::from(*n)).chain([choice.share])
}

fn price(choice: &Choice, prices: &Prices) -> u64 {
    demand(choice, prices.len() - 1).zip(prices).map(|(asked, price)| asked * price).sum()
}

fn cheapest<'c>(choices: &'c [Choice], prices: &Prices) -> Option<(u64, &'c Choice)> {
    choices.iter().map(|choice| (price(choice, prices), choice)).min_by_key(|(price, _)| *price)
}
