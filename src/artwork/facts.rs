use lopdf::{Dictionary, Object};

use super::filters;
use super::objects::Objects;

/// What an artwork file says of itself beside its pages.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own that a check asks for")]
pub struct Facts {
    /// The PDF version: of the header, or of the catalog where that is there.
    pub version: String,
    /// Whether the file is encrypted, be it with an empty password.
    pub encrypted: bool,
    /// Standards that it claims to keep, such as `PDF/X-4`, from Info and XMP, each once.
    pub claims: Vec<String>,
    /// Its output intents.
    pub intents: Vec<OutputIntent>,
    /// Whether JavaScript stands in it (by name, on opening, or as a document action).
    pub scripts: bool,
    /// Whether files are embedded in it.
    pub embedded_files: bool,
    /// Whether it holds form fields.
    pub fields: bool,
}

/// An output intent (ISO 32000-1, 14.11.5).
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct OutputIntent {
    /// Its kind, such as `GTS_PDFX`.
    pub kind: String,
    /// The print condition it names.
    pub condition: String,
    /// Colour components of its embedded profile, where it has one.
    pub profile: Option<i64>,
}

/// Bytes that the XMP packet may decode to.
const MOST_XMP: usize = 8 << 20;

/// Reads what the file says of itself.
pub(super) fn read(objects: Objects) -> Facts {
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
    Facts {
        version: objects.name_text(catalog, "Version").unwrap_or_else(|| document.version.clone()),
        encrypted: document.was_encrypted(),
        claims: claims(objects, catalog),
        intents: intents(objects, catalog),
        scripts: has("JavaScript") || opens_with_script || acting,
        embedded_files: has("EmbeddedFiles"),
        fields: !fields.is_empty(),
    }
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
