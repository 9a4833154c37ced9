use std::sync::Arc;

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::de::DeserializeOwned;
use serde_json::Value;

use super::node::{Syntax, Tree};
use super::shape::{Formatted, Shape};
use super::spans::Spans;
use super::{json_tree, toml_tree};
use crate::fault::{Fault, Faults, Result, Source, Text};

/// A value read from a file, and where each part of it stands.
#[derive(Clone, Debug)]
pub struct Decoded<T> {
    /// The value.
    pub value: T,
    /// Where each part of it stands.
    pub spans: Spans,
}

/// A value read from a file that may have faults. Where a part is at fault, something that fits stands in its place.
pub(crate) struct Draft<T> {
    /// The value; `None` where nothing could be made of the file.
    pub(crate) value: Option<T>,
    pub(crate) spans: Spans,
    /// Values of the schema's own text formats, in the order of the file's walk.
    pub(crate) formatted: Vec<Formatted>,
    /// Paths at which the value is not what the file says.
    pub(crate) unsound: Vec<String>,
    pub(crate) faults: Faults,
}

/// Reads a file as a `T`.
///
/// # Errors
/// All faults of the syntax and of the shape, in the order of the file: each with line and column, what is allowed, and the nearest
/// name where a name is wrong.
pub fn decode<T: DeserializeOwned + JsonSchema>(text: &Arc<Text>, syntax: Syntax) -> Result<Decoded<T>> {
    let Draft { value, spans, faults, .. } = draft(text, syntax);
    match value {
        Some(value) if faults.is_empty() => Ok(Decoded { value, spans }),
        _ => Err(in_order(faults)),
    }
}

/// Reads a file as a `T` as far as it goes.
pub(crate) fn draft<T: DeserializeOwned + JsonSchema>(text: &Arc<Text>, syntax: Syntax) -> Draft<T> {
    let Tree { root, faults: syntax_faults, unreadable, lost } = match syntax {
        Syntax::Toml => toml_tree::tree(text),
        Syntax::Json => json_tree::tree(text),
    };
    let spans = Spans::of(text, &root);
    if lost {
        return Draft { value: None, spans, formatted: Vec::new(), unsound: Vec::new(), faults: syntax_faults };
    }
    let whole = unreadable.is_empty();
    let schema = schema_of::<T>();
    let mut shape = Shape::new(text, &schema, whole);
    let value = shape.root(&root);
    let Shape { faults, formatted, unsound, .. } = shape;
    // A value that cannot be read has no shape; its line has its fault already.
    let unread = |fault: &Fault| line(fault).is_some_and(|l| unreadable.contains(&l));
    let mut faults: Faults = faults.into_iter().filter(|f| !unread(f)).collect();
    faults.extend(syntax_faults);
    let value = match serde_json::from_value(value) {
        Ok(value) => Some(value).filter(|_| whole),
        Err(error) => {
            if faults.is_empty() {
                faults.push(Fault::new(spans.at(""), format!("the file cannot be read: {error}")));
            }
            None
        }
    };
    Draft { value, spans, formatted, unsound, faults }
}

/// The JSON Schema (draft 2020-12) of a type.
pub(crate) fn schema_of<T: JsonSchema>() -> Value {
    SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<T>().to_value()
}

fn line(fault: &Fault) -> Option<usize> {
    match &fault.source {
        Source::Span(span) => Some(span.line_column().0),
        _ => None,
    }
}

/// The faults in the order of the file.
pub(crate) fn in_order(faults: Faults) -> Faults {
    let mut all: Vec<Fault> = faults.into_iter().collect();
    all.sort_by_key(|f| match &f.source {
        Source::Span(span) => span.range.start,
        _ => usize::MAX,
    });
    all.into_iter().collect()
}
