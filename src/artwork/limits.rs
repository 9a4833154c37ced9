use crate::fault::{Fault, Faults, Result, Source};

/// How an artwork file is opened.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct OpenOptions {
    /// The password to try where the empty one does not open the file.
    pub password: Option<String>,
    /// What one file may use up.
    pub budget: Budget,
}

/// What reading one file or page may use up. Whatever runs over is a fault, never a hang.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Budget {
    /// Bytes that one stream may decode to.
    pub stream: usize,
    /// Bytes that all the streams of one page may decode to.
    pub page: usize,
    /// Objects in a file.
    pub objects: usize,
    /// Operators and glyphs on a page, those of forms and patterns counted at each use.
    pub operators: usize,
    /// Text runs, paths and pictures on one page.
    pub elements: usize,
    /// Forms, patterns, masks and Type 3 glyphs inside one another.
    pub depth: usize,
}

impl Default for Budget {
    fn default() -> Self {
        Self {
            stream: 128 << 20,
            page: 256 << 20,
            objects: 4_000_000,
            operators: 10_000_000,
            elements: 400_000,
            depth: 40,
        }
    }
}

/// What is left of a budget while a page is read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Purse {
    budget: Budget,
    bytes: usize,
    operators: usize,
}

impl Purse {
    pub(super) fn new(budget: Budget) -> Self {
        Self { budget, bytes: budget.page, operators: budget.operators }
    }

    /// The bytes that the next stream may decode to.
    pub(super) fn stream(&self) -> usize {
        self.budget.stream.min(self.bytes)
    }

    /// Takes what a stream decoded to.
    pub(super) fn take_bytes(&mut self, bytes: usize) {
        self.bytes = self.bytes.saturating_sub(bytes);
    }

    /// Takes one operator; what to say where there is none left.
    pub(super) fn take_operator(&mut self) -> Option<String> {
        self.take_operators(1)
    }

    /// Takes what beginning a form, pattern, mask or Type 3 glyph costs: as much as this many operators.
    pub(super) fn take_form(&mut self) -> Option<String> {
        self.take_operators(64)
    }

    fn take_operators(&mut self, count: usize) -> Option<String> {
        if let Some(left) = self.operators.checked_sub(count) {
            self.operators = left;
            return None;
        }
        Some(format!("the page has more than {} drawing operators and glyphs", self.budget.operators))
    }

    /// Whether `depth` levels may stand inside one another.
    pub(super) fn check_depth(&self, depth: usize, source: &Source) -> Result<()> {
        if depth <= self.budget.depth {
            return Ok(());
        }
        let message = format!("forms or patterns stand more than {} deep inside one another", self.budget.depth);
        Err(over(source.clone(), message))
    }
}

/// The fault of a budget that was used up.
pub(super) fn over(source: Source, message: String) -> Faults {
    Fault::new(source, message).hint("export the artwork again, flattened or with simpler parts").into()
}

/// Something odd about a file that did not stop the reading: a repair, a box out of place, a bad token.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Remark {
    /// What was found and what was made of it, one sentence without a full stop.
    pub message: String,
    /// Where.
    pub source: Source,
    /// What it is about.
    pub topic: Topic,
}

/// What a remark is about.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub enum Topic {
    /// Something that was read in a way that the file does not say.
    #[default]
    Mended,
    /// Something that is in no way readable and is left out, or contradicts itself, so that what prints may be wrong.
    Lost,
    /// An annotation that does not look as it is meant to.
    Annotation,
}
