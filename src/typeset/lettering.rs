use crate::fault::Result;
use crate::font::{Font, OpenFont, ShapedLine, Shaping, shape, wrap};
use crate::model::{FontName, GridFont};
use crate::unit::Length;

/// A font at a size, set in one way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lettering {
    pub(super) font: &'static Font,
    pub(super) size: Length,
    pub(super) shaping: Shaping,
}

impl Lettering {
    /// For reading.
    pub(super) fn text(font: OpenFont, size: Length) -> Result<Self> {
        Ok(Self { font: font.font()?, size, shaping: Shaping::TEXT })
    }

    /// For numbers in columns.
    pub(super) fn figures(font: OpenFont, size: Length) -> Result<Self> {
        Ok(Self { font: font.font()?, size, shaping: Shaping::FIGURES })
    }

    /// One line of `text`.
    pub(super) fn line(&self, text: &str) -> ShapedLine {
        shape(self.font, text, self.size, self.shaping)
    }

    /// `text` in lines no wider than `width`, as far as its words allow.
    pub(super) fn lines(&self, text: &str, width: Length) -> Vec<ShapedLine> {
        wrap(self.font, text, self.size, self.shaping, width)
    }

    /// How wide `text` is on one line.
    pub(super) fn width(&self, text: &str) -> Length {
        self.line(text).width()
    }

    /// Height of capitals, and of lining figures within a few hundredths.
    pub(super) fn cap(&self) -> Length {
        self.font.cap_height(self.size)
    }

    /// How far letters reach below the baseline.
    pub(super) fn depth(&self) -> Length {
        self.font.descent(self.size)
    }
}

/// The font that a card file names.
pub(super) const fn named(font: FontName) -> OpenFont {
    match font {
        FontName::Narrow => OpenFont::Narrow,
        FontName::NarrowItalic => OpenFont::NarrowItalic,
        FontName::NarrowMedium => OpenFont::NarrowMedium,
        FontName::NarrowSemibold => OpenFont::NarrowSemibold,
        FontName::NarrowBold => OpenFont::NarrowBold,
        FontName::Condensed => OpenFont::Condensed,
        FontName::CondensedBold => OpenFont::CondensedBold,
        FontName::Serif => OpenFont::Serif,
        FontName::SerifSemibold => OpenFont::SerifSemibold,
    }
}

/// How heavy a line of the grid is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Weight {
    Light,
    Medium,
    Strong,
}

/// The face of a grid's family at a weight.
pub(super) const fn of_grid(family: GridFont, weight: Weight) -> OpenFont {
    match (family, weight) {
        (GridFont::Narrow, Weight::Light) => OpenFont::Narrow,
        (GridFont::Narrow, Weight::Medium) => OpenFont::NarrowMedium,
        (GridFont::Narrow, Weight::Strong) => OpenFont::NarrowSemibold,
        (GridFont::Condensed, Weight::Light | Weight::Medium) => OpenFont::Condensed,
        (GridFont::Condensed, Weight::Strong) => OpenFont::CondensedBold,
    }
}
