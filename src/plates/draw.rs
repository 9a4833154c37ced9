//! Draws a list on a layer.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::clip::Clip;
use super::inks::ALL;
use super::layer::{Area, Layer, Row, share};
use super::list::{Group, Item, Mark, Meets, Paint, Scene, stands_alone};
use super::shape::Cover;

/// What drawing needs beside the list: the scene, how many planes there are, and where things are drawn.
pub(super) struct Pen<'a> {
    pub(super) scene: &'a Scene,
    pub(super) planes: usize,
    /// How far everything is moved, in pixels: for the cells of a pattern.
    pub(super) offset: (f64, f64),
    /// The soft masks that were made for this band, by their numbers.
    pub(super) masks: BTreeMap<usize, Arc<Cover>>,
    /// How deep groups, cells and masks stand in one another.
    pub(super) depth: usize,
}

/// Groups, cells and masks inside one another; the reader's own limit lies lower.
const DEEPEST: usize = 128;

impl<'a> Pen<'a> {
    pub(super) fn new(scene: &'a Scene, planes: usize) -> Self {
        Self { scene, planes, offset: (0.0, 0.0), masks: BTreeMap::new(), depth: 0 }
    }

    /// Draws items on a layer within a clip.
    pub(super) fn draw(&mut self, list: &[Item], layer: &mut Layer, clip: &Clip) {
        if self.depth > DEEPEST {
            return;
        }
        let mut clips = vec![clip.clone()];
        for item in list {
            let now = clips.last().unwrap_or(clip);
            match item {
                Item::Clip(shape) => {
                    let inner = now.narrowed(shape, self.offset);
                    clips.push(inner);
                }
                Item::Unclip => {
                    if clips.len() > 1 {
                        clips.pop();
                    }
                }
                _ if now.area.is_empty() => {}
                Item::Mark(mark) => self.mark(mark, layer, &now.clone()),
                Item::Group(group) => self.group(group, layer, &now.clone()),
            }
        }
    }

    fn mark(&mut self, mark: &Mark, layer: &mut Layer, clip: &Clip) {
        let within = clip.area.shared(layer.area);
        let cover = match &mark.shape {
            Some(shape) => shape.cover(within, self.offset),
            None => (!within.is_empty()).then(|| Cover::full(within)),
        };
        let Some(mut cover) = cover else { return };
        if let Some(left_out) = mark.without.as_ref().and_then(|s| s.cover(within, self.offset)) {
            cover = cover.without(&left_out);
        }
        let area = cover.area;
        let touches = mark.paint.touches();
        if let Paint::Tiles(cell) = &mark.paint {
            let tiles = self.tiles(*cell, area);
            self.lay(&tiles, &cover, layer, clip, mark.meets);
            return;
        }
        let mask = self.mask(mark.meets, area);
        let mut samples = vec![Vec::new(); self.planes];
        let mut alpha = Vec::new();
        let mut row: Vec<u8> = Vec::new();
        for y in area.y0..area.y1 {
            row.clear();
            row.extend_from_slice(cover.row(y, area.x0, area.x1));
            clip.trim(&mut row, area.x0, y);
            dim(&mut row, mark.meets.alpha, mask.as_deref().map(|m| m.row(y, area.x0, area.x1)));
            let Some((first, last)) = reach(&row) else { continue };
            let row = row.get_mut(first..last).unwrap_or_default();
            let x = area.x0 + i32::try_from(first).unwrap_or(0);
            if let Paint::Flat(tints) = &mark.paint {
                layer.paint((x, y), row, &Row::Flat(tints), touches, mark.meets.blend);
                continue;
            }
            alpha.clear();
            alpha.resize(row.len(), 255);
            for plane in &mut samples {
                plane.clear();
                plane.resize(row.len(), 0);
            }
            match &mark.paint {
                Paint::Picture(picture, matrix) => picture.row(*matrix, self.seen(x, y), &mut samples, &mut alpha),
                Paint::Shading(shading, matrix) => shading.row(*matrix, self.seen(x, y), &mut samples, &mut alpha),
                Paint::Flat(_) | Paint::Tiles(_) => {}
            }
            row.iter_mut().zip(&alpha).for_each(|(cover, alpha)| *cover = share(*cover, *alpha));
            layer.paint((x, y), row, &Row::Samples(&samples), touches, mark.meets.blend);
        }
    }

    /// The centre of a pixel before everything was moved.
    fn seen(&self, x: i32, y: i32) -> kurbo::Point {
        kurbo::Point::new(f64::from(x) + 0.5 - self.offset.0, f64::from(y) + 0.5 - self.offset.1)
    }

    fn group(&mut self, group: &Group, layer: &mut Layer, clip: &Clip) {
        // A group that keeps nothing apart is drawn right here.
        let plain = group.meets.plainly() && !group.knockout && (!group.isolated || stands_alone(&group.list));
        if plain {
            self.depth += 1;
            self.draw(&group.list, layer, clip);
            self.depth -= 1;
            return;
        }
        let area = clip.area.shared(layer.area);
        if area.is_empty() {
            return;
        }
        let start = if group.isolated { None } else { Some(begun_on(layer, area)) };
        let mut inner = start.clone().unwrap_or_else(|| Layer::new(area, self.planes, true));
        self.depth += 1;
        if group.knockout {
            self.knock_out(&group.list, &mut inner, area);
        } else {
            self.draw(&group.list, &mut inner, &Clip::all(area));
        }
        self.depth -= 1;
        if let Some(start) = &start {
            take_off(&mut inner, start);
        }
        self.lay(&inner, &Cover::full(area), layer, clip, group.meets);
    }

    /// Lays a layer with alpha on another.
    fn lay(&mut self, inner: &Layer, cover: &Cover, layer: &mut Layer, clip: &Clip, meets: Meets) {
        let area = cover.area.shared(inner.area);
        let mask = self.mask(meets, area);
        for y in area.y0..area.y1 {
            let mut row = cover.row(y, area.x0, area.x1).to_vec();
            clip.trim(&mut row, area.x0, y);
            dim(&mut row, meets.alpha, mask.as_deref().map(|m| m.row(y, area.x0, area.x1)));
            let from = inner.at(area.x0, y);
            let to = from + row.len();
            if let Some(alpha) = inner.alpha.as_ref().and_then(|a| a.get(from..to)) {
                row.iter_mut().zip(alpha).for_each(|(cover, alpha)| *cover = share(*cover, *alpha));
            }
            if reach(&row).is_none() {
                continue;
            }
            let samples: Vec<Vec<u8>> =
                inner.planes.iter().map(|p| p.get(from..to).unwrap_or_default().to_vec()).collect();
            layer.paint((area.x0, y), &row, &Row::Samples(&samples), ALL, meets.blend);
        }
    }

    /// Each item against what the group was begun on, not against the items before it (ISO 32000-1, 11.4.6.2).
    fn knock_out(&mut self, list: &[Item], inner: &mut Layer, area: Area) {
        let start = inner.clone();
        let mut clips = vec![Clip::all(area)];
        for item in list {
            let now = clips.last().cloned().unwrap_or_else(|| Clip::all(area));
            match item {
                Item::Clip(shape) => clips.push(now.narrowed(shape, self.offset)),
                Item::Unclip => {
                    if clips.len() > 1 {
                        clips.pop();
                    }
                }
                _ if now.area.is_empty() => {}
                item => {
                    let mut alone = start.clone();
                    self.draw(std::slice::from_ref(item), &mut alone, &now);
                    // Its shape is what it would cover were it opaque.
                    let mut shape = Layer::new(area, self.planes, true);
                    self.draw(&[opaque(item)], &mut shape, &now);
                    replace(inner, &alone, shape.alpha.as_deref().unwrap_or_default());
                }
            }
        }
    }
}

/// The same item without alpha or mask.
fn opaque(item: &Item) -> Item {
    let meets = Meets { alpha: 1.0, mask: None, ..Meets::PLAINLY };
    match item {
        Item::Mark(mark) => Item::Mark(Box::new(Mark { meets, ..(**mark).clone() })),
        Item::Group(group) => Item::Group(Group { meets, ..group.clone() }),
        other => other.clone(),
    }
}

/// Puts `new` in place of `old` where `shape` covers.
fn replace(old: &mut Layer, new: &Layer, shape: &[u8]) {
    let mix = |old: &mut [u8], new: &[u8], weights: &dyn Fn(usize) -> f32| {
        for (n, (old, new)) in old.iter_mut().zip(new).enumerate() {
            let w = weights(n);
            *old = super::layer::byte((f32::from(*old) * (1.0 - w) + f32::from(*new) * w) / 255.0);
        }
    };
    let part = |n: usize| shape.get(n).map_or(0.0, |s| f32::from(*s) / 255.0);
    let (Some(was), Some(is)) = (&old.alpha, &new.alpha) else { return };
    let before = was.clone();
    // Colours count by how much of them is there.
    let weight = |n: usize| {
        let (f, a, b) = (part(n), is.get(n).copied().unwrap_or(0), before.get(n).copied().unwrap_or(0));
        let (own, other) = (f * f32::from(a), (1.0 - f) * f32::from(b));
        if own + other > 0.0 { own / (own + other) } else { f }
    };
    for (old, new) in old.planes.iter_mut().zip(&new.planes) {
        mix(old, new, &weight);
    }
    if let Some(alpha) = &mut old.alpha {
        mix(alpha, is, &part);
    }
}

/// A layer for a group that is not isolated: the planes as they are now, and nothing painted yet.
fn begun_on(layer: &Layer, area: Area) -> Layer {
    let mut begun = Layer::new(area, layer.planes.len(), true);
    let mut under = Vec::with_capacity(area.width() * area.height());
    for y in area.y0..area.y1 {
        let (from, to) = (layer.at(area.x0, y), begun.at(area.x0, y));
        for (own, outer) in begun.planes.iter_mut().zip(&layer.planes) {
            if let (Some(own), Some(outer)) = (own.get_mut(to..to + area.width()), outer.get(from..from + area.width()))
            {
                own.copy_from_slice(outer);
            }
        }
        for x in from..from + area.width() {
            let byte = |a: Option<&Vec<u8>>, none: u8| a.and_then(|a| a.get(x)).copied().unwrap_or(none);
            let (own, below) = (byte(layer.alpha.as_ref(), 255), byte(layer.under.as_ref(), 0));
            under.push(255 - share(255 - own, 255 - below));
        }
    }
    begun.under = Some(under);
    begun
}

/// Takes what a group was begun on out of its colours (ISO 32000-1, 11.4.8).
fn take_off(inner: &mut Layer, start: &Layer) {
    let (Some(alpha), Some(under)) = (&inner.alpha, &inner.under) else { return };
    for (plane, begun) in inner.planes.iter_mut().zip(&start.planes) {
        for (((value, begun), alpha), under) in plane.iter_mut().zip(begun).zip(alpha).zip(under) {
            if *alpha == 0 {
                continue;
            }
            let (c, c0) = (f32::from(*value) / 255.0, f32::from(*begun) / 255.0);
            let (ag, a0) = (f32::from(*alpha) / 255.0, f32::from(*under) / 255.0);
            *value = super::layer::byte(c + (c - c0) * (a0 / ag - a0));
        }
    }
    inner.under = None;
}

/// Takes constant alpha and a soft mask off a row of cover.
fn dim(row: &mut [u8], alpha: f64, mask: Option<&[u8]>) {
    if alpha < 1.0 {
        let alpha = super::inks::amount(alpha);
        for cover in row.iter_mut() {
            *cover = share(*cover, alpha);
        }
    }
    if let Some(mask) = mask {
        row.iter_mut().zip(mask).for_each(|(c, m)| *c = share(*c, *m));
    }
}

/// From the first to behind the last that is not zero.
fn reach(row: &[u8]) -> Option<(usize, usize)> {
    let first = row.iter().position(|c| *c > 0)?;
    let last = row.iter().rposition(|c| *c > 0)?;
    Some((first, last + 1))
}
