use std::sync::Arc;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::node::{Entry, Node, NodeValue, Number, Tree};
use crate::fault::{Fault, Faults, Span, Text};

/// The tree of a TOML file. A file with faults still gives what could be made out, unless a header cannot be read.
pub(super) fn tree(text: &Arc<Text>) -> Tree {
    let (root, errors) = DeTable::parse_recoverable(&text.text);
    let mut faults = Faults::new();
    let (mut unreadable, mut lost) = (Vec::new(), false);
    for error in errors {
        let span = Span::new(text, error.span().unwrap_or(0..0));
        let line = span.line_column().0;
        lost |= text.text.lines().nth(line - 1).is_some_and(|l| l.trim_start().starts_with('['));
        faults.push(match error.message() {
            "duplicate key" => {
                Fault::new(span, "this key stands twice in the same table").hint("keep one and take the other out")
            }
            message => {
                unreadable.push(line);
                Fault::new(span, format!("this is not TOML: {message}"))
            }
        });
    }
    let root = Node { range: root.span(), value: table(root.get_ref()) };
    Tree { root, faults, unreadable, lost }
}

fn table(table: &DeTable<'_>) -> NodeValue {
    let mut entries: Vec<Entry> = table
        .iter()
        .map(|(key, value)| Entry { key: key.get_ref().to_string(), key_range: key.span(), node: node(value) })
        .collect();
    entries.sort_by_key(|e| e.key_range.start);
    NodeValue::Table(entries)
}

fn node(value: &Spanned<DeValue<'_>>) -> Node {
    let range = value.span();
    let value = match value.get_ref() {
        DeValue::String(text) => NodeValue::Text(text.to_string()),
        DeValue::Boolean(v) => NodeValue::Bool(*v),
        DeValue::Datetime(_) => NodeValue::Date,
        DeValue::Array(items) => NodeValue::List(items.iter().map(node).collect()),
        DeValue::Table(inner) => table(inner),
        DeValue::Float(float) => number(float.as_str()),
        DeValue::Integer(whole) if whole.radix() == 10 => number(whole.as_str()),
        DeValue::Integer(whole) => match i64::from_str_radix(whole.as_str(), whole.radix()) {
            Ok(n) => NodeValue::Number(Number { whole: Some(n), real: n as f64 }),
            Err(_) => NodeValue::Number(Number { whole: None, real: f64::INFINITY }),
        },
    };
    Node { value, range }
}

/// Digits that fit no number are told apart from numbers by being infinite.
fn number(text: &str) -> NodeValue {
    NodeValue::Number(Number::read(text).unwrap_or(Number { whole: None, real: f64::INFINITY }))
}
