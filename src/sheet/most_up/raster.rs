//! The places along one side of the room that sums of piece sizes can reach. Pushing every piece of a guillotine layout as far to
//! the lower left as it goes brings its edges to such places, so that no better layout needs any other (normal patterns).

use std::collections::BTreeSet;

use crate::unit::Length;

/// Sums of steps, from zero to the end of the room, and what remains after each.
pub(super) struct Raster {
    points: Vec<Length>,
}

impl Raster {
    /// Every sum of `steps` within `room`; `None` where there are more than `most`.
    pub(super) fn full(room: Length, steps: &[Length], most: usize) -> Option<Self> {
        let mut points = BTreeSet::from([Length::ZERO]);
        for step in steps {
            // In rising order, so that what this step reaches is taken up again.
            let mut from = Length::ZERO;
            loop {
                if from + *step <= room {
                    points.insert(from + *step);
                }
                if points.len() > most {
                    return None;
                }
                match points.range((std::ops::Bound::Excluded(from), std::ops::Bound::Unbounded)).next() {
                    Some(next) => from = *next,
                    None => break,
                }
            }
        }
        Some(Self { points: points.into_iter().collect() })
    }

    /// Multiples of every single step, evenly thinned to about `most`: enough for layouts of a few large blocks.
    pub(super) fn thin(room: Length, steps: &[Length], most: usize) -> Self {
        let mut points = BTreeSet::from([Length::ZERO]);
        let each = (most / (2 * steps.len().max(1))).max(1);
        for step in steps {
            let times = room.times(*step);
            let skip = (times / i64::try_from(each).unwrap_or(1)).max(1);
            points.extend((0..=times).rev().step_by(usize::try_from(skip).unwrap_or(1)).map(|n| *step * n));
        }
        Self { points: points.into_iter().collect() }
    }

    /// How many places there are.
    pub(super) const fn len(&self) -> usize {
        self.points.len()
    }

    /// The place of a number; the last one past the end.
    pub(super) fn at(&self, n: usize) -> Length {
        self.points.get(n).or(self.points.last()).copied().unwrap_or(Length::ZERO)
    }

    /// The number of the last place that is not past `length`.
    pub(super) fn last_within(&self, length: Length) -> usize {
        self.points.partition_point(|p| *p <= length).saturating_sub(1)
    }
}
