use std::collections::BTreeMap;
use std::fmt::Write as _;

use md5::{Digest as _, Md5};
use subsetter::GlyphRemapper;

use super::os2::with_os2;
use super::{Font, OpenFont, ShapedLine};
use crate::fault::{Fault, Result, Source};

/// The part of a font that a document uses. Glyphs get their CIDs in the order in which they are first set; CID 0 is `.notdef`.
#[derive(Clone, Debug)]
pub struct FontSubset {
    font: &'static Font,
    order: GlyphRemapper,
    says: BTreeMap<u16, String>,
}

impl FontSubset {
    /// Nothing yet of `font`.
    pub fn new(font: OpenFont) -> Result<Self> {
        Ok(Self { font: font.font()?, order: GlyphRemapper::new(), says: BTreeMap::new() })
    }

    /// The font.
    pub const fn font(&self) -> &'static Font {
        self.font
    }

    /// Takes in a line's glyphs and gives their CIDs. A line of another font is a fault.
    pub fn take(&mut self, line: &ShapedLine) -> Result<Vec<u16>> {
        if line.font != self.font.which() {
            let message = format!("a line set in {} went to the subset of {}", line.font.word(), self.font.name());
            return Err(Fault::new(Source::Nowhere, message).into());
        }
        let mut cids = Vec::with_capacity(line.glyphs.len());
        for (n, glyph) in line.glyphs.iter().enumerate() {
            let cid = if glyph.id == 0 { 0 } else { self.order.remap(glyph.id) };
            let says = line.says(n);
            if cid != 0 && !says.is_empty() {
                self.says.entry(cid).or_insert_with(|| says.to_owned());
            }
            cids.push(cid);
        }
        Ok(cids)
    }

    /// The CID of a glyph of the whole font, where it is used.
    pub fn cid(&self, glyph: u16) -> Option<u16> {
        self.order.get(glyph)
    }

    /// What a CID stands for in the text, as its first use had it.
    pub fn says(&self, cid: u16) -> Option<&str> {
        self.says.get(&cid).map(String::as_str)
    }

    /// Whether no glyph was taken.
    pub fn is_empty(&self) -> bool {
        self.order.num_gids() <= 1
    }

    /// The width of each CID from 0, in font units.
    pub fn widths(&self) -> Vec<i32> {
        self.order.remapped_gids().map(|glyph| self.font.natural(glyph)).collect()
    }

    /// The font program with these glyphs alone; its glyph numbers are the CIDs. It keeps the OS/2 table, which states the embedding
    /// rights.
    pub fn program(&self) -> Result<Vec<u8>> {
        let whole = self.font.which().program();
        let broken = |why: String| {
            Fault::new(Source::Nowhere, format!("the font {} cannot be cut down: {why}", self.font.name()))
        };
        let part = subsetter::subset(whole, 0, &self.order).map_err(|why| broken(why.to_string()))?;
        Ok(with_os2(&part, whole).ok_or_else(|| broken(String::from("its tables cannot be put together")))?)
    }

    /// The name of the subset, such as `QKHFRA+ArchivoNarrow-Bold`: six letters drawn from the program's MD5 digest, so that
    /// two subsets of one font differ in name when they differ at all (ISO 32000-1, 9.6.4).
    pub fn name(&self, program: &[u8]) -> String {
        let tag: String = Md5::digest(program).iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect();
        format!("{tag}+{}", self.font.name())
    }

    /// The ToUnicode CMap (ISO 32000-1, 9.10.3); ligatures give all their letters.
    pub fn to_unicode(&self) -> String {
        let mut map = String::from(
            "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo\n<< /Registry (Adobe)\n/Ordering (UCS)\n\
             /Supplement 0\n>> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\n\
             endcodespacerange\n",
        );
        let entries: Vec<_> = self.says.iter().collect();
        // A block holds at most 100 entries (Adobe Technical Note 5014).
        for block in entries.chunks(100) {
            let _ = writeln!(map, "{} beginbfchar", block.len());
            for (cid, text) in block {
                let _ = write!(map, "<{cid:04X}> <");
                for unit in text.encode_utf16() {
                    let _ = write!(map, "{unit:04X}");
                }
                map.push_str(">\n");
            }
            map.push_str("endbfchar\n");
        }
        map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
        map
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::font::Shaping;
    use crate::unit::Length;

    #[test]
    fn cids_follow_first_use_and_the_program_holds_them() {
        let mut subset = FontSubset::new(OpenFont::Narrow).unwrap();
        let line = OpenFont::Narrow.shape("4554", Length::pt(8), Shaping::FIGURES).unwrap();
        assert_eq!(subset.take(&line).unwrap(), [1, 2, 2, 1]);
        assert_eq!(subset.widths().len(), 3);
        assert_eq!(subset.says(1), Some("4"));
        let program = subset.program().unwrap();
        // Parts of composite glyphs come after the ones in use and need no CID.
        let face = ttf_parser::Face::parse(&program, 0).unwrap();
        for (cid, width) in (0..).zip(subset.widths()) {
            assert_eq!(face.glyph_hor_advance(ttf_parser::GlyphId(cid)).map(i32::from), Some(width));
        }
        assert_eq!(subset.name(&program), subset.name(&subset.program().unwrap()));
    }

    #[test]
    fn a_line_of_another_font_is_refused() {
        let line = OpenFont::Serif.shape("a", Length::pt(8), Shaping::TEXT).unwrap();
        assert!(FontSubset::new(OpenFont::Narrow).unwrap().take(&line).is_err());
    }
}
