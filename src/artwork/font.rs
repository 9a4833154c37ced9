use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, Rect};
use lopdf::{Dictionary, Object, ObjectId};

use super::composite_font::Composite;
use super::encoding::{StandardFont, meaning};
use super::filters;
use super::font_program::FontProgram;
use super::objects::{Objects, name_text};
use super::simple_font::Simple;
use super::to_unicode::ToUnicode;
use crate::card::FontUse;

/// The kinds of fonts by their Subtype.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FontKind {
    /// Type 1 or multiple master.
    Type1,
    /// TrueType with a simple encoding.
    TrueType,
    /// Glyphs are content streams.
    Type3,
    /// Composite.
    Type0,
}

impl FontKind {
    /// As the PDF names it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Type1 => "Type1",
            Self::TrueType => "TrueType",
            Self::Type3 => "Type3",
            Self::Type0 => "Type0",
        }
    }
}

/// A font of the artwork: how codes become glyphs, widths and words, and the outlines where the program stands in the file.
#[derive(Debug)]
#[expect(clippy::struct_excessive_bools, reason = "four facts that have nothing to do with each other")]
pub struct Font {
    pub(super) name: String,
    pub(super) kind: FontKind,
    pub(super) subset: bool,
    pub(super) object: Option<ObjectId>,
    pub(super) program: Option<FontProgram>,
    /// Whether a program stands in the file, readable or not.
    pub(super) embedded: bool,
    pub(super) bold: bool,
    pub(super) vertical: bool,
    pub(super) x_height: Option<f64>,
    pub(super) cap_height: Option<f64>,
    pub(super) ascent: f64,
    pub(super) descent: f64,
    pub(super) codes: Codes,
    pub(super) type3: Option<Type3>,
}

#[derive(Debug)]
pub(super) enum Codes {
    Simple(Simple),
    Composite(Box<Composite>),
}

/// What draws the glyphs of a Type 3 font.
#[derive(Debug)]
pub(super) struct Type3 {
    pub(super) matrix: Affine,
    pub(super) glyphs: BTreeMap<u8, ObjectId>,
    pub(super) bbox: Rect,
}

/// One character code of a text string.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Character {
    pub(super) code: u32,
    pub(super) glyph: Option<u32>,
    /// In ems.
    pub(super) width: f64,
    /// Vertical advance and the place of the horizontal origin seen from the vertical one, in ems.
    pub(super) upright: Option<(f64, f64, f64)>,
    pub(super) unicode: String,
    /// Whether word spacing applies: a single-byte code 32.
    pub(super) space: bool,
}

/// Bytes that a font program may decode to.
const MOST_PROGRAM: usize = 64 << 20;

impl Font {
    /// Reads a font dictionary.
    pub(super) fn read<'a>(objects: Objects<'a>, dict: &'a Dictionary, object: Option<ObjectId>) -> Self {
        let subtype = objects.name(dict, "Subtype").unwrap_or_default();
        let descendant =
            objects.array(dict, "DescendantFonts").and_then(|d| d.first()).and_then(|o| objects.as_dict(o));
        let kind = match subtype {
            b"Type0" => FontKind::Type0,
            b"Type3" => FontKind::Type3,
            b"TrueType" => FontKind::TrueType,
            _ if descendant.is_some() => FontKind::Type0,
            _ => FontKind::Type1,
        };
        let full = objects.name_text(dict, "BaseFont").or_else(|| objects.name_text(dict, "Name")).unwrap_or_default();
        let (subset, name) = untagged(&full);
        let holder = descendant.unwrap_or(dict);
        let descriptor = objects.dict(holder, "FontDescriptor");
        let file = descriptor
            .and_then(|d| ["FontFile", "FontFile2", "FontFile3"].iter().find_map(|key| objects.stream(d, key)));
        let program = file
            .and_then(|s| filters::decode(objects, &s.dict, &s.content, MOST_PROGRAM).ok())
            .and_then(|d| FontProgram::read(d.bytes));
        let to_unicode = ToUnicode::read(objects, dict);
        let standard = if file.is_none() && kind != FontKind::Type0 { StandardFont::named(&name) } else { None };
        let flags = descriptor.and_then(|d| objects.integer(d, "Flags")).unwrap_or(0);
        let codes = match descendant {
            Some(descendant) if kind == FontKind::Type0 => {
                Codes::Composite(Box::new(Composite::read(objects, dict, descendant, program.as_ref(), to_unicode)))
            }
            _ => {
                Codes::Simple(Simple::read(objects, dict, kind, program.as_ref(), standard, flags, to_unicode.as_ref()))
            }
        };
        let type3 = (kind == FontKind::Type3).then(|| Type3::read(objects, dict, &codes));
        let bold = is_bold(&name, flags, descriptor.and_then(|d| objects.number(d, "FontWeight")), program.as_ref());
        let vertical = matches!(&codes, Codes::Composite(c) if c.vertical());
        let mut font = Self {
            name,
            kind,
            subset,
            object,
            program,
            embedded: file.is_some(),
            bold,
            vertical,
            x_height: None,
            cap_height: None,
            ascent: 0.75,
            descent: -0.25,
            codes,
            type3,
        };
        font.measure(objects, descriptor, standard);
        font
    }

    /// Heights: from the outlines of flat-topped letters, else as the program or its descriptor states them, else from round
    /// letters, which stand a hair taller.
    fn measure(&mut self, objects: Objects, descriptor: Option<&Dictionary>, standard: Option<StandardFont>) {
        let stated = |key: &str| descriptor.and_then(|d| objects.number(d, key)).map(|v| v / 1000.0);
        let positive = |v: Option<f64>| v.filter(|v| *v > 0.0 && *v < 4.0);
        let (program_x, program_cap) = self.program.as_ref().map_or((None, None), FontProgram::stated_heights);
        let (standard_x, standard_cap) =
            standard.map_or((None, None), |s| (s.heights().0.map(|v| v / 1000.0), s.heights().1.map(|v| v / 1000.0)));
        self.x_height = self
            .letter_height(&['x', 'z', 'v', 'w', 'u'])
            .or_else(|| positive(program_x))
            .or_else(|| positive(stated("XHeight")))
            .or(standard_x)
            .or_else(|| self.letter_height(&['n', 'm', 'r', 'a', 'e', 'o', 's', 'c']));
        self.cap_height = self
            .letter_height(&['H', 'I', 'E', 'T', 'L', 'F', 'N', 'K'])
            .or_else(|| positive(program_cap))
            .or_else(|| positive(stated("CapHeight")))
            .or(standard_cap)
            .or_else(|| self.letter_height(&['B', 'D', 'P', 'R', 'M', 'A', 'S', 'O', 'C']));
        if let Some(standard) = standard {
            let (_, _, ascent, descent) = standard.heights();
            (self.ascent, self.descent) = (ascent / 1000.0, descent / 1000.0);
        }
        if let Some(ascent) = positive(stated("Ascent")) {
            self.ascent = ascent;
        }
        if let Some(descent) = stated("Descent").filter(|v| v.abs() > 0.0 && v.abs() < 4.0) {
            self.descent = -descent.abs();
        }
    }

    /// The top of the first of these letters that the font has an outline for, in ems.
    fn letter_height(&self, letters: &[char]) -> Option<f64> {
        let program = self.program.as_ref()?;
        letters.iter().find_map(|letter| {
            let glyph = match &self.codes {
                Codes::Simple(simple) => simple.glyph_for(*letter),
                Codes::Composite(composite) => composite.glyph_for(*letter),
            };
            let glyph = glyph.or_else(|| program.by_character(*letter));
            program.ink_box(glyph?).map(|b| b.y1).filter(|top| *top > 0.05)
        })
    }

    /// The characters of a text string.
    pub(super) fn characters(&self, text: &[u8]) -> Vec<Character> {
        match &self.codes {
            Codes::Simple(simple) => text.iter().map(|code| simple.character(*code)).collect(),
            Codes::Composite(composite) => composite.characters(text),
        }
    }

    /// The name without the subset tag.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its kind.
    pub fn kind(&self) -> FontKind {
        self.kind
    }

    /// Whether it is bold by name, flags or weight.
    pub fn bold(&self) -> bool {
        self.bold
    }

    /// Whether it is written from top to bottom.
    pub fn vertical(&self) -> bool {
        self.vertical
    }

    /// x-height and capital height in ems, where the font tells.
    pub fn heights(&self) -> (Option<f64>, Option<f64>) {
        (self.x_height, self.cap_height)
    }

    /// A glyph's outline in ems; empty where there is none or the program does not stand in the file.
    pub fn outline(&self, glyph: u32) -> BezPath {
        self.program.as_ref().map(|p| p.outline(glyph)).unwrap_or_default()
    }

    /// Whether its glyphs are drawings of the page's own (Type 3).
    pub fn is_drawn(&self) -> bool {
        self.type3.is_some()
    }

    /// Whether it has a program that gives outlines.
    pub fn has_outlines(&self) -> bool {
        self.program.is_some()
    }

    /// The box that a glyph's ink fills in ems: of its outline, else from descender to ascender over its advance. `None`
    /// where it leaves no ink.
    pub fn ink_box(&self, glyph: Option<u32>, advance: f64, unicode: &str) -> Option<Rect> {
        if let Some(type3) = &self.type3 {
            let bbox = type3.matrix.transform_rect_bbox(type3.bbox);
            return Some(bbox).filter(|b| b.area() > 0.0);
        }
        match (&self.program, glyph) {
            (Some(program), Some(glyph)) => program.ink_box(glyph),
            _ if unicode.chars().all(char::is_whitespace) && !unicode.is_empty() => None,
            _ => Some(Rect::new(0.0, self.descent, advance, self.ascent)),
        }
    }

    /// What a list of fonts says of it.
    pub fn as_use(&self, painted: bool) -> FontUse {
        FontUse {
            name: self.name.clone(),
            kind: self.kind.name().to_owned(),
            embedded: self.embedded || self.kind == FontKind::Type3,
            subset: self.subset,
            fs_type: self.program.as_ref().and_then(FontProgram::fs_type),
            painted,
            hidden: false,
            dots: None,
            object: self.object.map(|id| id.0),
        }
    }
}

impl PartialEq for Font {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name && self.object == other.object && self.kind == other.kind
    }
}

impl Type3 {
    fn read<'a>(objects: Objects<'a>, dict: &'a Dictionary, codes: &Codes) -> Self {
        let procedures = objects.dict(dict, "CharProcs");
        let mut glyphs = BTreeMap::new();
        if let (Some(procedures), Codes::Simple(simple)) = (procedures, codes) {
            for code in 0..=255_u8 {
                let stream = simple.name(code).and_then(|n| procedures.get(n.as_bytes()).ok());
                if let Some(id) = stream.and_then(|o| o.as_reference().ok()) {
                    glyphs.insert(code, id);
                }
            }
        }
        let matrix = objects.numbers(dict, "FontMatrix").and_then(|n| super::objects::matrix(&n));
        Self {
            matrix: matrix.unwrap_or(Affine::scale(0.001)),
            glyphs,
            bbox: objects.rect(dict, "FontBBox").unwrap_or_default(),
        }
    }
}

/// Whether the name carries a subset tag, and the name without it (ISO 32000-1, 9.6.4).
fn untagged(name: &str) -> (bool, String) {
    match name.split_once('+') {
        Some((tag, rest)) if tag.len() == 6 && tag.bytes().all(|b| b.is_ascii_uppercase()) => (true, rest.to_owned()),
        _ => (false, name.to_owned()),
    }
}

fn is_bold(name: &str, flags: i64, weight: Option<f64>, program: Option<&FontProgram>) -> bool {
    let lower = name.to_ascii_lowercase();
    let by_name = ["bold", "black", "heavy", "demi"].iter().any(|word| lower.contains(word));
    let force_bold = flags & (1 << 18) != 0;
    let by_weight =
        weight.is_some_and(|w| w >= 600.0) || program.and_then(FontProgram::weight).is_some_and(|w| w >= 600);
    by_name || force_bold || by_weight
}

/// The glyph names that Differences give to codes.
pub(super) fn differences(objects: Objects, encoding: &Dictionary) -> BTreeMap<u8, String> {
    let mut names = BTreeMap::new();
    let mut code = 0_i64;
    for item in objects.array(encoding, "Differences").unwrap_or_default() {
        match objects.resolve(item) {
            Object::Integer(n) => code = *n,
            Object::Name(name) => {
                if let Ok(at) = u8::try_from(code) {
                    names.insert(at, name_text(name));
                }
                code = code.saturating_add(1);
            }
            _ => {}
        }
    }
    names
}

/// What a code says by its glyph name.
pub(super) fn name_meaning(name: Option<&str>) -> Option<String> {
    name.and_then(meaning)
}
