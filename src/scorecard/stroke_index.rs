/// Why a stroke index is not one number a hole, each once.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Scrambled {
    /// Numbers that stand more than once, with their holes (from 1).
    pub doubled: Vec<(i64, Vec<usize>)>,
    /// Numbers that stand nowhere.
    pub missing: Vec<i64>,
    /// Holes (from 1) whose number is none of those allowed.
    pub outside: Vec<(usize, i64)>,
    /// Holes (from 1) without a number.
    pub unread: Vec<usize>,
    /// How many numbers there are beyond the last hole.
    pub beyond: usize,
}

/// The numbers that a stroke index of so many holes is made of: 1 to the last hole. On nine holes the ones
/// published for eighteen may also stand, all odd or all even (Rules of Handicapping, Appendix E, stroke index for
/// nine-hole play).
fn allowed(list: &[Option<i64>], holes: usize) -> Vec<i64> {
    let last = i64::try_from(holes).unwrap_or(0);
    let mut best: Vec<i64> = (1..=last).collect();
    let hits = |set: &[i64]| set.iter().filter(|v| list.contains(&Some(**v))).count();
    if holes == 9 {
        for set in [(1..=17).step_by(2).collect::<Vec<i64>>(), (2..=18).step_by(2).collect()] {
            if hits(&set) > hits(&best) {
                best = set;
            }
        }
    }
    best
}

/// Whether `list` gives each hole its own number of those allowed (Rules of Golf, Committee Procedures 5I (4): the
/// order in which strokes are given; Rules of Handicapping, Appendix E).
///
/// # Errors
/// What is doubled, missing, outside or unread.
pub fn permutation(list: &[Option<i64>], holes: usize) -> Result<(), Scrambled> {
    let allowed = allowed(list, holes);
    let at = |hole: usize| list.get(hole - 1).copied().flatten();
    let holes_with = |v: i64| (1..=holes).filter(|h| at(*h) == Some(v)).collect::<Vec<_>>();
    let mut scrambled = Scrambled { beyond: list.len().saturating_sub(holes), ..Scrambled::default() };
    for v in &allowed {
        match holes_with(*v) {
            none if none.is_empty() => scrambled.missing.push(*v),
            one if one.len() == 1 => {}
            several => scrambled.doubled.push((*v, several)),
        }
    }
    for hole in 1..=holes {
        match at(hole) {
            None => scrambled.unread.push(hole),
            Some(v) if !allowed.contains(&v) => scrambled.outside.push((hole, v)),
            Some(_) => {}
        }
    }
    if scrambled == Scrambled::default() { Ok(()) } else { Err(scrambled) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn doubles_and_gaps_are_named() {
        let mut list: Vec<Option<i64>> = (1..=18).map(Some).collect();
        assert_eq!(permutation(&list, 18), Ok(()));
        list[6] = Some(4);
        let scrambled = permutation(&list, 18).unwrap_err();
        assert_eq!(scrambled, Scrambled { doubled: vec![(4, vec![4, 7])], missing: vec![7], ..Scrambled::default() });
        list[6] = Some(19);
        assert_eq!(permutation(&list, 18).unwrap_err().outside, [(7, 19)]);
        list[6] = None;
        assert_eq!(permutation(&list, 18).unwrap_err().unread, [7]);
    }

    #[test]
    fn nine_holes_may_keep_the_numbers_of_eighteen() {
        let odd: Vec<Option<i64>> = [9, 13, 3, 15, 7, 1, 17, 11, 5].map(Some).to_vec();
        assert_eq!(permutation(&odd, 9), Ok(()));
        let even: Vec<Option<i64>> = odd.iter().map(|v| v.map(|v| v + 1)).collect();
        assert_eq!(permutation(&even, 9), Ok(()));
        assert_eq!(permutation(&(1..=9).rev().map(Some).collect::<Vec<_>>(), 9), Ok(()));
        let mixed: Vec<Option<i64>> = [9, 13, 3, 15, 7, 1, 17, 11, 6].map(Some).to_vec();
        assert_eq!(permutation(&mixed, 9).unwrap_err().missing, [5]);
    }
}
