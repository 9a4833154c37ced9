use lopdf::ObjectId;

use super::number::plain;
use super::{Content, Document, Overprint, fault};
use crate::fault::Result;
use crate::ink::Colour;

/// What a colour is set with: fills with the first operator, strokes with the second.
enum Stated {
    Device(String, [&'static str; 2]),
    Tint(ObjectId, f64),
}

/// Tints with at most five decimals.
fn numbers(values: &[f64]) -> String {
    values.iter().map(|v| plain(*v, 5)).collect::<Vec<_>>().join(" ")
}

fn stated(document: &mut Document, colour: &Colour) -> Result<Stated> {
    match colour {
        Colour::Gray(gray) => Ok(Stated::Device(numbers(&[*gray]), ["g", "G"])),
        Colour::Rgb(rgb) => Ok(Stated::Device(numbers(rgb), ["rg", "RG"])),
        Colour::Cmyk(cmyk) => Ok(Stated::Device(numbers(cmyk), ["k", "K"])),
        Colour::Calibrated { plain, .. } => stated(document, plain),
        Colour::Inks { tints, look } => match tints.as_slice() {
            [(ink, tint)] => Ok(Stated::Tint(document.ink_space(ink, *tint, look)?, *tint)),
            _ => {
                Err(fault(format!("the colour {colour} mixes inks, which is written here only for one ink at a time")))
            }
        },
        Colour::Lab(_) => {
            Err(fault(format!("the colour {colour} has no plates: state it as process tints or a spot ink")))
        }
    }
}

impl Content {
    /// Sets the fill colour in its own space: `k`, `g`, `rg`, or `cs` and `scn` for a single named ink.
    pub fn fill_colour(&mut self, document: &mut Document, colour: &Colour) -> Result<&mut Self> {
        self.colour(document, colour, 0)
    }

    /// Sets the stroke colour; as [`Content::fill_colour`].
    pub fn stroke_colour(&mut self, document: &mut Document, colour: &Colour) -> Result<&mut Self> {
        self.colour(document, colour, 1)
    }

    fn colour(&mut self, document: &mut Document, colour: &Colour, stroke: usize) -> Result<&mut Self> {
        let pick = |two: [&'static str; 2]| two.get(stroke).copied().unwrap_or_default();
        match stated(document, colour)? {
            Stated::Device(values, operators) => Ok(self.op(&[&values], pick(operators))),
            Stated::Tint(space, tint) => {
                let name = format!("/{}", self.resources().space(space));
                self.op(&[&name], pick(["cs", "CS"]));
                Ok(self.op(&[&plain(tint, 5)], pick(["scn", "SCN"])))
            }
        }
    }

    /// Sets overprint for fills and strokes.
    pub fn overprint(&mut self, document: &mut Document, overprint: Overprint) -> &mut Self {
        let state = document.overprint_state(overprint);
        self.graphics_state(state)
    }
}
