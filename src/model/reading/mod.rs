//! Reading: from the characters of a TOML or JSON file to a value of a type, with every fault of the shape in one run.
//!
//! Both syntaxes become one tree whose nodes know their place. The tree is walked against the JSON Schema of the type, so that what a
//! fault calls allowed is what the schema says; what the walk lets through is then read by serde.

mod decode;
mod json_tree;
mod keywords;
mod nearest;
mod node;
mod shape;
mod shape_words;
mod spans;
mod toml_tree;

pub use decode::{Decoded, decode};
pub use node::Syntax;
pub use spans::Spans;

pub(crate) use decode::{Draft, draft, in_order, schema_of};
pub(crate) use nearest::{listed, nearest};
pub(crate) use shape::Formatted;
pub(crate) use spans::touches;
