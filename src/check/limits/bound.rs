use std::fmt;

use crate::unit::Quantity;

/// A limit as its check declares it: name, kind, the value in each built-in set and where it comes from.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Bound {
    /// The check's id, a dot and the limit's own name: `text-size.one-ink`; so it stands in a limits file.
    pub name: &'static str,
    /// What it limits, in a few words.
    pub what: &'static str,
    /// For sheetfed offset on coated paper.
    pub coated: Quantity,
    /// For sheetfed offset on uncoated paper.
    pub uncoated: Quantity,
    /// For a digital press.
    pub digital: Quantity,
    /// Where the values come from: a published source, `practice` or `judgement`.
    pub source: &'static str,
}

impl Bound {
    /// A limit with the same value in every set.
    pub const fn same(name: &'static str, what: &'static str, value: Quantity, source: &'static str) -> Self {
        Self { name, what, coated: value, uncoated: value, digital: value, source }
    }

    /// A limit with its own value for a digital press.
    pub const fn by_press(
        name: &'static str,
        what: &'static str,
        (offset, digital): (Quantity, Quantity),
        source: &'static str,
    ) -> Self {
        Self { name, what, coated: offset, uncoated: offset, digital, source }
    }

    /// The value in a built-in set.
    pub const fn value_in(&self, set: LimitSet) -> Quantity {
        match set {
            LimitSet::CoatedOffset => self.coated,
            LimitSet::UncoatedOffset => self.uncoated,
            LimitSet::Digital => self.digital,
        }
    }
}

/// The built-in sets of limits.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum LimitSet {
    /// Sheetfed offset on coated paper.
    #[default]
    CoatedOffset,
    /// Sheetfed offset on uncoated paper.
    UncoatedOffset,
    /// A digital press.
    Digital,
}

impl LimitSet {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::CoatedOffset, Self::UncoatedOffset, Self::Digital];

    /// `coated-offset`, `uncoated-offset`, `digital`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::CoatedOffset => "coated-offset",
            Self::UncoatedOffset => "uncoated-offset",
            Self::Digital => "digital",
        }
    }

    /// The set of a name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.name() == name)
    }
}

impl fmt::Display for LimitSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
