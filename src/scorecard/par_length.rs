use std::fmt;

use super::{Units, Who};

/// The lengths recommended for a par, in the unit of the card; ends included.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LengthRange {
    /// The shortest; `None` where there is none.
    pub least: Option<i64>,
    /// The longest; `None` where there is none.
    pub most: Option<i64>,
}

impl LengthRange {
    /// Whether a length lies within.
    pub fn holds(self, length: i64) -> bool {
        self.least.is_none_or(|least| length >= least) && self.most.is_none_or(|most| length <= most)
    }

    /// The span from the lower of both beginnings to the higher of both ends.
    pub fn or(self, other: Self) -> Self {
        Self {
            least: self.least.zip(other.least).map(|(a, b)| a.min(b)),
            most: self.most.zip(other.most).map(|(a, b)| a.max(b)),
        }
    }
}

/// `240 to 490`, `up to 260`, `670 and up`.
impl fmt::Display for LengthRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.least, self.most) {
            (Some(least), Some(most)) => write!(f, "{least} to {most}"),
            (None, Some(most)) => write!(f, "up to {most}"),
            (Some(least), None) => write!(f, "{least} and up"),
            (None, None) => f.write_str("any length"),
        }
    }
}

/// Shortest and longest, in yards and in metres as published beside them.
type Published = [(Option<i64>, Option<i64>); 2];

/// Rules of Handicapping, Appendix F: recommended hole lengths by par, for men and for women.
const TABLE: [(i64, Published, Published); 4] = [
    (3, [(None, Some(260)), (None, Some(240))], [(None, Some(220)), (None, Some(200))]),
    (4, [(Some(240), Some(490)), (Some(220), Some(450))], [(Some(200), Some(420)), (Some(180), Some(380))]),
    (5, [(Some(450), Some(710)), (Some(410), Some(650))], [(Some(370), Some(600)), (Some(340), Some(550))]),
    (6, [(Some(670), None), (Some(610), None)], [(Some(570), None), (Some(520), None)]),
];

/// The lengths that Appendix F recommends for a par, for men or women, or for either where `who` is everyone;
/// `None` for a par that is not 3 to 6. In metres both readings hold: the rounded metres that are published beside
/// the yards, and the yards at exactly 0.9144 m; a length is inside where either allows it.
pub fn recommended(par: i64, who: Who, units: Units) -> Option<LengthRange> {
    let (_, men, women) = TABLE.iter().find(|(p, ..)| *p == par)?;
    Some(match who {
        Who::Men => in_units(men, units),
        Who::Women => in_units(women, units),
        Who::Everyone => in_units(men, units).or(in_units(women, units)),
    })
}

fn in_units(&[yards, metres]: &Published, units: Units) -> LengthRange {
    let span = |(least, most): (Option<i64>, Option<i64>)| LengthRange { least, most };
    match units {
        Units::Yards => span(yards),
        Units::Metres => {
            // 1 yd = 0.9144 m exactly (international yard and pound agreement of 1959); whole metres inside the yards.
            let least = yards.0.map(|y| (y * 9144 + 9999) / 10_000);
            let most = yards.1.map(|y| y * 9144 / 10_000);
            span(metres).or(LengthRange { least, most })
        }
    }
}

/// The pars whose recommended lengths hold this one.
pub fn pars_for(length: i64, who: Who, units: Units) -> Vec<i64> {
    let holds = |par: &i64| recommended(*par, who, units).is_some_and(|span| span.holds(length));
    (3..=6).filter(holds).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn metres_are_inside_by_either_reading() {
        // 260 yd = 237.744 m, published 240 m; 220 yd = 201.168 m, published 200 m.
        assert_eq!(recommended(3, Who::Men, Units::Metres).unwrap().to_string(), "up to 240");
        assert_eq!(recommended(3, Who::Women, Units::Metres).unwrap().to_string(), "up to 201");
        // 240 yd = 219.456 m, published 220 m; 490 yd = 448.056 m, published 450 m.
        assert_eq!(recommended(4, Who::Men, Units::Metres).unwrap().to_string(), "220 to 450");
        // 670 yd = 612.648 m, published 610 m.
        assert_eq!(recommended(6, Who::Men, Units::Metres).unwrap().to_string(), "610 and up");
    }
}
