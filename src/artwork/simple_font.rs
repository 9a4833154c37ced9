use std::collections::BTreeMap;

use lopdf::{Dictionary, Object};

use super::encoding::{Base, StandardFont};
use super::font::{Character, FontKind, differences, name_meaning};
use super::font_program::{CharacterMap, FontProgram};
use super::objects::{Objects, matrix};
use super::to_unicode::ToUnicode;

/// The codes of a simple font: one byte each.
#[derive(Debug)]
pub(super) struct Simple {
    entries: BTreeMap<u8, Entry>,
}

#[derive(Clone, Debug, Default)]
struct Entry {
    name: Option<String>,
    glyph: Option<u32>,
    width: f64,
    unicode: String,
}

/// How the codes of a font are named: the encoding below, and the names that differ from it.
struct Encoding {
    base: Option<Base>,
    different: BTreeMap<u8, String>,
}

impl Simple {
    pub(super) fn read<'a>(
        objects: Objects<'a>,
        dict: &'a Dictionary,
        kind: FontKind,
        program: Option<&FontProgram>,
        standard: Option<StandardFont>,
        flags: i64,
        to_unicode: Option<&ToUnicode>,
    ) -> Self {
        let symbolic = flags & 4 != 0;
        let encoding = Encoding::read(objects, dict, kind, program, standard, symbolic);
        let widths = Widths::read(objects, dict, kind);
        let mut entries = BTreeMap::new();
        for code in 0..=255_u8 {
            let name = encoding.name(code, program);
            let glyph =
                program.and_then(|p| glyph(p, kind, code, name.as_deref(), symbolic && encoding.base.is_none()));
            let width = widths
                .at(code)
                .or_else(|| standard.and_then(|s| s.width(name.as_deref()?)).map(|w| w / 1000.0))
                .or_else(|| widths.missing.filter(|w| *w > 0.0))
                .or_else(|| program.and_then(|p| p.advance(glyph?)))
                .unwrap_or(0.0);
            let unicode = to_unicode
                .and_then(|map| map.at(u32::from(code)))
                .or_else(|| name_meaning(name.as_deref()))
                .or_else(|| Base::WinAnsi.glyph(code).filter(|_| name.is_none()).and_then(|n| name_meaning(Some(n))))
                .unwrap_or_default();
            entries.insert(code, Entry { name, glyph, width, unicode });
        }
        Self { entries }
    }

    /// The glyph name at a code.
    pub(super) fn name(&self, code: u8) -> Option<&str> {
        self.entries.get(&code).and_then(|e| e.name.as_deref())
    }

    /// The glyph of the first code that says `letter`.
    pub(super) fn glyph_for(&self, letter: char) -> Option<u32> {
        let mut text = [0; 4];
        let wanted: &str = letter.encode_utf8(&mut text);
        self.entries.values().find(|e| e.unicode == wanted).and_then(|e| e.glyph)
    }

    pub(super) fn character(&self, code: u8) -> Character {
        let entry = self.entries.get(&code).cloned().unwrap_or_default();
        Character {
            code: u32::from(code),
            glyph: entry.glyph,
            width: entry.width,
            upright: None,
            unicode: entry.unicode,
            space: code == 32,
        }
    }
}

impl Encoding {
    /// ISO 32000-1, 9.6.6: what Encoding names, else the font's own.
    fn read<'a>(
        objects: Objects<'a>,
        dict: &'a Dictionary,
        kind: FontKind,
        program: Option<&FontProgram>,
        standard: Option<StandardFont>,
        symbolic: bool,
    ) -> Self {
        let own = match standard {
            Some(standard) => Some(standard.encoding()),
            None if kind == FontKind::Type3 || program.is_some_and(|p| !p.is_sfnt()) => None,
            None if symbolic => None,
            None => Some(Base::Standard),
        };
        match objects.get(dict, "Encoding") {
            Some(Object::Name(name)) => Self { base: Base::named(name).or(own), different: BTreeMap::new() },
            Some(Object::Dictionary(encoding)) => {
                let base = objects.name(encoding, "BaseEncoding").and_then(Base::named).or(own);
                Self { base, different: differences(objects, encoding) }
            }
            _ => Self { base: own, different: BTreeMap::new() },
        }
    }

    fn name(&self, code: u8, program: Option<&FontProgram>) -> Option<String> {
        if let Some(name) = self.different.get(&code) {
            return Some(name.clone());
        }
        match self.base {
            Some(base) => base.glyph(code).map(str::to_owned),
            None => program.and_then(|p| p.built_in_name(code)),
        }
    }
}

/// The glyph of a code (ISO 32000-1, 9.6.6.2 and 9.6.6.4).
fn glyph(program: &FontProgram, kind: FontKind, code: u8, name: Option<&str>, by_code: bool) -> Option<u32> {
    if !program.is_sfnt() {
        return name.and_then(|n| program.by_name(n)).or_else(|| program.built_in(code)).filter(|g| *g < program.len());
    }
    let by_its_code = || {
        let code = u32::from(code);
        program
            .by_code(CharacterMap::Symbol, code)
            .or_else(|| program.by_code(CharacterMap::Symbol, 0xF000 + code))
            .or_else(|| program.by_code(CharacterMap::Macintosh, code))
    };
    let by_its_name = || {
        let name = name?;
        let said = name_meaning(Some(name));
        let mut characters = said.as_deref().unwrap_or_default().chars();
        let single = characters.next().filter(|_| characters.next().is_none());
        single
            .and_then(|c| program.by_character(c))
            .or_else(|| program.by_code(CharacterMap::Macintosh, u32::from(Base::MacRoman.code(name)?)))
            .or_else(|| program.by_name(name))
    };
    if by_code && kind == FontKind::TrueType {
        by_its_code().or_else(by_its_name)
    } else {
        by_its_name().or_else(by_its_code)
    }
}

/// The Widths of a simple font in ems.
struct Widths {
    first: i64,
    each: Vec<f64>,
    missing: Option<f64>,
}

impl Widths {
    fn read<'a>(objects: Objects<'a>, dict: &'a Dictionary, kind: FontKind) -> Self {
        // Type 3 widths are in glyph space, which FontMatrix leads to text space; others are in 1/1000 em.
        let per_em = if kind == FontKind::Type3 {
            objects.numbers(dict, "FontMatrix").and_then(|n| matrix(&n)).map_or(0.001, |m| m.as_coeffs()[0])
        } else {
            0.001
        };
        let widths = objects.array(dict, "Widths").unwrap_or_default();
        Self {
            first: objects.integer(dict, "FirstChar").unwrap_or(0),
            each: widths.iter().take(256).map(|o| objects.as_number(o).unwrap_or(0.0) * per_em).collect(),
            missing: objects
                .dict(dict, "FontDescriptor")
                .and_then(|d| objects.number(d, "MissingWidth"))
                .map(|w| w * per_em),
        }
    }

    fn at(&self, code: u8) -> Option<f64> {
        let index = i64::from(code).checked_sub(self.first)?;
        usize::try_from(index).ok().and_then(|i| self.each.get(i)).copied()
    }
}
