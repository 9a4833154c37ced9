use super::Who;

/// The unit of the lengths.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Units {
    /// Yards.
    #[default]
    Yards,
    /// Metres.
    Metres,
}

/// A value that may differ by gender: one entry for [`Who::Everyone`], or one each for men and women.
pub type ForWho<T> = Vec<(Who, T)>;

/// Course Rating and Slope Rating of a tee.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Rating {
    /// Course Rating, one decimal.
    pub course: Option<f64>,
    /// Slope Rating, 55 to 155.
    pub slope: Option<i64>,
}

/// Totals as they stand on the card, `None` where the card does not state one.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct PrintedTotals {
    /// Holes 1 to 9.
    pub out: Option<i64>,
    /// Holes 10 to 18.
    pub inward: Option<i64>,
    /// The round.
    pub total: Option<i64>,
}

/// A set of tees. Lists run over the holes; `None` is a number that is missing or could not be read.
#[derive(Clone, PartialEq, Debug)]
pub struct Tee {
    /// Its name.
    pub name: String,
    /// Length of each hole.
    pub lengths: Vec<Option<i64>>,
    /// Totals as printed or typed.
    pub printed: PrintedTotals,
    /// Ratings by gender.
    pub ratings: ForWho<Rating>,
}

/// A combination: which tee each hole plays from.
#[derive(Clone, PartialEq, Debug)]
pub struct Combo {
    /// Its name.
    pub name: String,
    /// For each hole the name of the tee it plays from.
    pub tees: Vec<String>,
    /// Lengths as printed on a row of its own; empty where it is shown as marks.
    pub lengths: Vec<Option<i64>>,
    /// Totals as printed or typed.
    pub printed: PrintedTotals,
    /// Ratings by gender.
    pub ratings: ForWho<Rating>,
}

/// A scorecard's numbers.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Scorecard {
    /// The course.
    pub course: String,
    /// Unit of all lengths.
    pub units: Units,
    /// How many holes: 9 or 18.
    pub holes: usize,
    /// Tees in the order of the card.
    pub tees: Vec<Tee>,
    /// Combinations in the order of the card.
    pub combos: Vec<Combo>,
    /// Par of each hole.
    pub par: ForWho<Vec<Option<i64>>>,
    /// Totals of the par rows as printed or typed, in the order of `par`.
    pub par_printed: Vec<PrintedTotals>,
    /// Stroke index of each hole.
    pub stroke_index: ForWho<Vec<Option<i64>>>,
}

impl Scorecard {
    /// The pars that hold for `who`: their own, or everyone's.
    pub fn par_of(&self, who: Who) -> Option<&[Option<i64>]> {
        let own = self.par.iter().find(|(w, _)| *w == who);
        own.or_else(|| self.par.iter().find(|(w, _)| *w == Who::Everyone)).map(|(_, list)| list.as_slice())
    }

    /// Whether any tee of the card has a rating.
    pub fn rates(&self) -> bool {
        self.tees.iter().any(|tee| !tee.ratings.is_empty())
    }
}
