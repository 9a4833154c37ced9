use std::collections::BTreeMap;

use lopdf::{Dictionary, Object, ObjectId};

use super::whole::{header, output_profile};
use super::{Look, Scope};
use crate::artwork::Objects;
use crate::pdf::ACTIONS;

/// Objects of one piece inside one another.
const DEEPEST: usize = 64;

/// Blend modes of PDF 1.6 (ISO 32000-1, tables 136 and 137).
const BLEND_MODES: [&[u8]; 17] = [
    b"Normal",
    b"Compatible",
    b"Multiply",
    b"Screen",
    b"Overlay",
    b"Darken",
    b"Lighten",
    b"ColorDodge",
    b"ColorBurn",
    b"HardLight",
    b"SoftLight",
    b"Difference",
    b"Exclusion",
    b"Hue",
    b"Saturation",
    b"Color",
    b"Luminosity",
];

/// Reads through all objects that count.
pub(super) fn look(look: &mut Look) {
    let pages = reached(look);
    let output = output_profile(look);
    let document = look.document;
    let mut walk = Walk { look, page: None, object: 0, output, scope_used: false };
    walk.scope_used = walk.look.scope == Scope::Used;
    for (id, object) in &document.objects {
        let page = match pages.get(id) {
            Some(page) => *page,
            None if walk.scope_used => continue,
            None => None,
        };
        (walk.page, walk.object) = (page, id.0);
        walk.object(object, 0);
    }
}

/// Every object that the file leads to, with the first page that uses it.
fn reached(look: &Look) -> BTreeMap<ObjectId, Option<u32>> {
    let document = look.document;
    let mut found = BTreeMap::new();
    let mut follow = |page: Option<u32>, start: Vec<&Object>, first: Option<ObjectId>| {
        let mut waiting = start;
        if let Some(id) = first {
            found.entry(id).or_insert(page);
        }
        while let Some(object) = waiting.pop() {
            match object {
                Object::Reference(id) => {
                    if found.contains_key(id) {
                        continue;
                    }
                    found.insert(*id, page);
                    waiting.extend(document.objects.get(id));
                }
                Object::Array(values) => waiting.extend(values),
                // What lies above or beside a page belongs to other pages.
                Object::Dictionary(dict) => {
                    waiting.extend(dict.iter().filter(|(k, _)| *k != b"Parent" && *k != b"P").map(|(_, v)| v));
                }
                Object::Stream(stream) => waiting.extend(stream.dict.iter().map(|(_, v)| v)),
                _ => {}
            }
        }
    };
    for (number, id) in document.get_pages() {
        follow(Some(number), document.objects.get(&id).into_iter().collect(), Some(id));
    }
    follow(None, document.trailer.iter().map(|(_, v)| v).collect(), None);
    found
}

struct Walk<'l, 'a> {
    look: &'l mut Look<'a>,
    page: Option<u32>,
    object: u32,
    output: Option<Vec<u8>>,
    scope_used: bool,
}

impl Walk<'_, '_> {
    fn say(&mut self, is: bool, rule: &str, what: &str) {
        if is {
            let message = format!("object {} {what}", self.object);
            self.look.say(rule, self.page, Some(self.object), message);
        }
    }

    fn object(&mut self, object: &Object, depth: usize) {
        if depth > DEEPEST {
            return;
        }
        match object {
            Object::Array(values) => {
                self.profile(values);
                for value in values {
                    if let Object::Name(name) = value {
                        self.space(name);
                    }
                    self.object(value, depth + 1);
                }
            }
            Object::Dictionary(dict) => self.dictionary(dict, depth),
            Object::Stream(stream) => {
                self.filters(&stream.dict);
                self.say(stream.dict.has(b"F"), "external-data", "has its data in another file");
                self.dictionary(&stream.dict, depth);
            }
            _ => {}
        }
    }

    fn dictionary(&mut self, dict: &Dictionary, depth: usize) {
        let objects = Objects::new(self.look.document);
        let name = |key: &str| objects.name(dict, key).unwrap_or_default();
        let kind = name("S");
        self.acting(dict, kind);
        // A soft mask bends its own values by TR, which is no transfer function of the press.
        let mask = kind == b"Alpha" || kind == b"Luminosity";
        let bends = dict.has(b"TR") && !mask && !dict.has(b"FontDescriptor");
        self.say(bends || dict.has(b"TR2") && name("TR2") != b"Default", "transfer", "has a transfer function");
        self.say(name("Subtype") == b"PS" || name("Subtype2") == b"PS", "postscript", "is PostScript");
        self.say(dict.has(b"OPI"), "opi", "stands in for a picture elsewhere (OPI)");
        self.say(
            name("Subtype") == b"Form" && dict.has(b"Ref"),
            "reference-forms",
            "stands for a page of another file",
        );
        let others = objects.array(dict, "Alternates").unwrap_or_default().iter().filter_map(|o| objects.as_dict(o));
        let chosen = others.filter(|d| objects.boolean(d, "DefaultForPrinting") == Some(true)).count() > 0;
        self.say(chosen, "alternates", "has another picture for printing");
        self.transparent(dict, kind, objects);
        self.say(name("Subtype") == b"OpenType" && dict.has(b"Length"), "opentype", "is a font program of OpenType");
        for (key, value) in dict {
            if let (Object::Name(value), false) =
                (value, [b"BaseFont".as_slice(), b"FontName", b"Name"].contains(&key.as_slice()))
            {
                self.space(value);
            }
            self.object(value, depth + 1);
        }
    }

    fn acting(&mut self, dict: &Dictionary, kind: &[u8]) {
        let acts = ACTIONS.contains(&kind) && !dict.has(b"P") || dict.has(b"JS") || dict.has_type(b"Action");
        let what = format!("is an action ({})", String::from_utf8_lossy(kind));
        self.say(acts, "actions", &what);
        self.say(dict.has(b"AA") && !dict.has_type(b"Catalog"), "actions", "acts when something happens to it (AA)");
    }

    fn transparent(&mut self, dict: &Dictionary, kind: &[u8], objects: Objects) {
        let number = |key: &str| objects.number(dict, key);
        self.say(kind == b"Transparency", "transparency", "has a transparency group, which PDF/X-1a has not");
        let masked = dict.get(b"SMask").is_ok_and(|mask| mask.as_name().ok() != Some(b"None"));
        self.say(masked, "transparency", "has a soft mask, which PDF/X-1a has not");
        let through = ["ca", "CA"].iter().any(|key| number(key).is_some_and(|alpha| alpha < 1.0));
        self.say(through, "transparency", "is see-through, which PDF/X-1a has not");
        let modes: Vec<&[u8]> = match objects.get(dict, "BM") {
            Some(Object::Name(mode)) => vec![mode.as_slice()],
            Some(Object::Array(modes)) => modes.iter().filter_map(|m| m.as_name().ok()).collect(),
            _ => Vec::new(),
        };
        let blends = modes.first().is_some_and(|mode| *mode != b"Normal" && *mode != b"Compatible");
        self.say(blends, "transparency", "has a blend mode, which PDF/X-1a has not");
        if let Some(strange) = modes.iter().find(|m| !BLEND_MODES.contains(m)) {
            let what = format!("blends by {}, which PDF 1.6 has not", String::from_utf8_lossy(strange));
            self.say(true, "blend-modes", &what);
        }
        self.say(dict.has(b"OC"), "layers", "belongs to a layer, which PDF/X-1a has not");
        let rgb_print = self.output.as_deref().and_then(header).is_some_and(|(_, n)| n == 3);
        let Some(group) = objects.dict(dict, "Group") else { return };
        let spaces = objects.dict(dict, "Resources").and_then(|r| objects.dict(r, "ColorSpace"));
        let default = spaces.is_some_and(|s| s.has(b"DefaultRGB"));
        let bare = objects.name(group, "CS") == Some(b"DeviceRGB") && !default && !rgb_print;
        self.say(bare, "blend-space", "has a transparency group that blends in DeviceRGB");
    }

    /// A colour space by a profile: its components, and whether it is the output intent's once more.
    fn profile(&mut self, values: &[Object]) {
        let [Object::Name(kind), profile] = values else { return };
        if kind != b"ICCBased" {
            return;
        }
        let objects = Objects::new(self.look.document);
        let Some(stream) = objects.as_stream(profile) else { return };
        let Some(bytes) = (self.look.decode)(stream) else {
            return self.say(true, "profile-components", "has a colour space with a profile that cannot be read");
        };
        let stated = objects.integer(&stream.dict, "N");
        match header(&bytes) {
            None => self.say(true, "profile-components", "has a colour space with a damaged profile"),
            Some((_, n)) if stated != Some(n) => {
                let what = format!("has a colour space with a profile of {n} components that says otherwise (N)");
                self.say(true, "profile-components", &what);
            }
            Some((_, 4)) if self.output.as_ref() == Some(&bytes) => {
                self.say(true, "profile-repeated", "has a colour space with the profile of the output intent");
            }
            Some(_) => {}
        }
    }

    /// Files from elsewhere may name spaces that they do not paint with; what they paint is looked at page by page.
    fn space(&mut self, name: &[u8]) {
        if !self.scope_used && [b"DeviceRGB".as_slice(), b"CalRGB", b"CalGray", b"Lab", b"ICCBased"].contains(&name) {
            let what = format!("has colour in {}, which PDF/X-1a has not", String::from_utf8_lossy(name));
            self.say(true, "colour-spaces", &what);
        }
    }

    fn filters(&mut self, dict: &Dictionary) {
        let objects = Objects::new(self.look.document);
        let named: Vec<&[u8]> = match objects.get(dict, "Filter") {
            Some(Object::Name(one)) => vec![one],
            Some(Object::Array(several)) => several.iter().filter_map(|f| f.as_name().ok()).collect(),
            _ => Vec::new(),
        };
        let x1a = self.look.standard == super::Standard::X1a;
        for filter in named {
            if filter == b"LZWDecode" || filter == b"Crypt" || filter == b"JPXDecode" && x1a {
                let (name, version) = (String::from_utf8_lossy(filter), self.look.standard.version());
                self.say(true, "filters", &format!("is coded by {name}, which {version} has not"));
            }
        }
    }
}
