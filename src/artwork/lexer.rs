use super::operand::{Operand, Token, read_number, refer};

/// Arrays and dictionaries are read this deep; deeper ones are cut off.
const DEEPEST: usize = 32;

/// Reads content streams the way common readers do: it goes on after a bad token and counts what it had to bend.
#[derive(Debug)]
pub(super) struct Lexer<'c> {
    pub(super) bytes: &'c [u8],
    pub(super) at: usize,
    references: bool,
    bent: Vec<Bent>,
}

/// A token that was not as it should be, and where.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Bent {
    pub(super) at: usize,
    pub(super) what: String,
}

/// Bent tokens are kept up to this many; the rest only differ in place.
const MOST_BENT: usize = 16;

impl<'c> Lexer<'c> {
    pub(super) fn new(bytes: &'c [u8]) -> Self {
        Self { bytes, at: 0, references: false, bent: Vec::new() }
    }

    /// Reads an object of a file from `at`, where `3 0 R` is a reference.
    pub(super) fn of_object(bytes: &'c [u8], at: usize) -> Self {
        Self { bytes, at, references: true, bent: Vec::new() }
    }

    /// Where the next token is looked for.
    pub(super) fn at(&self) -> usize {
        self.at
    }

    /// What had to be bent so far; leaves none.
    pub(super) fn take_bent(&mut self) -> Vec<Bent> {
        std::mem::take(&mut self.bent)
    }

    /// The next operand or operator; `None` at the end.
    pub(super) fn next(&mut self) -> Option<Token> {
        loop {
            self.skip_blank();
            let byte = self.peek()?;
            match byte {
                b']' | b'}' | b'{' | b')' => {
                    self.bend(format!("a `{}` that closes nothing was left out", char::from(byte)));
                    self.at += 1;
                }
                b'>' => {
                    self.bend("a `>` that closes nothing was left out".to_owned());
                    self.at += if self.bytes.get(self.at + 1) == Some(&b'>') { 2 } else { 1 };
                }
                _ => return self.token(0),
            }
        }
    }

    fn token(&mut self, depth: usize) -> Option<Token> {
        let byte = self.peek()?;
        let operand = match byte {
            b'/' => Operand::Name(self.name()),
            b'(' => Operand::Text(self.literal()),
            b'<' if self.bytes.get(self.at + 1) == Some(&b'<') => self.dictionary(depth),
            b'<' => Operand::Text(self.hexadecimal()),
            b'[' => self.array(depth),
            b'0'..=b'9' | b'+' | b'-' | b'.' => Operand::Number(self.number()),
            _ => {
                let word = self.word();
                return Some(match word.as_slice() {
                    b"true" => Token::Operand(Operand::Bool(true)),
                    b"false" => Token::Operand(Operand::Bool(false)),
                    b"null" => Token::Operand(Operand::Null),
                    _ => Token::Operator(word),
                });
            }
        };
        Some(Token::Operand(operand))
    }

    pub(super) fn peek(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    pub(super) fn bend(&mut self, what: String) {
        if self.bent.len() < MOST_BENT {
            self.bent.push(Bent { at: self.at, what });
        }
    }

    /// Skips white space and comments.
    pub(super) fn skip_blank(&mut self) {
        while let Some(byte) = self.peek() {
            if byte == b'%' {
                while self.peek().is_some_and(|b| b != b'\n' && b != b'\r') {
                    self.at += 1;
                }
            } else if is_space(byte) {
                self.at += 1;
            } else {
                return;
            }
        }
    }

    fn word(&mut self) -> Vec<u8> {
        let start = self.at;
        while self.peek().is_some_and(|b| !is_space(b) && !is_delimiter(b)) {
            self.at += 1;
        }
        if self.at == start {
            self.at += 1;
        }
        self.bytes.get(start..self.at).unwrap_or_default().to_vec()
    }

    /// A number as common readers take it: signs may repeat, a minus inside ends the digits (`0.00-40` is 0), a second
    /// point ends them too, a bare sign or point is 0.
    fn number(&mut self) -> f64 {
        let start = self.at;
        while self.peek().is_some_and(|b| matches!(b, b'0'..=b'9' | b'+' | b'-' | b'.')) {
            self.at += 1;
        }
        let text = self.bytes.get(start..self.at).unwrap_or_default();
        let (value, clean) = read_number(text);
        if !clean {
            self.bend(format!("the number `{}` was read as {value}", String::from_utf8_lossy(text)));
        }
        // `1.5e3` and the like: PDF has no exponents; the rest of the word is left out with the number kept.
        if self.peek().is_some_and(|b| matches!(b, b'e' | b'E'))
            && self.bytes.get(self.at + 1).is_some_and(|b| b.is_ascii_digit() || *b == b'-')
        {
            let rest = self.word();
            self.bend(format!("the exponent `{}` was left out", String::from_utf8_lossy(&rest)));
        }
        value
    }

    fn name(&mut self) -> Vec<u8> {
        self.at += 1;
        let mut name = Vec::new();
        while let Some(byte) = self.peek().filter(|b| !is_space(*b) && !is_delimiter(*b)) {
            let pair = (hex(self.bytes.get(self.at + 1)), hex(self.bytes.get(self.at + 2)));
            if let (b'#', (Some(high), Some(low))) = (byte, pair) {
                name.push(high * 16 + low);
                self.at += 3;
            } else {
                name.push(byte);
                self.at += 1;
            }
        }
        name
    }

    fn literal(&mut self) -> Vec<u8> {
        self.at += 1;
        let mut text = Vec::new();
        let mut open = 1_usize;
        while let Some(byte) = self.peek() {
            self.at += 1;
            match byte {
                b'(' => open += 1,
                b')' => {
                    open -= 1;
                    if open == 0 {
                        return text;
                    }
                }
                b'\\' => {
                    self.escape(&mut text);
                    continue;
                }
                _ => {}
            }
            text.push(byte);
        }
        self.bend(OPEN_TEXT.to_owned());
        text
    }

    fn escape(&mut self, text: &mut Vec<u8>) {
        let Some(byte) = self.peek() else { return };
        self.at += 1;
        match byte {
            b'n' => text.push(b'\n'),
            b'r' => text.push(b'\r'),
            b't' => text.push(b'\t'),
            b'b' => text.push(8),
            b'f' => text.push(12),
            b'\n' => {}
            b'\r' => {
                if self.peek() == Some(b'\n') {
                    self.at += 1;
                }
            }
            b'0'..=b'7' => {
                let mut value = u16::from(byte - b'0');
                for _ in 0..2 {
                    let Some(next) = self.peek().filter(|b| matches!(b, b'0'..=b'7')) else { break };
                    value = value * 8 + u16::from(next - b'0');
                    self.at += 1;
                }
                text.push(u8::try_from(value & 0xFF).unwrap_or(0));
            }
            other => text.push(other),
        }
    }

    fn hexadecimal(&mut self) -> Vec<u8> {
        self.at += 1;
        let mut text = Vec::new();
        let mut half = None;
        while let Some(byte) = self.peek() {
            self.at += 1;
            if byte == b'>' {
                text.extend(half.map(|h: u8| h * 16));
                return text;
            }
            let Some(digit) = hex(Some(&byte)) else { continue };
            half = match half {
                Some(high) => {
                    text.push(high * 16 + digit);
                    None
                }
                None => Some(digit),
            };
        }
        self.bend("a hexadecimal text without its end was taken to the end".to_owned());
        text
    }

    fn array(&mut self, depth: usize) -> Operand {
        self.at += 1;
        let mut items = Vec::new();
        loop {
            self.skip_blank();
            match self.peek() {
                None => {
                    self.bend("an array without its `]` was taken to the end".to_owned());
                    break;
                }
                Some(b']') => {
                    self.at += 1;
                    break;
                }
                Some(b')' | b'{' | b'}' | b'>') => {
                    self.bend("a stray bracket inside an array was left out".to_owned());
                    self.at += 1;
                }
                Some(_) if depth >= DEEPEST => {
                    self.at += 1;
                }
                Some(_) => match self.token(depth + 1) {
                    Some(Token::Operand(item)) => items.push(item),
                    Some(Token::Operator(word)) if self.references && word == b"R" => refer(&mut items),
                    Some(Token::Operator(word)) => {
                        self.bend(format!("`{}` inside an array was left out", String::from_utf8_lossy(&word)));
                    }
                    None => break,
                },
            }
        }
        Operand::Array(items)
    }

    fn dictionary(&mut self, depth: usize) -> Operand {
        self.at += 2;
        let mut items: Vec<(Vec<u8>, Operand)> = Vec::new();
        let mut key = None;
        let mut spare = None;
        loop {
            self.skip_blank();
            match self.peek() {
                None => {
                    self.bend("a dictionary without its `>>` was taken to the end".to_owned());
                    break;
                }
                Some(b'>') => {
                    self.at += if self.bytes.get(self.at + 1) == Some(&b'>') { 2 } else { 1 };
                    break;
                }
                Some(b')' | b']' | b'{' | b'}') => self.at += 1,
                Some(_) if depth >= DEEPEST => self.at += 1,
                Some(_) => match (self.token(depth + 1), key.take()) {
                    (Some(Token::Operand(Operand::Name(name))), None) => key = Some(name),
                    (Some(Token::Operand(value)), Some(name)) => items.push((name, value)),
                    (Some(Token::Operand(Operand::Number(generation))), None) => spare = Some(generation),
                    (Some(Token::Operator(word)), None) if self.references && word == b"R" => {
                        if let (Some((_, value)), Some(generation)) = (items.last_mut(), spare.take()) {
                            let mut pair = vec![value.clone(), Operand::Number(generation)];
                            refer(&mut pair);
                            *value = pair.pop().unwrap_or(Operand::Null);
                        }
                    }
                    (Some(_), _) => {}
                    (None, _) => break,
                },
            }
        }
        Operand::Dict(items)
    }
}

/// What is said of a text without its end.
pub(super) const OPEN_TEXT: &str = "a text without its closing bracket was taken to the end";

fn hex(byte: Option<&u8>) -> Option<u8> {
    byte.and_then(|b| char::from(*b).to_digit(16)).and_then(|d| u8::try_from(d).ok())
}

pub(super) const fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | 9 | 10 | 12 | 13 | 32)
}

pub(super) const fn is_delimiter(byte: u8) -> bool {
    matches!(byte, b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(text: &str) -> Vec<f64> {
        let mut lexer = Lexer::new(text.as_bytes());
        let mut found = Vec::new();
        while let Some(Token::Operand(Operand::Number(v))) = lexer.next() {
            found.push(v);
        }
        found
    }

    #[test]
    fn numbers_as_common_readers_take_them() {
        // ISO 32000-1, 7.3.3, and the spellings that real files have beside it.
        assert_eq!(numbers("34.5 -3.62 +123.6 4. -.002 0.0"), [34.5, -3.62, 123.6, 4.0, -0.002, 0.0]);
        assert_eq!(numbers("--7.08 0.00-40 -0. . +.5 1.2.3"), [-7.08, 0.0, 0.0, 0.0, 0.5, 1.2]);
    }

    #[test]
    fn texts_names_and_nesting() {
        let mut lexer = Lexer::new(br"(a\(b\)\101(c)) <4F7 4> /A#20B [1 [2] (x)] << /K 1 >> q");
        let mut found = Vec::new();
        while let Some(token) = lexer.next() {
            found.push(token);
        }
        let text = |t: &str| Token::Operand(Operand::Text(t.as_bytes().to_vec()));
        assert_eq!(found[0], text("a(b)A(c)"));
        assert_eq!(found[1], text("Ot"));
        assert_eq!(found[2], Token::Operand(Operand::Name(b"A B".to_vec())));
        assert_eq!(found[5], Token::Operator(b"q".to_vec()));
        assert!(lexer.take_bent().is_empty());
    }

    #[test]
    fn goes_on_after_a_bad_token_and_tells() {
        let mut lexer = Lexer::new(b"1 ] 2 > 3 } re");
        assert!(matches!(lexer.next(), Some(Token::Operand(_))));
        let mut last = None;
        while let Some(token) = lexer.next() {
            last = Some(token);
        }
        assert_eq!(last, Some(Token::Operator(b"re".to_vec())));
        assert_eq!(lexer.take_bent().len(), 3);
    }

    #[test]
    fn inline_pictures_end_at_their_own_ei() {
        let mut lexer = Lexer::new(b"/W 2 /H 1 /BPC 8 /CS /G ID EI EI Q");
        let dict = lexer.inline_dictionary();
        assert_eq!(dict.len(), 4);
        assert_eq!(lexer.inline_data(Some(2)), b"EI");
        assert_eq!(lexer.next(), Some(Token::Operator(b"Q".to_vec())));
    }
}
