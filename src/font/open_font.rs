use std::sync::OnceLock;

use super::Font;
use crate::fault::{Fault, Result, Source};

/// The fonts that come with fairfold, by the names that card files use.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum OpenFont {
    /// Archivo Narrow, regular.
    Narrow,
    /// Archivo Narrow, italic.
    NarrowItalic,
    /// Archivo Narrow, medium.
    NarrowMedium,
    /// Archivo Narrow, semi-bold.
    NarrowSemibold,
    /// Archivo Narrow, bold.
    NarrowBold,
    /// IBM Plex Sans Condensed, regular.
    Condensed,
    /// IBM Plex Sans Condensed, bold.
    CondensedBold,
    /// Source Serif 4 Display, regular.
    Serif,
    /// Source Serif 4 Display, semi-bold.
    SerifSemibold,
}

impl OpenFont {
    /// All nine.
    pub const ALL: [Self; 9] = [
        Self::Narrow,
        Self::NarrowItalic,
        Self::NarrowMedium,
        Self::NarrowSemibold,
        Self::NarrowBold,
        Self::Condensed,
        Self::CondensedBold,
        Self::Serif,
        Self::SerifSemibold,
    ];

    /// The name that card files use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Narrow => "narrow",
            Self::NarrowItalic => "narrow-italic",
            Self::NarrowMedium => "narrow-medium",
            Self::NarrowSemibold => "narrow-semibold",
            Self::NarrowBold => "narrow-bold",
            Self::Condensed => "condensed",
            Self::CondensedBold => "condensed-bold",
            Self::Serif => "serif",
            Self::SerifSemibold => "serif-semibold",
        }
    }

    /// The bold of the same family, for what must stand out; bold faces give themselves.
    pub const fn bold(self) -> Self {
        match self {
            Self::Narrow | Self::NarrowItalic | Self::NarrowMedium | Self::NarrowSemibold | Self::NarrowBold => {
                Self::NarrowBold
            }
            Self::Condensed | Self::CondensedBold => Self::CondensedBold,
            Self::Serif | Self::SerifSemibold => Self::SerifSemibold,
        }
    }

    /// The font program, a TrueType file.
    pub const fn program(self) -> &'static [u8] {
        match self {
            Self::Narrow => include_bytes!("../../fonts-open/archivo-narrow/ArchivoNarrow_400Regular.ttf"),
            Self::NarrowItalic => include_bytes!("../../fonts-open/archivo-narrow/ArchivoNarrow_400Regular_Italic.ttf"),
            Self::NarrowMedium => include_bytes!("../../fonts-open/archivo-narrow/ArchivoNarrow_500Medium.ttf"),
            Self::NarrowSemibold => include_bytes!("../../fonts-open/archivo-narrow/ArchivoNarrow_600SemiBold.ttf"),
            Self::NarrowBold => include_bytes!("../../fonts-open/archivo-narrow/ArchivoNarrow_700Bold.ttf"),
            Self::Condensed => {
                include_bytes!("../../fonts-open/plex-sans-condensed/IBMPlexSansCondensed_400Regular.ttf")
            }
            Self::CondensedBold => {
                include_bytes!("../../fonts-open/plex-sans-condensed/IBMPlexSansCondensed_700Bold.ttf")
            }
            Self::Serif => include_bytes!("../../fonts-open/source-serif-display/SourceSerif4Display-Regular.ttf"),
            Self::SerifSemibold => {
                include_bytes!("../../fonts-open/source-serif-display/SourceSerif4Display-Semibold.ttf")
            }
        }
    }

    /// The font, parsed once and kept.
    pub fn font(self) -> Result<&'static Font> {
        static FONTS: [OnceLock<Option<Font>>; 9] = [const { OnceLock::new() }; 9];
        let kept = FONTS.get(self as usize).and_then(|slot| slot.get_or_init(|| Font::parse(self)).as_ref());
        kept.ok_or_else(|| {
            Fault::new(Source::Nowhere, format!("the built-in font {} cannot be read", self.word()))
                .hint("this copy of fairfold is damaged: build it again from its sources")
                .into()
        })
    }
}
