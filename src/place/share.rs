use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Document, Object, ObjectId};
use md5::{Digest as _, Md5};

/// Makes equal objects one: two artwork files with the same font, profile or picture carry it once. Layers stay apart even where they
/// look the same, for each is switched by itself. Gives where each object that went is now.
pub(super) fn share(out: &mut Document, mut ids: BTreeSet<ObjectId>) -> BTreeMap<ObjectId, ObjectId> {
    let mut moved: BTreeMap<ObjectId, ObjectId> = BTreeMap::new();
    // Objects that refer to equal objects become equal themselves, one level a round.
    loop {
        let round = twins(out, &ids);
        if round.is_empty() {
            return moved;
        }
        for gone in round.keys() {
            out.objects.remove(gone);
            ids.remove(gone);
        }
        for object in out.objects.values_mut() {
            follow(object, &round);
        }
        for kept in moved.values_mut() {
            *kept = round.get(kept).copied().unwrap_or(*kept);
        }
        moved.extend(round);
    }
}

/// What goes, and what it is equal to.
fn twins(out: &Document, ids: &BTreeSet<ObjectId>) -> BTreeMap<ObjectId, ObjectId> {
    let mut alike: BTreeMap<(usize, Vec<u8>), Vec<ObjectId>> = BTreeMap::new();
    for id in ids {
        let Ok(object) = out.get_object(*id) else { continue };
        let (length, said) = match object {
            Object::Stream(stream) => (stream.content.len(), format!("{:?}", stream.dict)),
            Object::Dictionary(dict) if dict.has_type(b"OCG") => continue,
            other => (0, format!("{other:?}")),
        };
        alike.entry((length, Md5::digest(said).to_vec())).or_default().push(*id);
    }
    let mut twins = BTreeMap::new();
    for group in alike.into_values().filter(|group| group.len() > 1) {
        let mut firsts: Vec<ObjectId> = Vec::new();
        for id in group {
            match firsts.iter().find(|first| out.objects.get(first) == out.objects.get(&id)) {
                Some(first) => {
                    twins.insert(id, *first);
                }
                None => firsts.push(id),
            }
        }
    }
    twins
}

fn follow(object: &mut Object, moved: &BTreeMap<ObjectId, ObjectId>) {
    match object {
        Object::Reference(id) => *id = moved.get(id).copied().unwrap_or(*id),
        Object::Array(values) => values.iter_mut().for_each(|v| follow(v, moved)),
        Object::Dictionary(dict) => dict.iter_mut().for_each(|(_, v)| follow(v, moved)),
        Object::Stream(stream) => stream.dict.iter_mut().for_each(|(_, v)| follow(v, moved)),
        _ => {}
    }
}
