//! What is drawn apart and then used: cells of tiling patterns, and soft masks.

use std::sync::Arc;

use kurbo::{Rect, Vec2};

use super::clip::Clip;
use super::draw::Pen;
use super::layer::{Area, Layer, share};
use super::list::Meets;
use super::shape::{Cover, pixels_of};

/// Cells that are drawn one by one in a band; beyond, one is drawn and repeated by whole pixels.
const MOST_DRAWN: usize = 400;
/// Cells in a band at the most, as many as there are pixels.
const MOST_CELLS: i64 = 1 << 24;

impl Pen<'_> {
    /// A tiling pattern over an area.
    pub(super) fn tiles(&mut self, number: usize, area: Area) -> Layer {
        let mut tiles = Layer::new(area, self.planes, true);
        let scene = self.scene;
        let Some(cell) = scene.cells.get(number) else { return tiles };
        let (across, up) =
            (cell.matrix * kurbo::Point::new(cell.x_step, 0.0), cell.matrix * kurbo::Point::new(0.0, cell.y_step));
        let origin = cell.matrix * kurbo::Point::ORIGIN;
        let (across, up) = (across - origin, up - origin);
        if across.cross(up).abs() < 1.0e-9 {
            return tiles;
        }
        let base = self.offset;
        let outer =
            Rect::new(area.x0.into(), area.y0.into(), area.x1.into(), area.y1.into()) - Vec2::new(base.0, base.1);
        let Some(places) = places(cell.matrix.transform_rect_bbox(cell.bbox), across, up, outer) else { return tiles };
        self.depth += 1;
        if places.len() <= MOST_DRAWN {
            for shift in places {
                self.offset = (base.0 + shift.x, base.1 + shift.y);
                self.draw(&cell.list, &mut tiles, &Clip::all(area));
            }
        } else {
            let bounds = cell.matrix.transform_rect_bbox(cell.bbox);
            let one = pixels_of(bounds);
            self.offset = (0.0, 0.0);
            let mut drawn = Layer::new(one, self.planes, true);
            self.draw(&cell.list, &mut drawn, &Clip::all(one));
            for shift in places {
                put(&drawn, whole(base.0 + shift.x), whole(base.1 + shift.y), &mut tiles);
            }
        }
        self.depth -= 1;
        self.offset = base;
        tiles
    }

    /// The soft mask that paint meets through, over an area.
    pub(super) fn mask(&mut self, meets: Meets, area: Area) -> Option<Arc<Cover>> {
        let number = meets.mask?;
        // A mask stays where it was set; cells that move theirs are made anew.
        let moves = self.offset != (0.0, 0.0);
        if let Some(known) = self.masks.get(&number).filter(|m| !moves && m.area.shared(area) == area) {
            return Some(Arc::clone(known));
        }
        let made = Arc::new(self.masking(number, area)?);
        if !moves {
            self.masks.insert(number, Arc::clone(&made));
        }
        Some(made)
    }

    /// ISO 32000-1, 11.5: the group's alpha, or its luminosity over its backdrop.
    fn masking(&mut self, number: usize, area: Area) -> Option<Cover> {
        let scene = self.scene;
        let mask = scene.masks.get(number)?;
        let mut layer = Layer::new(area, self.planes, true);
        self.depth += 1;
        self.draw(&mask.list, &mut layer, &Clip::all(area));
        self.depth -= 1;
        let alpha = layer.alpha.unwrap_or_default();
        let backdrop: [f64; 4] = [0, 1, 2, 3].map(|n| f64::from(mask.backdrop.at(n)) / 255.0);
        let curved = |v: u8| mask.curve.as_ref().and_then(|c| c.get(usize::from(v))).copied().unwrap_or(v);
        let amounts = alpha.iter().enumerate().map(|(n, alpha)| {
            if !mask.luminosity {
                return curved(*alpha);
            }
            let a = f64::from(*alpha) / 255.0;
            let tint = |plane: usize, below: f64| {
                let own = layer.planes.get(plane).and_then(|p| p.get(n)).map_or(0.0, |v| f64::from(*v) / 255.0);
                own * a + below * (1.0 - a)
            };
            let [c, m, y, k] = backdrop;
            curved(super::inks::amount(gray_of([tint(0, c), tint(1, m), tint(2, y), tint(3, k)])))
        });
        Some(Cover::of(area, amounts.collect()))
    }
}

/// Where cells must lie, as shifts of the first, so that they cover an area; in the order of rows.
fn places(cell: Rect, across: Vec2, up: Vec2, outer: Rect) -> Option<Vec<Vec2>> {
    // Corners of the area, taken from both corners of the cell, in steps.
    let det = across.cross(up);
    let steps = |v: Vec2| (v.cross(up) / det, across.cross(v) / det);
    let mut ranges = [(f64::MAX, f64::MIN); 2];
    for (ox, cx) in [(outer.x0, cell.x1), (outer.x1, cell.x0), (outer.x0, cell.x0), (outer.x1, cell.x1)] {
        for (oy, cy) in [(outer.y0, cell.y1), (outer.y1, cell.y0), (outer.y0, cell.y0), (outer.y1, cell.y1)] {
            let (i, j) = steps(Vec2::new(ox - cx, oy - cy));
            for (range, v) in ranges.iter_mut().zip([i, j]) {
                *range = (range.0.min(v), range.1.max(v));
            }
        }
    }
    let [(i0, i1), (j0, j1)] = ranges.map(|(low, high)| (low.floor(), high.ceil()));
    #[expect(clippy::cast_possible_truncation, reason = "held against the most that there may be")]
    let (i0, i1, j0, j1) = (i0 as i64, i1 as i64, j0 as i64, j1 as i64);
    if (i1 - i0 + 1).checked_mul(j1 - j0 + 1)? > MOST_CELLS {
        return None;
    }
    let mut found = Vec::new();
    for j in j0..=j1 {
        for i in i0..=i1 {
            let shift = across * i as f64 + up * j as f64;
            if (cell + shift).overlaps(outer) {
                found.push(shift);
            }
        }
    }
    Some(found)
}

#[expect(clippy::cast_possible_truncation, reason = "a place among pixels")]
fn whole(v: f64) -> i32 {
    v.round().clamp(-1.0e6, 1.0e6) as i32
}

/// Lays a drawn cell on the tiles, moved by whole pixels.
fn put(cell: &Layer, dx: i32, dy: i32, tiles: &mut Layer) {
    let moved = Area { x0: cell.area.x0 + dx, y0: cell.area.y0 + dy, x1: cell.area.x1 + dx, y1: cell.area.y1 + dy };
    let area = moved.shared(tiles.area);
    if area.is_empty() {
        return;
    }
    for y in area.y0..area.y1 {
        let (from, to) = (cell.at(area.x0 - dx, y - dy), tiles.at(area.x0, y));
        for n in 0..area.width() {
            let alpha = cell.alpha.as_ref().and_then(|a| a.get(from + n)).copied().unwrap_or(0);
            if alpha == 0 {
                continue;
            }
            let below = tiles.alpha.as_ref().and_then(|a| a.get(to + n)).copied().unwrap_or(0);
            let sum = 255 - share(255 - alpha, 255 - below);
            let part = f32::from(alpha) / f32::from(sum);
            for (own, plane) in tiles.planes.iter_mut().zip(&cell.planes) {
                if let (Some(own), Some(new)) = (own.get_mut(to + n), plane.get(from + n)) {
                    *own = super::layer::byte((f32::from(*own) * (1.0 - part) + f32::from(*new) * part) / 255.0);
                }
            }
            if let Some(own) = tiles.alpha.as_mut().and_then(|a| a.get_mut(to + n)) {
                *own = sum;
            }
        }
    }
}

/// The luminosity of a process colour as a soft mask takes it: the gray that the standard's own rule gives (ISO 32000-1, 10.3.4).
fn gray_of([c, m, y, k]: [f64; 4]) -> f64 {
    1.0 - (0.3 * c + 0.59 * m + 0.11 * y + k).min(1.0)
}
