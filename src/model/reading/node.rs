use std::ops::Range;

use crate::fault::Faults;

/// How a file is written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Syntax {
    /// TOML 1.0.
    Toml,
    /// JSON (RFC 8259): no comments, no trailing commas.
    Json,
}

impl Syntax {
    /// The syntax that a file's name tells: JSON for `.json`, TOML otherwise.
    pub fn of_name(name: &str) -> Self {
        let json = name.rsplit('.').next().is_some_and(|e| e.eq_ignore_ascii_case("json"));
        if json { Self::Json } else { Self::Toml }
    }

    /// What people call it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Toml => "TOML",
            Self::Json => "JSON",
        }
    }
}

/// What a file's characters gave.
#[derive(Debug)]
pub(super) struct Tree {
    pub(super) root: Node,
    /// Faults of the syntax.
    pub(super) faults: Faults,
    /// Lines that cannot be read, counted from 1.
    pub(super) unreadable: Vec<usize>,
    /// Whether they leave it in doubt which table a key belongs to, so that nothing more can be said of the file.
    pub(super) lost: bool,
}

/// A value of a file and the bytes it stands at. A table that opens with a header in TOML stands at its header.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) value: NodeValue,
    pub(super) range: Range<usize>,
}

/// What a node holds.
#[derive(Clone, Debug)]
pub(super) enum NodeValue {
    Null,
    Bool(bool),
    Number(Number),
    Text(String),
    /// A date or time without quotes, which only TOML has.
    Date,
    List(Vec<Node>),
    Table(Vec<Entry>),
}

/// A number as a whole one, where it is one that an `i64` holds, and as a real one, which may be infinite.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub(super) whole: Option<i64>,
    pub(super) real: f64,
}

/// One key of a table.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) key_range: Range<usize>,
    pub(super) node: Node,
}

/// The kinds of values, as JSON Schema names them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Kind {
    Null,
    Bool,
    Number,
    Text,
    Date,
    List,
    Table,
}

impl Node {
    pub(super) fn kind(&self) -> Kind {
        match self.value {
            NodeValue::Null => Kind::Null,
            NodeValue::Bool(_) => Kind::Bool,
            NodeValue::Number(_) => Kind::Number,
            NodeValue::Text(_) => Kind::Text,
            NodeValue::Date => Kind::Date,
            NodeValue::List(_) => Kind::List,
            NodeValue::Table(_) => Kind::Table,
        }
    }
}

impl Number {
    /// The number that `text` writes, in the common notation of TOML and JSON without underscores.
    pub(super) fn read(text: &str) -> Option<Self> {
        let real: f64 = text.parse().ok()?;
        let whole = text.parse().ok().or_else(|| whole_of(real));
        Some(Self { whole, real })
    }
}

/// A real number as a whole one, where nothing is lost: up to 2^53.
fn whole_of(real: f64) -> Option<i64> {
    let exact = real.abs() <= 9_007_199_254_740_992.0 && real.fract().abs() < f64::MIN_POSITIVE;
    #[expect(clippy::cast_possible_truncation, reason = "a whole number of at most 2^53 either way fits")]
    exact.then_some(real as i64)
}
