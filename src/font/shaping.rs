use std::ops::Range;

use rustybuzz::{Direction, Feature, UnicodeBuffer, ttf_parser::Tag};

use super::face::needs_no_glyph;
use super::{Font, OpenFont};
use crate::fault::Result;
use crate::unit::Length;

/// How a piece of text is set.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Shaping {
    /// Pairs are kerned. Off for numbers in columns: Archivo Narrow kerns the pair 11 even among tabular figures.
    pub kern: bool,
    /// Added after every glyph but the last; ligatures are not formed where it is not zero.
    pub tracking: Length,
    /// Lining figures of equal width, where the font has them.
    pub tabular: bool,
}

impl Shaping {
    /// For reading: kerned, proportional.
    pub const TEXT: Self = Self { kern: true, tracking: Length::ZERO, tabular: false };
    /// For numbers in columns: not kerned, tabular.
    pub const FIGURES: Self = Self { kern: false, tracking: Length::ZERO, tabular: true };

    /// The same with `tracking`.
    pub const fn tracked(mut self, tracking: Length) -> Self {
        self.tracking = tracking;
        self
    }
}

impl Default for Shaping {
    fn default() -> Self {
        Self::TEXT
    }
}

/// One glyph of a line; lengths in font units.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Glyph {
    /// Its number in the font.
    pub id: u16,
    /// How far the pen goes on, kerning included.
    pub advance: i32,
    /// Its own width (hmtx).
    pub natural: i32,
    /// Drawn this much to the right of the pen.
    pub dx: i32,
    /// Drawn this much above the baseline.
    pub dy: i32,
    /// The bytes of the line's text that it stands for; glyphs of one cluster share them.
    pub cluster: Range<usize>,
}

/// One line of glyphs, left to right.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ShapedLine {
    /// The font.
    pub font: OpenFont,
    /// The size.
    pub size: Length,
    /// How it was set.
    pub shaping: Shaping,
    /// What it says: the text without controls and soft hyphens, with a hyphen where one was broken at.
    pub text: String,
    /// The glyphs.
    pub glyphs: Vec<Glyph>,
    /// The pen before each glyph and after the last, from zero; never empty.
    pens: Vec<Length>,
    /// Bytes of the text it was asked for.
    pub source: Range<usize>,
}

impl ShapedLine {
    /// From the start of the first glyph to the end of the last, by their advances.
    pub fn width(&self) -> Length {
        self.pens.last().copied().unwrap_or_default()
    }

    /// Where the pen stands before glyph `n`; at the end for any later one.
    pub fn pen(&self, n: usize) -> Length {
        self.pens.get(n).copied().unwrap_or_else(|| self.width())
    }

    /// By how much it is wider than `room`.
    pub fn overrun(&self, room: Length) -> Option<Length> {
        (self.width() > room).then(|| self.width() - room)
    }

    /// What glyph `n` says; empty for the later glyphs of a cluster that do not say it alone.
    pub fn says(&self, n: usize) -> &str {
        let Some(glyph) = self.glyphs.get(n) else { return "" };
        let first = self.glyphs.iter().position(|g| g.cluster == glyph.cluster).unwrap_or(n);
        let count = self.glyphs.iter().filter(|g| g.cluster == glyph.cluster).count();
        let text = self.text.get(glyph.cluster.clone()).unwrap_or("");
        if count > 1 && text.chars().count() == count {
            let start = text.char_indices().nth(n - first);
            return start.map_or("", |(at, c)| text.get(at..at + c.len_utf8()).unwrap_or(""));
        }
        if n == first { text } else { "" }
    }

    /// Whether every character has a glyph.
    pub fn is_complete(&self) -> bool {
        self.glyphs.iter().all(|g| g.id != 0)
    }
}

/// Sets `text` on one line, whatever its width. Line ends in it are left out.
pub fn shape(font: &Font, text: &str, size: Length, shaping: Shaping) -> ShapedLine {
    let source = 0..text.len();
    set(font, shown(text), source, size, shaping)
}

/// Without what is never painted.
pub(super) fn shown(text: &str) -> String {
    text.chars().filter(|c| !needs_no_glyph(*c)).collect()
}

pub(super) fn set(font: &Font, text: String, source: Range<usize>, size: Length, shaping: Shaping) -> ShapedLine {
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(&text);
    buffer.guess_segment_properties();
    buffer.set_direction(Direction::LeftToRight);
    let shaped = rustybuzz::shape(font.face(), &features(shaping), buffer);

    let starts: Vec<usize> = shaped.glyph_infos().iter().map(|i| i.cluster as usize).collect();
    let ends = |start: usize| starts.iter().copied().filter(|s| *s > start).min().unwrap_or(text.len());
    let infos = shaped.glyph_infos().iter().zip(shaped.glyph_positions());
    let glyphs: Vec<Glyph> = infos
        .map(|(info, at)| {
            let (id, start) = (u16::try_from(info.glyph_id).unwrap_or(0), info.cluster as usize);
            let natural = font.natural(id);
            Glyph { id, advance: at.x_advance, natural, dx: at.x_offset, dy: at.y_offset, cluster: start..ends(start) }
        })
        .collect();

    let mut pens = vec![Length::ZERO];
    let (mut units, mut tracked) = (0_i64, Length::ZERO);
    for (n, glyph) in glyphs.iter().enumerate() {
        units += i64::from(glyph.advance);
        if n + 1 < glyphs.len() {
            tracked += shaping.tracking;
        }
        pens.push(font.at(units, size) + tracked);
    }
    ShapedLine { font: font.which(), size, shaping, text, glyphs, pens, source }
}

fn features(shaping: Shaping) -> Vec<Feature> {
    let feature = |tag: &[u8; 4], on: bool| Feature::new(Tag::from_bytes(tag), u32::from(on), ..);
    let mut list = vec![feature(b"kern", shaping.kern)];
    if shaping.tabular {
        list.extend([feature(b"tnum", true), feature(b"lnum", true)]);
    }
    if shaping.tracking != Length::ZERO {
        list.extend([feature(b"liga", false), feature(b"clig", false)]);
    }
    list
}

impl OpenFont {
    /// Sets `text` in this font on one line; see [`shape`].
    pub fn shape(self, text: &str, size: Length, shaping: Shaping) -> Result<ShapedLine> {
        Ok(shape(self.font()?, text, size, shaping))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tracking_stands_between_glyphs_and_not_after_them() {
        let (font, size) = (OpenFont::Narrow.font().unwrap(), Length::pt(10));
        let plain = shape(font, "OUT", size, Shaping { kern: false, ..Shaping::TEXT });
        let tracked = shape(font, "OUT", size, Shaping { kern: false, ..Shaping::TEXT }.tracked(Length::pt(1)));
        assert_eq!(tracked.width(), plain.width() + Length::pt(2));
        assert_eq!(tracked.pen(1), plain.pen(1) + Length::pt(1));
    }

    #[test]
    fn a_ligature_says_all_its_letters() {
        let font = OpenFont::Serif.font().unwrap();
        let line = shape(font, "official", Length::pt(10), Shaping::TEXT);
        let said: String = (0..line.glyphs.len()).map(|n| line.says(n)).collect();
        assert_eq!(said, "official");
        assert!(line.glyphs.len() < 8, "Source Serif has the ligatures f f i or f i");
    }

    #[test]
    fn line_ends_leave_no_glyph() {
        let line = OpenFont::Serif.shape("a\nb\u{ad}", Length::pt(10), Shaping::TEXT).unwrap();
        assert_eq!((line.text.as_str(), line.glyphs.len()), ("ab", 2));
        assert!(line.is_complete());
    }
}
