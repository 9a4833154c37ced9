use std::fmt;

use anstyle::{AnsiColor, Style};

use crate::check::Severity;

/// The styles of a text report; which one to use is for the terminal's side to decide.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Palette {
    error: Style,
    warning: Style,
    note: Style,
    good: Style,
    quiet: Style,
    strong: Style,
}

impl Palette {
    /// No styles at all: for files, pipes and `NO_COLOR`.
    pub const fn plain() -> Self {
        let none = Style::new();
        Self { error: none, warning: none, note: none, good: none, quiet: none, strong: none }
    }

    /// Colours for a terminal; meaning never hangs on them alone.
    pub const fn colours() -> Self {
        Self {
            error: AnsiColor::Red.on_default().bold(),
            warning: AnsiColor::Yellow.on_default().bold(),
            note: AnsiColor::Cyan.on_default().bold(),
            good: AnsiColor::Green.on_default().bold(),
            quiet: Style::new().dimmed(),
            strong: Style::new().bold(),
        }
    }

    pub(super) fn severity<T: fmt::Display>(&self, severity: Severity, text: T) -> Styled<T> {
        let style = match severity {
            Severity::Error => self.error,
            Severity::Warning => self.warning,
            Severity::Note => self.note,
        };
        Styled { style, text }
    }

    pub(super) fn good<T: fmt::Display>(&self, text: T) -> Styled<T> {
        Styled { style: self.good, text }
    }

    pub(super) fn quiet<T: fmt::Display>(&self, text: T) -> Styled<T> {
        Styled { style: self.quiet, text }
    }

    pub(super) fn strong<T: fmt::Display>(&self, text: T) -> Styled<T> {
        Styled { style: self.strong, text }
    }
}

/// A text in a style.
pub(super) struct Styled<T> {
    style: Style,
    text: T,
}

impl<T: fmt::Display> fmt::Display for Styled<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}{:#}", self.style, self.text, self.style)
    }
}
