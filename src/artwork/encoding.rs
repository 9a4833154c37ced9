use std::collections::BTreeMap;
use std::sync::LazyLock;

/// One row of the table of Latin glyphs.
struct Row {
    meaning: String,
    widths: [Option<u16>; 6],
}

/// Everything that the two data files tell.
struct Tables {
    glyphs: BTreeMap<&'static str, Row>,
    /// Standard, MacRoman, WinAnsi, MacExpert, Symbol, ZapfDingbats.
    encodings: [BTreeMap<u8, &'static str>; 6],
    symbols: [BTreeMap<&'static str, (String, Option<u16>)>; 2],
}

static TABLES: LazyLock<Tables> = LazyLock::new(|| {
    let mut tables = Tables { glyphs: BTreeMap::new(), encodings: Default::default(), symbols: Default::default() };
    for line in include_str!("latin.txt").lines().filter(|l| !l.starts_with('#')) {
        let mut fields = line.split(' ');
        let Some(name) = fields.next() else { continue };
        let meaning = characters(fields.next().unwrap_or("-"));
        for encoding in tables.encodings.iter_mut().take(4) {
            for code in codes(fields.next().unwrap_or("-")) {
                encoding.insert(code, name);
            }
        }
        let mut widths = [None; 6];
        for (width, field) in widths.iter_mut().zip(fields) {
            *width = field.parse().ok();
        }
        tables.glyphs.insert(name, Row { meaning, widths });
    }
    for line in include_str!("symbols.txt").lines().filter(|l| !l.starts_with('#')) {
        let fields: Vec<&str> = line.split(' ').collect();
        let [font, name, meaning, code, width] = *fields.as_slice() else { continue };
        let at = usize::from(font != "symbol");
        for (encoding, code) in tables.encodings.iter_mut().skip(4 + at).zip(codes(code)) {
            encoding.insert(code, name);
        }
        if let Some(symbols) = tables.symbols.get_mut(at) {
            symbols.insert(name, (characters(meaning), width.parse().ok()));
        }
    }
    if let Some(win) = tables.encodings.get_mut(2) {
        // ISO 32000-1, annex D.2, notes 3 and 5: codes above 40 octal that are not used are bullets, 240 is a space, 255 a hyphen.
        win.insert(0xA0, "space");
        win.insert(0xAD, "hyphen");
        for code in 0x21..=0xFF_u8 {
            win.entry(code).or_insert("bullet");
        }
    }
    tables
});

fn characters(field: &str) -> String {
    field.split('+').filter_map(|hex| u32::from_str_radix(hex, 16).ok()).filter_map(char::from_u32).collect()
}

fn codes(field: &str) -> Vec<u8> {
    field.split(',').filter_map(|c| c.parse().ok()).collect()
}

/// The encodings that a PDF may name, and the two that symbol fonts have built in.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Base {
    Standard,
    MacRoman,
    WinAnsi,
    MacExpert,
    Symbol,
    Dingbats,
}

impl Base {
    /// By the name in a font dictionary.
    pub(super) fn named(name: &[u8]) -> Option<Self> {
        Some(match name {
            b"StandardEncoding" => Self::Standard,
            b"MacRomanEncoding" => Self::MacRoman,
            b"WinAnsiEncoding" => Self::WinAnsi,
            b"MacExpertEncoding" => Self::MacExpert,
            _ => return None,
        })
    }

    /// The glyph name at a code.
    pub(super) fn glyph(self, code: u8) -> Option<&'static str> {
        TABLES.encodings.get(self as usize).and_then(|e| e.get(&code)).copied()
    }

    /// The code of a glyph name.
    pub(super) fn code(self, name: &str) -> Option<u8> {
        TABLES.encodings.get(self as usize)?.iter().find(|(_, n)| **n == name).map(|(code, _)| *code)
    }
}

/// What a glyph name says, by the Adobe Glyph List and its rules for `uni…`, `u…`, suffixes and joined names.
pub(super) fn meaning(name: &str) -> Option<String> {
    let stem = name.split('.').next().filter(|s| !s.is_empty())?;
    let mut said = String::new();
    for part in stem.split('_') {
        said.push_str(&one_meaning(part)?);
    }
    Some(said)
}

fn one_meaning(name: &str) -> Option<String> {
    if let Some(row) = TABLES.glyphs.get(name).filter(|r| !r.meaning.is_empty()) {
        return Some(row.meaning.clone());
    }
    if let Some(hex) = name.strip_prefix("uni").filter(|h| h.len() >= 4 && h.len() % 4 == 0) {
        let units: Option<Vec<u16>> = hex
            .as_bytes()
            .chunks(4)
            .map(|c| std::str::from_utf8(c).ok().and_then(|t| u16::from_str_radix(t, 16).ok()))
            .collect();
        return String::from_utf16(&units?).ok();
    }
    if let Some(hex) = name.strip_prefix('u').filter(|h| (4..=6).contains(&h.len())) {
        let code = u32::from_str_radix(hex, 16).ok()?;
        return char::from_u32(code).map(String::from);
    }
    TABLES.symbols.iter().find_map(|s| s.get(name)).map(|(m, _)| m.clone()).filter(|m| !m.is_empty())
}

/// The standard 14 fonts (ISO 32000-1, 9.6.2.2) by what sets their metrics.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum StandardFont {
    Courier,
    CourierBold,
    Helvetica,
    HelveticaBold,
    Times,
    TimesBold,
    TimesItalic,
    TimesBoldItalic,
    Symbol,
    Dingbats,
}

impl StandardFont {
    /// By a font's name, the usual other names of these faces included.
    pub(super) fn named(name: &str) -> Option<Self> {
        let lower = name.to_ascii_lowercase().replace([' ', ','], "-");
        let family = lower.split('-').next()?;
        let bold = lower.contains("bold");
        let italic = lower.contains("italic") || lower.contains("oblique");
        Some(match family {
            "courier" | "couriernew" | "couriernewps" | "couriernewpsmt" if bold => Self::CourierBold,
            "courier" | "couriernew" | "couriernewps" | "couriernewpsmt" => Self::Courier,
            "helvetica" | "arial" | "arialmt" if bold => Self::HelveticaBold,
            "helvetica" | "arial" | "arialmt" => Self::Helvetica,
            "times" | "timesnewroman" | "timesnewromanps" | "timesnewromanpsmt" => match (bold, italic) {
                (false, false) => Self::Times,
                (true, false) => Self::TimesBold,
                (false, true) => Self::TimesItalic,
                (true, true) => Self::TimesBoldItalic,
            },
            "symbol" => Self::Symbol,
            "zapfdingbats" => Self::Dingbats,
            _ => return None,
        })
    }

    /// The width of a glyph in 1/1000 em.
    pub(super) fn width(self, glyph: &str) -> Option<f64> {
        let column = match self {
            Self::Courier | Self::CourierBold => return Some(600.0),
            Self::Helvetica => 0,
            Self::HelveticaBold => 1,
            Self::Times => 2,
            Self::TimesBold => 3,
            Self::TimesItalic => 4,
            Self::TimesBoldItalic => 5,
            Self::Symbol | Self::Dingbats => {
                let symbols = TABLES.symbols.get(usize::from(self == Self::Dingbats))?;
                return symbols.get(glyph).and_then(|(_, w)| *w).map(f64::from);
            }
        };
        TABLES.glyphs.get(glyph).and_then(|row| row.widths.get(column).copied().flatten()).map(f64::from)
    }

    /// Its own encoding.
    pub(super) fn encoding(self) -> Base {
        match self {
            Self::Symbol => Base::Symbol,
            Self::Dingbats => Base::Dingbats,
            _ => Base::Standard,
        }
    }

    /// x-height, capital height, ascender and descender in 1/1000 em (Adobe Core 14 font metrics); the symbol fonts have
    /// no letters, and their box stands for the last two.
    pub(super) fn heights(self) -> (Option<f64>, Option<f64>, f64, f64) {
        match self {
            Self::Courier | Self::CourierBold => (Some(434.0), Some(572.0), 627.0, -194.0),
            Self::Helvetica => (Some(523.0), Some(718.0), 718.0, -207.0),
            Self::HelveticaBold => (Some(532.0), Some(718.0), 718.0, -207.0),
            Self::Times => (Some(450.0), Some(662.0), 683.0, -217.0),
            Self::TimesBold => (Some(461.0), Some(676.0), 683.0, -217.0),
            Self::TimesItalic => (Some(441.0), Some(653.0), 683.0, -217.0),
            Self::TimesBoldItalic => (Some(462.0), Some(669.0), 683.0, -217.0),
            Self::Symbol => (None, None, 1010.0, -293.0),
            Self::Dingbats => (None, None, 820.0, -143.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn encodings_agree_with_annex_d() {
        // ISO 32000-1, annex D.2: A is 101 octal everywhere; Adieresis is 200 in MacRoman and 304 in WinAnsi.
        for base in [Base::Standard, Base::MacRoman, Base::WinAnsi] {
            assert_eq!(base.glyph(0o101), Some("A"));
        }
        assert_eq!(Base::MacRoman.glyph(0o200), Some("Adieresis"));
        assert_eq!(Base::WinAnsi.glyph(0o304), Some("Adieresis"));
        assert_eq!(Base::Standard.glyph(0o304), Some("tilde"));
        assert_eq!(Base::WinAnsi.glyph(0o225), Some("bullet"));
        assert_eq!(Base::Symbol.glyph(0o141), Some("alpha"));
        assert_eq!(Base::Dingbats.glyph(0o41), Some("a1"));
    }

    #[test]
    fn names_mean_what_the_glyph_list_says() {
        assert_eq!(meaning("Adieresis").as_deref(), Some("Ä"));
        assert_eq!(meaning("f_f_i.alt").as_deref(), Some("ffi"));
        assert_eq!(meaning("uni20AC0308").as_deref(), Some("\u{20AC}\u{308}"));
        assert_eq!(meaning("u1040C").as_deref(), Some("\u{1040C}"));
        assert_eq!(meaning("g123"), None);
    }

    #[test]
    fn standard_fonts_have_their_published_widths() {
        // Adobe Core 14 font metrics: WX of A, space, and Symbol's alpha.
        assert_eq!(StandardFont::named("Helvetica").unwrap().width("A"), Some(667.0));
        assert_eq!(StandardFont::named("TimesNewRomanPS-BoldMT").unwrap().width("A"), Some(722.0));
        assert_eq!(StandardFont::named("Arial,Bold").unwrap().width("space"), Some(278.0));
        assert_eq!(StandardFont::Symbol.width("alpha"), Some(631.0));
        assert_eq!(StandardFont::named("Otterby Grotesque"), None);
    }
}
