use std::collections::BTreeMap;

use lopdf::{Dictionary, Object, ObjectId};

use super::objects::Objects;
use crate::card::LayerState;

/// The layers of a document (optional content, ISO 32000-1, 8.11) in the state in which they print.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Layers {
    prints: BTreeMap<ObjectId, bool>,
    shows: BTreeMap<ObjectId, bool>,
    names: BTreeMap<ObjectId, String>,
}

/// Membership dictionaries and expressions are followed this deep.
const DEEPEST: usize = 16;

impl Layers {
    /// Reads the default configuration: BaseState, then ON and OFF, then what `AS` sets by each group's Print usage.
    pub(super) fn read(objects: Objects) -> Self {
        let mut layers = Self::default();
        let Some(properties) = objects.document().catalog().ok().and_then(|c| objects.dict(c, "OCProperties")) else {
            return layers;
        };
        let empty = Dictionary::new();
        let config = objects.dict(properties, "D");
        let groups = ids(objects.array(properties, "OCGs").unwrap_or_default());
        let base = config.and_then(|c| objects.name(c, "BaseState")) != Some(b"OFF");
        for id in groups {
            layers.prints.insert(id, base);
            let dict = objects.object(id).and_then(|o| objects.as_dict(o)).unwrap_or(&empty);
            let name = objects.get(dict, "Name").and_then(|o| lopdf::decode_text_string(o).ok());
            layers.names.insert(id, name.unwrap_or_default());
        }
        let Some(config) = config else {
            layers.shows.clone_from(&layers.prints);
            return layers;
        };
        for (key, state) in [("ON", true), ("OFF", false)] {
            for id in ids(objects.array(config, key).unwrap_or_default()) {
                layers.prints.insert(id, state);
            }
        }
        layers.shows.clone_from(&layers.prints);
        for usage in objects.array(config, "AS").unwrap_or_default() {
            if let Some(usage) = objects.as_dict(usage) {
                apply(objects, usage, "Print", "PrintState", &mut layers.prints);
                apply(objects, usage, "View", "ViewState", &mut layers.shows);
            }
        }
        layers
    }

    /// Each layer with its states.
    pub fn states(&self) -> Vec<LayerState> {
        let shows = |id: ObjectId| self.shows.get(&id).copied().unwrap_or(true);
        self.iter()
            .map(|(id, name, prints)| LayerState { name: name.to_owned(), object: id.0, prints, shows: shows(id) })
            .collect()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.prints.is_empty()
    }

    /// Each layer's object, name and whether it prints.
    pub fn iter(&self) -> impl Iterator<Item = (ObjectId, &str, bool)> {
        self.prints.iter().map(|(id, on)| (*id, self.names.get(id).map_or("", String::as_str), *on))
    }

    /// Whether what carries `OC` (a group or a membership dictionary) prints. What cannot be read prints.
    pub(super) fn prints(&self, objects: Objects, content: &Object) -> bool {
        self.member(objects, content, 0)
    }

    fn member(&self, objects: Objects, content: &Object, depth: usize) -> bool {
        if depth > DEEPEST {
            return true;
        }
        if let Some(state) = content.as_reference().ok().and_then(|id| self.prints.get(&id)) {
            return *state;
        }
        let found = objects.document().dereference(content).ok().map(|(_, o)| o);
        let Some(Object::Dictionary(dict)) = found else { return true };
        if objects
            .document()
            .dereference(dict.get(b"Type").unwrap_or(&Object::Null))
            .ok()
            .and_then(|(_, o)| o.as_name().ok())
            != Some(b"OCMD".as_slice())
        {
            return true;
        }
        if let Ok(expression) = dict.get(b"VE") {
            return self.expression(objects, expression, depth + 1);
        }
        let groups = match dict.get(b"OCGs") {
            Ok(Object::Array(groups)) => groups.clone(),
            Ok(Object::Reference(id)) => match objects.document().get_object(*id) {
                Ok(Object::Array(groups)) => groups.clone(),
                Ok(_) => vec![Object::Reference(*id)],
                Err(_) => Vec::new(),
            },
            _ => Vec::new(),
        };
        let states: Vec<bool> = groups
            .iter()
            .filter_map(|g| g.as_reference().ok())
            .filter_map(|id| self.prints.get(&id).copied())
            .collect();
        if states.is_empty() {
            return true;
        }
        match dict.get(b"P").and_then(Object::as_name) {
            Ok(b"AllOn") => states.iter().all(|s| *s),
            Ok(b"AnyOff") => states.iter().any(|s| !*s),
            Ok(b"AllOff") => states.iter().all(|s| !*s),
            _ => states.iter().any(|s| *s),
        }
    }

    /// A visibility expression: an array of And, Or or Not and what it joins.
    fn expression(&self, objects: Objects, expression: &Object, depth: usize) -> bool {
        if depth > DEEPEST {
            return true;
        }
        let found = objects.document().dereference(expression).ok().map(|(_, o)| o);
        let Some(Object::Array(parts)) = found else { return self.member(objects, expression, depth + 1) };
        let Some((operator, rest)) = parts.split_first() else { return true };
        let mut values = rest.iter().map(|part| self.expression(objects, part, depth + 1));
        match operator.as_name() {
            Ok(b"And") => values.all(|v| v),
            Ok(b"Or") => values.any(|v| v),
            Ok(b"Not") => values.next().is_none_or(|v| !v),
            _ => true,
        }
    }
}

fn ids(objects: &[Object]) -> Vec<ObjectId> {
    objects.iter().filter_map(|o| o.as_reference().ok()).collect()
}

/// One usage application dictionary, where it speaks of this event (ISO 32000-1, table 103).
fn apply(objects: Objects, usage: &Dictionary, event: &str, state_key: &str, states: &mut BTreeMap<ObjectId, bool>) {
    if objects.name(usage, "Event") != Some(event.as_bytes()) {
        return;
    }
    let categories = objects.array(usage, "Category").unwrap_or_default();
    if !categories.iter().any(|c| matches!(objects.resolve(c), Object::Name(n) if n == event.as_bytes())) {
        return;
    }
    for id in ids(objects.array(usage, "OCGs").unwrap_or_default()) {
        let group = objects.object(id).and_then(|o| objects.as_dict(o));
        let state = group
            .and_then(|g| objects.dict(g, "Usage"))
            .and_then(|u| objects.dict(u, event))
            .and_then(|p| objects.name(p, state_key));
        match state {
            Some(b"ON") => states.insert(id, true),
            Some(b"OFF") => states.insert(id, false),
            _ => None,
        };
    }
}
