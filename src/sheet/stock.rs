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

/// Basis weight in pounds a ream of 500 sheets of the basic size, as grams a square metre.
///
/// g/m² = lb × 1406.139 / basic area in square inches: 453.592 37 g a pound, 500 sheets, 0.000 645 16 m² a square inch.
/// Basic sizes conflict between mills, so state g/m² where it is known.
pub fn gsm_from_pounds(pounds: f64, basic: Size) -> f64 {
    pounds * 453.592_37 / 500.0 / 0.000_645_16 / basic.at_origin().area_sq_in()
}

/// Grams a square metre as pounds a ream of 500 sheets of the basic size.
pub fn pounds_from_gsm(gsm: f64, basic: Size) -> f64 {
    gsm * basic.at_origin().area_sq_in() * 500.0 * 0.000_645_16 / 453.592_37
}

/// Pounds that a thousand sheets weigh (M weight): 2 × pounds × sheet area / basic area.
pub fn m_weight(pounds: f64, sheet: Size, basic: Size) -> f64 {
    2.0 * pounds * sheet.at_origin().area_sq_in() / basic.at_origin().area_sq_in()
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOK: Size = Size::new(Length::inches(25, 1), Length::inches(38, 1));
    const COVER: Size = Size::new(Length::inches(20, 1), Length::inches(26, 1));

    #[test]
    fn published_paper_weights() {
        // Published: 1406.139 is the factor; a thousand sheets 11 x 17 of 70 lb book weigh 27.56 lb; 45 lb book is 67 g/m²;
        // 100 lb cover is 270.48 g/m² (that table rounds its factor, hence the tolerance).
        assert!((gsm_from_pounds(1.0, Size::new(Length::inches(1, 1), Length::inches(1, 1))) - 1406.139).abs() < 0.001);
        let sheet = Size::new(Length::inches(11, 1), Length::inches(17, 1));
        assert!((m_weight(70.0, sheet, BOOK) - 27.56).abs() < 0.005);
        assert!((gsm_from_pounds(45.0, BOOK) - 67.0).abs() < 0.5);
        assert!((pounds_from_gsm(67.0, BOOK) - 45.0).abs() < 0.5);
        assert!((gsm_from_pounds(100.0, COVER) - 270.48).abs() < 0.1);
    }

    #[test]
    fn scores_and_grain() {
        let stock = Stock { gsm: Some(216.0), grain: Some(Grain::Long), ..Stock::default() };
        assert_eq!(stock.wants_score(), Some(true));
        assert_eq!(Stock::default().wants_score(), None);
        assert_eq!(stock.grain_along_y(BOOK), Some(true));
        assert_eq!(stock.grain_along_y(BOOK.turned(crate::unit::Turn::Left)), Some(false));
    }
}
