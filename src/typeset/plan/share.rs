//! Sharing a room between columns or rows.

use crate::unit::Length;

/// Shared lengths are whole thousandths of a point, so that the numbers in the page say exactly what the plan says.
pub(super) const GRAIN: i64 = Length::PER_PT / 1000;

/// One that wants room.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Wish {
    /// Exactly this much, where it is stated.
    pub(super) stated: Option<Length>,
    /// Its part of what is left, against the parts of the others.
    pub(super) weight: f64,
    /// It gets no less than this while the room lasts.
    pub(super) least: Length,
    /// Whether it takes what the others do not need.
    pub(super) takes_more: bool,
}

/// `length` down to the grain.
pub(super) fn grained(length: Length) -> Length {
    Length::units(length.get() - length.get().rem_euclid(GRAIN))
}

/// The length that a part of weight 1 gets when the stated ones have theirs and the least lengths are kept.
pub(super) fn unit(wishes: &[Wish], room: Length) -> Length {
    let mut kept: Vec<bool> = wishes.iter().map(|w| w.stated.is_some()).collect();
    loop {
        let fixed: Length = wishes.iter().zip(&kept).filter(|(_, k)| **k).map(|(w, _)| own(w)).sum();
        let weight: f64 = wishes.iter().zip(&kept).filter(|(_, k)| !**k).map(|(w, _)| w.weight).sum();
        if weight <= 0.0 {
            return Length::ZERO;
        }
        let each = (room - fixed).scaled(1.0 / weight);
        let mut changed = false;
        for (w, k) in wishes.iter().zip(&mut kept) {
            if !*k && each.scaled(w.weight) < w.least {
                *k = true;
                changed = true;
            }
        }
        if !changed {
            return each;
        }
    }
}

/// Gives up what texts need where there is no room for all of it, so that the room is shared and what does not fit is reported text
/// by text.
pub(super) fn hold_back(wishes: &mut [Wish], room: Length) {
    if wishes.iter().map(own).sum::<Length>() > room {
        for wish in wishes {
            wish.least = Length::ZERO;
        }
    }
}

fn own(wish: &Wish) -> Length {
    wish.stated.unwrap_or(wish.least)
}

/// The room shared: stated lengths as they are; the others get `each` times their weight, or their least; what then is left
/// goes to those that take more, or, where there are none, to all that are not stated.
pub(super) fn share(wishes: &[Wish], room: Length, each: Length) -> Vec<Length> {
    let mut lengths: Vec<Length> = wishes
        .iter()
        .map(|w| w.stated.unwrap_or_else(|| grained(each.scaled(w.weight).max(w.least).max(Length::ZERO))))
        .collect();
    let takers: Vec<usize> = if wishes.iter().any(|w| w.stated.is_none() && w.takes_more) {
        places(wishes, |w| w.stated.is_none() && w.takes_more)
    } else {
        places(wishes, |w| w.stated.is_none())
    };
    let left = room - lengths.iter().copied().sum();
    let weight: f64 = takers.iter().filter_map(|n| wishes.get(*n)).map(|w| w.weight).sum();
    if left <= Length::ZERO || weight <= 0.0 {
        return lengths;
    }
    for n in &takers {
        if let (Some(length), Some(wish)) = (lengths.get_mut(*n), wishes.get(*n)) {
            *length += grained(left.scaled(wish.weight / weight));
        }
    }
    // Less than a grain each is left over; the first takes it, so that the last edge is met exactly.
    let over = room - lengths.iter().copied().sum();
    if let Some(first) = takers.first().and_then(|n| lengths.get_mut(*n)) {
        *first += over;
    }
    lengths
}

fn places(wishes: &[Wish], is: impl Fn(&Wish) -> bool) -> Vec<usize> {
    wishes.iter().enumerate().filter(|(_, w)| is(w)).map(|(n, _)| n).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wish(weight: f64) -> Wish {
        Wish { stated: None, weight, least: Length::ZERO, takes_more: false }
    }

    #[test]
    fn stated_lengths_are_kept_and_equals_get_equal_shares() {
        let mut wishes = vec![wish(1.0); 4];
        wishes[0].stated = Some(Length::pt(40));
        let room = Length::pt(100);
        assert_eq!(share(&wishes, room, unit(&wishes, room)), [40, 20, 20, 20].map(Length::pt));
    }

    #[test]
    fn the_least_is_kept_and_the_rest_shares_what_is_left() {
        let mut wishes = vec![wish(1.0); 3];
        wishes[2].least = Length::pt(60);
        let room = Length::pt(100);
        assert_eq!(share(&wishes, room, unit(&wishes, room)), [20, 20, 60].map(Length::pt));
    }

    #[test]
    fn what_others_do_not_need_goes_to_those_that_take_more() {
        let mut wishes = vec![wish(1.0); 3];
        wishes[0].takes_more = true;
        assert_eq!(share(&wishes, Length::pt(100), Length::pt(20)), [60, 20, 20].map(Length::pt));
    }
}
