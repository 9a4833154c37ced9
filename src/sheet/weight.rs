use std::fmt;

use crate::unit::{Length, Size};

/// Grams in an avoirdupois pound: exact (international yard and pound agreement of 1959).
const GRAMS_A_POUND: f64 = 453.592_37;
/// Square metres in a square inch, exact.
const SQ_M_A_SQ_IN: f64 = 0.000_645_16;
/// Sheets in a ream.
const REAM: f64 = 500.0;

/// What paper weighs: a card, a sheet, a load on a pallet.
#[derive(Clone, Copy, PartialEq, PartialOrd, Default, Debug)]
pub struct Weight(f64);

impl Weight {
    /// One piece of a stock of so many grams a square metre.
    pub fn of(gsm: f64, size: Size) -> Self {
        Self(gsm * size.at_origin().area_sq_in() * SQ_M_A_SQ_IN)
    }

    /// So many pieces of this weight.
    pub fn times(self, pieces: u64) -> Self {
        Self(self.0 * pieces as f64)
    }

    /// In grams.
    pub const fn grams(self) -> f64 {
        self.0
    }

    /// In kilograms.
    pub fn kilograms(self) -> f64 {
        self.0 / 1000.0
    }

    /// In avoirdupois pounds.
    pub fn pounds(self) -> f64 {
        self.0 / GRAMS_A_POUND
    }

    /// In ounces, 16 to the pound.
    pub fn ounces(self) -> f64 {
        self.pounds() * 16.0
    }
}

/// Both units, for people: `12.5 g (0.44 oz)`, from a kilogram on `182.4 kg (402.1 lb)`.
impl fmt::Display for Weight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 1000.0 {
            write!(f, "{:.1} g ({:.2} oz)", self.0, self.ounces())
        } else {
            write!(f, "{:.1} kg ({:.1} lb)", self.kilograms(), self.pounds())
        }
    }
}

/// Basic size of book and offset papers: 25 x 38 in (published).
pub const BOOK_BASIC: Size = Size::new(Length::inches(25, 1), Length::inches(38, 1));
/// Basic size of cover papers: 20 x 26 in (published).
pub const COVER_BASIC: Size = Size::new(Length::inches(20, 1), Length::inches(26, 1));

/// Basis weight in pounds a ream of 500 sheets of the basic size, as grams a square metre.
///
/// g/m² = lb × 1406.139 / basic area in square inches: 453.592 37 g a pound, 500 sheets, 0.000 645 16 m² a square inch.
/// Basic sizes conflict between mills, so state g/m² where it is known.
pub fn gsm_from_pounds(pounds: f64, basic: Size) -> f64 {
    pounds * GRAMS_A_POUND / REAM / SQ_M_A_SQ_IN / basic.at_origin().area_sq_in()
}

/// Grams a square metre as pounds a ream of 500 sheets of the basic size.
pub fn pounds_from_gsm(gsm: f64, basic: Size) -> f64 {
    gsm * basic.at_origin().area_sq_in() * REAM * SQ_M_A_SQ_IN / GRAMS_A_POUND
}

/// Pounds that a thousand sheets weigh (M weight): 2 × pounds × sheet area / basic area.
pub fn m_weight(pounds: f64, sheet: Size, basic: Size) -> f64 {
    2.0 * pounds * sheet.at_origin().area_sq_in() / basic.at_origin().area_sq_in()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_paper_weights() {
        // Published: 1406.139 is the factor; a thousand sheets 11 x 17 of 70 lb book weigh 27.56 lb; 45 lb book is 67 g/m²;
        // 100 lb cover is 270.48 g/m² (that table rounds its factor, hence the tolerance).
        assert!((gsm_from_pounds(1.0, Size::new(Length::inches(1, 1), Length::inches(1, 1))) - 1406.139).abs() < 0.001);
        let sheet = Size::new(Length::inches(11, 1), Length::inches(17, 1));
        assert!((m_weight(70.0, sheet, BOOK_BASIC) - 27.56).abs() < 0.005);
        assert!((gsm_from_pounds(45.0, BOOK_BASIC) - 67.0).abs() < 0.5);
        assert!((pounds_from_gsm(67.0, BOOK_BASIC) - 45.0).abs() < 0.5);
        assert!((gsm_from_pounds(100.0, COVER_BASIC) - 270.48).abs() < 0.1);
    }

    #[test]
    fn loads_agree_with_the_published_m_weight() {
        // The same 27.56 lb, weighed sheet by sheet: 70 lb book in g/m² times the area, a thousand times.
        let sheet = Size::new(Length::inches(11, 1), Length::inches(17, 1));
        let load = Weight::of(gsm_from_pounds(70.0, BOOK_BASIC), sheet).times(1000);
        assert!((load.pounds() - 27.56).abs() < 0.005, "{load}");
        // By definition: a sheet of one square metre (A0 is one within its rounding, ISO 216) of 80 g/m² weighs 80 g.
        let a0 = Weight::of(80.0, Size::new(Length::mm(841), Length::mm(1189)));
        assert!((a0.grams() - 80.0).abs() < 0.01, "{a0}");
        assert_eq!(a0.to_string(), "80.0 g (2.82 oz)");
        assert!((a0.times(500).kilograms() - 40.0).abs() < 0.01);
    }
}
