use rustybuzz::ttf_parser;

use super::{OpenFont, Rights};
use crate::unit::Length;

/// One of the open fonts, parsed and ready to set type.
pub struct Font {
    which: OpenFont,
    face: rustybuzz::Face<'static>,
    name: String,
    per_em: u16,
}

impl Font {
    /// Reads the program; `None` where it is not a usable TrueType font.
    pub(super) fn parse(which: OpenFont) -> Option<Self> {
        let face = ttf_parser::Face::parse(which.program(), 0).ok()?;
        let name = face
            .names()
            .into_iter()
            .filter(|n| n.name_id == ttf_parser::name_id::POST_SCRIPT_NAME && n.is_unicode())
            .find_map(|n| n.to_string())?;
        let per_em = face.units_per_em();
        Some(Self { which, face: rustybuzz::Face::from_face(face), name, per_em })
    }

    pub(super) fn face(&self) -> &rustybuzz::Face<'static> {
        &self.face
    }

    /// Which of the open fonts it is.
    pub const fn which(&self) -> OpenFont {
        self.which
    }

    /// Its PostScript name, such as `ArchivoNarrow-Bold`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Font units in an em.
    pub const fn per_em(&self) -> u16 {
        self.per_em
    }

    /// What the font says about being embedded.
    pub fn rights(&self) -> Rights {
        Rights::of_face(&self.face)
    }

    /// `units` of the font at `size`, by the one rounding of this folder.
    pub fn at(&self, units: i64, size: Length) -> Length {
        let (product, per_em) = (i128::from(units) * i128::from(size.get()), i128::from(self.per_em.max(1)));
        let rounded = (product.abs() * 2 + per_em) / (per_em * 2) * product.signum();
        Length::units(i64::try_from(rounded).unwrap_or(if rounded < 0 { i64::MIN } else { i64::MAX }))
    }

    /// Height of a lower-case x (OS/2 `sxHeight`).
    pub fn x_height(&self, size: Length) -> Length {
        self.at(i64::from(self.face.x_height().unwrap_or_default()), size)
    }

    /// Height of a capital H (OS/2 `sCapHeight`).
    pub fn cap_height(&self, size: Length) -> Length {
        self.at(self.cap_units(), size)
    }

    /// Above the baseline, for stacking lines: the typographic ascender where the font asks for it, else hhea's.
    pub fn ascent(&self, size: Length) -> Length {
        self.at(i64::from(self.face.ascender()), size)
    }

    /// Below the baseline, as a positive length.
    pub fn descent(&self, size: Length) -> Length {
        self.at(-i64::from(self.face.descender()), size)
    }

    /// Weight from 100 to 900; 400 is regular, 700 is bold (OS/2 `usWeightClass`).
    pub fn weight(&self) -> u16 {
        self.face.weight().to_number()
    }

    /// The characters of `text` that the font cannot show, each once, in order of appearance.
    /// Line ends, soft hyphens and zero-width marks need no glyph.
    pub fn missing(&self, text: &str) -> Vec<char> {
        let mut missing = Vec::new();
        for c in text.chars().filter(|c| !needs_no_glyph(*c)) {
            if self.face.glyph_index(c).is_none() && !missing.contains(&c) {
                missing.push(c);
            }
        }
        missing
    }

    pub(super) fn natural(&self, glyph: u16) -> i32 {
        self.face.glyph_hor_advance(ttf_parser::GlyphId(glyph)).map_or(0, i32::from)
    }

    /// Height of a capital H in font units.
    pub fn cap_units(&self) -> i64 {
        i64::from(self.face.capital_height().unwrap_or_default())
    }

    /// Ascender and descender in font units; the second is below zero.
    pub fn reach_units(&self) -> (i64, i64) {
        (i64::from(self.face.ascender()), i64::from(self.face.descender()))
    }

    /// The box that holds every glyph, in font units: left, bottom, right, top (head table).
    pub fn box_units(&self) -> [i64; 4] {
        let b = self.face.global_bounding_box();
        [b.x_min, b.y_min, b.x_max, b.y_max].map(i64::from)
    }

    /// Slant in degrees counter-clockwise from the vertical; below zero for italics that lean right (post table).
    pub fn slant(&self) -> f32 {
        self.face.italic_angle()
    }
}

impl std::fmt::Debug for Font {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_tuple("Font").field(&self.which).finish()
    }
}

/// Characters that steer lines and words and are never painted: controls, soft hyphen, zero-width space and joiners, word joiner, byte-order mark.
pub(super) const fn needs_no_glyph(c: char) -> bool {
    matches!(c, '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}' | '\u{2029}' | '\u{2060}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_open_font_reads_and_names_itself() {
        for which in OpenFont::ALL {
            let font = which.font().unwrap();
            assert_eq!(font.which(), which);
            assert!(font.name().is_ascii() && !font.name().contains(' '), "{}", font.name());
            assert_eq!(font.rights(), Rights::Installable);
        }
    }

    #[test]
    fn rounding_goes_to_the_nearest_unit_and_halves_away_from_zero() {
        let font = OpenFont::Narrow.font().unwrap();
        assert_eq!(font.at(1, Length::units(1500)), Length::units(2));
        assert_eq!(font.at(1, Length::units(1499)), Length::units(1));
        assert_eq!(font.at(-1, Length::units(1500)), Length::units(-2));
    }

    #[test]
    fn characters_without_a_glyph_are_told_once() {
        let font = OpenFont::Narrow.font().unwrap();
        assert_eq!(font.missing("Par 4\u{ad}\n"), Vec::<char>::new());
        assert_eq!(font.missing("山4山"), vec!['山']);
    }
}
