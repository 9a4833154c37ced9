use crate::unit::{Length, Size};

/// The space between the trims of neighbouring cards.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Gutters {
    /// Between columns.
    pub across: Length,
    /// Between rows.
    pub up: Length,
}

impl Gutters {
    /// The same both ways.
    pub const fn all(gutter: Length) -> Self {
        Self { across: gutter, up: gutter }
    }
}

/// How many trims of `trim` stand in `room` with `gutter` between them and `bleed` at both ends.
pub(super) fn count(room: Length, trim: Length, gutter: Length, bleed: Length) -> i64 {
    (room - bleed * 2 + gutter).times(trim + gutter).max(0)
}

/// Columns and rows of cards in one grid and one orientation: `trim` is the size as it lies, `room` what can be printed.
pub fn number_up(room: Size, trim: Size, gutters: Gutters, bleed: Length) -> (i64, i64) {
    (count(room.width, trim.width, gutters.across, bleed), count(room.height, trim.height, gutters.up, bleed))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::Turn;

    fn inches(w: i64, h: i64, d: i64) -> Size {
        Size::new(Length::inches(w, d), Length::inches(h, d))
    }

    fn best(room: Size, trim: Size, gutter: Length, bleed: Length) -> i64 {
        let up = |turn| {
            let (across, up) = number_up(room, trim.turned(turn), Gutters::all(gutter), bleed);
            across * up
        };
        up(Turn::None).max(up(Turn::Left))
    }

    #[test]
    fn published_puzzles_of_one_grid() {
        // Published puzzle: 3 x 2 out of 13 x 8 gives 16 in the better single grid.
        assert_eq!(best(inches(13, 8, 1), inches(3, 2, 1), Length::ZERO, Length::ZERO), 16);
        // Published sheet tables: 8.5 x 11 out of 23 x 35 gives 8, 12 x 18 out of 26 x 40 gives 4.
        assert_eq!(best(inches(23, 35, 1), inches(17, 22, 2), Length::ZERO, Length::ZERO), 8);
        assert_eq!(best(inches(26, 40, 1), inches(12, 18, 1), Length::ZERO, Length::ZERO), 4);
    }

    #[test]
    fn bleeds_count_at_the_ends_and_gutters_between() {
        // Two trims of 2 in, one gutter of 1 in, 1/2 in of bleed at either end: 6 in, and not a unit less.
        let (trim, gutter, bleed) = (Length::inches(2, 1), Length::inches(1, 1), Length::inches(1, 2));
        assert_eq!(count(Length::inches(6, 1), trim, gutter, bleed), 2);
        assert_eq!(count(Length::inches(6, 1) - Length::units(1), trim, gutter, bleed), 1);
        assert_eq!(count(Length::ZERO, trim, gutter, bleed), 0);
    }
}
