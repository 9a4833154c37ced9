use std::fmt;

/// Whom a par, stroke index or rating is for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Who {
    /// Everyone alike.
    Everyone,
    /// Men.
    Men,
    /// Women.
    Women,
}

impl fmt::Display for Who {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Everyone => "everyone",
            Self::Men => "men",
            Self::Women => "women",
        })
    }
}
