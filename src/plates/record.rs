//! The surface that lists what is to be painted.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use kurbo::{Affine, BezPath, Rect};
use lopdf::ObjectId;

use super::blend::BlendMode;
use super::inks::{Inker, Overprint, Tints};
use super::layer::Area;
use super::list::{Cell, Group, Item, List, Mark, Mask, Meets, Paint, Scene, Shape};
use super::picture::Picture;
use super::shading::ShadingPaint;
use crate::artwork::{
    Font, Form, GlyphRun, Group as SourceGroup, Image, PaintSource, Pattern, PatternKind, Shading, SoftMask, State,
    Surface, Winding,
};
use crate::card::Painted;
use crate::ink::Colour;

/// Something that is being listed.
enum Open {
    Group(SourceGroup, Meets),
    Cell(Arc<Pattern>),
    Mask(Arc<SoftMask>),
}

/// What tells patterns and masks apart: object, place, colour.
type Key = (Option<ObjectId>, [u64; 6], String);

/// A shading, kept so that its address stays its own, and what was made of it.
type Known = (Arc<Shading>, Option<Arc<ShadingPaint>>);

/// Lists a page in pixels.
pub(super) struct Recorder {
    /// From face points to pixels.
    to_pixels: Affine,
    page: Area,
    /// Bytes that the samples of one picture may take.
    most_samples: usize,
    pub(super) inker: Inker,
    lists: Vec<List>,
    open: Vec<Open>,
    scene: Scene,
    cells: BTreeMap<Key, usize>,
    masks: BTreeMap<Key, usize>,
    pictures: BTreeMap<(ObjectId, bool), Option<Arc<Picture>>>,
    shadings: BTreeMap<(usize, bool, bool), Known>,
    outlines: BTreeMap<(usize, u32), Arc<BezPath>>,
    /// Fonts whose outlines are kept, so that their addresses stay theirs.
    fonts: BTreeMap<usize, Arc<Font>>,
    /// About how many pixels all marks and clips together cover.
    pub(super) work: u64,
    /// What is not drawn as it should be.
    pub(super) not_drawn: BTreeSet<String>,
}

impl Recorder {
    pub(super) fn new(to_pixels: Affine, page: Area, inker: Inker, most_samples: usize) -> Self {
        Self {
            to_pixels,
            page,
            most_samples,
            inker,
            lists: vec![List::new()],
            open: Vec::new(),
            scene: Scene::default(),
            cells: BTreeMap::new(),
            masks: BTreeMap::new(),
            pictures: BTreeMap::new(),
            shadings: BTreeMap::new(),
            outlines: BTreeMap::new(),
            fonts: BTreeMap::new(),
            work: 0,
            not_drawn: BTreeSet::new(),
        }
    }

    /// Everything that was listed.
    pub(super) fn finish(mut self) -> (Scene, Inker, BTreeSet<String>) {
        self.scene.list = self.lists.into_iter().next().unwrap_or_default();
        if let Some(why) = self.inker.not_separated() {
            self.not_drawn.insert(format!("colours in RGB or Lab in the inks of the condition; they are drawn without its profile: {why}"));
        }
        (self.scene, self.inker, self.not_drawn)
    }

    fn add(&mut self, item: Item) {
        self.scene.blends |= match &item {
            Item::Mark(mark) => mark.meets.blend != BlendMode::Normal,
            Item::Group(group) => group.meets.blend != BlendMode::Normal,
            Item::Clip(_) | Item::Unclip => false,
        };
        let shape = match &item {
            Item::Mark(mark) => mark.shape.as_ref(),
            Item::Clip(shape) => Some(shape),
            Item::Group(_) => None,
            Item::Unclip => return self.list(item),
        };
        let area = shape.map_or(self.page, |s| s.area((0.0, 0.0)).shared(self.page));
        self.work = self.work.saturating_add(area.width() as u64 * area.height() as u64);
        self.list(item);
    }

    fn list(&mut self, item: Item) {
        if let Some(list) = self.lists.last_mut() {
            list.push(item);
        }
    }

    /// Whether what is listed now lies where it is drawn: a cell of a pattern is moved.
    fn stays(&self) -> bool {
        !self.open.iter().any(|o| matches!(o, Open::Cell(_)))
    }

    fn meets(&mut self, state: &State, alpha: f64) -> Meets {
        let mask = state.soft_mask.as_ref().and_then(|m| {
            let found = self.masks.get(&mask_key(m)).copied();
            if found.is_none() {
                self.not_drawn.insert("a soft mask without a group; what it masks is drawn whole".to_owned());
            }
            found
        });
        if state.transfer {
            self.not_drawn.insert("a transfer function; tones are drawn as they are without it".to_owned());
        }
        Meets { alpha, blend: BlendMode::of(state.blend.as_deref()), mask }
    }

    fn paint(&mut self, source: &PaintSource, overprint: Overprint) -> Option<Paint> {
        match source {
            PaintSource::Flat(colour) => Some(Paint::Flat(self.inker.tints(colour, overprint))),
            PaintSource::Nothing => None,
            PaintSource::Pattern(pattern) => match &pattern.kind {
                PatternKind::Shading(shading) => {
                    let matrix = self.to_pixels * pattern.matrix;
                    self.shading(shading, matrix, overprint, true)
                }
                PatternKind::Tiling { .. } => self.cells.get(&cell_key(pattern)).map(|n| Paint::Tiles(*n)),
            },
        }
    }

    fn shading(
        &mut self,
        shading: &Arc<Shading>,
        to_pixels: Affine,
        overprint: Overprint,
        pattern: bool,
    ) -> Option<Paint> {
        if to_pixels.determinant().abs() < 1.0e-12 {
            return None;
        }
        let key = (Arc::as_ptr(shading).addr(), overprint.on, pattern);
        if !self.shadings.contains_key(&key) {
            self.inker.planes.note_look(&shading.space);
            let made = ShadingPaint::read(shading, &mut self.inker, overprint, pattern).map(Arc::new);
            if made.is_none() {
                self.not_drawn.insert(format!("{}: a shading that cannot be read", named(shading.object)));
            }
            self.shadings.insert(key, (Arc::clone(shading), made));
        }
        let (_, made) = self.shadings.get(&key)?;
        Some(Paint::Shading(Arc::clone(made.as_ref()?), to_pixels.inverse()))
    }

    fn mark(&mut self, shape: Option<Shape>, without: Option<Shape>, paint: Option<Paint>, meets: Meets) {
        let Some(paint) = paint.filter(|p| p.touches() != 0) else { return };
        let outside = shape.as_ref().is_some_and(|s| s.area((0.0, 0.0)).shared(self.page).is_empty());
        if outside && self.stays() {
            return;
        }
        self.add(Item::Mark(Box::new(Mark { shape, without, paint, meets })));
    }

    /// The outlines of a run in face points.
    fn run_outline(&mut self, run: &GlyphRun) -> BezPath {
        let address = Arc::as_ptr(&run.font).addr();
        self.fonts.entry(address).or_insert_with(|| Arc::clone(&run.font));
        let mut path = BezPath::new();
        for glyph in &run.glyphs {
            let Some(id) = glyph.id else { continue };
            let outline = self.outlines.entry((address, id)).or_insert_with(|| Arc::new(run.font.outline(id)));
            path.extend(glyph.matrix * (**outline).clone());
        }
        path
    }

    fn note_spaces(&mut self, state: &State) {
        self.inker.planes.note_look(&state.fill_space);
        self.inker.planes.note_look(&state.stroke_space);
    }

    fn close(&mut self) -> Option<(Open, List)> {
        let open = self.open.pop()?;
        Some((open, self.lists.pop()?))
    }
}

impl Surface for Recorder {
    fn fill(&mut self, path: &BezPath, winding: Winding, state: &State) {
        self.note_spaces(state);
        let Some(shape) = Shape::filled(&(self.to_pixels * state.ctm * path.clone()), winding) else { return };
        let paint = self.paint(&state.fill, Overprint::of_fill(state));
        let meets = self.meets(state, state.alpha_fill);
        self.mark(Some(shape), None, paint, meets);
    }

    fn stroke(&mut self, path: &BezPath, state: &State) {
        self.note_spaces(state);
        let Some(shape) = Shape::stroked(path, state, self.to_pixels * state.ctm) else { return };
        let paint = self.paint(&state.stroke, Overprint::of_stroke(state));
        let meets = self.meets(state, state.alpha_stroke);
        self.mark(Some(shape), None, paint, meets);
    }

    fn fill_and_stroke(&mut self, path: &BezPath, winding: Winding, state: &State) {
        let plain = self.meets(state, state.alpha_fill.min(state.alpha_stroke)).plainly();
        if plain {
            self.fill(path, winding, state);
        } else {
            // The stroke knocks out the fill of the same path (ISO 32000-1, 11.7.4.4).
            let to_pixels = self.to_pixels * state.ctm;
            let stroke = Shape::stroked(path, state, to_pixels);
            if let Some(shape) = Shape::filled(&(to_pixels * path.clone()), winding) {
                let paint = self.paint(&state.fill, Overprint::of_fill(state));
                let meets = self.meets(state, state.alpha_fill);
                self.mark(Some(shape), stroke, paint, meets);
            }
        }
        self.stroke(path, state);
    }

    fn push_clip(&mut self, path: &BezPath, winding: Winding) {
        let shape = Shape::clip(&(self.to_pixels * path.clone()), winding);
        self.add(Item::Clip(shape));
    }

    fn pop_clip(&mut self) {
        self.add(Item::Unclip);
    }

    fn glyphs(&mut self, run: &GlyphRun, state: &State) {
        self.note_spaces(state);
        let painted = state.painted();
        if painted == Painted::Invisible || run.font.is_drawn() {
            return;
        }
        if !run.font.has_outlines() {
            if run.glyphs.iter().any(|g| !g.unicode.trim().is_empty()) {
                self.not_drawn.insert(format!("text in {}, which is not embedded", run.font.name()));
            }
            return;
        }
        let path = self.run_outline(run);
        if path.elements().is_empty() {
            return;
        }
        if matches!(painted, Painted::Fill | Painted::Both)
            && let Some(shape) = Shape::filled(&(self.to_pixels * path.clone()), Winding::NonZero)
        {
            let paint = self.paint(&state.fill, Overprint::of_fill(state));
            let meets = self.meets(state, state.alpha_fill);
            self.mark(Some(shape), None, paint, meets);
        }
        if matches!(painted, Painted::Stroke | Painted::Both) && state.ctm.determinant().abs() > 1.0e-12 {
            self.stroke(&(state.ctm.inverse() * path), state);
        }
    }

    fn image(&mut self, image: &Image, state: &State) {
        let overprint = Overprint::of_fill(state);
        let to_pixels = self.to_pixels * state.ctm;
        let unit = Rect::new(0.0, 0.0, 1.0, 1.0);
        let Some(shape) = Shape::filled(&(to_pixels * super::shape::outline(unit)), Winding::NonZero) else { return };
        if to_pixels.determinant().abs() < 1.0e-12 {
            return;
        }
        let picture =
            if image.stencil { self.stencil(image, state, overprint) } else { self.picture(image, overprint) };
        let Some(picture) = picture else { return };
        let meets = self.meets(state, state.alpha_fill);
        self.mark(Some(shape), None, Some(Paint::Picture(picture, to_pixels.inverse())), meets);
    }

    fn shade(&mut self, shading: &Arc<Shading>, state: &State) {
        let paint = self.shading(shading, self.to_pixels * state.ctm, Overprint::of_fill(state), false);
        let meets = self.meets(state, state.alpha_fill);
        self.mark(None, None, paint, meets);
    }

    fn begin_form(&mut self, _: &Form, _: &State) {}

    fn end_form(&mut self) {}

    fn begin_group(&mut self, group: &SourceGroup, state: &State) {
        let meets = if group.of_page { Meets::PLAINLY } else { self.meets(state, state.alpha_fill) };
        self.open.push(Open::Group(group.clone(), meets));
        self.lists.push(List::new());
    }

    fn end_group(&mut self) {
        let Some((Open::Group(group, meets), list)) = self.close() else { return };
        let family = group.space.as_deref().map_or("CMYK", |s| s.family());
        if !matches!(family, "CMYK" | "gray") && blends(&list) {
            self.not_drawn.insert(format!("a group that blends in {family}; it is drawn blending in the inks"));
        }
        if group.of_page {
            // The page itself is what this group would be.
            for item in list {
                self.add(item);
            }
        } else {
            self.add(Item::Group(Group { list, isolated: group.isolated, knockout: group.knockout, meets }));
        }
    }

    fn begin_pattern(&mut self, pattern: &Arc<Pattern>) {
        self.open.push(Open::Cell(Arc::clone(pattern)));
        self.lists.push(List::new());
    }

    fn end_pattern(&mut self) {
        let Some((Open::Cell(pattern), list)) = self.close() else { return };
        let PatternKind::Tiling { bbox, x_step, y_step, .. } = &pattern.kind else { return };
        self.cells.insert(cell_key(&pattern), self.scene.cells.len());
        self.scene.cells.push(Cell {
            list,
            bbox: *bbox,
            x_step: *x_step,
            y_step: *y_step,
            matrix: self.to_pixels * pattern.matrix,
        });
    }

    fn begin_mask(&mut self, mask: &Arc<SoftMask>) {
        self.open.push(Open::Mask(Arc::clone(mask)));
        self.lists.push(List::new());
    }

    fn end_mask(&mut self) {
        let Some((Open::Mask(mask), list)) = self.close() else { return };
        self.masks.insert(mask_key(&mask), self.scene.masks.len());
        let black = Colour::Gray(0.0);
        let backdrop: Tints =
            self.inker.tints(mask.backdrop.as_ref().unwrap_or(&black), Overprint { on: false, mode: 0 });
        let curve = mask.curve.clone();
        self.scene.masks.push(Mask { list, luminosity: mask.luminosity, backdrop, curve });
    }

    fn begin_glyph(&mut self, _: bool) {}

    fn end_glyph(&mut self) {}
}

impl Recorder {
    /// A stencil in the colour of fills.
    fn stencil(&mut self, image: &Image, state: &State, overprint: Overprint) -> Option<Arc<Picture>> {
        self.note_spaces(state);
        if let Paint::Flat(tints) = self.paint(&state.fill, overprint)? {
            return self.told(image, Picture::stencil(image, tints, self.most_samples));
        }
        self.not_drawn.insert(format!("{}: a stencil painted with a pattern", named(image.object)));
        None
    }

    /// A picture, read once for all places where it lies.
    fn picture(&mut self, image: &Image, overprint: Overprint) -> Option<Arc<Picture>> {
        let key = image.object.map(|id| (id, overprint.on));
        if let Some(known) = key.and_then(|key| self.pictures.get(&key)) {
            return known.clone();
        }
        if let Some(space) = &image.space {
            self.inker.planes.note_look(space);
        }
        let read = Picture::read(image, &mut self.inker, overprint, self.most_samples);
        let made = self.told(image, read);
        if let Some(key) = key {
            self.pictures.insert(key, made.clone());
        }
        made
    }

    fn told(&mut self, image: &Image, read: Result<Picture, String>) -> Option<Arc<Picture>> {
        match read {
            Ok(picture) => Some(Arc::new(picture)),
            Err(why) => {
                self.not_drawn.insert(format!("{}: a picture that {why}", named(image.object)));
                None
            }
        }
    }
}

fn blends(list: &[Item]) -> bool {
    list.iter().any(|item| match item {
        Item::Mark(mark) => mark.meets.blend != BlendMode::Normal,
        Item::Group(group) => group.meets.blend != BlendMode::Normal || blends(&group.list),
        Item::Clip(_) | Item::Unclip => false,
    })
}

fn cell_key(pattern: &Pattern) -> Key {
    let colour = match &pattern.kind {
        PatternKind::Tiling { colour, .. } => format!("{colour:?}"),
        PatternKind::Shading(_) => String::new(),
    };
    (pattern.object, pattern.matrix.as_coeffs().map(f64::to_bits), colour)
}

fn mask_key(mask: &SoftMask) -> Key {
    (mask.group, mask.matrix.as_coeffs().map(f64::to_bits), String::new())
}

fn named(object: Option<ObjectId>) -> String {
    object.map_or_else(|| "an inline object".to_owned(), |id| format!("object {}", id.0))
}
