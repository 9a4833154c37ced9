//! What is asked of a gang run, and what is wrong with a request.

use crate::fault::{Fault, Faults, Result, Source};

/// The most forms that one gang run may have; a job that needs more is two jobs.
pub const MOST_FORMS: usize = 8;

/// The most stations of one size on a form.
const MOST_STATIONS: u32 = 1000;

/// The most copies of one lot.
const MOST_COPIES: u64 = 1_000_000_000;

/// The most ways to give every form a pattern, all of which are gone through.
const MOST_WAYS: usize = 5000;

/// The most lots of one gang run.
const MOST_LOTS: usize = 1000;

/// One card and how many of it are wanted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lot {
    /// What the shop calls it.
    pub name: String,
    /// Copies wanted; what is made past it are overs.
    pub quantity: u64,
    /// The fewest copies that do: the quantity less the unders that are allowed.
    pub least: u64,
    /// The most copies that do: the quantity and the overs that are allowed; none for any number.
    pub most: Option<u64>,
    /// Which of the sizes of the patterns it takes, from 0; 0 where all are of one size.
    pub size: usize,
}

impl Lot {
    /// A lot without unders, with any number of overs, of the first size.
    pub fn new(name: impl Into<String>, quantity: u64) -> Self {
        Self { name: name.into(), quantity, least: quantity, most: None, size: 0 }
    }

    /// The same lot with so many unders and overs allowed, in copies.
    pub fn within(self, unders: u64, overs: u64) -> Self {
        let (least, most) = (self.quantity.saturating_sub(unders), self.quantity.saturating_add(overs));
        Self { least, most: Some(most), ..self }
    }
}

/// The stations that one kind of form offers.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FormPattern {
    /// Stations by size; a size that it has no room for may be left off the end.
    pub stations: Vec<u32>,
}

impl FormPattern {
    /// Stations of a size.
    pub fn of(&self, size: usize) -> u32 {
        self.stations.get(size).copied().unwrap_or(0)
    }
}

/// A gang run to be planned. Costs are whole numbers of any one unit that is small enough, such as a hundredth of a penny.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct GangRequest {
    /// What is to be made.
    pub lots: Vec<Lot>,
    /// The kinds of forms to choose from, each as often as wanted; a station may stay blank.
    pub patterns: Vec<FormPattern>,
    /// Cost of a form: plates and make-ready.
    pub per_form: u64,
    /// Cost of an impression of a form: paper and press time; above zero.
    pub per_impression: u64,
    /// Cost of every copy past the quantity of its lot, beside the impressions.
    pub per_over: u64,
    /// The most forms, [`MOST_FORMS`] at most.
    pub most_forms: usize,
    /// The most steps of the search.
    pub effort: u64,
}

impl GangRequest {
    /// The fewest impressions of lots of one size on a number of forms, whatever a form costs.
    pub fn fewest_impressions(lots: Vec<Lot>, stations: u32, most_forms: usize) -> Self {
        let patterns = vec![FormPattern { stations: vec![stations] }];
        Self { lots, patterns, per_form: 0, per_impression: 1, per_over: 0, most_forms, effort: super::GANG_EFFORT }
    }
}

/// Every fault of a request.
pub(super) fn sound(ask: &GangRequest) -> Result<()> {
    let mut faults = Faults::new();
    let mut wrong = |message: String, hint: &str| faults.push(Fault::new(Source::Nowhere, message).hint(hint));
    if ask.lots.is_empty() || ask.lots.len() > MOST_LOTS {
        wrong(format!("a gang run of {} lots cannot be planned", ask.lots.len()), "give from 1 to 1000 lots");
    }
    for lot in &ask.lots {
        let name = &lot.name;
        if lot.quantity == 0 || lot.quantity > MOST_COPIES {
            let message = format!("a lot of {} copies of {name} cannot be planned", lot.quantity);
            wrong(message, "give from 1 to 1 000 000 000 copies, or leave the lot off");
        } else if lot.least == 0 || lot.least > lot.quantity || lot.most.is_some_and(|most| most < lot.quantity) {
            let most = lot.most.map_or("any number".to_owned(), |most| most.to_string());
            let message = format!("from {} to {most} copies of {name} leave out its {}", lot.least, lot.quantity);
            wrong(message, "allow fewer unders than copies, and no fewer overs than none");
        }
        if ask.patterns.iter().all(|pattern| pattern.of(lot.size) == 0) {
            wrong(format!("no form has a station for {name}"), "add a pattern of stations for its size");
        }
    }
    if ask.patterns.iter().flat_map(|pattern| &pattern.stations).any(|stations| *stations > MOST_STATIONS) {
        wrong("a form of more than 1000 stations cannot be planned".to_owned(), "give 1000 stations or fewer");
    }
    if ask.most_forms == 0 || ask.most_forms > MOST_FORMS {
        let message = format!("a gang run of up to {} forms cannot be planned", ask.most_forms);
        wrong(message, "allow from 1 to 8 forms; a job that needs more is two jobs");
    }
    if ask.per_impression == 0 {
        wrong("an impression that costs nothing leaves nothing to choose by".to_owned(), "give its cost, or 1");
    }
    if most_cost(ask).is_none() {
        wrong("the costs are too large to be added up".to_owned(), "give them in a larger unit");
    }
    if ways(ask).is_none_or(|ways| ways > MOST_WAYS) {
        let message = format!("{} patterns on up to {} forms are too many ways", ask.patterns.len(), ask.most_forms);
        wrong(message, "give fewer patterns, or allow fewer forms");
    }
    for message in crowded(ask) {
        wrong(message, "allow more forms, or part the job");
    }
    faults.or(())
}

/// The cost of making every lot alone on every form, which nothing is above; none where it is past all counting.
fn most_cost(ask: &GangRequest) -> Option<u64> {
    let forms = u64::try_from(ask.most_forms).ok()?;
    let longest = ask.lots.iter().map(|lot| lot.quantity).max()?;
    let stations = ask.patterns.iter().flat_map(|pattern| &pattern.stations).map(|n| u64::from(*n)).sum::<u64>();
    let run = ask.per_impression.checked_add(ask.per_over.checked_mul(stations)?)?;
    let cost = ask.per_form.checked_add(run.checked_mul(longest)?)?.checked_mul(forms)?;
    (cost < u64::MAX / 4).then_some(cost)
}

/// Ways to give every form a pattern; none where they are past all counting.
fn ways(ask: &GangRequest) -> Option<usize> {
    ask.patterns.len().max(1).checked_pow(u32::try_from(ask.most_forms).ok()?)
}

/// Sizes of which there are more lots than all forms together have stations.
fn crowded(ask: &GangRequest) -> Vec<String> {
    let sizes = ask.lots.iter().map(|lot| lot.size).max().unwrap_or(0);
    let crowd = |size: usize| {
        let lots = ask.lots.iter().filter(|lot| lot.size == size).count();
        let most = ask.patterns.iter().map(|pattern| pattern.of(size)).max()?;
        let room = usize::try_from(most).ok()?.saturating_mul(ask.most_forms);
        (room > 0 && lots > room).then(|| format!("{lots} lots have no room on the {room} stations of all forms"))
    };
    // A size is a place in a short list, so that going through all of them is cheap; a wild one has no station and is told above.
    (0..=sizes.min(MOST_LOTS)).filter_map(crowd).collect()
}
