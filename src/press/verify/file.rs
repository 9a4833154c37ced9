use std::collections::BTreeSet;

use lopdf::{Dictionary, Document, Object};

use super::super::{Art, PressInfo, Standard};
use super::Wrong;
use super::reader::dict_at;
use crate::claim::{Scope, in_objects};
use crate::ink::Ink;
use crate::pdf::{Digest, ReadBack, digest, stands_for};

/// Compares what stands once in a file: the keys of PDF/X-4, the output intent, inks, fonts, layers, and that nothing acts.
pub(super) fn compare(read: &ReadBack, arts: &[Art], info: &PressInfo, wrong: &mut Wrong) {
    let document = read.document();
    if read.version() != info.standard.pdf().as_bytes() {
        wrong.say(format!("the file is not PDF {}", info.standard.pdf()));
    }
    let nothing = Dictionary::new();
    let catalog = document.catalog().unwrap_or(&nothing);
    for key in ["OpenAction", "AA", "Names", "AcroForm", "Dests", "Outlines", "Threads"] {
        if catalog.has(key.as_bytes()) {
            wrong.say(format!("the catalog has {key}, which a press file has not"));
        }
    }
    about(document, info, wrong);
    if info.standard == Standard::X4 {
        packet(document, catalog, wrong);
    }
    claim(read, info, wrong);
    intent(document, catalog, info, wrong);
    pictures(document, arts, wrong);
    let mut found = Found::default();
    for object in document.objects.values() {
        found.walk(document, object, 0);
    }
    found.judge(arts, info, wrong);
}

/// Info (ISO 32000-1, 14.3.3), as far as PDF/X asks for it.
fn about(document: &Document, info: &PressInfo, wrong: &mut Wrong) {
    let Some(about) = dict_at(document, &document.trailer, b"Info") else { return wrong.say("the file has no Info") };
    let version = info.standard.version();
    let conformance = (info.standard == Standard::X1a).then_some(("GTS_PDFXConformance", version));
    let wanted = [
        ("Title", info.job),
        ("CreationDate", &info.date.pdf),
        ("ModDate", &info.date.pdf),
        ("GTS_PDFXVersion", version),
    ];
    for (key, want) in wanted.into_iter().chain(conformance) {
        let stated = about.get(key.as_bytes()).ok().and_then(|o| lopdf::decode_text_string(o).ok());
        if stated.as_deref() != Some(want) {
            wrong.say(format!("Info says {key} `{}` and should say `{want}`", stated.unwrap_or_default()));
        }
    }
    if !about.get(b"Trapped").and_then(Object::as_name).is_ok_and(|n| n == b"False" || n == b"True") {
        wrong.say("Info does not say whether the file is trapped");
    }
}

/// XMP, which PDF/X-4 asks for, stands in the clear here: programs that know no PDF find it.
fn packet(document: &Document, catalog: &Dictionary, wrong: &mut Wrong) {
    let packet = catalog.get(b"Metadata").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    if let Ok(Object::Stream(packet)) = packet
        && packet.dict.has(b"Filter")
    {
        wrong.say("the XMP packet is compressed");
    }
}

/// What the standard asks of any file that claims it.
fn claim(read: &ReadBack, info: &PressInfo, wrong: &mut Wrong) {
    let version = String::from_utf8_lossy(read.version()).into_owned();
    let decode = |stream: &lopdf::Stream| stream.get_plain_content().ok();
    for breach in in_objects(read.document(), &version, info.standard, Scope::All, &decode) {
        wrong.breach(&breach);
    }
}

/// One GTS_PDFX output intent with the condition's own profile.
fn intent(document: &Document, catalog: &Dictionary, info: &PressInfo, wrong: &mut Wrong) {
    let list = catalog.get(b"OutputIntents").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    let intents: Vec<&Dictionary> = list
        .and_then(Object::as_array)
        .map(|a| a.iter().filter_map(|o| document.dereference(o).ok()?.1.as_dict().ok()).collect())
        .unwrap_or_default();
    let [intent] = intents.as_slice() else { return wrong.say(format!("{} output intents, not one", intents.len())) };
    if !intent.get(b"S").and_then(Object::as_name).is_ok_and(|s| s == b"GTS_PDFX") {
        wrong.say("the output intent is not one of PDF/X");
    }
    let named = intent.get(b"OutputConditionIdentifier").ok().and_then(|o| lopdf::decode_text_string(o).ok());
    if named.as_deref() != Some(info.condition.identifier.as_str()) {
        wrong.say(format!("the output intent does not name {}", info.condition.identifier));
    }
    let profile = intent.get(b"DestOutputProfile").and_then(|o| document.dereference(o)).map(|(_, o)| o);
    let same = match profile {
        Ok(Object::Stream(profile)) => profile.get_plain_content().is_ok_and(|p| *p == *info.condition.profile),
        _ => false,
    };
    if !same {
        wrong.say("the output intent does not carry the profile of the print condition");
    }
}

/// Every heavy picture is one of the artwork's, byte for byte.
fn pictures(document: &Document, arts: &[Art], wrong: &mut Wrong) {
    for object in document.objects.values() {
        let Some((digest, length)) = object.as_stream().ok().and_then(|s| stands_for(&s.content)) else { continue };
        let known = arts.iter().any(|art| art.artwork.heavy().has(&digest));
        if !known && !arts.iter().any(|art| holds(art.artwork.document(), digest, length)) {
            wrong.say(format!("a picture of {length} bytes is not as it was in the artwork"));
        }
    }
}

/// Whether a document has a stream of this digest among those it holds itself.
fn holds(document: &Document, wanted: Digest, length: usize) -> bool {
    let streams = document.objects.values().filter_map(|o| o.as_stream().ok());
    streams.filter(|s| s.content.len() == length).any(|s| digest(&s.content) == wanted)
}

/// What all objects together name.
#[derive(Default)]
struct Found {
    colorants: BTreeSet<String>,
    bare_fonts: BTreeSet<String>,
    whole_fonts: BTreeSet<String>,
    actions: BTreeSet<String>,
}

const PROGRAMS: [&[u8]; 3] = [b"FontFile", b"FontFile2", b"FontFile3"];
/// Objects of one piece inside one another; readers stop long before.
const DEEPEST: usize = 64;

impl Found {
    fn walk(&mut self, document: &Document, object: &Object, depth: usize) {
        if depth > DEEPEST {
            return;
        }
        match object {
            Object::Array(values) => {
                self.space(document, values);
                for value in values {
                    self.walk(document, value, depth + 1);
                }
            }
            Object::Dictionary(dict) => self.dictionary(document, dict, depth),
            Object::Stream(stream) => self.dictionary(document, &stream.dict, depth),
            _ => {}
        }
    }

    fn dictionary(&mut self, document: &Document, dict: &Dictionary, depth: usize) {
        if dict.has_type(b"Font") {
            self.font(document, dict);
        }
        let action = dict.get(b"S").and_then(Object::as_name).unwrap_or_default();
        if [b"JavaScript".as_slice(), b"Launch", b"URI", b"GoToR", b"SubmitForm", b"ImportData"].contains(&action)
            || dict.has(b"JS")
        {
            self.actions.insert(String::from_utf8_lossy(action).into_owned());
        }
        dict.iter().for_each(|(_, v)| self.walk(document, v, depth + 1));
    }

    fn space(&mut self, document: &Document, values: &[Object]) {
        let resolved = |o: &Object| document.dereference(o).map_or(Object::Null, |(_, o)| o.clone());
        let [Object::Name(kind), colorants, ..] = values else { return };
        let names = match (kind.as_slice(), resolved(colorants)) {
            (b"Separation", name @ Object::Name(_)) => vec![name],
            (b"DeviceN", Object::Array(names)) => names.iter().map(resolved).collect(),
            _ => return,
        };
        for name in names {
            if let Object::Name(name) = name {
                let text = std::str::from_utf8(&name)
                    .map_or_else(|_| name.iter().map(|b| char::from(*b)).collect(), str::to_owned);
                self.colorants.insert(text);
            }
        }
    }

    fn font(&mut self, document: &Document, font: &Dictionary) {
        let subtype = font.get(b"Subtype").and_then(Object::as_name).unwrap_or_default();
        if subtype == b"Type0" || subtype == b"Type3" {
            return;
        }
        let name = font.get(b"BaseFont").and_then(Object::as_name).map(|n| String::from_utf8_lossy(n).into_owned());
        let name = name.unwrap_or_default();
        let embedded = dict_at(document, font, b"FontDescriptor").is_some_and(|d| PROGRAMS.iter().any(|p| d.has(p)));
        if !embedded {
            self.bare_fonts.insert(name.clone());
        }
        if name.as_bytes().get(6) != Some(&b'+') {
            self.whole_fonts.insert(name);
        }
    }

    /// Fonts must be embedded, and whole ones or bare ones can only have come with the artwork (where a check has spoken of them);
    /// spots must be inks of the job, or named by the artwork.
    fn judge(&self, arts: &[Art], info: &PressInfo, wrong: &mut Wrong) {
        let mut source = Self::default();
        for art in arts {
            art.artwork.document().objects.values().for_each(|o| source.walk(art.artwork.document(), o, 0));
        }
        for name in self.bare_fonts.difference(&source.bare_fonts) {
            wrong.say(format!("the font {name} is not embedded"));
        }
        for name in self.whole_fonts.difference(&source.whole_fonts) {
            wrong.say(format!("the font {name} is not a subset"));
        }
        for name in &self.colorants {
            let ink = Ink::from_colorant(name);
            // Artwork may name an ink that it paints nothing in.
            if ink.is_spot() && !info.inks.contains(&ink) && !source.colorants.contains(name) {
                wrong.say(format!("the ink {name} is in the file and not in the job"));
            }
        }
        for action in &self.actions {
            wrong.say(format!("the file has an action ({action}); a press file has none"));
        }
    }
}
