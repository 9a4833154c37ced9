use super::Side;
use crate::ink::{Colour, Ink};
use crate::unit::{Length, Point, Rect};

/// The plates of a face.
#[derive(Clone, PartialEq, Debug)]
pub struct FacePlates {
    /// Which face.
    pub side: Side,
    /// What was drawn, in face coordinates.
    pub area: Rect,
    /// Pixels an inch.
    pub ppi: f64,
    /// Pixels in a row, and rows; the first row is the top.
    pub size: (usize, usize),
    /// Each ink and its amounts row by row, 255 is solid.
    pub planes: Vec<(Ink, Vec<u8>)>,
    /// How the solid of each of them looks, where the artwork tells.
    pub looks: Vec<Option<Colour>>,
    /// What is not drawn as it should be, in words.
    pub not_drawn: Vec<String>,
}

/// The plates of a card's faces, as far as they were drawn.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct CardPlates(Vec<(Side, Result<FacePlates, String>)>);

impl CardPlates {
    /// Keeps the plates of a side, or why they were not drawn, in words.
    pub fn keep(&mut self, side: Side, drawn: Result<FacePlates, String>) {
        self.0.retain(|(s, _)| *s != side);
        self.0.push((side, drawn));
    }

    /// The plates of a side, though parts may be missing from them.
    ///
    /// # Errors
    /// Why there are none, in words.
    pub fn of(&self, side: Side) -> Result<&FacePlates, String> {
        let drawn = self.0.iter().find(|(s, _)| *s == side).map(|(_, drawn)| drawn);
        drawn.ok_or_else(|| format!("the plates of the {side} were not drawn"))?.as_ref().map_err(Clone::clone)
    }

    /// The plates of a side on which all of the face is drawn.
    ///
    /// # Errors
    /// Why there are none, or what is missing from them, in words.
    pub fn whole(&self, side: Side) -> Result<&FacePlates, String> {
        let plates = self.of(side)?;
        match plates.not_drawn.first() {
            Some(what) => Err(format!("the plates of the {side} lack something: {what}")),
            None => Ok(plates),
        }
    }

    /// All that were drawn.
    pub fn drawn(&self) -> impl Iterator<Item = &FacePlates> {
        self.0.iter().filter_map(|(_, drawn)| drawn.as_ref().ok())
    }
}

/// A part of a face in pixels: from and to across and down.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Pixels {
    /// First and behind the last across.
    pub across: (usize, usize),
    /// First and behind the last down.
    pub down: (usize, usize),
}

impl FacePlates {
    /// The pixels that lie wholly inside a rectangle; none of them where it is too small.
    pub fn inside(&self, rect: Rect) -> Pixels {
        let per_inch = self.ppi;
        let place = |l: Length, origin: Length| (l - origin).to_in() * per_inch;
        let (x0, x1) = (place(rect.x0, self.area.x0), place(rect.x1, self.area.x0));
        let (y0, y1) = (-place(rect.y1, self.area.y1), -place(rect.y0, self.area.y1));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to the pixels")]
        let kept = |v: f64, most: usize| v.clamp(0.0, most as f64) as usize;
        let (w, h) = self.size;
        let range = |low: f64, high: f64, most: usize| {
            let from = kept((low - 1.0e-6).ceil(), most);
            (from, kept((high + 1.0e-6).floor(), most).max(from))
        };
        Pixels { across: range(x0, x1, w), down: range(y0, y1, h) }
    }

    /// The rectangle that pixels cover on the face.
    pub fn rect(&self, pixels: Pixels) -> Rect {
        let inch = |n: usize| Length::from_in(n as f64 / self.ppi);
        let top_left = Point::new(self.area.x0, self.area.y1);
        let (x0, x1) = (top_left.x + inch(pixels.across.0), top_left.x + inch(pixels.across.1));
        Rect::new(x0, top_left.y - inch(pixels.down.1), x1, top_left.y - inch(pixels.down.0))
    }

    /// The amounts of every ink at a pixel.
    pub fn amounts(&self, x: usize, y: usize) -> Vec<u8> {
        let at = y * self.size.0 + x;
        self.planes.iter().map(|(_, plane)| plane.get(at).copied().unwrap_or(0)).collect()
    }

    /// Amounts as a colour of inks.
    pub fn colour(&self, amounts: &[u8]) -> Colour {
        let tints: Vec<(Ink, f64)> =
            self.planes.iter().zip(amounts).map(|((ink, _), a)| (ink.clone(), f64::from(*a) / 255.0)).collect();
        let process = |n: usize| tints.get(n).map_or(0.0, |(_, t)| *t);
        let look = Box::new(Colour::Cmyk([process(0), process(1), process(2), process(3)]));
        Colour::Inks { tints, look }
    }

    /// The sum of all inks in percent at every pixel.
    pub fn totals(&self) -> Vec<f32> {
        let mut totals = vec![0.0; self.size.0 * self.size.1];
        for (_, plane) in &self.planes {
            for (total, amount) in totals.iter_mut().zip(plane) {
                *total += f32::from(*amount) / 2.55;
            }
        }
        totals
    }
}

impl Pixels {
    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.across.0 >= self.across.1 || self.down.0 >= self.down.1
    }

    /// Each of them, as column and row.
    pub fn each(self) -> impl Iterator<Item = (usize, usize)> {
        (self.down.0..self.down.1).flat_map(move |y| (self.across.0..self.across.1).map(move |x| (x, y)))
    }
}

#[cfg(test)]
mod tests {
    use super::{FacePlates, Pixels};
    use crate::card::Side;
    use crate::unit::{Length, Rect};

    #[test]
    fn pixels_and_places_lead_to_each_other() {
        let inch = |n| Length::inches(n, 1);
        let area = Rect::new(Length::ZERO - inch(1), Length::ZERO - inch(1), inch(3), inch(2));
        let plates = FacePlates {
            side: Side::Outside,
            area,
            ppi: 10.0,
            size: (40, 30),
            planes: Vec::new(),
            looks: Vec::new(),
            not_drawn: Vec::new(),
        };
        // An inch at the face's origin: one inch from the left, two from the top of what was drawn.
        let pixels = plates.inside(Rect::new(Length::ZERO, Length::ZERO, inch(1), inch(1)));
        assert_eq!(pixels, Pixels { across: (10, 20), down: (10, 20) });
        assert_eq!(plates.rect(pixels), Rect::new(Length::ZERO, Length::ZERO, inch(1), inch(1)));
    }
}
