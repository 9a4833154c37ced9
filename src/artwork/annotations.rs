use kurbo::{Affine, Rect};
use lopdf::{Dictionary, Object, ObjectId};

use super::boxes::rounded;
use super::layers::Layers;
use super::limits::{Remark, Topic};
use super::objects::{Objects, number};
use super::page::SourcePage;
use super::tree::PageNode;
use crate::card::AnnotationUse;
use crate::fault::Source;

/// An annotation whose appearance prints with the page.
#[derive(Clone, PartialEq, Debug)]
pub struct PrintedAnnotation {
    /// Its kind, such as `Stamp` or `Widget`.
    pub subtype: String,
    /// The annotation's own object, where it has one.
    pub object: Option<ObjectId>,
    /// The appearance stream, a form.
    pub appearance: ObjectId,
    /// Where it stands, in page space.
    pub rect: Rect,
    /// What stands before the form's own Matrix (ISO 32000-1, 12.5.5, algorithm 8.1, matrix A): draw it as
    /// `q A cm /Form Do Q`.
    pub place: Affine,
}

/// The flag of an annotation that does not turn with its page.
const NO_ROTATE: i64 = 16;
/// Annotations on one page are read up to this many.
const MOST: usize = 20_000;

/// The annotations of a page that print, in order: Print is set, Hidden is not, the layer prints, and there is an
/// appearance (ISO 32000-1, 12.5.3). What should print and has no appearance is told.
pub(super) fn printed(
    objects: Objects,
    node: &PageNode,
    layers: &Layers,
    source: &Source,
    remarks: &mut Vec<Remark>,
) -> Vec<PrintedAnnotation> {
    let Some(Object::Array(annotations)) = node.value(objects, "Annots") else { return Vec::new() };
    let needs_appearances = objects
        .document()
        .catalog()
        .ok()
        .and_then(|c| objects.dict(c, "AcroForm"))
        .and_then(|f| objects.boolean(f, "NeedAppearances"))
        .unwrap_or(false);
    let mut found = Vec::new();
    for item in annotations.iter().take(MOST) {
        let Some(dict) = objects.as_dict(item) else { continue };
        let id = item.as_reference().ok();
        let subtype = objects.name_text(dict, "Subtype").unwrap_or_default();
        let flags = objects.integer(dict, "F").unwrap_or(0);
        let (hidden, print) = (flags & 2 != 0, flags & 4 != 0);
        // Popups never print (ISO 32000-1, 12.5.6.14), and links only carry a place to go to.
        if !print || hidden || subtype == "Popup" || dict.get(b"OC").is_ok_and(|oc| !layers.prints(objects, oc)) {
            continue;
        }
        let mut remark = |message: String| {
            let object = id.map(|i| i.0);
            let source = match source {
                Source::Pdf { file, page, .. } => Source::Pdf { file: file.clone(), page: *page, object },
                other => other.clone(),
            };
            remarks.push(Remark { message, source, topic: Topic::Annotation });
        };
        let has_value =
            inherited(objects, dict, "V").is_some_and(|v| !matches!(v, Object::String(t, _) if t.is_empty()));
        let Some((appearance, rect)) = appearance(objects, dict).zip(objects.rect(dict, "Rect")) else {
            if subtype == "Widget" {
                let text = inherited(objects, dict, "FT").is_some_and(|t| matches!(t, Object::Name(n) if n == b"Tx"));
                if has_value && text {
                    remark("the form field has a value but no appearance; nothing of it prints".to_owned());
                }
            } else if subtype != "Link" {
                remark(format!("the {subtype} annotation is set to print but has no appearance; nothing of it prints"));
            }
            continue;
        };
        if subtype == "Widget" && needs_appearances && has_value {
            remark(
                "the form field's appearance may be stale (NeedAppearances is set); what stands in it prints"
                    .to_owned(),
            );
        }
        let Some(form) = objects.object(appearance).and_then(|o| o.as_stream().ok()) else { continue };
        let mut place = place(objects, &form.dict, rect);
        if flags & NO_ROTATE != 0 {
            // It stands upright however the page is turned, held at its upper left corner (12.5.3, table 165).
            let clockwise = node.value(objects, "Rotate").and_then(number).unwrap_or(0.0);
            place = Affine::rotate_about(clockwise.to_radians(), (rect.x0, rect.y1)) * place;
        }
        found.push(PrintedAnnotation { subtype, object: id, appearance, rect, place });
    }
    found
}

/// Every annotation of a page, whether it prints or not.
pub(super) fn listed(objects: Objects, node: &PageNode, layers: &Layers, page: &SourcePage) -> Vec<AnnotationUse> {
    let Some(Object::Array(annotations)) = node.value(objects, "Annots") else { return Vec::new() };
    let stale = objects
        .document()
        .catalog()
        .ok()
        .and_then(|c| objects.dict(c, "AcroForm"))
        .and_then(|f| objects.boolean(f, "NeedAppearances"))
        .unwrap_or(false);
    let mut found = Vec::new();
    for item in annotations.iter().take(MOST) {
        let Some(dict) = objects.as_dict(item) else { continue };
        let kind = objects.name_text(dict, "Subtype").unwrap_or_default();
        let flags = objects.integer(dict, "F").unwrap_or(0);
        let on = dict.get(b"OC").map_or(true, |oc| layers.prints(objects, oc));
        let text = inherited(objects, dict, "FT").is_some_and(|t| matches!(t, Object::Name(n) if n == b"Tx"));
        let value = inherited(objects, dict, "V").is_some_and(|v| !matches!(v, Object::String(t, _) if t.is_empty()));
        let rect = objects.rect(dict, "Rect").unwrap_or_default();
        found.push(AnnotationUse {
            prints: flags & 4 != 0 && flags & 2 == 0 && kind != "Popup" && on,
            look: appearance(objects, dict).is_some(),
            filled: kind == "Widget" && text && value,
            stale,
            rect: rounded(page.matrix.transform_rect_bbox(rect)),
            object: item.as_reference().ok().map(|id| id.0),
            kind,
        });
    }
    found
}

/// A value of a field, or of the fields above it.
fn inherited<'a>(objects: Objects<'a>, dict: &'a Dictionary, key: &str) -> Option<&'a Object> {
    let mut field = dict;
    for _ in 0..32 {
        if let Some(value) = objects.get(field, key) {
            return Some(value);
        }
        field = objects.dict(field, "Parent")?;
    }
    None
}

/// The normal appearance, by the appearance state where there are several.
fn appearance(objects: Objects, dict: &Dictionary) -> Option<ObjectId> {
    let appearances = objects.dict(dict, "AP")?;
    let normal = appearances.get(b"N").ok()?;
    match objects.resolve(normal) {
        Object::Stream(_) => stream_id(objects, normal),
        Object::Dictionary(states) => {
            let state = objects.name(dict, "AS")?;
            stream_id(objects, states.get(state).ok()?)
        }
        _ => None,
    }
}

/// The number of the stream that a chain of references ends at.
fn stream_id(objects: Objects, object: &Object) -> Option<ObjectId> {
    match objects.document().dereference(object) {
        Ok((Some(id), Object::Stream(_))) => Some(id),
        _ => None,
    }
}

/// Matrix A of algorithm 8.1: the appearance box under the form's Matrix is moved and scaled to the annotation's Rect.
fn place(objects: Objects, form: &Dictionary, rect: Rect) -> Affine {
    let bbox = objects.rect(form, "BBox").unwrap_or_default();
    let turned = objects.matrix(form, "Matrix").transform_rect_bbox(bbox);
    let scale = |to: f64, from: f64| if from.abs() > 1.0e-9 { to / from } else { 1.0 };
    let (sx, sy) = (scale(rect.width(), turned.width()), scale(rect.height(), turned.height()));
    Affine::new([sx, 0.0, 0.0, sy, rect.x0 - turned.x0 * sx, rect.y0 - turned.y0 * sy])
}
