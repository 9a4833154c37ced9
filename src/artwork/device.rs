use std::collections::BTreeSet;

use lopdf::{Dictionary, Object, ObjectId};

use super::objects::Objects;
use super::page::SourcePage;
use crate::card::{DeviceKind, DeviceSetting};

/// What the resources of a page name for machines: halftones, black generation, and objects that stand for others.
/// Each is listed once, in the order of kinds.
pub(super) fn read(objects: Objects, page: &SourcePage, most: usize) -> Vec<DeviceSetting> {
    let mut walk = Walk { objects, found: BTreeSet::new(), seen: BTreeSet::new() };
    let holder = page.object.map(|id| id.0);
    let mut waiting: Vec<(&Dictionary, Option<u32>)> = vec![(&page.resources, holder)];
    for annotation in &page.annotations {
        let form = objects.object(annotation.appearance).and_then(|o| objects.as_dict(o));
        waiting.extend(form.map(|form| (form, Some(annotation.appearance.0))));
    }
    let mut steps = 0_usize;
    while let Some((dict, holder)) = waiting.pop()
        && steps < most
    {
        steps += 1;
        waiting.extend(walk.step(dict, holder));
    }
    walk.found.into_iter().map(|(kind, object)| DeviceSetting { kind, object }).collect()
}

struct Walk<'a> {
    objects: Objects<'a>,
    found: BTreeSet<(DeviceKind, Option<u32>)>,
    seen: BTreeSet<ObjectId>,
}

impl<'a> Walk<'a> {
    /// Looks through a resource dictionary, or through a dictionary that has one; gives what lies further in.
    fn step(&mut self, dict: &'a Dictionary, holder: Option<u32>) -> Vec<(&'a Dictionary, Option<u32>)> {
        let objects = self.objects;
        let mut inner = Vec::new();
        for key in ["XObject", "Pattern", "Font", "ExtGState", "Resources"] {
            let Some(entries) = objects.dict(dict, key) else { continue };
            if key == "Resources" {
                inner.push((entries, holder));
                continue;
            }
            for (_, entry) in entries {
                let id = entry.as_reference().ok();
                if id.is_some_and(|id| !self.seen.insert(id)) {
                    continue;
                }
                let Some(entry) = objects.as_dict(entry) else { continue };
                let at = id.map(|id| id.0).or(holder);
                match key {
                    "XObject" => self.drawn(entry, at),
                    "ExtGState" => inner.extend(self.state(entry, at)),
                    _ => {}
                }
                if entry.has(b"Resources") {
                    inner.push((entry, at));
                }
            }
        }
        inner
    }

    /// A picture or form that machines replace.
    fn drawn(&mut self, dict: &'a Dictionary, at: Option<u32>) {
        let objects = self.objects;
        let mut note = |there: bool, kind| {
            if there {
                self.found.insert((kind, at));
            }
        };
        let postscript = |key| objects.name(dict, key) == Some(b"PS");
        note(postscript("Subtype") || postscript("Subtype2"), DeviceKind::PostScript);
        note(objects.dict(dict, "OPI").is_some(), DeviceKind::Opi);
        note(objects.dict(dict, "Ref").is_some(), DeviceKind::Reference);
        note(objects.array(dict, "Alternates").is_some_and(|a| !a.is_empty()), DeviceKind::Alternates);
    }

    /// A graphics state (ISO 32000-1, table 58); gives the group of its soft mask. The word `Default` sets nothing.
    fn state(&mut self, dict: &'a Dictionary, at: Option<u32>) -> Option<(&'a Dictionary, Option<u32>)> {
        let objects = self.objects;
        let set = |key: &str| {
            let plain = |o: &Object| matches!(o, Object::Name(n) if n == b"Default" || n == b"Identity");
            objects.get(dict, key).filter(|o| match o {
                Object::Array(each) => !each.iter().all(|o| plain(objects.resolve(o))),
                other => !plain(other),
            })
        };
        let halftone = set("HT");
        for (there, kind) in [
            (halftone.is_some(), DeviceKind::Halftone),
            (["BG", "BG2", "UCR", "UCR2"].into_iter().any(|key| set(key).is_some()), DeviceKind::BlackGeneration),
        ] {
            if there {
                self.found.insert((kind, at));
            }
        }
        let mask = objects.dict(dict, "SMask")?;
        let id = objects.reference(mask, "G");
        // A mask may lead back to itself.
        if id.is_some_and(|id| !self.seen.insert(id)) {
            return None;
        }
        objects.dict(mask, "G").map(|group| (group, id.map(|id| id.0)))
    }
}
