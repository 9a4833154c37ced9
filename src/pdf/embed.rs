use lopdf::{Dictionary, Object, ObjectId, StringFormat};

use super::fault;
use super::image::deflated;
use super::number::real;
use crate::fault::Result;
use crate::font::FontSubset;

/// Puts a font's subset into the file as a composite font whose codes are the subset's CIDs (9.7: Type0, CIDFontType2, Identity-H,
/// ToUnicode). The same subset gives the same objects.
pub fn embed_font(objects: &mut lopdf::Document, subset: &FontSubset) -> Result<ObjectId> {
    let id = objects.new_object_id();
    embed_font_as(objects, id, subset)?;
    Ok(id)
}

/// As [`embed_font`], under a number kept for it.
pub(super) fn embed_font_as(objects: &mut lopdf::Document, id: ObjectId, subset: &FontSubset) -> Result<()> {
    let program = subset.program()?;
    let base = Object::Name(subset.name(&program).into_bytes());

    let mut file = Dictionary::new();
    let length = i64::try_from(program.len()).map_err(|_| fault("a font program is too large"))?;
    file.set("Length1", length);
    let file = objects.add_object(deflated(file, program)?);
    let to_unicode = objects.add_object(deflated(Dictionary::new(), subset.to_unicode().into_bytes())?);

    let mut descriptor = descriptor(subset);
    descriptor.set("FontName", base.clone());
    descriptor.set("FontFile2", Object::Reference(file));
    let descriptor = objects.add_object(descriptor);

    let mut info = Dictionary::new();
    info.set("Registry", Object::String(b"Adobe".to_vec(), StringFormat::Literal));
    info.set("Ordering", Object::String(b"Identity".to_vec(), StringFormat::Literal));
    info.set("Supplement", 0);
    let per_em = f64::from(subset.font().per_em().max(1));
    let widths = subset.widths().into_iter().map(|w| real(f64::from(w) * 1000.0 / per_em)).collect();

    let mut cid_font = Dictionary::new();
    cid_font.set("Type", name("Font"));
    cid_font.set("Subtype", name("CIDFontType2"));
    cid_font.set("BaseFont", base.clone());
    cid_font.set("CIDSystemInfo", info);
    cid_font.set("FontDescriptor", Object::Reference(descriptor));
    cid_font.set("W", Object::Array(vec![Object::Integer(0), Object::Array(widths)]));
    cid_font.set("CIDToGIDMap", name("Identity"));
    let cid_font = objects.add_object(cid_font);

    let mut font = Dictionary::new();
    font.set("Type", name("Font"));
    font.set("Subtype", name("Type0"));
    font.set("BaseFont", base);
    font.set("Encoding", name("Identity-H"));
    font.set("DescendantFonts", Object::Array(vec![Object::Reference(cid_font)]));
    font.set("ToUnicode", Object::Reference(to_unicode));
    objects.set_object(id, font);
    Ok(())
}

/// The font's measures in thousandths of an em (9.8).
fn descriptor(subset: &FontSubset) -> Dictionary {
    let font = subset.font();
    let per_em = f64::from(font.per_em().max(1));
    let em = |units: i64| real(units as f64 * 1000.0 / per_em);
    let slanted = font.slant().abs() > 0.0;
    let (ascent, descent) = font.reach_units();
    let mut dict = Dictionary::new();
    dict.set("Type", name("FontDescriptor"));
    // Symbolic: the glyphs are reached by number alone. Italic is bit 7 (9.8.2).
    dict.set("Flags", if slanted { 4 + 64 } else { 4 });
    dict.set("FontBBox", Object::Array(font.box_units().map(em).to_vec()));
    dict.set("ItalicAngle", real(f64::from(font.slant())));
    dict.set("Ascent", em(ascent));
    dict.set("Descent", em(descent));
    dict.set("CapHeight", em(font.cap_units()));
    // TrueType states no stem width; this rule from the weight is common practice, and the embedded program overrules it.
    dict.set("StemV", real((10.0 + 220.0 * (f64::from(font.weight()) - 50.0) / 900.0).round()));
    dict
}

fn name(text: &str) -> Object {
    Object::Name(text.as_bytes().to_vec())
}
