use std::ops::Range;
use std::sync::Arc;

use serde_json::{Map, Value};

use super::keywords::{fits, held_by, names_type, resolved, tag_of, takes};
use super::nearest::{listed, nearest};
use super::node::{Entry, Kind, Node, NodeValue, Number};
use super::shape_words::{about, kinds_named, measure_fault, placeholder, words_of};
use super::spans::{item_path, key_path};
use crate::fault::{Fault, Faults, Span, Text};

/// How deep a file may go: far past any card.
const DEEPEST: usize = 64;

/// A text of one of the schema's own formats.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct Formatted {
    /// Where it stands.
    pub(crate) path: String,
    /// The format, such as `fairfold-colour`.
    pub(crate) format: String,
    /// What it says.
    pub(crate) text: String,
}

/// The walk of a tree against a schema. It gives JSON that fits the schema whatever the file says, and a fault for each place where the
/// two differ.
///
/// It knows the keywords that schemars writes: `type`, `properties`, `required`, `additionalProperties`, `items`, `minItems`,
/// `maxItems`, `minimum`, `maximum`, `const`, `enum`, `oneOf`, `anyOf`, `$ref` and `format`.
pub(super) struct Shape<'a> {
    text: &'a Arc<Text>,
    schema: &'a Value,
    /// Whether the syntax is without fault, so that a key that is not there was never written.
    whole: bool,
    pub(super) faults: Faults,
    pub(super) formatted: Vec<Formatted>,
    pub(super) unsound: Vec<String>,
}

impl<'a> Shape<'a> {
    pub(super) fn new(text: &'a Arc<Text>, schema: &'a Value, whole: bool) -> Self {
        Self { text, schema, whole, faults: Faults::new(), formatted: Vec::new(), unsound: Vec::new() }
    }

    /// Walks the whole file.
    pub(super) fn root(&mut self, root: &Node) -> Value {
        self.value(root, self.schema, "", 0)
    }

    fn span(&self, range: &Range<usize>) -> Span {
        Span::new(self.text, range.clone())
    }

    /// Notes a fault at `node` and gives what stands in for it.
    fn at_fault(&mut self, node: &Node, schema: &Value, path: &str, fault: impl FnOnce(Span) -> Fault) -> Value {
        let span = self.span(&node.range);
        self.faults.push(fault(span));
        self.unsound.push(path.to_owned());
        placeholder(schema, self.schema, 0)
    }

    /// The schema that `$ref` leads to, or the schema itself.
    fn resolved(&self, schema: &'a Value) -> &'a Value {
        resolved(schema, self.schema)
    }

    fn value(&mut self, node: &Node, schema: &'a Value, path: &str, depth: usize) -> Value {
        let schema = self.resolved(schema);
        if depth > DEEPEST {
            return self.at_fault(node, schema, path, |at| Fault::new(at, "this is nested too deep"));
        }
        if let Some(words) = words_of(schema, self.schema) {
            return self.word(node, schema, &words, path);
        }
        if let Some(branches) = schema.get("oneOf").and_then(Value::as_array) {
            return self.tagged(node, schema, branches, path, depth);
        }
        if let Some(branches) = schema.get("anyOf").and_then(Value::as_array) {
            return self.either(node, schema, branches, path, depth);
        }
        if !takes(schema, node.kind()) {
            return self.wrong_kind(node, schema, path);
        }
        match &node.value {
            NodeValue::Null | NodeValue::Date => Value::Null,
            NodeValue::Bool(v) => Value::Bool(*v),
            NodeValue::Number(number) => self.number(node, *number, schema, path),
            NodeValue::Text(text) => self.text(node, text, schema, path),
            NodeValue::List(items) => self.list(node, items, schema, path, depth),
            NodeValue::Table(entries) => self.table(node, entries, schema, path, depth),
        }
    }

    fn wrong_kind(&mut self, node: &Node, schema: &Value, path: &str) -> Value {
        let needed = kinds_named(schema, self.schema);
        let is = about(node.kind());
        let root = self.schema;
        self.at_fault(node, schema, path, |at| {
            let fault = Fault::new(at, format!("{} must be {needed}, and this is {is}", called(path)));
            let fault = match node.kind() {
                Kind::Date => fault.hint("put it in quotes"),
                Kind::Number if needed.starts_with("a length") => {
                    fault.hint("put it in quotes and give it a unit: \"3 mm\"")
                }
                Kind::Text if needed.contains("number") => fault.hint("take the quotes off"),
                _ => fault,
            };
            match super::shape_words::examples(schema, root) {
                Some(examples) => fault.hint(format!("such as {examples}")),
                None => fault,
            }
        })
    }

    fn word(&mut self, node: &Node, schema: &Value, words: &[&str], path: &str) -> Value {
        let quoted: Vec<String> = words.iter().map(|w| format!("\"{w}\"")).collect();
        let allowed = format!("allowed here: {}", listed(&quoted, "or"));
        let NodeValue::Text(written) = &node.value else {
            let is = about(node.kind());
            return self.at_fault(node, schema, path, |at| {
                Fault::new(at, format!("{} must be one of its words, and this is {is}", called(path))).hint(allowed)
            });
        };
        if words.contains(&written.as_str()) {
            return Value::String(written.clone());
        }
        let near = nearest(written, words.iter().copied());
        self.at_fault(node, schema, path, |at| {
            let fault = Fault::new(at, format!("{} cannot be \"{written}\"", called(path)));
            let fault = match near {
                Some(near) => fault.hint(format!("the nearest is \"{near}\"")),
                None => fault,
            };
            fault.hint(allowed)
        })
    }

    /// Tables of several kinds, told apart by one key.
    fn tagged(&mut self, node: &Node, schema: &'a Value, branches: &'a [Value], path: &str, depth: usize) -> Value {
        let tag = branches.iter().find_map(|b| tag_of(self.resolved(b)));
        let (Some((tag, _)), NodeValue::Table(entries)) = (tag, &node.value) else {
            return self.wrong_kind(node, schema, path);
        };
        let words: Vec<&str> = branches.iter().filter_map(|b| tag_of(self.resolved(b)).map(|(_, word)| word)).collect();
        let quoted: Vec<String> = words.iter().map(|w| format!("\"{w}\"")).collect();
        let Some(entry) = entries.iter().find(|e| e.key == tag) else {
            if !self.whole {
                self.unsound.push(path.to_owned());
                return placeholder(schema, self.schema, 0);
            }
            return self.at_fault(node, schema, path, |at| {
                Fault::new(at, format!("`{tag}` is missing, which says what this is"))
                    .hint(format!("allowed: {}", listed(&quoted, "or")))
            });
        };
        let written = if let NodeValue::Text(written) = &entry.node.value { written.as_str() } else { "" };
        let found = branches.iter().find(|b| tag_of(self.resolved(b)).is_some_and(|(_, word)| word == written));
        if let Some(branch) = found {
            return self.value(node, branch, path, depth);
        }
        self.word(&entry.node, schema, &words, &key_path(path, tag));
        self.unsound.push(path.to_owned());
        placeholder(schema, self.schema, 0)
    }

    /// Values of several kinds, told apart by what they are; where that does not tell, by which leaves the fewest faults.
    fn either(&mut self, node: &Node, schema: &'a Value, branches: &'a [Value], path: &str, depth: usize) -> Value {
        let fitting: Vec<&Value> = branches.iter().filter(|b| fits(b, self.schema, node.kind())).collect();
        match fitting.as_slice() {
            [] => self.wrong_kind(node, schema, path),
            [only] => self.value(node, only, path, depth),
            several => {
                let mut best: Option<(Shape<'a>, Value)> = None;
                for branch in several {
                    let mut trial = Shape::new(self.text, self.schema, self.whole);
                    let value = trial.value(node, branch, path, depth + 1);
                    let faults = trial.faults.iter().count();
                    if best.as_ref().is_none_or(|(b, _)| faults < b.faults.iter().count()) {
                        best = Some((trial, value));
                    }
                }
                let Some((trial, value)) = best else { return Value::Null };
                self.faults.extend(trial.faults);
                self.formatted.extend(trial.formatted);
                self.unsound.extend(trial.unsound);
                value
            }
        }
    }

    fn number(&mut self, node: &Node, number: Number, schema: &Value, path: &str) -> Value {
        let held = held_by(schema);
        let limit = |key: &str, held: Option<f64>| schema.get(key).and_then(Value::as_f64).or(held);
        let whole = names_type(schema, "integer");
        let fault = if !number.real.is_finite() {
            Some(format!("{} is not a number that can be used", called(path)))
        } else if whole && number.whole.is_none() {
            let wrong = if number.real.abs() < 1e15 { "must be a whole number" } else { "is too large a number" };
            Some(format!("{} {wrong}", called(path)))
        } else if let Some(least) = limit("minimum", held.map(|h| h.0)).filter(|least| number.real < *least) {
            Some(format!("{} must be {least} or more", called(path)))
        } else {
            limit("maximum", held.map(|h| h.1))
                .filter(|most| number.real > *most)
                .map(|most| format!("{} must be {most} or less", called(path)))
        };
        match fault {
            Some(message) => self.at_fault(node, schema, path, |at| Fault::new(at, message)),
            None if whole => number.whole.map_or(Value::Null, Value::from),
            None => serde_json::Number::from_f64(number.real).map_or(Value::Null, Value::Number),
        }
    }

    fn text(&mut self, node: &Node, text: &str, schema: &Value, path: &str) -> Value {
        if let Some(format) = schema.get("format").and_then(Value::as_str) {
            if let Some(error) = measure_fault(format, text) {
                return self.at_fault(node, schema, path, |at| Fault::new(at, error.message).hint(error.hint));
            }
            self.formatted.push(Formatted { path: path.to_owned(), format: format.to_owned(), text: text.to_owned() });
        }
        Value::String(text.to_owned())
    }

    fn list(&mut self, node: &Node, items: &[Node], schema: &'a Value, path: &str, depth: usize) -> Value {
        let limit = |key: &str| schema.get(key).and_then(Value::as_u64).and_then(|n| usize::try_from(n).ok());
        let (least, most) = (limit("minItems").unwrap_or(0), limit("maxItems").unwrap_or(usize::MAX));
        if items.len() < least || items.len() > most {
            let needed = match (least, most) {
                (a, b) if a == b => format!("{a} values"),
                (a, usize::MAX) => format!("{a} values or more"),
                (a, b) => format!("{a} to {b} values"),
            };
            return self.at_fault(node, schema, path, |at| {
                Fault::new(at, format!("{} needs {needed} and has {}", called(path), items.len()))
            });
        }
        let mut values = Vec::with_capacity(items.len());
        for (n, item) in items.iter().enumerate() {
            let own = schema.get("prefixItems").and_then(|p| p.get(n)).or_else(|| schema.get("items"));
            values.push(match own {
                Some(own) => self.value(item, own, &item_path(path, n), depth + 1),
                None => Value::Null,
            });
        }
        Value::Array(values)
    }

    fn table(&mut self, node: &Node, entries: &[Entry], schema: &'a Value, path: &str, depth: usize) -> Value {
        let properties = schema.get("properties").and_then(Value::as_object);
        let known: Vec<(&str, &'a Value)> = properties.into_iter().flatten().map(|(k, v)| (k.as_str(), v)).collect();
        let own = |key: &str| known.iter().find(|(k, _)| *k == key).map(|(_, v)| *v);
        let names: Vec<&str> = known.iter().map(|(k, _)| *k).collect();
        let others = schema.get("additionalProperties").filter(|a| a.is_object());
        let mut table = Map::new();
        let mut meant: Vec<&str> = Vec::new();
        for entry in entries {
            let below = key_path(path, &entry.key);
            if let Some(own) = own(&entry.key).or(others) {
                let value = self.value(&entry.node, own, &below, depth + 1);
                table.insert(entry.key.clone(), value);
                continue;
            }
            let free = names.iter().copied().filter(|k| entries.iter().all(|e| e.key != **k));
            let near = nearest(&entry.key, free).or_else(|| nearest(&entry.key, names.iter().copied()));
            let mut fault =
                Fault::new(self.span(&entry.key_range), format!("unknown key `{}`{}", entry.key, inside(path)));
            if let Some(near) = near {
                fault = fault.hint(format!("the nearest is `{near}`"));
                meant.push(near);
                self.unsound.push(key_path(path, near));
            }
            self.faults.push(fault.hint(format!("allowed here: {}", listed(&names, "and"))));
            self.unsound.push(below);
        }
        let required = schema.get("required").and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
        for key in required.iter().filter_map(Value::as_str) {
            if table.contains_key(key) {
                continue;
            }
            let own = own(key).unwrap_or(&Value::Null);
            table.insert(key.to_owned(), placeholder(own, self.schema, 0));
            self.unsound.push(key_path(path, key));
            if self.whole && !meant.contains(&key) {
                let fault = Fault::new(self.span(&node.range), format!("`{key}` is missing{}", inside(path)));
                let about = own.get("description").and_then(Value::as_str).map(|d| d.trim_end_matches('.'));
                self.faults.push(match about {
                    Some(about) => fault.hint(format!("`{key}`: {about}")),
                    None => fault,
                });
            }
        }
        Value::Object(table)
    }
}

/// What a fault calls the value at `path`: its key, or its key and number in the list.
fn called(path: &str) -> String {
    let own = path.rsplit('.').next().unwrap_or(path);
    match own.split_once('[') {
        Some((list, number)) => {
            let number = number.trim_end_matches(']').parse::<usize>().map_or(0, |n| n + 1);
            format!("`{list}`, number {number},")
        }
        None if own.is_empty() => "the file".to_owned(),
        None => format!("`{own}`"),
    }
}

/// Where a key is unknown or missing: ` in [card]`, ` in [[tees]] number 3`.
fn inside(path: &str) -> String {
    if path.is_empty() {
        return String::new();
    }
    match path.strip_suffix(']').and_then(|p| p.rsplit_once('[')) {
        Some((list, number)) => {
            let number = number.parse::<usize>().map_or(0, |n| n + 1);
            let list = list.rsplit('.').next().unwrap_or(list);
            format!(" in `{list}`, number {number}")
        }
        None => format!(" in `{path}`"),
    }
}
