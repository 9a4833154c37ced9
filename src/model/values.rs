use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, de};

use crate::unit::{Length, Size, parse_length, parse_size};

/// A length as card files write it: `"1/8 in"`, `"3 mm"`, `"6.5 pt"`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Measure(pub Length);

impl<'de> Deserialize<'de> for Measure {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = Cow::<str>::deserialize(d)?;
        parse_length(&text).map(Self).map_err(de::Error::custom)
    }
}

impl JsonSchema for Measure {
    fn schema_name() -> Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "format": "fairfold-length",
            "description": "A length with its unit (in, mm, cm, pt, µm); fractions may be written",
            "examples": ["1/8 in", "3 mm", "6.5 pt", "4 1/2 in"]
        })
    }
}

/// A size as card files write it, height x width: `"6 x 12 in"`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct FlatSize(pub Size);

impl<'de> Deserialize<'de> for FlatSize {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = Cow::<str>::deserialize(d)?;
        parse_size(&text).map(Self).map_err(de::Error::custom)
    }
}

impl JsonSchema for FlatSize {
    fn schema_name() -> Cow<'static, str> {
        "Size".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "format": "fairfold-size",
            "description": "Height x width and a unit, flat",
            "examples": ["6 x 12 in", "4.5 x 12 in", "152.4 x 304.8 mm"]
        })
    }
}

/// A colour as card files write it: an ink of `[inks]` and a tint (`"heath"`, `"heath 40 %"`), `"black"`, `"white"` (bare paper),
/// or process tints in percent (`"C 60 M 0 Y 80 K 20"`).
#[derive(Clone, PartialEq, Eq, Debug, Deserialize)]
#[serde(transparent)]
pub struct ColourText(pub String);

impl JsonSchema for ColourText {
    fn schema_name() -> Cow<'static, str> {
        "Colour".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "format": "fairfold-colour",
            "description": "An ink of [inks] with or without a tint, black, white (bare paper), or process tints in percent",
            "examples": ["heath", "heath 40 %", "black 60 %", "white", "C 60 M 0 Y 80 K 20"]
        })
    }
}
