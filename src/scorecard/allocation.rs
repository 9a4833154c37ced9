/// One nine of the round.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Nine {
    /// Holes 1 to 9.
    Front,
    /// Holes 10 to 18.
    Back,
}

impl Nine {
    /// `front nine`, `back nine`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "front nine",
            Self::Back => "back nine",
        }
    }

    /// First and last hole of its middle triad.
    pub const fn middle(self) -> (usize, usize) {
        (self.first() + 3, self.first() + 5)
    }

    /// Its first hole.
    const fn first(self) -> usize {
        match self {
            Self::Front => 1,
            Self::Back => 10,
        }
    }
}

/// Where a stroke index departs from the published advice. Holes count from 1.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Advice {
    /// Odd numbers belong on one nine and even ones on the other; these holes break it.
    Mixed {
        /// The holes that stand against the rest of their nine.
        holes: Vec<usize>,
        /// Whether the front nine is the odd one.
        front_odd: bool,
    },
    /// The lowest of a nine belongs in its middle triad, or on the hole just before or after it.
    LowestAtTheEnd {
        /// The nine.
        nine: Nine,
        /// Its lowest number.
        index: i64,
        /// Where that stands.
        hole: usize,
    },
    /// The second lowest of a nine belongs in its first or third triad, and not in the one that has the lowest.
    SecondBesideLowest {
        /// The nine.
        nine: Nine,
        /// Its second lowest number.
        index: i64,
        /// Where that stands.
        hole: usize,
    },
    /// Numbers of 6 or less are better not on consecutive holes.
    LowInARow {
        /// The holes and their numbers.
        holes: Vec<(usize, i64)>,
    },
    /// A triad that has none of the numbers 1 to 9: strokes are not spread evenly (how even is judgement).
    NoStrokes {
        /// Its first hole.
        first: usize,
    },
}

/// Where `list`, a permutation of 1 to 18, departs from the advice of the Rules of Handicapping, Appendix E: odd
/// and even by nine, the lowest of each nine in the middle triad (or beside it), the second lowest in another triad
/// of the three, low ones (6 or less) not on consecutive holes, and an even spread over the six triads. Nothing for
/// any other list.
pub fn allocation_advice(list: &[Option<i64>]) -> Vec<Advice> {
    let index: Vec<i64> = list.iter().copied().flatten().collect();
    if index.len() != 18 || super::permutation(list, 18).is_err() {
        return Vec::new();
    }
    let mut advice: Vec<Advice> = mixed(&index).into_iter().collect();
    for nine in [Nine::Front, Nine::Back] {
        advice.extend(placed(&index, nine));
    }
    advice.extend(rows(&index));
    let triads = index.chunks(3).enumerate().filter(|(_, triad)| triad.iter().all(|v| *v > 9));
    advice.extend(triads.map(|(n, _)| Advice::NoStrokes { first: n * 3 + 1 }));
    advice
}

fn mixed(index: &[i64]) -> Option<Advice> {
    let numbered = || (1_usize..).zip(index.iter().copied());
    let front_odd = numbered().filter(|(hole, v)| *hole <= 9 && v % 2 != 0).count() >= 5;
    let holes: Vec<usize> =
        numbered().filter(|(hole, v)| (v % 2 != 0) != ((*hole <= 9) == front_odd)).map(|(hole, _)| hole).collect();
    (!holes.is_empty()).then_some(Advice::Mixed { holes, front_odd })
}

/// The two lowest of a nine.
fn placed(index: &[i64], nine: Nine) -> Vec<Advice> {
    let first = nine.first();
    let mut ranked: Vec<(i64, usize)> =
        index.iter().copied().zip(1_usize..).filter(|(_, hole)| (first..first + 9).contains(hole)).collect();
    ranked.sort_unstable();
    let [(low, low_hole), (second, second_hole), ..] = *ranked.as_slice() else { return Vec::new() };
    let triad = |hole: usize| (hole - first) / 3;
    let mut advice = Vec::new();
    if !(first + 2..=first + 6).contains(&low_hole) {
        advice.push(Advice::LowestAtTheEnd { nine, index: low, hole: low_hole });
    }
    if triad(second_hole) == 1 || triad(second_hole) == triad(low_hole) {
        advice.push(Advice::SecondBesideLowest { nine, index: second, hole: second_hole });
    }
    advice
}

/// Runs of low numbers, also from the front nine into the back.
fn rows(index: &[i64]) -> Vec<Advice> {
    let numbered: Vec<(usize, i64)> = (1_usize..).zip(index.iter().copied()).collect();
    let runs = numbered.chunk_by(|a, b| (a.1 <= 6) == (b.1 <= 6));
    runs.filter(|run| run.len() > 1 && run.iter().all(|(_, v)| *v <= 6))
        .map(|run| Advice::LowInARow { holes: run.to_vec() })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Laid out by hand after the text of Appendix E: odd out and even in, 1 on hole 5 and 2 on hole 14 (middle
    // triads), 3 on hole 8 and 4 on hole 17 (third triads), 5 on hole 2 and 6 on hole 11, no two of these side by
    // side.
    const HOLMSEY: [i64; 18] = [11, 5, 17, 13, 1, 9, 15, 3, 7, 12, 6, 18, 14, 2, 10, 16, 4, 8];

    fn after(change: impl FnOnce(&mut [i64; 18])) -> Vec<Advice> {
        let mut index = HOLMSEY;
        change(&mut index);
        allocation_advice(&index.map(Some))
    }

    #[test]
    fn an_allocation_by_the_book_gets_no_advice() {
        assert_eq!(after(|_| ()), []);
        // The nines may be switched where the back nine is harder.
        assert_eq!(after(|index| index.rotate_left(9)), []);
    }

    #[test]
    fn odd_and_even_by_nine() {
        assert_eq!(after(|i| i.swap(6, 15)), [Advice::Mixed { holes: vec![7, 16], front_odd: true }]);
    }

    #[test]
    fn the_lowest_may_stand_beside_the_middle_triad_and_not_further_out() {
        let row = |holes: [(usize, i64); 2]| Advice::LowInARow { holes: holes.to_vec() };
        assert_eq!(after(|i| i.swap(4, 2)), [row([(2, 5), (3, 1)])]);
        let out = Advice::LowestAtTheEnd { nine: Nine::Front, index: 1, hole: 1 };
        assert_eq!(after(|i| i.swap(4, 0)), [out, row([(1, 1), (2, 5)])]);
    }

    #[test]
    fn the_second_lowest_leaves_the_triad_of_the_lowest() {
        let second = Advice::SecondBesideLowest { nine: Nine::Front, index: 3, hole: 6 };
        assert_eq!(after(|i| i.swap(7, 5)), [second, Advice::LowInARow { holes: vec![(5, 1), (6, 3)] }]);
    }

    #[test]
    fn a_triad_without_early_strokes_is_named() {
        let low = Advice::LowInARow { holes: vec![(14, 2), (15, 6)] };
        assert_eq!(after(|i| i.swap(10, 14)), [low, Advice::NoStrokes { first: 10 }]);
    }

    #[test]
    fn low_numbers_meet_across_the_turn() {
        // 5 to hole 9 and 6 to hole 10.
        let low = after(|i| {
            i.swap(1, 8);
            i.swap(10, 9);
        });
        assert!(low.contains(&Advice::LowInARow { holes: vec![(8, 3), (9, 5), (10, 6)] }), "{low:?}");
    }
}
