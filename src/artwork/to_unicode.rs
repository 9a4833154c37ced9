use std::fmt;

use hayro_cmap::{BfString, CMap, CMapName};
use lopdf::Dictionary;

use super::filters;
use super::objects::Objects;

/// A ToUnicode CMap: from character codes to words.
pub(super) struct ToUnicode(CMap);

/// Bytes that a CMap may decode to.
pub(super) const MOST_CMAP: usize = 8 << 20;

impl ToUnicode {
    /// The ToUnicode CMap of a font, where it has one that can be read.
    pub(super) fn read<'a>(objects: Objects<'a>, font: &'a Dictionary) -> Option<Self> {
        let stream = objects.stream(font, "ToUnicode")?;
        let decoded = filters::decode(objects, &stream.dict, &stream.content, MOST_CMAP).ok()?;
        CMap::parse(&decoded.bytes, hayro_cmap::load_embedded).map(Self)
    }

    /// What a code says; `None` where the map is silent or says only a zero character.
    pub(super) fn at(&self, code: u32) -> Option<String> {
        said(self.0.lookup_bf_string(code)?)
    }
}

/// The words of a CMap entry.
fn said(entry: BfString) -> Option<String> {
    match entry {
        BfString::Char('\0') => None,
        BfString::Char(c) => Some(c.to_string()),
        BfString::String(text) => Some(text),
    }
}

/// What a CID of one of Adobe's character collections says.
pub(super) fn of_collection(ordering: &[u8]) -> Option<ToUnicode> {
    let name = match ordering {
        b"Japan1" => CMapName::AdobeJapan1Ucs2,
        b"GB1" => CMapName::AdobeGb1Ucs2,
        b"CNS1" => CMapName::AdobeCns1Ucs2,
        b"Korea1" => CMapName::AdobeKorea1Ucs2,
        _ => return None,
    };
    CMap::parse(hayro_cmap::load_embedded(name)?, hayro_cmap::load_embedded).map(ToUnicode)
}

impl fmt::Debug for ToUnicode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("ToUnicode")
    }
}
