//! What the keywords of a schema say of a value, as far as schemars writes them.

use serde_json::Value;

use super::node::Kind;

/// The schema that a `$ref` leads to, or the schema itself.
pub(super) fn resolved<'a>(schema: &'a Value, root: &'a Value) -> &'a Value {
    let mut schema = schema;
    for _ in 0..8 {
        let Some(name) = schema.get("$ref").and_then(Value::as_str) else { break };
        match root.pointer(name.trim_start_matches('#')) {
            Some(next) => schema = next,
            None => break,
        }
    }
    schema
}

/// The key and word that tell a table from its siblings.
pub(super) fn tag_of(schema: &Value) -> Option<(&str, &str)> {
    let properties = schema.get("properties")?.as_object()?;
    properties.iter().find_map(|(key, own)| Some((key.as_str(), own.get("const")?.as_str()?)))
}

/// Whether `type` names `name`, alone or among others.
pub(super) fn names_type(schema: &Value, name: &str) -> bool {
    match schema.get("type") {
        Some(Value::String(only)) => only == name,
        Some(Value::Array(several)) => several.iter().any(|t| t == name),
        _ => false,
    }
}

/// Whether a value of this kind can be of a schema without branches.
pub(super) fn takes(schema: &Value, kind: Kind) -> bool {
    match kind {
        Kind::Null => names_type(schema, "null"),
        Kind::Bool => names_type(schema, "boolean"),
        Kind::Number => names_type(schema, "number") || names_type(schema, "integer"),
        Kind::Text => names_type(schema, "string"),
        Kind::Date => false,
        Kind::List => names_type(schema, "array"),
        Kind::Table => names_type(schema, "object"),
    }
}

/// Whether a value of this kind can be of a schema, branches included.
pub(super) fn fits(schema: &Value, root: &Value, kind: Kind) -> bool {
    let schema = resolved(schema, root);
    let branches = schema.get("oneOf").or_else(|| schema.get("anyOf")).and_then(Value::as_array);
    match branches {
        Some(branches) => branches.iter().any(|b| fits(b, root, kind)),
        None if schema.get("enum").is_some() || schema.get("const").is_some() => kind == Kind::Text,
        None => takes(schema, kind),
    }
}

/// The ends of the whole numbers that a format of schemars holds, where they are nearer than those of a file's numbers.
pub(super) fn held_by(schema: &Value) -> Option<(f64, f64)> {
    match schema.get("format").and_then(Value::as_str)? {
        "uint32" => Some((0.0, f64::from(u32::MAX))),
        "uint16" => Some((0.0, f64::from(u16::MAX))),
        "uint8" => Some((0.0, f64::from(u8::MAX))),
        "int32" => Some((f64::from(i32::MIN), f64::from(i32::MAX))),
        "int16" => Some((f64::from(i16::MIN), f64::from(i16::MAX))),
        "int8" => Some((f64::from(i8::MIN), f64::from(i8::MAX))),
        _ => None,
    }
}
