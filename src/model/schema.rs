use serde_json::{Map, Value};

use super::CardFile;
use super::reading::schema_of;

/// The JSON Schema (draft 2020-12) of card files, with every key's description. The same bytes on every run.
pub fn schema() -> Value {
    titled(
        schema_of::<CardFile>(),
        "urn:fairfold:card-file",
        "fairfold card file",
        "A finished layout model of a folded golf scorecard, as TOML or JSON: size and fold, inks, course, tees, grid and panels.",
    )
}

/// The JSON Schema of another file that is read as card files are, under a name of its own.
pub fn schema_titled<T: schemars::JsonSchema>(id: &str, title: &str, description: &str) -> Value {
    titled(schema_of::<T>(), id, title, description)
}

/// A type's schema under a name of its own. The name is a URN, not a place on any network.
fn titled(schema: Value, id: &str, title: &str, description: &str) -> Value {
    let mut head = Map::new();
    for (key, value) in [
        ("$schema", "https://json-schema.org/draft/2020-12/schema"),
        ("$id", id),
        ("title", title),
        ("description", description),
    ] {
        head.insert(key.to_owned(), value.into());
    }
    if let Value::Object(body) = schema {
        for (key, value) in body {
            head.entry(key).or_insert(value);
        }
    }
    Value::Object(head)
}
