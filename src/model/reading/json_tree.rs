use std::ops::Range;
use std::sync::Arc;

use jsonc_parser::ast::{Object, Value};
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};

use super::node::{Entry, Node, NodeValue, Number, Tree};
use crate::fault::{Fault, Faults, Span, Text};

/// JSON as RFC 8259 has it, and nothing more.
const STRICT: ParseOptions = ParseOptions {
    allow_comments: false,
    allow_loose_object_property_names: false,
    allow_trailing_commas: false,
    allow_missing_commas: false,
    allow_single_quoted_strings: false,
    allow_hexadecimal_numbers: false,
    allow_unary_plus_numbers: false,
    allow_bare_decimal_point_numbers: false,
    allow_non_finite_numbers: false,
    allow_extended_string_escapes: false,
};

const EMPTY: Node = Node { value: NodeValue::Table(Vec::new()), range: 0..0 };

/// The tree of a JSON file. The first fault of the syntax ends the reading.
pub(super) fn tree(text: &Arc<Text>) -> Tree {
    let mut reader = Reader { text, skipped: text.text.len() - trimmed(&text.text).len(), faults: Faults::new() };
    let root = match parse_to_ast(trimmed(&text.text), &CollectOptions::default(), &STRICT) {
        Ok(result) => result.value.map(|v| reader.node(&v)),
        Err(error) => {
            let range = error.range();
            let place = reader.range(range);
            let reason = error.kind().to_string();
            let mut letters = reason.chars();
            let reason: String = letters.next().into_iter().flat_map(char::to_lowercase).chain(letters).collect();
            reader.fault(place, format!("this is not JSON: {reason}"));
            None
        }
    };
    let lost = root.is_none();
    if lost && reader.faults.is_empty() {
        reader.fault(0..0, "the file is empty".to_owned());
    }
    Tree { root: root.unwrap_or(EMPTY), faults: reader.faults, unreadable: Vec::new(), lost }
}

/// Without a byte order mark, which RFC 8259 lets a reader pass over.
fn trimmed(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

struct Reader<'a> {
    text: &'a Arc<Text>,
    skipped: usize,
    faults: Faults,
}

impl Reader<'_> {
    fn range(&self, range: jsonc_parser::common::Range) -> Range<usize> {
        range.start + self.skipped..range.end + self.skipped
    }

    fn fault(&mut self, range: Range<usize>, message: String) {
        self.faults.push(Fault::new(Span::new(self.text, range), message));
    }

    fn node(&mut self, value: &Value<'_>) -> Node {
        let range = self.range(value.range());
        let value = match value {
            Value::NullKeyword(_) => NodeValue::Null,
            Value::BooleanLit(lit) => NodeValue::Bool(lit.value),
            Value::StringLit(lit) => NodeValue::Text(lit.value.to_string()),
            Value::NumberLit(lit) => {
                NodeValue::Number(Number::read(lit.value).unwrap_or(Number { whole: None, real: f64::INFINITY }))
            }
            Value::Array(list) => NodeValue::List(list.elements.iter().map(|v| self.node(v)).collect()),
            Value::Object(object) => self.table(object),
        };
        Node { value, range }
    }

    fn table(&mut self, object: &Object<'_>) -> NodeValue {
        let mut entries: Vec<Entry> = Vec::new();
        for property in &object.properties {
            let key = property.name.as_str().to_owned();
            let key_range = self.range(property.name.range());
            if entries.iter().any(|e| e.key == key) {
                let fault = Fault::new(Span::new(self.text, key_range), "this key stands twice in the same table")
                    .hint("keep one and take the other out");
                self.faults.push(fault);
                continue;
            }
            let node = self.node(&property.value);
            entries.push(Entry { key, key_range, node });
        }
        NodeValue::Table(entries)
    }
}
