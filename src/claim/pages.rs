use kurbo::Rect;
use lopdf::{Dictionary, Object, ObjectId};

use super::Look;
use crate::artwork::Objects;

/// Boxes are compared in points; what differs by less than this is the same.
const SAME: f64 = 0.01;
/// Nodes on the way from a page to the root.
const DEEPEST: usize = 200;

/// Every page's own keys.
pub(super) fn look(look: &mut Look) {
    for (number, id) in look.document.get_pages() {
        if let Ok(page) = look.document.get_dictionary(id) {
            one(look, number, id, page);
        }
    }
}

fn one(look: &mut Look, number: u32, id: ObjectId, page: &Dictionary) {
    let objects = Objects::new(look.document);
    let (on, at) = (Some(number), Some(id.0));
    let media = inherited(objects, page, "MediaBox").and_then(|o| objects.as_rect(o)).map(|r| r.abs());
    let read = |key: &str| objects.rect(page, key).map(|r| r.abs());
    let (trim, art, bleed) = (read("TrimBox"), read("ArtBox"), read("BleedBox"));
    if trim.is_some() == art.is_some() {
        let has = if trim.is_some() { "both a TrimBox and an ArtBox" } else { "neither a TrimBox nor an ArtBox" };
        look.say("trim-box", on, at, format!("the page has {has}"));
    }
    let mut nested = |inner: (&str, Option<Rect>), outer: (&str, Option<Rect>)| {
        if let ((inner, Some(a)), (outer, Some(b))) = (inner, outer)
            && (a.x0 < b.x0 - SAME || a.y0 < b.y0 - SAME || a.x1 > b.x1 + SAME || a.y1 > b.y1 + SAME)
        {
            look.say("boxes-nested", on, at, format!("the {inner} reaches past the {outer}"));
        }
    };
    for inner in [("TrimBox", trim), ("ArtBox", art)] {
        nested(inner, ("BleedBox", bleed));
        nested(inner, ("MediaBox", media));
    }
    nested(("BleedBox", bleed), ("MediaBox", media));
    if page.has(b"SeparationInfo") {
        look.say("pre-separated", on, at, "the page is one plate of several");
    }
    let shown = bleed.or(trim).or(art).or(media);
    for annotation in objects.array(page, "Annots").unwrap_or_default() {
        let number = annotation.as_reference().map(|id| id.0).ok();
        let Some(dict) = objects.as_dict(annotation) else { continue };
        let kind = objects.name_text(dict, "Subtype").unwrap_or_default();
        if matches!(kind.as_str(), "TrapNet" | "PrinterMark") {
            continue;
        }
        let place = objects.rect(dict, "Rect").map(|r| r.abs());
        let beside =
            place.zip(shown).is_some_and(|(a, b)| a.x1 <= b.x0 || a.x0 >= b.x1 || a.y1 <= b.y0 || a.y0 >= b.y1);
        if !beside {
            look.say("annotations", on, number.or(at), format!("an annotation ({kind}) lies on the page"));
        }
    }
}

/// The value of a key on the page or the nearest node above it.
fn inherited<'a>(objects: Objects<'a>, page: &'a Dictionary, key: &str) -> Option<&'a Object> {
    let mut node = page;
    for _ in 0..DEEPEST {
        if let Some(value) = objects.get(node, key) {
            return Some(value);
        }
        node = objects.dict(node, "Parent")?;
    }
    None
}
