use crate::unit::{Length, Size};

/// Which side of the sheet the grain runs along.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Grain {
    /// Along the long side (grain long).
    Long,
    /// Along the short side (grain short).
    Short,
}

/// The stock: what is known of it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Stock {
    /// Its name for people.
    pub name: Option<String>,
    /// Its grain, where it is known.
    pub grain: Option<Grain>,
    /// Grams a square metre.
    pub gsm: Option<f64>,
    /// Thickness.
    pub caliper: Option<Length>,
    /// Whether it is coated; coated stock takes no pencil.
    pub coated: Option<bool>,
}

/// Heavier than this wants a score before the fold, grams a square metre (published/common practice).
pub const SCORE_ABOVE_GSM: f64 = 150.0;
/// Thicker than this wants a score before the fold: 0.005 in (published/common practice).
pub const SCORE_ABOVE_CALIPER: Length = Length::inches(5, 1000);

impl Stock {
    /// Whether it wants a score before it is folded; `None` where neither weight nor thickness is known.
    pub fn wants_score(&self) -> Option<bool> {
        let heavy = self.gsm.map(|g| g > SCORE_ABOVE_GSM);
        let thick = self.caliper.map(|c| c > SCORE_ABOVE_CALIPER);
        match (heavy, thick) {
            (None, None) => None,
            (a, b) => Some(a.unwrap_or(false) || b.unwrap_or(false)),
        }
    }

    /// Whether folds along y run with the grain on a sheet of this size as it lies; `None` where the grain is not known.
    pub fn grain_along_y(&self, sheet: Size) -> Option<bool> {
        let long_along_y = sheet.height >= sheet.width;
        self.grain.map(|grain| (grain == Grain::Long) == long_along_y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scores_and_grain() {
        let parent = Size::new(Length::inches(25, 1), Length::inches(38, 1));
        let stock = Stock { gsm: Some(216.0), grain: Some(Grain::Long), ..Stock::default() };
        assert_eq!(stock.wants_score(), Some(true));
        assert_eq!(Stock::default().wants_score(), None);
        assert_eq!(stock.grain_along_y(parent), Some(true));
        assert_eq!(stock.grain_along_y(parent.turned(crate::unit::Turn::Left)), Some(false));
    }
}
