use super::lexer::{Lexer, OPEN_TEXT, is_delimiter, is_space};
use super::operand::{Operand, Token};

impl<'c> Lexer<'c> {
    /// The key and value pairs of an inline image up to `ID`, then the place of its first byte.
    pub(super) fn inline_dictionary(&mut self) -> Vec<(Vec<u8>, Operand)> {
        let mut items = Vec::new();
        let mut key = None;
        while let Some(token) = self.next() {
            match (token, key.take()) {
                (Token::Operator(word), _) if word == b"ID" => break,
                (Token::Operand(Operand::Name(name)), None) => key = Some(name),
                (Token::Operand(value), Some(name)) => items.push((name, value)),
                (Token::Operator(_), _) | (Token::Operand(_), None) => {}
            }
        }
        // One white-space byte stands between ID and the data.
        if self.peek().is_some_and(is_space) {
            self.at += 1;
        }
        items
    }

    /// The bytes of an inline image up to its `EI`. `expected` is their count where no filter hides it.
    pub(super) fn inline_data(&mut self, expected: Option<usize>) -> &'c [u8] {
        let start = self.at;
        if let Some(end) = expected.and_then(|n| start.checked_add(n)).filter(|end| *end <= self.bytes.len()) {
            self.at = end;
            self.skip_blank();
            if self.bytes.get(self.at..self.at + 2) == Some(b"EI") {
                self.at += 2;
                return self.bytes.get(start..end).unwrap_or_default();
            }
            self.at = start;
        }
        let mut at = start;
        while at < self.bytes.len() {
            if self.ends_image(at, start) {
                self.at = at + 2;
                let end = if at > start { at - 1 } else { at };
                return self.bytes.get(start..end).unwrap_or_default();
            }
            at += 1;
        }
        self.bend("an inline picture without its `EI` was taken to the end".to_owned());
        self.at = self.bytes.len();
        self.bytes.get(start..).unwrap_or_default()
    }

    /// Whether an `EI` that ends a picture stands at `at`: white space around it, and text, not samples, after it.
    fn ends_image(&self, at: usize, start: usize) -> bool {
        let around = self.bytes.get(at..at + 2) == Some(b"EI")
            && (at == start || self.bytes.get(at - 1).copied().is_some_and(is_space))
            && self.bytes.get(at + 2).is_none_or(|b| is_space(*b) || is_delimiter(*b));
        around
            && self
                .bytes
                .get(at + 2..(at + 12).min(self.bytes.len()))
                .is_none_or(|next| next.iter().all(|b| is_space(*b) || (0x20..0x7F).contains(b)))
    }
}

/// Whether a content stream ends in the middle of a text in brackets.
pub(super) fn ends_inside_text(content: &[u8]) -> bool {
    let mut lexer = Lexer::new(content);
    let mut open = false;
    while let Some(token) = lexer.next() {
        if token == Token::Operator(b"BI".to_vec()) {
            lexer.inline_dictionary();
            lexer.inline_data(None);
        }
        open |= lexer.take_bent().iter().any(|b| b.what == OPEN_TEXT);
    }
    open
}
