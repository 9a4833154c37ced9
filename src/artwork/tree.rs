use std::collections::BTreeSet;

use lopdf::{Dictionary, Object, ObjectId};

use super::limits::{Remark, Topic};
use super::objects::Objects;
use crate::fault::Source;

/// A page with the four values that it may inherit from the nodes above it (ISO 32000-1, 7.7.3.4).
#[derive(Clone, Debug)]
pub(super) struct PageNode {
    pub(super) id: Option<ObjectId>,
    pub(super) dict: Dictionary,
    inherited: Inherited,
}

#[derive(Clone, Default, Debug)]
struct Inherited {
    resources: Option<Object>,
    media: Option<Object>,
    crop: Option<Object>,
    rotate: Option<Object>,
}

impl Inherited {
    /// These values below `node`, whose own ones are nearer.
    fn below(&self, objects: Objects, node: &Dictionary) -> Self {
        let nearer = |key: &[u8], farther: &Option<Object>| {
            let own = node.get(key).ok().filter(|o| {
                let there = objects.document().dereference(o).map(|(_, o)| !o.is_null());
                there.unwrap_or(false)
            });
            own.cloned().or_else(|| farther.clone())
        };
        Self {
            resources: nearer(b"Resources", &self.resources),
            media: nearer(b"MediaBox", &self.media),
            crop: nearer(b"CropBox", &self.crop),
            rotate: nearer(b"Rotate", &self.rotate),
        }
    }
}

impl PageNode {
    /// The page's resources, its own or inherited; `None` where no node states any.
    pub(super) fn resources<'a>(&'a self, objects: Objects<'a>) -> Option<&'a Dictionary> {
        self.inherited.resources.as_ref().and_then(|o| objects.as_dict(o))
    }

    /// The value of an inheritable box or Rotate, or of any other key of the page itself.
    pub(super) fn value<'a>(&'a self, objects: Objects<'a>, key: &str) -> Option<&'a Object> {
        let inherited = match key {
            "MediaBox" => &self.inherited.media,
            "CropBox" => &self.inherited.crop,
            "Rotate" => &self.inherited.rotate,
            _ => return objects.get(&self.dict, key),
        };
        inherited.as_ref().map(|o| objects.resolve(o)).filter(|o| !o.is_null())
    }
}

/// Nodes on the way from the root to a page; honest trees stay far below.
const DEEPEST: usize = 200;

/// The pages of a document in order. A node that is met twice is left out with a remark, so that a tree that bites its
/// own tail ends.
pub(super) fn pages(objects: Objects, file: &str, most: usize, remarks: &mut Vec<Remark>) -> Vec<PageNode> {
    let Some(root) = objects.document().catalog().ok().and_then(|c| c.get(b"Pages").ok()) else {
        return Vec::new();
    };
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    let mut waiting = vec![(root, Inherited::default(), 0_usize)];
    let mut remark = |message: &str, id: Option<ObjectId>| {
        let source = Source::Pdf { file: file.to_owned(), page: None, object: id.map(|i| i.0) };
        remarks.push(Remark { message: message.to_owned(), source, topic: Topic::Mended });
    };
    while let Some((object, above, depth)) = waiting.pop() {
        let id = object.as_reference().ok();
        if let Some(id) = id
            && !seen.insert(id)
        {
            remark("the page tree names this node twice; it was taken once", Some(id));
            continue;
        }
        let Some(node) = objects.as_dict(object) else {
            remark("the page tree names a page that is not there; it was left out", id);
            continue;
        };
        let inherited = above.below(objects, node);
        match objects.array(node, "Kids") {
            Some(_) if depth >= DEEPEST => remark("the page tree is too deep; this part was left out", id),
            Some(kids) if objects.name(node, "Type") != Some(b"Page") => {
                waiting.extend(kids.iter().rev().map(|kid| (kid, inherited.clone(), depth + 1)));
            }
            _ if objects.name(node, "Type") == Some(b"Pages") => {
                remark("a node of the page tree has no pages below it; it was left out", id);
            }
            _ if found.len() < most => found.push(PageNode { id, dict: node.clone(), inherited }),
            _ => {}
        }
    }
    found
}
