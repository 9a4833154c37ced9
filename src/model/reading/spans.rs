use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use super::node::{Node, NodeValue};
use crate::fault::{Span, Text};

/// Where every value of a file stands, by its path: `card.size`, `tees[2].lengths[6]`, counted from 0.
#[derive(Clone, PartialEq, Debug)]
pub struct Spans {
    root: Span,
    places: BTreeMap<String, Place>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
struct Place {
    value: Range<usize>,
    key: Option<Range<usize>>,
}

impl Spans {
    pub(super) fn of(text: &Arc<Text>, root: &Node) -> Self {
        let mut spans = Self { root: Span::new(text, 0..0), places: BTreeMap::new() };
        spans.walk(root, "");
        spans
    }

    fn walk(&mut self, node: &Node, path: &str) {
        match &node.value {
            NodeValue::Table(entries) => {
                for entry in entries {
                    let below = key_path(path, &entry.key);
                    let place = Place { value: entry.node.range.clone(), key: Some(entry.key_range.clone()) };
                    self.walk(&entry.node, &below);
                    self.places.insert(below, place);
                }
            }
            NodeValue::List(items) => {
                for (n, item) in items.iter().enumerate() {
                    let below = item_path(path, n);
                    self.walk(item, &below);
                    self.places.insert(below, Place { value: item.range.clone(), key: None });
                }
            }
            _ => {}
        }
    }

    fn span(&self, range: &Range<usize>) -> Span {
        Span::new(&self.root.file, range.clone())
    }

    /// Where the value of `path` stands, if the file states it.
    pub fn get(&self, path: &str) -> Option<Span> {
        self.places.get(path).map(|p| self.span(&p.value))
    }

    /// Where the key of `path` stands, if the file states it as a key.
    pub fn key(&self, path: &str) -> Option<Span> {
        self.places.get(path).and_then(|p| p.key.as_ref()).map(|k| self.span(k))
    }

    /// Where the value of `path` stands, or the nearest table or list around it that the file states.
    pub fn at(&self, path: &str) -> Span {
        let mut path = path;
        while !path.is_empty() {
            if let Some(span) = self.get(path) {
                return span;
            }
            path = path.rfind(['.', '[']).and_then(|at| path.get(..at)).unwrap_or("");
        }
        self.root.clone()
    }

    /// Every path that the file states, with the span of its value, in the order of the paths.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Span)> {
        self.places.iter().map(|(path, place)| (path.as_str(), self.span(&place.value)))
    }
}

/// The path of a key of the table at `path`.
pub(super) fn key_path(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

/// The path of an item of the list at `path`.
pub(super) fn item_path(path: &str, n: usize) -> String {
    format!("{path}[{n}]")
}

/// Whether two paths are the same or one lies within the other.
pub(crate) fn touches(a: &str, b: &str) -> bool {
    let (short, long) = if a.len() <= b.len() { (a, b) } else { (b, a) };
    long.strip_prefix(short).is_some_and(|rest| short.is_empty() || rest.is_empty() || rest.starts_with(['.', '[']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_touch_by_whole_steps() {
        assert!(touches("tees[2]", "tees[2].name"));
        assert!(touches("tees[2].name", "tees"));
        assert!(!touches("tees[2]", "tees[20]"));
        assert!(!touches("card.size", "card.sizes"));
    }
}
