use std::collections::BTreeMap;
use std::fmt;
use std::sync::{Arc, Mutex};

use kurbo::{BezPath, Rect, Shape};
use skrifa::font::Kind;
use skrifa::{DrawMemory, PathSink, ScalerFont};

/// An embedded font program: TrueType, OpenType, bare CFF or Type 1. Outlines come in ems.
pub(super) struct FontProgram {
    font: skrifa::Font,
    scaler: ScalerFont,
    fs_type: Option<u16>,
    weight: Option<u16>,
    heights: (Option<f64>, Option<f64>),
    boxes: Mutex<BTreeMap<u32, Option<Rect>>>,
}

/// What the encoding of a program's cmap is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum CharacterMap {
    /// Windows symbol (3, 0).
    Symbol,
    /// Macintosh Roman (1, 0).
    Macintosh,
}

/// The size at which outlines are asked for; they are divided by it again.
const EM: f32 = 1000.0;

impl FontProgram {
    /// Reads a program; `None` where it cannot be made sense of.
    pub(super) fn read(bytes: Vec<u8>) -> Option<Self> {
        let raw = ttf_parser::RawFace::parse(&bytes, 0).ok();
        let os2 = raw.as_ref().and_then(|r| r.table(ttf_parser::Tag::from_bytes(b"OS/2")));
        let word =
            |at: usize| os2.and_then(|t| t.get(at..at + 2)).and_then(|b| b.try_into().ok()).map(u16::from_be_bytes);
        let (fs_type, weight) = (word(8), word(4).filter(|w| *w > 0));
        let per_em = raw
            .as_ref()
            .and_then(|r| r.table(ttf_parser::Tag::from_bytes(b"head")))
            .and_then(|t| t.get(18..20))
            .and_then(|b| b.try_into().ok())
            .map_or(1000.0, |b| f64::from(u16::from_be_bytes(b).max(1)));
        // sxHeight and sCapHeight stand in version 2 and later of the table.
        let version = word(0).unwrap_or(0);
        let height =
            |at: usize| word(at).filter(|v| version >= 2 && *v > 0 && *v < 0x8000).map(|v| f64::from(v) / per_em);
        let heights = (height(86), height(88));
        let data: Arc<dyn AsRef<[u8]> + Send + Sync> = Arc::new(bytes);
        let font = skrifa::Font::new(data, 0)?;
        let scaler = ScalerFont::unhinted(font.clone(), Some(EM));
        Some(Self { font, scaler, fs_type, weight, heights, boxes: Mutex::default() })
    }

    /// `fsType` of its OS/2 table.
    pub(super) fn fs_type(&self) -> Option<u16> {
        self.fs_type
    }

    /// `usWeightClass` of its OS/2 table.
    pub(super) fn weight(&self) -> Option<u16> {
        self.weight
    }

    /// x-height and capital height as its OS/2 table states them, in ems.
    pub(super) fn stated_heights(&self) -> (Option<f64>, Option<f64>) {
        self.heights
    }

    /// Whether glyphs are chosen by CID.
    pub(super) fn is_cid_keyed(&self) -> bool {
        self.font.is_cid_keyed()
    }

    /// Whether it is a TrueType or OpenType file.
    pub(super) fn is_sfnt(&self) -> bool {
        matches!(self.font.kind(), Kind::Sfnt(..))
    }

    /// How many glyphs it has.
    pub(super) fn len(&self) -> u32 {
        self.font.num_glyphs()
    }

    pub(super) fn by_name(&self, name: &str) -> Option<u32> {
        self.font.glyph_by_name(name).map(skrifa::GlyphId::to_u32).filter(|g| *g != 0 || name == ".notdef")
    }

    pub(super) fn by_cid(&self, cid: u32) -> Option<u32> {
        self.font.glyph_by_cid(cid).map(skrifa::GlyphId::to_u32)
    }

    pub(super) fn by_character(&self, c: char) -> Option<u32> {
        self.font.charmap().map_unicode(c).map(skrifa::GlyphId::to_u32).filter(|g| *g != 0)
    }

    /// What each glyph shows by its Unicode cmap; the lowest character counts where there are several.
    pub(super) fn characters(&self) -> BTreeMap<u32, char> {
        let mut found = BTreeMap::new();
        for (code, glyph) in self.font.charmap().unicodes() {
            if let Some(character) = char::from_u32(code) {
                let entry = found.entry(glyph.to_u32()).or_insert(character);
                *entry = character.min(*entry);
            }
        }
        found
    }

    /// The glyph at a code of its symbol or Macintosh cmap.
    pub(super) fn by_code(&self, map: CharacterMap, code: u32) -> Option<u32> {
        let charmap = self.font.charmap();
        let wanted = match map {
            CharacterMap::Symbol => (3, 0),
            CharacterMap::Macintosh => (1, 0),
        };
        let encoding = charmap.encodings().find(|e| e.sfnt_ids() == Some(wanted))?;
        charmap.map_code(encoding, code).map(skrifa::GlyphId::to_u32).filter(|g| *g != 0)
    }

    /// The glyph at a code of its built-in encoding (Type 1, CFF).
    pub(super) fn built_in(&self, code: u8) -> Option<u32> {
        let glyph = match self.font.kind() {
            Kind::Type1(font) => font.encoding()?.map(code),
            Kind::Cff(font, _) => font.encoding()?.map(code),
            Kind::Sfnt(..) => None,
        };
        glyph.map(skrifa::GlyphId::to_u32)
    }

    /// The name of the glyph at a code of its built-in encoding (Type 1, CFF).
    pub(super) fn built_in_name(&self, code: u8) -> Option<String> {
        match self.font.kind() {
            Kind::Type1(font) => font.encoding()?.glyph_name(code).map(str::to_owned),
            Kind::Cff(font, _) if !font.is_cid() => {
                let glyph = font.encoding()?.map(code)?;
                let name = font.string(font.charset()?.string_id(glyph)?)?;
                std::str::from_utf8(name).ok().map(str::to_owned)
            }
            _ => None,
        }
    }

    /// A glyph's own advance in ems, where the program is TrueType or OpenType.
    pub(super) fn advance(&self, glyph: u32) -> Option<f64> {
        if !self.is_sfnt() || glyph >= self.len() {
            return None;
        }
        let advance = self.font.glyph_metrics().h_advance(skrifa::GlyphId::new(glyph));
        Some(f64::from(advance) / f64::from(self.font.units_per_em().max(1)))
    }

    /// A glyph's outline in ems; empty where there is none.
    pub(super) fn outline(&self, glyph: u32) -> BezPath {
        let mut pen = Pen(BezPath::new());
        if let Some(outline) = self.scaler.outline(skrifa::GlyphId::new(glyph)) {
            // A glyph whose program goes wrong keeps what was drawn until then.
            let _ = outline.draw(DrawMemory::Scratch, &mut pen);
        }
        kurbo::Affine::scale(1.0 / f64::from(EM)) * pen.0
    }

    /// The box of a glyph's outline in ems; `None` where it leaves no ink.
    pub(super) fn ink_box(&self, glyph: u32) -> Option<Rect> {
        if let Some(known) = self.boxes.lock().ok().and_then(|b| b.get(&glyph).copied()) {
            return known;
        }
        let outline = self.outline(glyph);
        let found = Some(outline.bounding_box())
            .filter(|b| !outline.elements().is_empty() && b.is_finite() && (b.width() > 0.0 || b.height() > 0.0));
        if let Ok(mut boxes) = self.boxes.lock() {
            boxes.insert(glyph, found);
        }
        found
    }
}

impl fmt::Debug for FontProgram {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "FontProgram({} glyphs)", self.len())
    }
}

/// Collects an outline; strokes before the first move are left out.
struct Pen(BezPath);

impl Pen {
    fn started(&self) -> bool {
        !self.0.elements().is_empty()
    }
}

impl PathSink for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        if self.started() {
            self.0.line_to((f64::from(x), f64::from(y)));
        }
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        if self.started() {
            self.0.quad_to((f64::from(cx), f64::from(cy)), (f64::from(x), f64::from(y)));
        }
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        if self.started() {
            let at = |x: f32, y: f32| (f64::from(x), f64::from(y));
            self.0.curve_to(at(ax, ay), at(bx, by), at(x, y));
        }
    }

    fn close(&mut self) {
        if self.started() {
            self.0.close_path();
        }
    }
}
