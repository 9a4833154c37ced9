use std::collections::BTreeMap;
use std::fmt;

use hayro_cmap::{CMap, CMapName, WritingMode};
use lopdf::{Dictionary, Object};

use super::filters;
use super::font::Character;
use super::font_program::FontProgram;
use super::objects::{Objects, whole};
use super::to_unicode::{MOST_CMAP, ToUnicode, of_collection};

/// The codes of a composite font: one to four bytes each, through a CMap to CIDs.
pub(super) struct Composite {
    cmap: CMap,
    identity: bool,
    to_unicode: Option<ToUnicode>,
    collection: Option<ToUnicode>,
    default_width: f64,
    widths: BTreeMap<u32, f64>,
    default_upright: (f64, f64),
    uprights: BTreeMap<u32, (f64, f64, f64)>,
    glyphs: Glyphs,
    letters: BTreeMap<char, u32>,
    /// What glyphs show by the program's own cmap, where the PDF does not say what codes mean.
    shown: BTreeMap<u32, char>,
}

/// How CIDs become glyphs.
#[derive(Debug)]
enum Glyphs {
    /// The CID is the glyph.
    Same(u32),
    /// By the CIDToGIDMap, two bytes each.
    Table(Vec<u8>),
    /// By the charset of a CID-keyed program.
    Charset(BTreeMap<u32, u32>),
    /// No program in the file.
    None,
}

/// CIDs that ranges of widths may cover, all told; ranges beyond that are left out.
const MOST_RANGED: usize = 1 << 20;
/// Codes that are looked through for letters.
const MOST_LOOKED: u32 = 0x1_0000;

impl Composite {
    pub(super) fn read<'a>(
        objects: Objects<'a>,
        dict: &'a Dictionary,
        descendant: &'a Dictionary,
        program: Option<&FontProgram>,
        to_unicode: Option<ToUnicode>,
    ) -> Self {
        let (cmap, identity) = cmap(objects, dict);
        let ordering = objects
            .dict(descendant, "CIDSystemInfo")
            .and_then(|i| objects.get(i, "Ordering"))
            .and_then(|o| o.as_str().ok())
            .unwrap_or_default();
        let map = objects.get(descendant, "CIDToGIDMap");
        let glyphs = match (program, map) {
            (None, _) => Glyphs::None,
            (Some(program), _) if program.is_cid_keyed() => Glyphs::Charset(charset(program)),
            (Some(_), Some(Object::Stream(s))) => {
                let table = filters::decode(objects, &s.dict, &s.content, 1 << 18).map(|d| d.bytes);
                table.map_or(Glyphs::Same(0x1_0000), Glyphs::Table)
            }
            (Some(program), _) => Glyphs::Same(program.len().max(1)),
        };
        let upright = objects.numbers(descendant, "DW2").unwrap_or_default();
        let default_upright = match *upright.as_slice() {
            [v, w] => (v / 1000.0, w / 1000.0),
            _ => (0.88, -1.0),
        };
        let mut font = Self {
            cmap,
            identity,
            collection: if to_unicode.is_none() { of_collection(ordering) } else { None },
            to_unicode,
            default_width: objects.number(descendant, "DW").unwrap_or(1000.0) / 1000.0,
            widths: widths(objects, descendant),
            default_upright,
            uprights: uprights(objects, descendant),
            glyphs,
            letters: BTreeMap::new(),
            shown: BTreeMap::new(),
        };
        if let (None, None, Some(program)) = (&font.to_unicode, &font.collection, program) {
            font.shown = program.characters();
        }
        font.find_letters(program.map_or(0, FontProgram::len));
        font
    }

    /// Remembers which glyph shows which letter, so that heights can be measured.
    fn find_letters(&mut self, glyphs: u32) {
        if !self.identity || self.to_unicode.is_none() {
            return;
        }
        let codes = match &self.glyphs {
            Glyphs::Same(_) => glyphs.min(MOST_LOOKED),
            Glyphs::None => 0,
            _ => MOST_LOOKED,
        };
        for code in 0..codes {
            let said = self.to_unicode.as_ref().and_then(|m| m.at(code)).unwrap_or_default();
            let mut characters = said.chars();
            if let (Some(letter), None) = (characters.next(), characters.next())
                && letter.is_ascii_alphabetic()
                && let Some(glyph) = self.glyph(code)
            {
                self.letters.entry(letter).or_insert(glyph);
            }
        }
    }

    /// Whether it is written from top to bottom.
    pub(super) fn vertical(&self) -> bool {
        self.cmap.metadata().writing_mode == Some(WritingMode::Vertical)
    }

    /// The glyph that shows `letter`.
    pub(super) fn glyph_for(&self, letter: char) -> Option<u32> {
        self.letters.get(&letter).copied()
    }

    fn glyph(&self, cid: u32) -> Option<u32> {
        match &self.glyphs {
            Glyphs::Same(len) => Some(cid).filter(|c| c < len),
            Glyphs::Table(table) => {
                let at = usize::try_from(cid).ok()?.checked_mul(2)?;
                let pair = table.get(at..at + 2)?;
                pair.try_into().ok().map(u16::from_be_bytes).map(u32::from)
            }
            Glyphs::Charset(map) => map.get(&cid).copied(),
            Glyphs::None => None,
        }
    }

    /// The characters of a text string.
    pub(super) fn characters(&self, text: &[u8]) -> Vec<Character> {
        let mut found = Vec::with_capacity(text.len() / 2);
        let mut rest = text;
        while !rest.is_empty() {
            let (code, length, cid) = self.next_code(rest);
            rest = rest.get(length..).unwrap_or_default();
            let width = self.widths.get(&cid).copied().unwrap_or(self.default_width);
            let upright = self.vertical().then(|| {
                let (v, w) = self.default_upright;
                self.uprights.get(&cid).copied().unwrap_or((w, width / 2.0, v))
            });
            let glyph = self.glyph(cid);
            let unicode = self
                .to_unicode
                .as_ref()
                .and_then(|m| m.at(code))
                .or_else(|| self.collection.as_ref().and_then(|c| c.at(cid)))
                .or_else(|| self.shown.get(&glyph?).map(char::to_string))
                .unwrap_or_default();
            found.push(Character { code, glyph, width, upright, unicode, space: length == 1 && code == 32 });
        }
        found
    }

    /// The next code, its length and its CID. Codes that no range holds count as two bytes with CID 0.
    fn next_code(&self, text: &[u8]) -> (u32, usize, u32) {
        if self.identity {
            let code = match *text {
                [high, low, ..] => u32::from(high) << 8 | u32::from(low),
                [only] => u32::from(only),
                [] => 0,
            };
            return (code, text.len().clamp(1, 2), code);
        }
        let mut code = 0_u32;
        for (length, byte) in (1_u8..=4).zip(text) {
            code = code << 8 | u32::from(*byte);
            if let Some(cid) = self.cmap.lookup_cid_code(code, length) {
                return (code, usize::from(length), cid);
            }
        }
        let pair = text.iter().take(2).fold(0_u32, |code, byte| code << 8 | u32::from(*byte));
        (pair, text.len().clamp(1, 2), 0)
    }
}

impl fmt::Debug for Composite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Composite({:?})", self.glyphs)
    }
}

/// The font's CMap, and whether it is the two-byte identity. One that cannot be read counts as the identity.
fn cmap<'a>(objects: Objects<'a>, dict: &'a Dictionary) -> (CMap, bool) {
    match objects.get(dict, "Encoding") {
        Some(Object::Name(name)) => match CMapName::from_bytes(name) {
            CMapName::IdentityH => (CMap::identity_h(), true),
            CMapName::IdentityV => (CMap::identity_v(), true),
            other => {
                let found = hayro_cmap::load_embedded(other).and_then(|b| CMap::parse(b, hayro_cmap::load_embedded));
                found.map_or_else(|| (CMap::identity_h(), true), |map| (map, false))
            }
        },
        Some(Object::Stream(s)) => {
            let decoded = filters::decode(objects, &s.dict, &s.content, MOST_CMAP).ok();
            let found = decoded.and_then(|d| CMap::parse(&d.bytes, hayro_cmap::load_embedded));
            found.map_or_else(|| (CMap::identity_h(), true), |map| (map, false))
        }
        _ => (CMap::identity_h(), true),
    }
}

fn charset(program: &FontProgram) -> BTreeMap<u32, u32> {
    (0..0x1_0000).filter_map(|cid| program.by_cid(cid).map(|glyph| (cid, glyph))).collect()
}

/// A whole number as a CID.
fn cid(number: f64) -> Option<u32> {
    whole(number).and_then(|n| u32::try_from(n).ok()).filter(|c| *c <= 0xFFFF)
}

/// The `W` array: `c [w …]` and `first last w` (ISO 32000-1, 9.7.4.3), in ems.
fn widths<'a>(objects: Objects<'a>, descendant: &'a Dictionary) -> BTreeMap<u32, f64> {
    let mut found = BTreeMap::new();
    let mut room = MOST_RANGED;
    let mut items = objects.array(descendant, "W").unwrap_or_default().iter();
    while let Some(first) = items.next().and_then(|o| objects.as_number(o)).and_then(cid) {
        let Some(second) = items.next().map(|o| objects.resolve(o)) else { break };
        if let Object::Array(each) = second {
            for (at, width) in (first..=0xFFFF).zip(each) {
                found.insert(at, objects.as_number(width).unwrap_or(0.0) / 1000.0);
            }
        } else if let (Some(last), Some(width)) =
            (objects.as_number(second).and_then(cid), items.next().and_then(|o| objects.as_number(o)))
        {
            room = room.saturating_sub(last.saturating_sub(first) as usize);
            for at in (first..=last).take(if room > 0 { usize::MAX } else { 0 }) {
                found.insert(at, width / 1000.0);
            }
        }
    }
    found
}

/// The `W2` array: vertical advance and position vector (ISO 32000-1, 9.7.4.3), in ems.
fn uprights<'a>(objects: Objects<'a>, descendant: &'a Dictionary) -> BTreeMap<u32, (f64, f64, f64)> {
    let mut found = BTreeMap::new();
    let mut room = MOST_RANGED;
    let mut items = objects.array(descendant, "W2").unwrap_or_default().iter();
    while let Some(first) = items.next().and_then(|o| objects.as_number(o)).and_then(cid) {
        let Some(second) = items.next().map(|o| objects.resolve(o)) else { break };
        if let Object::Array(each) = second {
            let numbers: Vec<f64> = each.iter().map(|o| objects.as_number(o).unwrap_or(0.0) / 1000.0).collect();
            for (at, three) in (first..=0xFFFF).zip(numbers.chunks_exact(3)) {
                if let [w, x, y] = *three {
                    found.insert(at, (w, x, y));
                }
            }
        } else if let Some(last) = objects.as_number(second).and_then(cid) {
            let three: Vec<f64> = items.by_ref().take(3).filter_map(|o| objects.as_number(o)).collect();
            if let [w, x, y] = *three.as_slice() {
                room = room.saturating_sub(last.saturating_sub(first) as usize);
                for at in (first..=last).take(if room > 0 { usize::MAX } else { 0 }) {
                    found.insert(at, (w / 1000.0, x / 1000.0, y / 1000.0));
                }
            }
        }
    }
    found
}
