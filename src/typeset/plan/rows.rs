//! Rows over the height of the grid.

use super::lie::Stretch;
use super::share::{Wish, hold_back, share, unit};
use crate::card::RowRole;
use crate::unit::Length;

/// A row as it is asked for.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct RowAsk {
    pub(crate) role: RowRole,
    pub(crate) label: String,
    /// Its height, where it is stated.
    pub(crate) height: Option<Length>,
    /// What its texts need, with some air.
    pub(crate) least: Length,
    /// Index in the card file's list of rows.
    pub(crate) section: usize,
}

/// The rows' stretches from `from`; stated heights are kept, printed rows get what their type needs and the lines to write on
/// share what is left; where that is not enough, all that are not stated share alike. `Err` with the sum of the stated heights where there
/// is no room for them.
pub(super) fn stretches(rows: &[RowAsk], room: Stretch) -> Result<Vec<Stretch>, Length> {
    let mut wishes: Vec<Wish> = rows.iter().map(wish).collect();
    let stated: Length = rows.iter().filter_map(|r| r.height).sum();
    if stated > room.length() {
        return Err(stated);
    }
    hold_back(&mut wishes, room.length());
    let crowded = wishes.iter().all(|w| w.least == Length::ZERO);
    let written = |row: &RowAsk| row.role.is_written() && row.height.is_none() && !crowded;
    let each = if rows.iter().any(written) { Length::ZERO } else { unit(&wishes, room.length()) };
    let mut at = room.from;
    let step = |height: Length| {
        let from = at;
        at += height;
        Stretch::new(from, at)
    };
    Ok(share(&wishes, room.length(), each).into_iter().map(step).collect())
}

fn wish(row: &RowAsk) -> Wish {
    Wish { stated: row.height, weight: 1.0, least: row.least, takes_more: row.role.is_written() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(role: RowRole, height: Option<Length>) -> RowAsk {
        RowAsk { role, label: String::new(), height, least: Length::pt(12), section: 0 }
    }

    #[test]
    fn players_get_what_is_left() {
        let rows = [
            row(RowRole::Holes, Some(Length::pt(20))),
            row(RowRole::Tee(0), None),
            row(RowRole::Player(0), None),
            row(RowRole::Player(1), None),
        ];
        let laid = stretches(&rows, Stretch::new(Length::pt(5), Length::pt(105))).unwrap();
        let heights: Vec<Length> = laid.iter().map(|s| s.length()).collect();
        assert_eq!(heights, [20, 12, 34, 34].map(Length::pt));
        assert_eq!(laid[3].to, Length::pt(105));
    }

    #[test]
    fn rows_that_do_not_fit_say_what_they_need() {
        let rows = [row(RowRole::Holes, Some(Length::pt(90))), row(RowRole::Tee(0), Some(Length::pt(12)))];
        assert_eq!(stretches(&rows, Stretch::new(Length::ZERO, Length::pt(100))), Err(Length::pt(102)));
    }

    #[test]
    fn rows_without_room_for_their_type_share_what_there_is() {
        let rows =
            [row(RowRole::Holes, Some(Length::pt(90))), row(RowRole::Tee(0), None), row(RowRole::Player(0), None)];
        let laid = stretches(&rows, Stretch::new(Length::ZERO, Length::pt(100))).unwrap();
        assert_eq!(laid.iter().map(|s| s.length()).collect::<Vec<_>>(), [90, 5, 5].map(Length::pt));
    }
}
