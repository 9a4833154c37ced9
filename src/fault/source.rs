use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// A text file as it was read, kept so that a fault or finding can show the line it speaks of.
pub struct Text {
    /// The name as the user gave it.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl Text {
    /// A named text.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        Arc::new(Self { name: name.into(), text: text.into() })
    }

    /// Line and column of a byte, both from 1; columns count characters. Past the end counts as the end.
    pub fn line_column(&self, byte: usize) -> (usize, usize) {
        let before = self.text.get(..byte).unwrap_or(&self.text);
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
        (line, column)
    }
}

/// The name alone: the text would bury whatever else is shown.
impl fmt::Debug for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Text").field("name", &self.name).finish_non_exhaustive()
    }
}

/// A stretch of a text file.
#[derive(Clone, Debug)]
pub struct Span {
    /// The file.
    pub file: Arc<Text>,
    /// Bytes of it.
    pub range: Range<usize>,
}

impl Span {
    /// Bytes `range` of `file`.
    pub fn new(file: &Arc<Text>, range: Range<usize>) -> Self {
        Self { file: Arc::clone(file), range }
    }

    /// Line and column of its start, both from 1.
    pub fn line_column(&self) -> (usize, usize) {
        self.file.line_column(self.range.start)
    }
}

impl PartialEq for Span {
    fn eq(&self, other: &Self) -> bool {
        self.range == other.range && self.file.name == other.file.name
    }
}

impl Eq for Span {}

/// `otterby.toml:61:3`.
impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (line, column) = self.line_column();
        write!(f, "{}:{line}:{column}", self.file.name)
    }
}

/// Where a fault or finding stands.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub enum Source {
    /// No place is known.
    #[default]
    Nowhere,
    /// A whole file.
    File(String),
    /// A stretch of a text file.
    Span(Span),
    /// An object of a PDF.
    Pdf {
        /// The file's name.
        file: String,
        /// The page, from 1, where it is known.
        page: Option<u32>,
        /// The object's number, where it has one.
        object: Option<u32>,
    },
    /// An option of the command line, such as `--size`.
    Option(String),
}

impl From<Span> for Source {
    fn from(span: Span) -> Self {
        Self::Span(span)
    }
}

/// `card.toml:3:1`, `art.pdf, page 2, object 14`, `--size`.
impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nowhere => Ok(()),
            Self::File(name) | Self::Option(name) => f.write_str(name),
            Self::Span(span) => span.fmt(f),
            Self::Pdf { file, page, object } => {
                f.write_str(file)?;
                if let Some(page) = page {
                    write!(f, ", page {page}")?;
                }
                if let Some(object) = object {
                    write!(f, ", object {object}")?;
                }
                Ok(())
            }
        }
    }
}

/// A value and where it stood.
#[derive(Clone, PartialEq, Debug)]
pub struct Located<T> {
    /// The value.
    pub value: T,
    /// Its place.
    pub source: Source,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_in_characters() {
        let text = Text::new("a.toml", "é = 1\nzwei = 2\n");
        assert_eq!(text.line_column(0), (1, 1));
        assert_eq!(text.line_column(3), (1, 3));
        assert_eq!(text.line_column(7), (2, 1));
        assert_eq!(text.line_column(999), (3, 1));
        assert_eq!(Span::new(&text, 7..11).to_string(), "a.toml:2:1");
    }
}
