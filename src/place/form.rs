use kurbo::Rect;
use lopdf::{Dictionary, Object, ObjectId, Stream};

use super::copy::Copier;
use super::names::mentioned;
use super::prune::Scope;
use crate::artwork::SourcePage;
use crate::fault::{Fault, Result, Source};
use crate::pdf::{Content, Document};

/// Makes a source page a form (ISO 32000-1, 8.10) in face space: BBox is the page's BleedBox in its own space, and Matrix takes the
/// trim's lower left corner, as the page is shown, to the origin. A page with one content stream keeps it byte for byte; several are
/// joined, which is the only re-encoding. Annotations that print are drawn after it.
pub(super) fn place(document: &mut Document, copier: &mut Copier, page: &SourcePage) -> Result<ObjectId> {
    let art = copier.art();
    let scope = Scope::page(page.resources.clone());
    let names = mentioned(&art.page_content(page));
    let wanted = scope.wanted(art.document(), Some(&names), false);
    let out = document.objects_mut();

    let (mut dict, bytes) = contents(copier, out, page, &scope);
    dict.set("Type", name("XObject"));
    dict.set("Subtype", name("Form"));
    dict.set("FormType", 1);
    dict.set("BBox", numbers(&corners(page.boxes.bleed)));
    dict.set("Matrix", numbers(&page.matrix.as_coeffs()));
    let resources = copier.value(out, &Object::Dictionary(wanted), &scope);
    dict.set("Resources", resources);
    if let Some(group) = &page.group {
        let group = copier.value(out, group, &scope);
        dict.set("Group", group);
    }
    let mut stream = Stream::new(dict, bytes);
    if page.contents.len() != 1 {
        stream.compress().map_err(|why| Fault::new(Source::Nowhere, format!("a page cannot be deflated: {why}")))?;
    }
    let form = out.add_object(stream.with_compression(false));
    if page.annotations.is_empty() {
        return Ok(form);
    }
    let mut content = Content::new();
    content.draw(form);
    for annotation in &page.annotations {
        let appearance = copier.appearance(document.objects_mut(), annotation.appearance, &scope);
        content.save().transform(page.matrix * annotation.place).draw(appearance).restore();
    }
    document.add_form(page.boxes.on_face().bleed, content, &Dictionary::new())
}

/// The content as it stands, or joined.
fn contents(
    copier: &mut Copier,
    out: &mut lopdf::Document,
    page: &SourcePage,
    scope: &std::rc::Rc<Scope>,
) -> (Dictionary, Vec<u8>) {
    let art = copier.art();
    let mut dict = Dictionary::new();
    let single = match *page.contents {
        [id] => art.document().get_object(id).and_then(Object::as_stream).ok(),
        _ => None,
    };
    let Some(stream) = single else { return (dict, art.page_content(page)) };
    for key in [b"Filter".as_slice(), b"DecodeParms"] {
        if let Ok(value) = stream.dict.get(key) {
            let value = copier.value(out, value, scope);
            dict.set(key, value);
        }
    }
    (dict, stream.content.clone())
}

fn corners(rect: Rect) -> [f64; 4] {
    [rect.x0, rect.y0, rect.x1, rect.y1]
}

/// Whole numbers as such; others as reals, which the writer keeps as f32: to 1/10 000 pt on the largest pages.
#[expect(
    clippy::cast_possible_truncation,
    reason = "the writer knows no wider real than f32, and whole ones are checked"
)]
fn numbers(values: &[f64]) -> Object {
    let one = |v: &f64| {
        if v.fract().abs() < f64::EPSILON && v.abs() < 1.0e9 {
            Object::Integer(*v as i64)
        } else {
            Object::Real(*v as f32)
        }
    };
    Object::Array(values.iter().map(one).collect())
}

fn name(text: &str) -> Object {
    Object::Name(text.as_bytes().to_vec())
}
