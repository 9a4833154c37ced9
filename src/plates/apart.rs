//! What is drawn apart and then used: cells of tiling patterns, and soft masks.

use std::sync::Arc;

use kurbo::{Rect, Vec2};
use rayon::prelude::*;

use super::clip::Clip;
use super::draw::Pen;
use super::inks::amount;
use super::layer::{Area, Layer, share};
use super::list::{Mask, Meets, Scene};

/// Rows of a stamp that are drawn at a time.
const STRIP: u16 = 128;

/// The stamps that stand at several places, drawn over all cores; `None` for those that are drawn where they stand.
pub(super) fn stamps(scene: &Scene, planes: usize) -> Vec<Option<Layer>> {
    let drawn = |stamp: &super::list::Stamp| {
        let area = stamp.area;
        let strips: Vec<Layer> = (area.y0..area.y1)
            .into_par_iter()
            .step_by(STRIP.into())
            .map(|y0| {
                let strip = Area { y0, y1: area.y1.min(y0 + i32::from(STRIP)), ..area };
                let mut layer = Layer::new(strip, planes, scene.blends);
                Pen::new(scene, planes, &[], strip).draw(&stamp.list, &mut layer, &Clip::all(strip));
                layer
            })
            .collect();
        Layer::stacked(area, planes, strips)
    };
    scene.stamps.iter().map(|stamp| (stamp.uses > 1).then(|| drawn(stamp))).collect()
}

/// A soft mask on the pixels where its group paints, and what it is everywhere else.
#[derive(Debug)]
pub(super) struct Masking {
    area: Area,
    amounts: Vec<u8>,
    around: u8,
}

impl Masking {
    /// Takes it off a row of cover that begins at (x, y).
    pub(super) fn dim(&self, row: &mut [u8], x: i32, y: i32) {
        let inside = (self.area.y0..self.area.y1).contains(&y);
        let from = usize::try_from(y - self.area.y0).unwrap_or(0) * self.area.width();
        for (x, cover) in (x..).zip(row) {
            let own = if inside && (self.area.x0..self.area.x1).contains(&x) {
                let at = from + usize::try_from(x - self.area.x0).unwrap_or(0);
                self.amounts.get(at).copied().unwrap_or(self.around)
            } else {
                self.around
            };
            *cover = share(*cover, own);
        }
    }
}

impl Pen<'_> {
    /// A tiling pattern over an area; `repeated` where one cell is drawn and put down by whole pixels.
    pub(super) fn tiles(&mut self, number: usize, repeated: bool, area: Area) -> Layer {
        let mut tiles = Layer::new(area, self.planes, true);
        let scene = self.scene;
        let Some(cell) = scene.cells.get(number) else { return tiles };
        let (across, up) = cell.steps();
        let base = self.offset;
        let outer =
            Rect::new(area.x0.into(), area.y0.into(), area.x1.into(), area.y1.into()) - Vec2::new(base.0, base.1);
        let places = places(cell.matrix.transform_rect_bbox(cell.bbox), across, up, outer);
        if repeated {
            let one = cell.bounds();
            let mut drawn = Layer::new(one, self.planes, true);
            let band = std::mem::replace(&mut self.band, one);
            self.offset = (0.0, 0.0);
            let masks = std::mem::take(&mut self.masks);
            self.draw(&cell.list, &mut drawn, &Clip::all(one));
            (self.band, self.masks) = (band, masks);
            for shift in places {
                put(&drawn, whole(base.0 + shift.x), whole(base.1 + shift.y), &mut tiles);
            }
        } else {
            for shift in places {
                self.offset = (base.0 + shift.x, base.1 + shift.y);
                self.draw(&cell.list, &mut tiles, &Clip::all(area));
            }
        }
        self.offset = base;
        tiles
    }

    /// The soft mask that paint meets through, over an area.
    pub(super) fn mask(&mut self, meets: Meets, area: Area) -> Option<Arc<Masking>> {
        let number = meets.mask?;
        let mask = self.scene.masks.get(number)?;
        // A mask stays where it was set; cells that move theirs are made anew.
        if self.offset != (0.0, 0.0) {
            let moved = mask.reach.moved((whole(self.offset.0), whole(self.offset.1)));
            let near = Area { x0: moved.x0 - 1, y0: moved.y0 - 1, x1: moved.x1 + 1, y1: moved.y1 + 1 };
            return Some(Arc::new(self.masking(mask, near.shared(area))));
        }
        if let Some(known) = self.masks.get(&number) {
            return Some(Arc::clone(known));
        }
        let made = Arc::new(self.masking(mask, mask.reach.shared(self.band)));
        self.masks.insert(number, Arc::clone(&made));
        Some(made)
    }

    /// ISO 32000-1, 11.5: the group's alpha, or its luminosity over its backdrop.
    fn masking(&mut self, mask: &Mask, area: Area) -> Masking {
        let curved = |v: u8| mask.curve.as_ref().and_then(|c| c.get(usize::from(v))).copied().unwrap_or(v);
        let backdrop: [f64; 4] = [0, 1, 2, 3].map(|n| f64::from(mask.backdrop.at(n)) / 255.0);
        let around = curved(if mask.luminosity { amount(gray_of(backdrop)) } else { 0 });
        if area.is_empty() {
            return Masking { area: Area::NONE, amounts: Vec::new(), around };
        }
        let mut layer = Layer::new(area, self.planes, true);
        self.draw(&mask.list, &mut layer, &Clip::all(area));
        let alpha = layer.alpha.unwrap_or_default();
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
            curved(amount(gray_of([tint(0, c), tint(1, m), tint(2, y), tint(3, k)])))
        });
        Masking { area, amounts: amounts.collect(), around }
    }
}

/// Where cells must lie, as shifts of the first, so that they cover an area; in the order of rows.
fn places(cell: Rect, across: Vec2, up: Vec2, outer: Rect) -> Vec<Vec2> {
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
    #[expect(clippy::cast_possible_truncation, reason = "cells that were counted before")]
    let (i0, i1, j0, j1) = (i0 as i64, i1 as i64, j0 as i64, j1 as i64);
    let mut found = Vec::new();
    for j in j0..=j1 {
        for i in i0..=i1 {
            let shift = across * i as f64 + up * j as f64;
            if (cell + shift).overlaps(outer) {
                found.push(shift);
            }
        }
    }
    found
}

#[expect(clippy::cast_possible_truncation, reason = "a place among pixels")]
fn whole(v: f64) -> i32 {
    v.round().clamp(-1.0e6, 1.0e6) as i32
}

/// Lays a drawn cell on the tiles, moved by whole pixels.
fn put(cell: &Layer, dx: i32, dy: i32, tiles: &mut Layer) {
    let area = cell.area.moved((dx, dy)).shared(tiles.area);
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
