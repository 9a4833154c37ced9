//! Faults: what stops a job, where it stands, and the way out.
//!
//! A fault is not a finding. Findings say what the card would print badly; faults say that the job could not run as asked
//! (exit code 2). Every reader collects all the faults it can see before it gives up.

mod source;

use std::fmt;

pub use source::{Located, Source, Span, Text};

/// One reason why the job cannot run.
#[derive(Clone, PartialEq, Debug)]
pub struct Fault {
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// Where, as near as it is known.
    pub source: Source,
    /// What to do; each one sentence.
    pub hints: Vec<String>,
}

impl Fault {
    /// A fault at a place.
    pub fn new(source: impl Into<Source>, message: impl Into<String>) -> Self {
        Self { message: message.into(), source: source.into(), hints: Vec::new() }
    }

    /// The same fault with one more hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }
}

/// `otterby.toml:12:3: unknown key …`, then one indented line a hint.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.source {
            Source::Nowhere => write!(f, "{}", self.message)?,
            ref source => write!(f, "{source}: {}", self.message)?,
        }
        for hint in &self.hints {
            write!(f, "\n  = {hint}")?;
        }
        Ok(())
    }
}

/// All faults that were seen, in the order of the file; never empty as an error.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Faults(Vec<Fault>);

/// The result of every step of a job.
pub type Result<T> = std::result::Result<T, Faults>;

impl Faults {
    /// None so far.
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// Notes one more.
    pub fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Takes the value, or notes the faults and gives `None`.
    pub fn take<T>(&mut self, result: Result<T>) -> Option<T> {
        match result {
            Ok(value) => Some(value),
            Err(faults) => {
                self.0.extend(faults.0);
                None
            }
        }
    }

    /// The same faults brought to the line that names the file they speak of.
    #[must_use]
    pub fn moved_to(self, span: &Span) -> Self {
        let moved = self.0.into_iter().map(|mut fault| {
            if fault.source != Source::Nowhere {
                fault.message = format!("{} {}", fault.source, fault.message);
            }
            fault.source = span.clone().into();
            fault
        });
        Self(moved.collect())
    }

    /// Whether none was seen.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// `value` where no fault was seen, else the faults.
    pub fn or<T>(self, value: T) -> Result<T> {
        if self.is_empty() { Ok(value) } else { Err(self) }
    }

    /// Each in turn.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.0.iter()
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Self {
        Self(vec![fault])
    }
}

impl IntoIterator for Faults {
    type Item = Fault;
    type IntoIter = std::vec::IntoIter<Fault>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'a> IntoIterator for &'a Faults {
    type Item = &'a Fault;
    type IntoIter = std::slice::Iter<'a, Fault>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl Extend<Fault> for Faults {
    fn extend<I: IntoIterator<Item = Fault>>(&mut self, iter: I) {
        self.0.extend(iter);
    }
}

impl FromIterator<Fault> for Faults {
    fn from_iter<I: IntoIterator<Item = Fault>>(iter: I) -> Self {
        Self(iter.into_iter().collect())
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, fault) in self.0.iter().enumerate() {
            if n > 0 {
                writeln!(f)?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}
