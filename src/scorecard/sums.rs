use std::ops::Range;

use super::PrintedTotals;

/// What a total adds up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Part {
    /// Holes 1 to 9.
    Out,
    /// Holes 10 to 18; a course of nine holes has none.
    In,
    /// The round.
    Total,
}

impl Part {
    /// All three, as they stand on a card.
    pub const ALL: [Self; 3] = [Self::Out, Self::In, Self::Total];

    /// `Out`, `In`, `Total`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Out => "Out",
            Self::In => "In",
            Self::Total => "Total",
        }
    }

    /// The holes it adds up, counted from 0, on a course of so many; `None` where there are none.
    pub fn holes(self, holes: usize) -> Option<Range<usize>> {
        let range = match self {
            Self::Out => 0..holes.min(9),
            Self::In => 9..holes,
            Self::Total => 0..holes,
        };
        (!range.is_empty()).then_some(range)
    }
}

impl PrintedTotals {
    /// What the card states for a part.
    pub const fn of(&self, part: Part) -> Option<i64> {
        match part {
            Part::Out => self.out,
            Part::In => self.inward,
            Part::Total => self.total,
        }
    }
}

/// What a list adds up to over a part.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Sum {
    /// This.
    Is(i64),
    /// Not known, because these holes (from 1) have no number.
    Lacks(Vec<usize>),
}

/// What `list` adds up to over `part` on a course of `holes`; `None` where the course has no such part. Numbers
/// past the last hole are not counted.
pub fn sum(list: &[Option<i64>], holes: usize, part: Part) -> Option<Sum> {
    let range = part.holes(holes)?;
    let lacks: Vec<usize> =
        range.clone().filter(|n| list.get(*n).copied().flatten().is_none()).map(|n| n + 1).collect();
    Some(if lacks.is_empty() {
        Sum::Is(range.filter_map(|n| list.get(n).copied().flatten()).fold(0, i64::saturating_add))
    } else {
        Sum::Lacks(lacks)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(values: &[i64]) -> Vec<Option<i64>> {
        values.iter().copied().map(Some).collect()
    }

    #[test]
    fn out_and_in_make_the_total() {
        let eighteen = list(&[4; 18]);
        assert_eq!(Part::ALL.map(|p| sum(&eighteen, 18, p)), [36, 36, 72].map(|v| Some(Sum::Is(v))));
    }

    #[test]
    fn a_course_of_nine_holes_has_no_in() {
        let nine = list(&[4; 9]);
        assert_eq!(Part::ALL.map(|p| sum(&nine, 9, p)), [Some(Sum::Is(36)), None, Some(Sum::Is(36))]);
    }

    #[test]
    fn a_hole_without_a_number_leaves_its_sums_unknown_and_only_those() {
        let mut eighteen = list(&[4; 18]);
        eighteen[11] = None;
        assert_eq!(sum(&eighteen, 18, Part::Out), Some(Sum::Is(36)));
        assert_eq!(sum(&eighteen, 18, Part::In), Some(Sum::Lacks(vec![12])));
        assert_eq!(sum(&eighteen[..10], 18, Part::Out), Some(Sum::Is(36)));
        assert_eq!(sum(&eighteen[..17], 18, Part::Total), Some(Sum::Lacks(vec![12, 18])));
    }
}
