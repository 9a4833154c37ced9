use std::fmt;

use crate::fault::{Fault, Result, Source};
use crate::unit::Length;

/// How high a lift is where nothing else is said: 3 in (common practice; the clamp of the machine may open further, and a lower lift
/// cuts truer).
pub const LIFT_HEIGHT: Length = Length::inches(3, 1);

/// How a run is parted into lifts, each of them cut by the whole plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Lifts {
    /// Lifts in all.
    pub count: u64,
    /// Sheets in a full lift.
    pub each: u64,
    /// Sheets in the last one; as many as in a full one where they come out even, nothing where there is no lift.
    pub last: u64,
}

impl fmt::Display for Lifts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self { count: 0, .. } => f.write_str("no lift"),
            Self { count: 1, last, .. } => write!(f, "1 lift of {last} sheets"),
            Self { count, each, last } if each == last => write!(f, "{count} lifts of {each} sheets"),
            Self { count, each, last } => write!(f, "{count} lifts of {each} sheets, the last of {last}"),
        }
    }
}

/// The lifts of a run: as few as the height allows, `height` being what clamp and operator take at once.
///
/// # Errors
/// A thickness that is none, or a stock thicker than a lift.
pub fn lifts(sheets: u64, caliper: Length, height: Length) -> Result<Lifts> {
    if caliper <= Length::ZERO {
        let fault = Fault::new(Source::Nowhere, format!("a stock of {caliper} has no thickness"));
        return Err(fault.hint("measure one sheet, or ten together and divide by ten").into());
    }
    let each = height.times(caliper).unsigned_abs();
    if height <= Length::ZERO || each == 0 {
        let fault = Fault::new(Source::Nowhere, format!("no sheet of {caliper} goes into a lift of {height}"));
        return Err(fault.hint("check both; a lift is some inches high, a sheet some thousandths of one thick").into());
    }
    let count = sheets.div_ceil(each);
    Ok(Lifts { count, each, last: sheets - each * count.saturating_sub(1) })
}
