use std::fmt;

use super::super::{SCORE_ABOVE_CALIPER, SCORE_ABOVE_GSM, Stock};
use crate::unit::Length;

/// Whether a stock is scored before it is folded.
#[derive(Clone, PartialEq, Debug)]
pub enum Score {
    /// Score first; every reason there is.
    First(Vec<ScoreWhy>),
    /// Fold without.
    None,
    /// Not to be told from what is stated; what is missing.
    Unsure(Vec<Unsure>),
}

/// Why to score.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum ScoreWhy {
    /// So many grams a square metre, above [`SCORE_ABOVE_GSM`].
    Heavy(f64),
    /// So thick, above [`SCORE_ABOVE_CALIPER`].
    Thick(Length),
    /// The folds run across the grain, so that the fibres would break.
    AcrossGrain,
}

/// What is not stated of a stock.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Unsure {
    /// Neither weight nor thickness.
    Weight,
    /// The grain, or how the card lies to it.
    Grain,
}

impl Score {
    /// Above about 150 g/m² or 0.005 in, or where the fold runs across the grain (published and common practice).
    pub(super) fn of(stock: &Stock, across_grain: Option<bool>) -> Self {
        let mut why = Vec::new();
        why.extend(stock.gsm.filter(|gsm| *gsm > SCORE_ABOVE_GSM).map(ScoreWhy::Heavy));
        why.extend(stock.caliper.filter(|caliper| *caliper > SCORE_ABOVE_CALIPER).map(ScoreWhy::Thick));
        why.extend((across_grain == Some(true)).then_some(ScoreWhy::AcrossGrain));
        if !why.is_empty() {
            return Self::First(why);
        }
        let mut unsure = Vec::new();
        unsure.extend((stock.gsm.is_none() && stock.caliper.is_none()).then_some(Unsure::Weight));
        unsure.extend(across_grain.is_none().then_some(Unsure::Grain));
        if unsure.is_empty() { Self::None } else { Self::Unsure(unsure) }
    }
}

impl fmt::Display for Score {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let joined = |words: Vec<String>| words.join("; ");
        match self {
            // The bead is the ridge that scoring raises; folded to the outside it would stretch the surface (common practice).
            Self::First(why) => {
                let why = joined(why.iter().map(ToString::to_string).collect());
                write!(f, "score first, the bead on the inside of the fold: {why}")
            }
            Self::None => f.write_str("no score needed: light enough, and the folds run with the grain"),
            Self::Unsure(missing) => {
                let missing = joined(missing.iter().map(ToString::to_string).collect());
                write!(f, "try a fold first: {missing}")
            }
        }
    }
}

impl fmt::Display for ScoreWhy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Heavy(gsm) => write!(f, "{gsm} g/m² is above {SCORE_ABOVE_GSM} g/m²"),
            Self::Thick(caliper) => write!(f, "{caliper} is above {SCORE_ABOVE_CALIPER}"),
            Self::AcrossGrain => f.write_str("the folds run across the grain"),
        }
    }
}

impl fmt::Display for Unsure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Weight => "neither weight nor thickness of the stock is stated",
            Self::Grain => "how the folds run to the grain is not known",
        })
    }
}
