use super::{Part, Sum, Tee, sum};

/// The tees whose round adds up, by their place in the list, longest first; equal ones in the order of the card.
pub fn longest_first(tees: &[Tee], holes: usize) -> Vec<(usize, i64)> {
    let total = |(n, tee): (usize, &Tee)| match sum(&tee.lengths, holes, Part::Total) {
        Some(Sum::Is(total)) => Some((n, total)),
        _ => None,
    };
    let mut order: Vec<(usize, i64)> = tees.iter().enumerate().filter_map(total).collect();
    order.sort_by_key(|(n, total)| (std::cmp::Reverse(*total), *n));
    order
}

/// The holes (from 1) on which the longer tee is shorter than the other one, with both lengths.
pub fn shorter_on(longer: &Tee, shorter: &Tee) -> Vec<(usize, i64, i64)> {
    let pairs = longer.lengths.iter().zip(&shorter.lengths).zip(1..);
    pairs.filter_map(|((a, b), hole)| Some((hole, (*a)?, (*b)?))).filter(|(_, a, b)| a < b).collect()
}
