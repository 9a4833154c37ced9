use serde_json::{Map, Value};

use super::keywords::resolved;
use super::nearest::listed;
use super::node::Kind;
use crate::model::colour_text::colour_words;
use crate::unit::{MeasureError, parse_length, parse_size};

/// What a value is, in a fault.
pub(super) const fn about(kind: Kind) -> &'static str {
    match kind {
        Kind::Null => "nothing",
        Kind::Bool => "true or false",
        Kind::Number => "a number",
        Kind::Text => "a text",
        Kind::Date => "a date",
        Kind::List => "a list",
        Kind::Table => "a table of keys",
    }
}

/// What a schema takes, in a fault: `a whole number`, `a list or a table of keys`.
pub(super) fn kinds_named(schema: &Value, root: &Value) -> String {
    let mut names = Vec::new();
    collect_kinds(schema, root, &mut names, 0);
    listed(&names, "or")
}

fn collect_kinds(schema: &Value, root: &Value, names: &mut Vec<&'static str>, depth: usize) {
    let schema = resolved(schema, root);
    for branches in ["oneOf", "anyOf"].iter().filter_map(|k| schema.get(*k)).filter_map(Value::as_array) {
        for branch in branches.iter().filter(|_| depth < 4) {
            collect_kinds(branch, root, names, depth + 1);
        }
    }
    let types: Vec<&str> = match schema.get("type") {
        Some(Value::String(only)) => vec![only],
        Some(Value::Array(several)) => several.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    };
    for name in types {
        let name = match (name, schema.get("format").and_then(Value::as_str)) {
            ("string", Some("fairfold-length")) => "a length in quotes",
            ("string", Some("fairfold-size")) => "a size in quotes",
            ("string", Some("fairfold-colour")) => "a colour in quotes",
            ("string", _) => "a text in quotes",
            ("integer", _) => "a whole number",
            ("number", _) => "a number",
            ("boolean", _) => "true or false",
            ("array", _) => "a list",
            ("object", _) => "a table of keys",
            _ => continue,
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
}

/// Examples of a schema as a fault lists them.
pub(super) fn examples(schema: &Value, root: &Value) -> Option<String> {
    let schema = resolved(schema, root);
    let branches = schema.get("anyOf").and_then(Value::as_array);
    if let Some(found) = branches.and_then(|all| all.iter().find_map(|b| examples(b, root))) {
        return Some(found);
    }
    let all: Vec<String> = schema.get("examples")?.as_array()?.iter().map(Value::to_string).collect();
    Some(listed(&all, "or"))
}

/// The words that a schema takes, where it takes words only.
pub(super) fn words_of<'a>(schema: &'a Value, root: &'a Value) -> Option<Vec<&'a str>> {
    if let Some(word) = schema.get("const").and_then(Value::as_str) {
        return Some(vec![word]);
    }
    if let Some(words) = schema.get("enum").and_then(Value::as_array) {
        return words.iter().map(Value::as_str).collect();
    }
    let branches = schema.get("oneOf").and_then(Value::as_array)?;
    let mut words = Vec::new();
    for branch in branches {
        words.extend(words_of(resolved(branch, root), root)?);
    }
    Some(words)
}

/// What is wrong with a text of one of the schema's own formats.
pub(super) fn measure_fault(format: &str, text: &str) -> Option<MeasureError> {
    match format {
        "fairfold-length" => parse_length(text).err(),
        "fairfold-size" => parse_size(text).err(),
        "fairfold-colour" => colour_words(text).err(),
        _ => None,
    }
}

/// A value that fits a schema, to stand in for one that does not, so that the rest of the file can be read.
pub(super) fn placeholder(schema: &Value, root: &Value, depth: usize) -> Value {
    let schema = resolved(schema, root);
    if depth > 8 {
        return Value::Null;
    }
    if let Some(word) = words_of(schema, root).and_then(|w| w.first().copied()) {
        return Value::String(word.to_owned());
    }
    for branches in ["anyOf", "oneOf"].iter().filter_map(|k| schema.get(*k)).filter_map(Value::as_array) {
        let null = |b: &&Value| b.get("type").and_then(Value::as_str) == Some("null");
        if let Some(branch) = branches.iter().find(null).or_else(|| branches.first()) {
            return placeholder(branch, root, depth + 1);
        }
    }
    let name = match schema.get("type") {
        Some(Value::String(only)) => only.as_str(),
        Some(Value::Array(several)) if several.iter().any(|t| t == "null") => "null",
        Some(Value::Array(several)) => several.first().and_then(Value::as_str).unwrap_or("null"),
        _ => "null",
    };
    match (name, schema.get("format").and_then(Value::as_str)) {
        ("string", Some("fairfold-length")) => "1 in".into(),
        ("string", Some("fairfold-size")) => "6 x 12 in".into(),
        ("string", Some("fairfold-colour")) => "black".into(),
        ("string", _) => "".into(),
        ("integer", _) => schema.get("minimum").and_then(Value::as_i64).unwrap_or(0).into(),
        ("number", _) => schema.get("minimum").and_then(Value::as_f64).unwrap_or(0.0).into(),
        ("boolean", _) => false.into(),
        ("array", _) => {
            let count = schema.get("minItems").and_then(Value::as_u64).unwrap_or(0).min(16);
            (0..count).map(|_| placeholder(schema.get("items").unwrap_or(&Value::Null), root, depth + 1)).collect()
        }
        ("object", _) => {
            let required = schema.get("required").and_then(Value::as_array).map(Vec::as_slice).unwrap_or_default();
            let own = |key: &str| schema.get("properties").and_then(|p| p.get(key)).unwrap_or(&Value::Null);
            let keys = required.iter().filter_map(Value::as_str);
            Value::Object(keys.map(|k| (k.to_owned(), placeholder(own(k), root, depth + 1))).collect::<Map<_, _>>())
        }
        _ => Value::Null,
    }
}
