use lopdf::{Dictionary, Object, StringFormat};

use super::objects::{count, whole};

/// An operand of a content stream.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Operand {
    Number(f64),
    Name(Vec<u8>),
    Text(Vec<u8>),
    Array(Vec<Self>),
    Dict(Vec<(Vec<u8>, Self)>),
    Bool(bool),
    Null,
    /// Only where damaged objects are mended; content streams hold none.
    Reference(u32, u16),
}

/// What stands next in a content stream.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Token {
    Operand(Operand),
    Operator(Vec<u8>),
}

impl Operand {
    /// The same value as a PDF object, for what inline images and property lists hold.
    #[expect(clippy::cast_possible_truncation, reason = "reals of PDF objects are f32 here; whole numbers stay whole")]
    pub(super) fn to_object(&self) -> Object {
        match self {
            Self::Number(v) => match whole(*v) {
                Some(n) if (n as f64 - v).abs() < f64::EPSILON => Object::Integer(n),
                _ => Object::Real(*v as f32),
            },
            Self::Name(name) => Object::Name(name.clone()),
            Self::Text(text) => Object::String(text.clone(), StringFormat::Literal),
            Self::Array(items) => Object::Array(items.iter().map(Self::to_object).collect()),
            Self::Dict(items) => Object::Dictionary(dictionary(items)),
            Self::Bool(v) => Object::Boolean(*v),
            Self::Null => Object::Null,
            Self::Reference(number, generation) => Object::Reference((*number, *generation)),
        }
    }
}

/// The dictionary of these pairs.
pub(super) fn dictionary(items: &[(Vec<u8>, Operand)]) -> Dictionary {
    let mut dict = Dictionary::new();
    for (key, value) in items {
        dict.set(key.clone(), value.to_object());
    }
    dict
}

/// Makes a reference of the last two numbers.
pub(super) fn refer(items: &mut Vec<Operand>) {
    if let Some([Operand::Number(number), Operand::Number(generation)]) = items.last_chunk::<2>() {
        let number = u32::try_from(count(*number, 1 << 30)).unwrap_or(0);
        let generation = u16::try_from(count(*generation, 65_535)).unwrap_or(0);
        items.truncate(items.len() - 2);
        items.push(Operand::Reference(number, generation));
    }
}

/// The value of a number's bytes and whether they were written as ISO 32000-1, 7.3.3 asks.
pub(super) fn read_number(text: &[u8]) -> (f64, bool) {
    let signs = text.iter().take_while(|b| matches!(b, b'+' | b'-')).count();
    let negative = text.first() == Some(&b'-');
    let body = text.get(signs..).unwrap_or_default();
    let mut end = 0;
    let mut points = 0;
    for byte in body {
        match byte {
            b'0'..=b'9' => {}
            b'.' if points == 0 => points = 1,
            _ => break,
        }
        end += 1;
    }
    let digits = body.get(..end).unwrap_or_default();
    let has_digit = digits.iter().any(u8::is_ascii_digit);
    let value = if has_digit {
        std::str::from_utf8(digits).ok().and_then(|t| t.parse::<f64>().ok()).filter(|v| v.is_finite()).unwrap_or(0.0)
    } else {
        0.0
    };
    let clean = signs <= 1 && end == body.len() && has_digit;
    (if negative { -value } else { value }, clean)
}
