/// The Slope Rating of a course of standard difficulty (Rules of Handicapping, definitions).
pub const STANDARD_SLOPE: i64 = 113;

/// A number of one decimal in whole tenths; `None` where it has more decimals or no sensible size. Course Ratings
/// and Handicap Indexes have one decimal.
pub fn tenths(value: f64) -> Option<i64> {
    let scaled = value * 10.0;
    let near = (scaled - scaled.round()).abs() < 1e-6 && scaled.abs() < 1e6;
    #[expect(clippy::cast_possible_truncation, reason = "whole and below a million by the line above")]
    near.then_some(scaled.round() as i64)
}

/// Half a Handicap Index for nine holes, rounded to the nearest tenth, halves up; both in tenths (Rules of
/// Handicapping, Rule 6.1b).
pub const fn nine_hole_index(index: i64) -> i64 {
    (index + 1).div_euclid(2)
}

/// Index × slope / 113 + (rating − par), with index and rating in tenths (Rules of Handicapping, Rule 6.1).
pub fn course_handicap_exact(index: i64, slope: i64, rating: i64, par: i64) -> f64 {
    over_1130(index, slope, rating, par) as f64 / 1130.0
}

/// [`course_handicap_exact`] rounded to the nearest whole number, halves up.
pub const fn course_handicap(index: i64, slope: i64, rating: i64, par: i64) -> i64 {
    (over_1130(index, slope, rating, par) * 2 + 1130).div_euclid(2260)
}

const fn over_1130(index: i64, slope: i64, rating: i64, par: i64) -> i64 {
    index * slope + (rating - par * 10) * STANDARD_SLOPE
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_go_up() {
        // Rule 6.1: rounded to the nearest whole number, .5 upwards; so −0.5 is 0.
        assert_eq!(course_handicap(0, 113, 715, 72), 0);
        assert_eq!(course_handicap(0, 113, 725, 72), 1);
        assert_eq!(nine_hole_index(-15), -7);
    }

    #[test]
    fn tenths_refuse_a_second_decimal() {
        assert_eq!(tenths(73.1), Some(731));
        assert_eq!(tenths(73.15), None);
        assert_eq!(tenths(f64::NAN), None);
    }
}
