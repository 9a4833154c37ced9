//! Draws a list on a layer.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::apart::Masking;
use super::clip::Clip;
use super::inks::ALL;
use super::layer::{Area, Layer, Row, share};
use super::list::{Group, Item, Mark, Meets, Paint, Scene};
use super::shape::Cover;

/// What drawing needs beside the list: the scene, how many planes there are, and where things are drawn.
pub(super) struct Pen<'a> {
    pub(super) scene: &'a Scene,
    pub(super) planes: usize,
    /// The stamps that were drawn, by their numbers.
    stamps: &'a [Option<Layer>],
    /// The pixels that anything is drawn on.
    pub(super) band: Area,
    /// How far everything is moved, in pixels: for the cells of a pattern.
    pub(super) offset: (f64, f64),
    /// The soft masks that were made for this band, by their numbers.
    pub(super) masks: BTreeMap<usize, Arc<Masking>>,
    /// How deep groups, cells and masks stand in one another.
    pub(super) depth: usize,
}

/// Groups, cells and masks inside one another; the reader's own limit lies lower.
const DEEPEST: usize = 128;

impl<'a> Pen<'a> {
    pub(super) fn new(scene: &'a Scene, planes: usize, stamps: &'a [Option<Layer>], band: Area) -> Self {
        Self { scene, planes, stamps, band, offset: (0.0, 0.0), masks: BTreeMap::new(), depth: 0 }
    }

    /// Draws items on a layer within a clip.
    pub(super) fn draw(&mut self, list: &[Item], layer: &mut Layer, clip: &Clip) {
        self.walk(list, clip, &mut |pen, item, clip| match item {
            Item::Mark(mark) => pen.mark(mark, layer, clip),
            Item::Group(group) => pen.group(group, layer, clip),
            Item::Stamp(number, shift) => pen.stamp(*number, *shift, layer, clip),
            Item::Clip(_) | Item::Unclip => {}
        });
    }

    /// Goes through items that paint, telling the clip that each stands in.
    fn walk(&mut self, list: &[Item], outer: &Clip, each: &mut dyn FnMut(&mut Self, &Item, &Clip)) {
        if self.depth > DEEPEST {
            return;
        }
        self.depth += 1;
        let mut clips: Vec<Clip> = Vec::new();
        for item in list {
            let now = clips.last().unwrap_or(outer);
            match item {
                Item::Clip(shape) => {
                    let inner = now.narrowed(shape, self.offset);
                    clips.push(inner);
                }
                Item::Unclip => {
                    clips.pop();
                }
                _ if now.area.is_empty() => {}
                item => each(self, item, &now.clone()),
            }
        }
        self.depth -= 1;
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
        if let Paint::Tiles(cell, repeated) = &mark.paint {
            let tiles = self.tiles(*cell, *repeated, cover.area);
            self.lay(&tiles, (0, 0), &cover, layer, clip, mark.meets);
            return;
        }
        let (touches, blend) = (mark.paint.touches(), mark.meets.blend);
        let mask = self.mask(mark.meets, cover.area);
        let laid = Laid { cover: &cover, clip, alpha: mark.meets.alpha, mask: mask.as_deref() };
        let mut samples = vec![Vec::new(); self.planes];
        let (mut alpha, mut row) = (Vec::new(), Vec::new());
        for y in cover.area.y0..cover.area.y1 {
            let Some((x, row)) = laid.row(cover.area, y, &mut row) else { continue };
            if let Paint::Flat(tints) = &mark.paint {
                layer.paint((x, y), row, &Row::Flat(tints), touches, blend);
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
                Paint::Shading(shading) => shading.row(self.seen(x, y), &mut samples, &mut alpha),
                Paint::Flat(_) | Paint::Tiles(..) => {}
            }
            row.iter_mut().zip(&alpha).for_each(|(cover, alpha)| *cover = share(*cover, *alpha));
            layer.paint((x, y), row, &Row::Samples(&samples), touches, blend);
        }
    }

    /// The centre of a pixel before everything was moved.
    fn seen(&self, x: i32, y: i32) -> kurbo::Point {
        kurbo::Point::new(f64::from(x) + 0.5 - self.offset.0, f64::from(y) + 0.5 - self.offset.1)
    }

    fn group(&mut self, group: &Group, layer: &mut Layer, clip: &Clip) {
        // A group that keeps nothing apart is drawn right here.
        let alone = !group.isolated || group.list.iter().all(Item::stands_alone);
        if group.meets.plainly() && !group.knockout && alone {
            self.draw(&group.list, layer, clip);
            return;
        }
        let area = clip.area.shared(layer.area);
        if area.is_empty() {
            return;
        }
        let start = if group.isolated { None } else { Some(begun_on(layer, area)) };
        let mut inner = start.clone().unwrap_or_else(|| Layer::new(area, self.planes, true));
        if group.knockout {
            self.knock_out(&group.list, &mut inner);
        } else {
            self.draw(&group.list, &mut inner, &Clip::all(area));
        }
        if let Some(start) = &start {
            take_off(&mut inner, start);
        }
        self.lay(&inner, (0, 0), &Cover::full(area), layer, clip, group.meets);
    }

    /// A form that was drawn before, or that stands here alone.
    fn stamp(&mut self, number: usize, shift: (i32, i32), layer: &mut Layer, clip: &Clip) {
        let scene = self.scene;
        let (Some(stamp), drawn) = (scene.stamps.get(number), self.stamps.get(number)) else { return };
        let Some(Some(drawn)) = drawn else { return self.draw(&stamp.list, layer, clip) };
        let area = drawn.area.moved(shift).shared(clip.area).shared(layer.area);
        if area.is_empty() {
            return;
        }
        let cover = Cover::full(area);
        if drawn.alpha.is_some() || layer.alpha.is_some() {
            return self.lay(drawn, shift, &cover, layer, clip, Meets::PLAINLY);
        }
        let laid = Laid { cover: &cover, clip, alpha: 1.0, mask: None };
        let mut row = Vec::new();
        for y in area.y0..area.y1 {
            if let Some((x, row)) = laid.row(area, y, &mut row) {
                layer.add((x, y), row, drawn, drawn.at(x - shift.0, y - shift.1));
            }
        }
    }

    /// Lays a layer with alpha, moved by whole pixels, on another.
    fn lay(&mut self, inner: &Layer, shift: (i32, i32), cover: &Cover, layer: &mut Layer, clip: &Clip, meets: Meets) {
        let area = cover.area.shared(inner.area.moved(shift));
        let mask = self.mask(meets, area);
        let laid = Laid { cover, clip, alpha: meets.alpha, mask: mask.as_deref() };
        let mut row = Vec::new();
        for y in area.y0..area.y1 {
            let Some((x, row)) = laid.row(area, y, &mut row) else { continue };
            let from = inner.at(x - shift.0, y - shift.1);
            let to = from + row.len();
            if let Some(alpha) = inner.alpha.as_ref().and_then(|a| a.get(from..to)) {
                row.iter_mut().zip(alpha).for_each(|(cover, alpha)| *cover = share(*cover, *alpha));
            }
            let samples: Vec<&[u8]> = inner.planes.iter().map(|p| p.get(from..to).unwrap_or_default()).collect();
            layer.paint((x, y), row, &Row::Slices(&samples), ALL, meets.blend);
        }
    }

    /// Each item against what the group was begun on, not against the items before it (ISO 32000-1, 11.4.6.2).
    fn knock_out(&mut self, list: &[Item], inner: &mut Layer) {
        let (start, area) = (inner.clone(), inner.area);
        self.walk(list, &Clip::all(area), &mut |pen, item, clip| {
            let mut alone = start.clone();
            pen.draw(std::slice::from_ref(item), &mut alone, clip);
            // Its shape is what it would cover were it opaque.
            let mut shape = Layer::new(area, pen.planes, true);
            pen.draw(&[opaque(item)], &mut shape, clip);
            replace(inner, &alone, shape.alpha.as_deref().unwrap_or_default());
        });
    }
}

/// What paint is laid through.
struct Laid<'a> {
    cover: &'a Cover,
    clip: &'a Clip,
    alpha: f64,
    mask: Option<&'a Masking>,
}

impl Laid<'_> {
    /// How much of the paint is laid on the pixels of a row, from the first to the last that get any, and where they begin.
    fn row<'r>(&self, area: Area, y: i32, row: &'r mut Vec<u8>) -> Option<(i32, &'r mut [u8])> {
        row.clear();
        row.extend_from_slice(self.cover.row(y, area.x0, area.x1));
        self.clip.trim(row, area.x0, y);
        if self.alpha < 1.0 {
            let alpha = super::inks::amount(self.alpha);
            for cover in row.iter_mut() {
                *cover = share(*cover, alpha);
            }
        }
        if let Some(mask) = self.mask {
            mask.dim(row, area.x0, y);
        }
        let first = row.iter().position(|c| *c > 0)?;
        let last = row.iter().rposition(|c| *c > 0)?;
        let x = area.x0 + i32::try_from(first).ok()?;
        Some((x, row.get_mut(first..=last)?))
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
