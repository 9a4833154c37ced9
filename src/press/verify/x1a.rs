//! What PDF/X-1a:2003 forbids that PDF/X-4 allows (ISO 15930-4, restated), looked for in every object of a file.

use lopdf::xref::{XrefEntry, XrefType};
use lopdf::{Dictionary, Document, Object, ObjectId};

use super::Wrong;

/// Reads through all objects.
pub(super) fn compare(document: &Document, wrong: &mut Wrong) {
    let packed = document.reference_table.entries.values().any(|e| matches!(e, XrefEntry::Compressed { .. }));
    if packed || matches!(document.reference_table.cross_reference_type, XrefType::CrossReferenceStream) {
        wrong.say("the file has object streams or a cross-reference stream, which PDF 1.4 has not");
    }
    if document.catalog().is_ok_and(|c| c.has(b"OCProperties")) {
        wrong.say("the file has layers, which PDF/X-1a has not");
    }
    for (id, object) in &document.objects {
        walk(*id, object, 0, wrong);
    }
}

/// Objects of one piece inside one another.
const DEEPEST: usize = 64;

fn walk(id: ObjectId, object: &Object, depth: usize, wrong: &mut Wrong) {
    if depth > DEEPEST {
        return;
    }
    match object {
        Object::Array(values) => {
            for value in values {
                if let Object::Name(name) = value {
                    space(id, name, wrong);
                }
                walk(id, value, depth + 1, wrong);
            }
        }
        Object::Dictionary(dict) => dictionary(id, dict, depth, wrong),
        Object::Stream(stream) => {
            filters(id, &stream.dict, wrong);
            dictionary(id, &stream.dict, depth, wrong);
        }
        _ => {}
    }
}

fn dictionary(id: ObjectId, dict: &Dictionary, depth: usize, wrong: &mut Wrong) {
    let name = |key: &[u8]| dict.get(key).and_then(Object::as_name).unwrap_or_default();
    let number = |key: &[u8]| dict.get(key).ok().and_then(super::reader::number);
    let mut say = |is: bool, what: &str| {
        if is {
            wrong.say(format!("object {} {what}, which PDF/X-1a has not", id.0));
        }
    };
    say(name(b"S") == b"Transparency", "has a transparency group");
    say(dict.get(b"SMask").is_ok_and(|mask| mask.as_name().ok() != Some(b"None")), "has a soft mask");
    say([b"ca".as_slice(), b"CA"].iter().any(|key| number(key).is_some_and(|alpha| alpha < 1.0)), "is see-through");
    let blend = match dict.get(b"BM") {
        Ok(Object::Name(mode)) => Some(mode.as_slice()),
        Ok(Object::Array(modes)) => modes.first().and_then(|m| m.as_name().ok()),
        _ => None,
    };
    say(blend.is_some_and(|mode| mode != b"Normal" && mode != b"Compatible"), "has a blend mode");
    say(dict.has(b"OC"), "belongs to a layer");
    say(dict.has(b"TR") && !dict.has(b"FontDescriptor") && dict.has_type(b"ExtGState"), "has a transfer function");
    say(name(b"Subtype") == b"OpenType" && dict.has(b"Length"), "is a font program of OpenType");
    for (key, value) in dict {
        if let (Object::Name(value), false) =
            (value, [b"BaseFont".as_slice(), b"FontName", b"Name"].contains(&key.as_slice()))
        {
            space(id, value, wrong);
        }
        walk(id, value, depth + 1, wrong);
    }
}

fn space(id: ObjectId, name: &[u8], wrong: &mut Wrong) {
    if [b"DeviceRGB".as_slice(), b"CalRGB", b"CalGray", b"Lab", b"ICCBased"].contains(&name) {
        let name = String::from_utf8_lossy(name);
        wrong.say(format!("object {} has colour in {name}, which PDF/X-1a has not", id.0));
    }
}

fn filters(id: ObjectId, dict: &Dictionary, wrong: &mut Wrong) {
    let named: Vec<&[u8]> = match dict.get(b"Filter") {
        Ok(Object::Name(one)) => vec![one],
        Ok(Object::Array(several)) => several.iter().filter_map(|f| f.as_name().ok()).collect(),
        _ => Vec::new(),
    };
    for filter in named {
        if [b"LZWDecode".as_slice(), b"JPXDecode", b"Crypt"].contains(&filter) {
            wrong.say(format!(
                "object {} is coded by {}, which PDF/X-1a has not",
                id.0,
                String::from_utf8_lossy(filter)
            ));
        }
    }
}
