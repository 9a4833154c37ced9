use lopdf::{Dictionary, Object};

use super::filters;
use super::objects::Objects;
use crate::card::{FileFacts, OutputIntent};

/// Bytes that the XMP packet may decode to.
const MOST_XMP: usize = 8 << 20;

/// Reads what the file says of itself.
pub(super) fn read(objects: Objects) -> FileFacts {
    let document = objects.document();
    let empty = Dictionary::new();
    let catalog = document.catalog().unwrap_or(&empty);
    let names = objects.dict(catalog, "Names");
    let has = |key: &str| names.is_some_and(|n| objects.dict(n, key).is_some());
    let opens_with_script =
        objects.dict(catalog, "OpenAction").is_some_and(|action| objects.name(action, "S") == Some(b"JavaScript"));
    let acting = objects.dict(catalog, "AA").is_some_and(|actions| {
        actions.iter().filter_map(|(_, a)| objects.as_dict(a)).any(|a| objects.name(a, "S") == Some(b"JavaScript"))
    });
    let fields = objects.dict(catalog, "AcroForm").and_then(|f| objects.array(f, "Fields")).unwrap_or_default();
    FileFacts {
        version: objects.name_text(catalog, "Version").unwrap_or_else(|| document.version.clone()),
        encrypted: document.was_encrypted(),
        may_print: may_print(document),
        claims: claims(objects, catalog),
        intents: intents(objects, catalog),
        scripts: has("JavaScript") || opens_with_script || acting,
        embedded_files: has("EmbeddedFiles"),
        fields: !fields.is_empty(),
        ..FileFacts::default()
    }
}

/// Bits 3 and 12 of the permissions: printing, and printing at full quality (ISO 32000-1, table 22). Files of the second
/// revision know only the first.
fn may_print(document: &lopdf::Document) -> bool {
    use lopdf::Permissions;
    let Some(state) = document.encryption_state.as_ref() else { return true };
    let allowed = state.permissions();
    allowed.contains(Permissions::PRINTABLE)
        && (state.revision() < 3 || allowed.contains(Permissions::PRINTABLE_IN_HIGH_QUALITY))
}

fn text(objects: Objects, dict: &Dictionary, key: &str) -> Option<String> {
    objects.get(dict, key).and_then(|o| match o {
        Object::String(..) => lopdf::decode_text_string(o).ok(),
        _ => None,
    })
}

fn intents<'a>(objects: Objects<'a>, catalog: &'a Dictionary) -> Vec<OutputIntent> {
    let all = objects.array(catalog, "OutputIntents").unwrap_or_default();
    all.iter()
        .take(100)
        .filter_map(|o| objects.as_dict(o))
        .map(|dict| OutputIntent {
            kind: objects.name_text(dict, "S").unwrap_or_default(),
            condition: text(objects, dict, "OutputConditionIdentifier").unwrap_or_default(),
            profile: objects.stream(dict, "DestOutputProfile").map(|s| objects.integer(&s.dict, "N").unwrap_or(0)),
        })
        .collect()
}

fn claims<'a>(objects: Objects<'a>, catalog: &'a Dictionary) -> Vec<String> {
    let info = objects.document().trailer.get(b"Info").ok().and_then(|o| objects.as_dict(o));
    let mut found: Vec<String> = info.and_then(|i| text(objects, i, "GTS_PDFXVersion")).into_iter().collect();
    let xmp = objects
        .stream(catalog, "Metadata")
        .and_then(|s| filters::decode(objects, &s.dict, &s.content, MOST_XMP).ok())
        .map(|d| String::from_utf8_lossy(&d.bytes).into_owned())
        .unwrap_or_default();
    found.extend(xmp_value(&xmp, "GTS_PDFXVersion"));
    if let Some(part) = xmp_value(&xmp, "pdfaid:part") {
        let level = xmp_value(&xmp, "pdfaid:conformance").unwrap_or_default().to_lowercase();
        found.push(format!("PDF/A-{part}{level}"));
    }
    let mut once: Vec<String> = Vec::new();
    for claim in found {
        if !once.contains(&claim) {
            once.push(claim);
        }
    }
    once
}

/// The value of a simple XMP property, written as an element or as an attribute.
fn xmp_value(xmp: &str, name: &str) -> Option<String> {
    let behind = xmp.find(name).and_then(|at| xmp.get(at + name.len()..))?.trim_start();
    let value = if let Some(element) = behind.strip_prefix('>') {
        element.split('<').next()
    } else {
        let quoted = behind.strip_prefix('=')?.trim_start();
        let quote = quoted.chars().next().filter(|c| matches!(c, '"' | '\''))?;
        quoted.get(1..).and_then(|rest| rest.split(quote).next())
    };
    value.map(|v| v.trim().to_owned()).filter(|v| !v.is_empty() && v.len() < 100)
}
