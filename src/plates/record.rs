//! The surface that lists what is to be painted.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use kurbo::{Affine, BezPath, Rect};

use super::blend::BlendMode;
use super::effort::{self, Effort};
use super::inks::{Inker, Overprint, Tints};
use super::layer::Area;
use super::level::{Level, Opened};
use super::list::{Cell, Group, Item, Mark, Mask, Meets, Paint, Scene, Shape};
use super::paints::{Key, Paints, cell_key};
use super::shape::{dashes_too_finely, has_extent};
use super::stamps::{Placing, Stamps};
use crate::artwork::{
    Form, GlyphRun, Group as SourceGroup, Image, PaintSource, Pattern, PatternKind, Shading, SoftMask, State, Surface,
    Winding,
};
use crate::card::Painted;
use crate::ink::Colour;

/// Lists a page in pixels.
pub(super) struct Recorder {
    /// From face points to pixels.
    to_pixels: Affine,
    page: Area,
    paints: Paints,
    /// What is being listed, the page first.
    levels: Vec<Level>,
    scene: Scene,
    masks: BTreeMap<Key, usize>,
    stamps: Stamps,
    /// What drawing may come to; past it nothing more is listed.
    most: Effort,
    over: bool,
}

/// What was listed.
pub(super) struct Listed {
    pub(super) scene: Scene,
    pub(super) inker: Inker,
    /// What is not drawn as it should be.
    pub(super) not_drawn: BTreeSet<String>,
    /// Whether drawing comes to more than it may; then the list is not whole.
    pub(super) too_much: bool,
}

impl Recorder {
    /// `samples` is how many bytes pictures may take, `most` what drawing may come to.
    pub(super) fn new(to_pixels: Affine, page: Area, inker: Inker, samples: usize, most: Effort) -> Self {
        Self {
            to_pixels,
            page,
            paints: Paints::new(inker, samples, most),
            levels: vec![Level::new(Opened::Page, page)],
            scene: Scene::default(),
            masks: BTreeMap::new(),
            stamps: Stamps::default(),
            most,
            over: false,
        }
    }

    /// Everything that was listed.
    pub(super) fn finish(mut self) -> Listed {
        self.scene.list = self.levels.into_iter().next().map(|l| l.items).unwrap_or_default();
        if let Some(why) = self.paints.inker.not_separated() {
            let what = format!("colour in no ink; it is drawn without the profile of the condition: {why}");
            self.paints.lacks(what);
        }
        if self.paints.inker.planes.too_many {
            self.paints.lacks(format!("inks past the first {}", super::inks::MOST_PLANES));
        }
        let too_much = self.over || self.paints.effort > self.most;
        let Paints { inker, not_drawn, .. } = self.paints;
        Listed { scene: self.scene, inker, not_drawn, too_much }
    }

    /// The pixels inside the clip in force.
    fn clip(&self) -> Area {
        self.levels.last().map_or(self.page, Level::clip)
    }

    fn add(&mut self, item: Item, effort: Effort, area: Area) {
        let Some(level) = self.levels.last_mut().filter(|_| !self.over) else { return };
        self.scene.blends |= item.blends();
        level.add(item, effort, area);
        self.over = level.effort > self.most;
        if self.levels.iter().all(Level::is_of_page) {
            self.stamps.painted(area);
        }
    }

    /// Whether what is listed now lies where it is drawn: a cell of a pattern is moved.
    fn stays(&self) -> bool {
        !self.levels.iter().any(|l| matches!(l.opened, Opened::Cell(_)))
    }

    fn meets(&mut self, state: &State, alpha: f64) -> Meets {
        let mask = state.soft_mask.as_ref().and_then(|m| {
            let found = self.masks.get(&mask_key(m)).copied();
            if found.is_none() {
                self.paints.lacks("a soft mask without a group; what it masks is drawn whole");
            }
            found
        });
        if state.transfer {
            self.paints.lacks("a transfer function; tones are drawn as they are without it");
        }
        Meets { alpha, blend: BlendMode::of(state.blend.as_deref()), mask }
    }

    fn paint(&mut self, source: &PaintSource, overprint: Overprint, area: Area) -> Option<Paint> {
        self.paints.of(source, overprint, self.to_pixels, area, &self.scene.cells)
    }

    /// The pixels of a shape inside the clip; `None` where there are none.
    fn seen(&self, shape: &Shape) -> Option<Area> {
        let area = shape.area((0.0, 0.0)).shared(self.clip());
        (!area.is_empty()).then_some(area)
    }

    fn lay(&mut self, shape: Option<Shape>, without: Option<Shape>, paint: Option<Paint>, meets: Meets, area: Area) {
        let Some(paint) = paint.filter(|p| p.touches() != 0) else { return };
        let mut effort = effort::of_shape(shape.as_ref(), area);
        effort = effort.saturating_add(effort::of_paint(&paint, area, &self.scene.cells));
        if without.is_some() {
            effort = effort.saturating_add(effort::of_shape(without.as_ref(), area));
        }
        if let Some(mask) = meets.mask.and_then(|n| self.scene.masks.get(n)) {
            // Where cells move it, it is drawn for each mark anew.
            let anew = if self.stays() { 0 } else { mask.effort };
            effort = effort.saturating_add(effort::pixels(area)).saturating_add(anew);
        }
        self.add(Item::Mark(Box::new(Mark { shape, without, paint, meets })), effort, area);
    }

    /// Lays the paint of fills down in a shape; `without` is left out of it.
    fn lay_fill(&mut self, shape: Option<Shape>, without: Option<Shape>, state: &State) {
        let Some((shape, area)) = shape.and_then(|s| self.seen(&s).map(|area| (s, area))) else { return };
        let paint = self.paint(&state.fill, Overprint::of_fill(state), area);
        let meets = self.meets(state, state.alpha_fill);
        self.lay(Some(shape), without, paint, meets, area);
    }

    /// Lays the paint of strokes down in the outline of a stroke.
    fn lay_stroke(&mut self, shape: Option<Shape>, state: &State) {
        let Some((shape, area)) = shape.and_then(|s| self.seen(&s).map(|area| (s, area))) else { return };
        let paint = self.paint(&state.stroke, Overprint::of_stroke(state), area);
        let meets = self.meets(state, state.alpha_stroke);
        self.lay(Some(shape), None, paint, meets, area);
    }

    fn stroked(&mut self, path: &BezPath, state: &State) -> Option<Shape> {
        let to_pixels = self.to_pixels * state.ctm;
        if dashes_too_finely(path, state, to_pixels) {
            self.paints.lacks("a line whose dashes are too fine or too many; it is drawn solid");
        }
        Shape::stroked(path, state, to_pixels)
    }

    fn open(&mut self, opened: Opened, bounds: Area) {
        self.levels.push(Level::new(opened, bounds));
    }

    /// Where a form is about to stand, if it can be a stamp: right on the page.
    fn placing(&self, form: &Form, state: &State) -> Option<Box<Placing>> {
        let on_page = self.levels.iter().all(Level::is_of_page);
        on_page.then(|| Placing::new(form, state, self.to_pixels))?
    }
}

impl Surface for Recorder {
    fn fill(&mut self, path: &BezPath, winding: Winding, state: &State) {
        self.paints.note_spaces(state);
        self.lay_fill(Shape::filled(&(self.to_pixels * state.ctm * path.clone()), winding), None, state);
    }

    fn stroke(&mut self, path: &BezPath, state: &State) {
        self.paints.note_spaces(state);
        let shape = self.stroked(path, state);
        self.lay_stroke(shape, state);
    }

    fn fill_and_stroke(&mut self, path: &BezPath, winding: Winding, state: &State) {
        self.paints.note_spaces(state);
        let fill = Shape::filled(&(self.to_pixels * state.ctm * path.clone()), winding);
        let stroke = self.stroked(path, state);
        let plain = self.meets(state, state.alpha_fill.min(state.alpha_stroke)).plainly();
        // The stroke knocks out the fill of the same path (ISO 32000-1, 11.7.4.4).
        let without = if plain { None } else { stroke.clone() };
        self.lay_fill(fill, without, state);
        self.lay_stroke(stroke, state);
    }

    fn push_clip(&mut self, path: &BezPath, winding: Winding) {
        let shape = Shape::clip(&(self.to_pixels * path.clone()), winding);
        let area = shape.area((0.0, 0.0)).shared(self.clip());
        let effort = effort::of_shape(Some(&shape), area);
        // A clip paints nothing.
        self.add(Item::Clip(shape), effort, Area::NONE);
        if let Some(level) = self.levels.last_mut() {
            level.clips.push(area);
        }
    }

    fn pop_clip(&mut self) {
        self.add(Item::Unclip, 0, Area::NONE);
        if let Some(level) = self.levels.last_mut() {
            level.clips.pop();
        }
    }

    fn glyphs(&mut self, run: &GlyphRun, state: &State) {
        self.paints.note_spaces(state);
        let painted = state.painted();
        if painted == Painted::Invisible || run.font.is_drawn() {
            return;
        }
        if !run.font.has_outlines() {
            if run.glyphs.iter().any(|g| !g.unicode.trim().is_empty()) {
                self.paints.lacks(format!("text in {}, which is not embedded", run.font.name()));
            }
            return;
        }
        let path = self.paints.outlines(run);
        if path.elements().is_empty() {
            return;
        }
        if matches!(painted, Painted::Fill | Painted::Both) {
            self.lay_fill(Shape::filled(&(self.to_pixels * path.clone()), Winding::NonZero), None, state);
        }
        if matches!(painted, Painted::Stroke | Painted::Both) && has_extent(state.ctm) {
            let shape = self.stroked(&(state.ctm.inverse() * path), state);
            self.lay_stroke(shape, state);
        }
    }

    fn image(&mut self, image: &Image, state: &State) {
        let overprint = Overprint::of_fill(state);
        let to_pixels = self.to_pixels * state.ctm;
        let unit = super::shape::outline(Rect::new(0.0, 0.0, 1.0, 1.0));
        let shape = Shape::filled(&(to_pixels * unit), Winding::NonZero);
        let Some((shape, area)) = shape.and_then(|s| self.seen(&s).map(|area| (s, area))) else { return };
        if !has_extent(to_pixels) {
            return;
        }
        let picture = if image.stencil {
            self.paints.stencil(image, state, overprint)
        } else {
            self.paints.picture(image, overprint)
        };
        let Some(picture) = picture else { return };
        let meets = self.meets(state, state.alpha_fill);
        self.lay(Some(shape), None, Some(Paint::Picture(picture, to_pixels.inverse())), meets, area);
    }

    fn shade(&mut self, shading: &Arc<Shading>, state: &State) {
        let area = self.clip();
        let to_pixels = self.to_pixels * state.ctm;
        let paint = self.paints.shading(shading, to_pixels, Overprint::of_fill(state), false, area);
        let meets = self.meets(state, state.alpha_fill);
        self.lay(None, None, paint, meets, area);
    }

    fn skips_form(&mut self, form: &Form, state: &State) -> bool {
        let stamp = self.placing(form, state).and_then(|placing| self.stamps.known(&placing));
        let Some((number, shift, area)) = stamp else { return false };
        if let Some(stamp) = self.scene.stamps.get_mut(number) {
            stamp.uses += 1;
        }
        self.add(Item::Stamp(number, shift), effort::of_group(0, 0, false, area), area.shared(self.clip()));
        true
    }

    fn begin_form(&mut self, form: &Form, state: &State) {
        let placing = self.placing(form, state);
        // A stamp is listed whole, for the clip may differ where it stands next.
        let bounds = placing.as_ref().map_or_else(|| self.clip(), |p| p.area());
        self.open(Opened::Form(placing), bounds);
    }

    fn end_form(&mut self) {
        let Some(Level { opened: Opened::Form(placing), items, effort, reach, .. }) = self.levels.pop() else { return };
        let reach = reach.shared(self.clip());
        let number = self.scene.stamps.len();
        let planes = self.paints.inker.planes.inks().len();
        match placing.and_then(|placing| self.stamps.keep(placing, number, planes)) {
            Some(stamp) if !self.over => {
                self.scene.stamps.push(stamp.of(items));
                self.add(Item::Stamp(number, (0, 0)), effort, reach);
            }
            _ => {
                if let Some(level) = self.levels.last_mut() {
                    level.add_all(items, effort, reach);
                    self.over |= level.effort > self.most;
                }
                if self.levels.iter().all(Level::is_of_page) {
                    self.stamps.painted(reach);
                }
            }
        }
    }

    fn begin_group(&mut self, group: &SourceGroup, state: &State) {
        let meets = if group.of_page { Meets::PLAINLY } else { self.meets(state, state.alpha_fill) };
        self.open(Opened::Group(group.clone(), meets), self.clip());
    }

    fn end_group(&mut self) {
        let Some(level) = self.levels.pop() else { return };
        let Level { opened: Opened::Group(group, meets), items: list, effort, reach, .. } = level else { return };
        let family = group.space.as_deref().map_or("CMYK", |s| s.family());
        if !matches!(family, "CMYK" | "gray") && list.iter().any(Item::blends) {
            self.paints.lacks(format!("a group that blends in {family}; it is drawn blending in the inks"));
        }
        if group.of_page {
            // The page itself is what this group would be.
            if let Some(outer) = self.levels.last_mut() {
                outer.add_all(list, effort, reach);
            }
            return;
        }
        let clip = self.clip();
        let mut effort = effort::of_group(effort, list.len(), group.knockout, clip);
        if let Some(mask) = meets.mask.and_then(|n| self.scene.masks.get(n)).filter(|_| !self.stays()) {
            effort = effort.saturating_add(mask.effort);
        }
        self.add(Item::Group(Group { list, isolated: group.isolated, knockout: group.knockout, meets }), effort, reach);
    }

    fn begin_pattern(&mut self, pattern: &Arc<Pattern>) {
        let PatternKind::Tiling { bbox, .. } = &pattern.kind else { return self.open(Opened::Nothing, Area::NONE) };
        let bounds = (self.to_pixels * pattern.matrix).transform_rect_bbox(*bbox);
        self.open(Opened::Cell(Arc::clone(pattern)), super::shape::pixels_of(bounds));
    }

    fn end_pattern(&mut self) {
        let Some(Level { opened: Opened::Cell(pattern), items, effort, .. }) = self.levels.pop() else { return };
        let PatternKind::Tiling { bbox, x_step, y_step, .. } = &pattern.kind else { return };
        self.paints.cells.insert(cell_key(&pattern), self.scene.cells.len());
        self.scene.cells.push(Cell {
            list: items,
            bbox: *bbox,
            x_step: *x_step,
            y_step: *y_step,
            matrix: self.to_pixels * pattern.matrix,
            effort,
        });
    }

    fn begin_mask(&mut self, mask: &Arc<SoftMask>) {
        let whole = self.levels.iter().rev().find(|l| l.is_whole());
        let bounds = whole.map_or(self.page, |l| l.bounds);
        self.open(Opened::Mask(Arc::clone(mask)), bounds);
    }

    fn end_mask(&mut self) {
        let Some(level) = self.levels.pop() else { return };
        let Level { opened: Opened::Mask(mask), items, effort, reach, .. } = level else { return };
        self.masks.insert(mask_key(&mask), self.scene.masks.len());
        let black = Colour::Gray(0.0);
        let plain = Overprint { on: false, mode: 0 };
        let backdrop: Tints = self.paints.inker.tints(mask.backdrop.as_ref().unwrap_or(&black), plain);
        let effort = effort::of_group(effort, 0, false, reach);
        self.scene.masks.push(Mask {
            list: items,
            reach,
            effort,
            luminosity: mask.luminosity,
            backdrop,
            curve: mask.curve.clone(),
        });
        if let Some(level) = self.levels.last_mut() {
            level.effort = level.effort.saturating_add(effort);
        }
    }

    fn begin_glyph(&mut self, _: bool) {}

    fn end_glyph(&mut self) {}
}

fn mask_key(mask: &SoftMask) -> Key {
    (mask.group, mask.matrix.as_coeffs().map(f64::to_bits), String::new())
}
