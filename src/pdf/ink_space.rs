use lopdf::{Dictionary, Object};

use super::number::real;
use crate::ink::SpotInk;

fn space(name: &str, solid: [f64; 4]) -> Object {
    let numbers = |values: &[f64]| Object::Array(values.iter().map(|v| real(*v)).collect());
    let mut function = Dictionary::new();
    function.set("FunctionType", 2);
    function.set("Domain", numbers(&[0.0, 1.0]));
    function.set("C0", numbers(&[0.0; 4]));
    function.set("C1", numbers(&solid));
    function.set("N", 1);
    Object::Array(vec![
        Object::Name(b"Separation".to_vec()),
        Object::Name(name.as_bytes().to_vec()),
        Object::Name(b"DeviceCMYK".to_vec()),
        Object::Dictionary(function),
    ])
}

/// A spot ink's colour space (8.6.6.4): where its plate is missing, the tint scales its process alternate.
pub fn separation(ink: &SpotInk) -> Object {
    space(&ink.name, ink.cmyk)
}

/// The space of registration marks: every plate at once (8.6.6.4, colorant `All`).
pub fn separation_all() -> Object {
    space("All", [1.0; 4])
}

/// A process or other ink by its name and the look of its solid.
pub(super) fn separation_of(name: &str, solid: [f64; 4]) -> Object {
    space(name, solid)
}
