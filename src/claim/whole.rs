use lopdf::xref::{XrefEntry, XrefType};
use lopdf::{Dictionary, Object};

use super::xmp::{property, unescaped};
use super::{Look, Standard};
use crate::artwork::Objects;

/// What stands once in a file.
pub(super) fn look(look: &mut Look<'_>, version: &str) {
    let document = look.document;
    let objects = Objects::new(document);
    let Ok(catalog) = document.catalog() else {
        return look.say("cross-reference", None, None, "the trailer does not lead to a catalog");
    };
    let stated = catalog.get(b"Version").and_then(Object::as_name).map(|n| String::from_utf8_lossy(n).into_owned());
    let stated = stated.unwrap_or_else(|_| version.to_owned());
    for version in [version, &stated] {
        if !known(version, look.standard) {
            let most = look.standard.pdf();
            look.say("pdf-version", None, None, format!("the file is PDF {version}, and the standard ends at {most}"));
        }
    }
    if document.xref_recovery.is_some() {
        look.say("cross-reference", None, None, "the cross-reference does not lead to the objects");
    }
    if document.is_encrypted() || document.was_encrypted() || document.trailer.has(b"Encrypt") {
        look.say("encryption", None, None, "the file is encrypted");
    }
    let id = document.trailer.get(b"ID").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    if !id.and_then(Object::as_array).is_ok_and(|id| id.len() == 2 && id.iter().all(|s| s.as_str().is_ok())) {
        look.say("file-id", None, None, "the trailer has no ID of two strings");
    }
    let table = &document.reference_table;
    if table.entries.values().any(|e| matches!(e, XrefEntry::Compressed { .. }))
        || matches!(table.cross_reference_type, XrefType::CrossReferenceStream)
    {
        look.say(
            "object-streams",
            None,
            None,
            "the file has object streams or a cross-reference stream, which PDF 1.4 has not",
        );
    }
    if catalog.has(b"OpenAction") || catalog.has(b"AA") {
        look.say("actions", None, None, "the file acts when it is opened");
    }
    if objects.dict(catalog, "Names").is_some_and(|names| names.has(b"JavaScript")) {
        look.say("actions", None, None, "the file has JavaScript");
    }
    info(look);
    packet(look, catalog);
    intent(look, catalog);
    layers(look, catalog);
}

/// `1.3` and the like, up to what the standard stands on.
fn known(version: &str, standard: Standard) -> bool {
    let most = standard.pdf();
    matches!(version.strip_prefix("1.").map(str::as_bytes), Some([b'0'..=b'9'])) && version <= most
}

fn text(dict: &Dictionary, key: &str) -> Option<String> {
    let text = dict.get(key.as_bytes()).ok().and_then(|o| lopdf::decode_text_string(o).ok());
    text.filter(|t| !t.is_empty())
}

/// What Info says of trapping.
fn trapped(info: &Dictionary) -> Option<String> {
    match info.get(b"Trapped") {
        Ok(Object::Name(name)) => Some(String::from_utf8_lossy(name).into_owned()),
        _ => None,
    }
}

fn info(look: &mut Look) {
    let document = look.document;
    let objects = Objects::new(document);
    let Some(info) = objects.dict(&document.trailer, "Info") else {
        return look.say("info", None, None, "the file has no Info");
    };
    for key in ["Title", "CreationDate", "ModDate"] {
        if text(info, key).is_none() {
            look.say("info", None, None, format!("Info has no {key}"));
        }
    }
    let (stated, wanted) = (text(info, "GTS_PDFXVersion").unwrap_or_default(), look.standard.version());
    if stated != wanted {
        look.say("info", None, None, format!("Info says GTS_PDFXVersion `{stated}` and should say `{wanted}`"));
    }
    if !matches!(trapped(info).as_deref(), Some("True" | "False")) {
        look.say("info", None, None, "Info does not say whether the file is trapped");
    }
}

fn packet(look: &mut Look, catalog: &Dictionary) {
    let document = look.document;
    let objects = Objects::new(document);
    let stream = catalog.get(b"Metadata").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    let bytes = match stream {
        Ok(Object::Stream(stream)) => (look.decode)(stream),
        _ => return look.say("xmp-packet", None, None, "the file has no XMP packet"),
    };
    let Some(bytes) = bytes else { return look.say("xmp-packet", None, None, "the XMP packet cannot be read") };
    let xmp = String::from_utf8_lossy(&bytes);
    let stated = property(&xmp, "GTS_PDFXVersion").unwrap_or_default();
    if stated != look.standard.version() {
        let message = format!("the XMP packet says `{stated}` and should say `{}`", look.standard.version());
        look.say("xmp-version", None, None, message);
    }
    for (rule, name, called) in [
        ("xmp-document-id", "DocumentID", "xmpMM:DocumentID"),
        ("xmp-version-id", "VersionID", "xmpMM:VersionID"),
        ("xmp-rendition-class", "RenditionClass", "xmpMM:RenditionClass"),
        ("xmp-title", "title", "dc:title"),
        ("xmp-dates", "CreateDate", "xmp:CreateDate"),
        ("xmp-dates", "ModifyDate", "xmp:ModifyDate"),
        ("xmp-dates", "MetadataDate", "xmp:MetadataDate"),
    ] {
        if property(&xmp, name).is_none() {
            look.say(rule, None, None, format!("the XMP packet has no {called}"));
        }
    }
    let in_xmp = property(&xmp, "Trapped");
    if !matches!(in_xmp.as_deref(), Some("True" | "False")) {
        look.say("xmp-trapped", None, None, "the XMP packet does not say whether the file is trapped");
    }
    let Some(info) = objects.dict(&document.trailer, "Info") else { return };
    let title = property(&xmp, "title").map(|t| unescaped(&t));
    for (key, in_info, in_xmp) in [("Title", text(info, "Title"), title), ("Trapped", trapped(info), in_xmp)] {
        if let (Some(a), Some(b)) = (&in_info, &in_xmp)
            && a != b
        {
            look.say("xmp-agrees", None, None, format!("Info says {key} `{a}` and the XMP packet `{b}`"));
        }
    }
}

/// What a profile's own header says: its class, and the components of its colours (ISO 15076-1, 7.2).
pub(super) fn header(profile: &[u8]) -> Option<([u8; 4], i64)> {
    let word = |at: usize| profile.get(at..at + 4).and_then(|b| <[u8; 4]>::try_from(b).ok());
    if &word(36)? != b"acsp" {
        return None;
    }
    let components = match &word(16)? {
        b"GRAY" => 1,
        b"RGB " | b"Lab " => 3,
        b"CMYK" => 4,
        _ => return None,
    };
    Some((word(12)?, components))
}

/// The output intents of PDF/X.
fn intents<'a>(look: &Look<'a>, catalog: &'a Dictionary) -> Vec<&'a Dictionary> {
    let document = look.document;
    let list = catalog.get(b"OutputIntents").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    let list = list.and_then(Object::as_array).map(Vec::as_slice).unwrap_or_default();
    let dicts = list.iter().filter_map(|o| document.dereference(o).ok()?.1.as_dict().ok());
    dicts.filter(|d| d.get(b"S").and_then(Object::as_name).is_ok_and(|s| s == b"GTS_PDFX")).collect()
}

/// The profile that the output intent embeds, decoded.
pub(super) fn output_profile(look: &Look) -> Option<Vec<u8>> {
    let catalog = look.document.catalog().ok()?;
    let intent = *intents(look, catalog).first()?;
    match look.document.dereference(intent.get(b"DestOutputProfile").ok()?).ok()?.1 {
        Object::Stream(profile) => (look.decode)(profile),
        _ => None,
    }
}

fn intent<'a>(look: &mut Look<'a>, catalog: &'a Dictionary) {
    let document = look.document;
    let ours = intents(look, catalog);
    let [intent] = ours.as_slice() else {
        return look.say("output-intent", None, None, format!("{} output intents of PDF/X, not one", ours.len()));
    };
    if text(intent, "OutputConditionIdentifier").is_none() {
        look.say("output-condition", None, None, "the output intent does not name its print condition");
    }
    let profile = intent.get(b"DestOutputProfile").and_then(|o| document.dereference(o));
    let Ok((id, Object::Stream(profile))) = profile else {
        if look.standard == Standard::X4 || text(intent, "RegistryName").is_none() {
            look.say("output-profile", None, None, "the output intent carries no profile");
        }
        return;
    };
    let object = id.map(|id| id.0);
    let stated = profile.dict.get(b"N").and_then(Object::as_i64).ok();
    let held = (look.decode)(profile).and_then(|bytes| header(&bytes));
    let message = match held {
        None => "the profile of the output intent is damaged, or of no kind for printing".to_owned(),
        Some((class, _)) if &class != b"prtr" => {
            "the profile of the output intent is not one of a printing press".to_owned()
        }
        Some((_, n)) if stated != Some(n) => {
            format!("the profile of the output intent has {n} components and its stream does not say so (N)")
        }
        Some((_, n)) if look.standard == Standard::X1a && n != 4 => {
            "the profile of the output intent is not one of four inks".to_owned()
        }
        Some(_) => return,
    };
    look.say("output-profile-class", None, object, message);
}

fn layers(look: &mut Look, catalog: &Dictionary) {
    let document = look.document;
    let objects = Objects::new(document);
    if catalog.has(b"OCProperties") {
        look.say("layers", None, None, "the file has layers, which PDF/X-1a has not");
    }
    let Some(properties) = objects.dict(catalog, "OCProperties") else { return };
    let more = properties.get(b"Configs").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    let more = more.and_then(Object::as_array).map(Vec::as_slice).unwrap_or_default();
    let mut names = Vec::new();
    let usual = objects.dict(properties, "D");
    for configuration in
        usual.into_iter().chain(more.iter().filter_map(|o| document.dereference(o).ok()?.1.as_dict().ok()))
    {
        match text(configuration, "Name") {
            None => look.say("layer-configurations", None, None, "a configuration of layers has no name"),
            Some(name) if names.contains(&name) => {
                look.say(
                    "layer-configurations",
                    None,
                    None,
                    format!("two configurations of layers are called `{name}`"),
                );
            }
            Some(name) => names.push(name),
        }
        if configuration.has(b"AS") {
            look.say("layer-configurations", None, None, "a configuration of layers has usage events (AS)");
        }
    }
}
