//! Planes of a part of the page that paint is laid on.

use super::blend::{BlendMode, joint, separable};
use super::inks::PlaneSet;

/// A part of the page in pixels; the first of each is inside, the second is not.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Area {
    pub(super) x0: i32,
    pub(super) y0: i32,
    pub(super) x1: i32,
    pub(super) y1: i32,
}

impl Area {
    /// No pixel at all.
    pub(super) const NONE: Self = Self { x0: 0, y0: 0, x1: 0, y1: 0 };

    /// The smallest that holds both.
    pub(super) fn around(self, other: Self) -> Self {
        match (self.is_empty(), other.is_empty()) {
            (true, _) => other,
            (_, true) => self,
            _ => Self {
                x0: self.x0.min(other.x0),
                y0: self.y0.min(other.y0),
                x1: self.x1.max(other.x1),
                y1: self.y1.max(other.y1),
            },
        }
    }

    /// Moved by whole pixels.
    pub(super) fn moved(self, (dx, dy): (i32, i32)) -> Self {
        Self { x0: self.x0 + dx, y0: self.y0 + dy, x1: self.x1 + dx, y1: self.y1 + dy }
    }

    pub(super) fn width(self) -> usize {
        usize::try_from(self.x1 - self.x0).unwrap_or(0)
    }

    pub(super) fn height(self) -> usize {
        usize::try_from(self.y1 - self.y0).unwrap_or(0)
    }

    pub(super) fn is_empty(self) -> bool {
        self.x0 >= self.x1 || self.y0 >= self.y1
    }

    pub(super) fn shared(self, other: Self) -> Self {
        Self {
            x0: self.x0.max(other.x0),
            y0: self.y0.max(other.y0),
            x1: self.x1.min(other.x1),
            y1: self.y1.min(other.y1),
        }
    }
}

/// One row of paint: what it would put on each plane, and how much of it.
#[derive(Debug)]
pub(super) enum Row<'a> {
    /// The same amounts all along.
    Flat(&'a super::inks::Tints),
    /// Amounts of each plane for each pixel.
    Samples(&'a [Vec<u8>]),
    /// The same where they lie.
    Slices(&'a [&'a [u8]]),
}

impl Row<'_> {
    fn at(&self, plane: usize, x: usize) -> u8 {
        match self {
            Self::Flat(tints) => tints.at(plane),
            _ => self.plane(plane).and_then(|p| p.get(x)).copied().unwrap_or(0),
        }
    }

    fn plane(&self, plane: usize) -> Option<&[u8]> {
        match self {
            Self::Flat(_) => None,
            Self::Samples(planes) => planes.get(plane).map(Vec::as_slice),
            Self::Slices(planes) => planes.get(plane).copied(),
        }
    }
}

/// Planes of an area, with the alpha of what was painted where it matters.
#[derive(Clone, Debug)]
pub(super) struct Layer {
    pub(super) area: Area,
    pub(super) planes: Vec<Vec<u8>>,
    /// How much was painted; without it what lies below is opaque paper.
    pub(super) alpha: Option<Vec<u8>>,
    /// The alpha of what a group that is not isolated was begun on.
    pub(super) under: Option<Vec<u8>>,
}

impl Layer {
    /// Bare paper, or nothing at all where `alpha` is kept.
    pub(super) fn new(area: Area, planes: usize, alpha: bool) -> Self {
        let pixels = area.width() * area.height();
        Self { area, planes: vec![vec![0; pixels]; planes], alpha: alpha.then(|| vec![0; pixels]), under: None }
    }

    /// Layers of whole rows, from the top, as one.
    pub(super) fn stacked(area: Area, planes: usize, strips: Vec<Self>) -> Self {
        let alpha = strips.iter().all(|s| s.alpha.is_some());
        let mut whole = Self { area, planes: vec![Vec::new(); planes], alpha: alpha.then(Vec::new), under: None };
        for strip in strips {
            whole.planes.iter_mut().zip(strip.planes).for_each(|(all, some)| all.extend(some));
            if let (Some(all), Some(some)) = (&mut whole.alpha, strip.alpha) {
                all.extend(some);
            }
        }
        whole
    }

    /// Where a row of its pixels begins.
    pub(super) fn at(&self, x: i32, y: i32) -> usize {
        let down = usize::try_from(y - self.area.y0).unwrap_or(0);
        down * self.area.width() + usize::try_from(x - self.area.x0).unwrap_or(0)
    }

    /// Lays a row of paint down from (x, y), `cover` of it, on the planes it touches.
    pub(super) fn paint(&mut self, (x, y): (i32, i32), cover: &[u8], row: &Row, touches: PlaneSet, blend: BlendMode) {
        let from = self.at(x, y);
        let to = from + cover.len();
        if self.alpha.is_none() && blend == BlendMode::Normal {
            for (number, plane) in self.planes.iter_mut().enumerate().filter(|(n, _)| touches >> n & 1 == 1) {
                let Some(below) = plane.get_mut(from..to) else { continue };
                match row {
                    Row::Flat(tints) => lay_flat(below, cover, tints.at(number)),
                    samples => match samples.plane(number) {
                        Some(above) => lay(below, cover, above),
                        None => lay_flat(below, cover, 0),
                    },
                }
            }
            return;
        }
        let mut above = vec![0.0_f32; self.planes.len()];
        let mut below = vec![0.0_f32; self.planes.len()];
        for (n, cover) in cover.iter().enumerate().filter(|(_, c)| **c > 0) {
            for (number, (above, below)) in above.iter_mut().zip(&mut below).enumerate() {
                *above = f32::from(row.at(number, n)) / 255.0;
                *below = self.planes.get(number).and_then(|p| p.get(from + n)).map_or(0.0, |v| f32::from(*v) / 255.0);
            }
            self.pixel(from + n, f32::from(*cover) / 255.0, &above, &below, touches, blend);
        }
    }

    /// Adds a row of another layer to bare paper, or to the edge of what shares a pixel with it: `cover` of it from (x, y) on, taken from
    /// where it begins there. Neither keeps alpha.
    pub(super) fn add(&mut self, (x, y): (i32, i32), cover: &[u8], other: &Self, from: usize) {
        let to = self.at(x, y);
        // Most of a row lies wholly inside, where a sum of bytes does.
        let whole = cover.iter().all(|c| *c == 255);
        for (own, new) in self.planes.iter_mut().zip(&other.planes) {
            let own = own.get_mut(to..to + cover.len()).unwrap_or_default();
            let new = new.get(from..from + cover.len()).unwrap_or_default();
            if whole {
                own.iter_mut().zip(new).for_each(|(own, new)| *own = own.saturating_add(*new));
            } else {
                let pixels = own.iter_mut().zip(new).zip(cover);
                pixels.for_each(|((own, new), cover)| *own = own.saturating_add(share(*new, *cover)));
            }
        }
    }

    /// The basic compositing formula (ISO 32000-1, 11.3.3), with planes that are not touched as CompatibleOverprint blends them
    /// (11.7.4.3): they keep what lies below.
    fn pixel(&mut self, at: usize, alpha: f32, above: &[f32], below: &[f32], touches: PlaneSet, blend: BlendMode) {
        let own = self.alpha.as_ref().and_then(|a| a.get(at)).map_or(1.0, |a| f32::from(*a) / 255.0);
        let under = self.under.as_ref().and_then(|a| a.get(at)).map_or(0.0, |a| f32::from(*a) / 255.0);
        // What lies below: what the group was begun on, and what it has painted since.
        let backdrop = union(own, under);
        let result = union(backdrop, alpha);
        let share = if result > 0.0 { alpha / result } else { 0.0 };
        let four = |v: &[f32]| [0, 1, 2, 3].map(|n| v.get(n).copied().unwrap_or(0.0));
        let together = blend.is_joint().then(|| joint(blend, four(below), four(above)));
        for (number, plane) in self.planes.iter_mut().enumerate() {
            let (b, s) = (below.get(number).copied().unwrap_or(0.0), above.get(number).copied().unwrap_or(0.0));
            let touched = touches >> number & 1 == 1;
            let blended = match (&together, number) {
                _ if !touched => b,
                (Some(four), 0..4) => four.get(number).copied().unwrap_or(s),
                (_, 0..4) => separable(blend, b, s),
                _ => separable(blend.on_spots(), b, s),
            };
            let s = if touched { s } else { 0.0 };
            let value = (1.0 - share) * b + share * ((1.0 - backdrop) * s + backdrop * blended);
            if let Some(place) = plane.get_mut(at) {
                *place = byte(value);
            }
        }
        if let Some(place) = self.alpha.as_mut().and_then(|a| a.get_mut(at)) {
            *place = byte(union(own, alpha));
        }
    }

    /// What is seen on bare paper: the paint as far as it is there.
    pub(super) fn on_paper(&mut self) {
        let Some(alpha) = self.alpha.take() else { return };
        for plane in &mut self.planes {
            for (value, alpha) in plane.iter_mut().zip(&alpha) {
                *value = share(*value, *alpha);
            }
        }
    }
}

/// `a` or `b` or both.
pub(super) fn union(a: f32, b: f32) -> f32 {
    a + b - a * b
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to 0 to 255")]
pub(super) fn byte(value: f32) -> u8 {
    (value.clamp(0.0, 1.0) * 255.0 + 0.5) as u8
}

/// `a` times `b` where 255 is one, rounded to the nearest.
pub(super) fn share(a: u8, b: u8) -> u8 {
    let product = u32::from(a) * u32::from(b) + 128;
    // Exact for every pair: the usual division of such a product by 255.
    u8::try_from((product + (product >> 8)) >> 8).unwrap_or(u8::MAX)
}

fn toward(below: u8, above: u8, cover: u8) -> u8 {
    let (b, s, c) = (u32::from(below), u32::from(above), u32::from(cover));
    let sum = b * (255 - c) + s * c + 128;
    u8::try_from((sum + (sum >> 8)) >> 8).unwrap_or(u8::MAX)
}

fn lay_flat(below: &mut [u8], cover: &[u8], amount: u8) {
    if cover.iter().all(|c| *c == 255) {
        below.fill(amount);
        return;
    }
    for (below, cover) in below.iter_mut().zip(cover) {
        *below = toward(*below, amount, *cover);
    }
}

fn lay(below: &mut [u8], cover: &[u8], above: &[u8]) {
    for ((below, cover), above) in below.iter_mut().zip(cover).zip(above) {
        *below = toward(*below, *above, *cover);
    }
}
