use kurbo::Affine;
use lopdf::{Dictionary, Object, ObjectId};

use super::annotations::{self, PrintedAnnotation};
use super::boxes::{self, SourceBoxes};
use super::layers::Layers;
use super::limits::Remark;
use super::objects::Objects;
use super::tree::PageNode;
use crate::fault::{Result, Source};

/// A page as the press file needs it: what to copy and how it lies on the face.
#[derive(Clone, PartialEq, Debug)]
pub struct SourcePage {
    /// The page from 1.
    pub number: u32,
    /// The page's own object, where it has one.
    pub object: Option<ObjectId>,
    /// The content streams in order; a page that draws nothing has none.
    pub contents: Vec<ObjectId>,
    /// The page's resources, its own or inherited; what they name still stands in the document.
    pub resources: Dictionary,
    /// The boxes in page space, Rotate and UserUnit.
    pub boxes: SourceBoxes,
    /// The transparency group of the page, as it stands.
    pub group: Option<Object>,
    /// Annotations that print, in painting order.
    pub annotations: Vec<PrintedAnnotation>,
    /// Page space to face points.
    pub matrix: Affine,
}

/// Content streams on one page are taken up to this many.
const MOST_CONTENTS: usize = 100_000;

/// Reads what the press file needs of a page.
pub(super) fn read(
    objects: Objects,
    node: &PageNode,
    number: u32,
    layers: &Layers,
    source: &Source,
    remarks: &mut Vec<Remark>,
) -> Result<SourcePage> {
    let boxes = boxes::read(objects, node, source, remarks)?;
    let contents = contents(objects, node);
    let resources = node.resources(objects).cloned().unwrap_or_default();
    let annotations = annotations::printed(objects, node, layers, source, remarks);
    let matrix = boxes.to_face();
    let group = objects.get(&node.dict, "Group").cloned();
    Ok(SourcePage { number, object: node.id, contents, resources, boxes, group, annotations, matrix })
}

/// The streams of Contents: one, or an array of them, directly or by reference.
fn contents(objects: Objects, node: &PageNode) -> Vec<ObjectId> {
    let Ok(value) = node.dict.get(b"Contents") else { return Vec::new() };
    let stream = |object: &Object| match objects.document().dereference(object) {
        Ok((Some(id), Object::Stream(_))) => Some(id),
        _ => None,
    };
    match objects.resolve(value) {
        Object::Array(parts) => parts.iter().take(MOST_CONTENTS).filter_map(stream).collect(),
        _ => stream(value).into_iter().collect(),
    }
}
