//! What marks are laid down with, each made once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use kurbo::{Affine, BezPath};
use lopdf::ObjectId;

use super::effort::{self, Effort};
use super::inks::{Inker, Overprint};
use super::layer::Area;
use super::list::{Cell, Paint};
use super::picture::Picture;
use super::shading::{PlacedShading, ShadingPaint};
use crate::artwork::{Font, GlyphRun, Image, PaintSource, Pattern, PatternKind, Shading, State};

/// What tells patterns and masks apart: object, place, colour.
pub(super) type Key = (Option<ObjectId>, [u64; 6], String);

/// A shading, kept so that its address stays its own, and what was made of it.
type Known = (Arc<Shading>, Option<Arc<ShadingPaint>>);

/// Makes paints of what the artwork says.
pub(super) struct Paints {
    pub(super) inker: Inker,
    /// The cells of tiling patterns, by their numbers in the scene.
    pub(super) cells: BTreeMap<Key, usize>,
    pictures: BTreeMap<(ObjectId, bool), Option<Arc<Picture>>>,
    shadings: BTreeMap<(usize, bool, bool), Known>,
    outlines: BTreeMap<(usize, u32), Arc<BezPath>>,
    /// Fonts whose outlines are kept, so that their addresses stay theirs.
    fonts: BTreeMap<usize, Arc<Font>>,
    /// Bytes that the samples of pictures may still take.
    samples_left: usize,
    /// What reading pictures and shadings has come to.
    pub(super) effort: Effort,
    /// Where reading has to stop.
    most: Effort,
    /// What is not drawn as it should be.
    pub(super) not_drawn: BTreeSet<String>,
}

impl Paints {
    pub(super) fn new(inker: Inker, samples: usize, most: Effort) -> Self {
        Self {
            inker,
            cells: BTreeMap::new(),
            pictures: BTreeMap::new(),
            shadings: BTreeMap::new(),
            outlines: BTreeMap::new(),
            fonts: BTreeMap::new(),
            samples_left: samples,
            effort: 0,
            most,
            not_drawn: BTreeSet::new(),
        }
    }

    /// Says what is not drawn as it should be.
    pub(super) fn lacks(&mut self, what: impl Into<String>) {
        self.not_drawn.insert(what.into());
    }

    /// Whether there is means left for work; it is spent where there is.
    fn affords(&mut self, work: Effort) -> bool {
        self.effort = self.effort.saturating_add(work);
        self.effort <= self.most
    }

    /// The paint of a fill or stroke over an area. `to_pixels` leads from face points.
    pub(super) fn of(
        &mut self,
        source: &PaintSource,
        overprint: Overprint,
        to_pixels: Affine,
        area: Area,
        cells: &[Cell],
    ) -> Option<Paint> {
        match source {
            PaintSource::Flat(colour) => Some(Paint::Flat(self.inker.tints(colour, overprint))),
            PaintSource::Nothing => None,
            PaintSource::Pattern(pattern) => match &pattern.kind {
                PatternKind::Shading(shading) => {
                    self.shading(shading, to_pixels * pattern.matrix, overprint, true, area)
                }
                PatternKind::Tiling { .. } => self.tiles(pattern, area, cells),
            },
        }
    }

    fn tiles(&mut self, pattern: &Pattern, area: Area, cells: &[Cell]) -> Option<Paint> {
        let number = self.cells.get(&cell_key(pattern)).copied();
        let Some((number, cell)) = number.and_then(|n| Some((n, cells.get(n)?))) else {
            self.lacks(format!("{}: a tiling pattern without a cell", named(pattern.object)));
            return None;
        };
        let (count, size) = (cell.count(area), effort::pixels(cell.bounds()));
        let repeated = cell.is_repeated(area);
        if count == 0 || count > MOST_CELLS || (repeated && size > MOST_REPEATED) {
            self.lacks(format!(
                "{}: a tiling pattern whose cells are too many or lie on one another",
                named(pattern.object)
            ));
            return None;
        }
        Some(Paint::Tiles(number, repeated))
    }

    /// A shading whose space leads to pixels by `to_pixels`; a pattern paints its background.
    pub(super) fn shading(
        &mut self,
        shading: &Arc<Shading>,
        to_pixels: Affine,
        overprint: Overprint,
        pattern: bool,
        area: Area,
    ) -> Option<Paint> {
        let key = (Arc::as_ptr(shading).addr(), overprint.on, pattern);
        if !self.shadings.contains_key(&key) {
            self.inker.planes.note_look(&shading.space);
            let made = if self.affords(ShadingPaint::effort(shading)) {
                ShadingPaint::read(shading, &mut self.inker, overprint, pattern).map(Arc::new)
            } else {
                None
            };
            if made.is_none() {
                self.lacks(format!("{}: a shading that cannot be read", named(shading.object)));
            }
            self.shadings.insert(key, (Arc::clone(shading), made));
        }
        let (_, made) = self.shadings.get(&key)?;
        PlacedShading::new(Arc::clone(made.as_ref()?), to_pixels, area).map(|s| Paint::Shading(Arc::new(s)))
    }

    /// A stencil in the colour of fills.
    pub(super) fn stencil(&mut self, image: &Image, state: &State, overprint: Overprint) -> Option<Arc<Picture>> {
        self.note_spaces(state);
        match &state.fill {
            PaintSource::Flat(colour) => {
                let tints = self.inker.tints(colour, overprint);
                let left = self.samples_of(image)?;
                let read = Picture::stencil(image, tints, left);
                self.kept(image, read)
            }
            PaintSource::Nothing => None,
            PaintSource::Pattern(_) => {
                self.lacks(format!("{}: a stencil painted with a pattern", named(image.object)));
                None
            }
        }
    }

    /// A picture, read once for all places where it lies.
    pub(super) fn picture(&mut self, image: &Image, overprint: Overprint) -> Option<Arc<Picture>> {
        let key = image.object.map(|id| (id, overprint.on));
        if let Some(known) = key.and_then(|key| self.pictures.get(&key)) {
            return known.clone();
        }
        if let Some(space) = &image.space {
            self.inker.planes.note_look(space);
        }
        let made = self.samples_of(image).and_then(|left| {
            let read = Picture::read(image, &mut self.inker, overprint, left);
            self.kept(image, read)
        });
        if let Some(key) = key {
            self.pictures.insert(key, made.clone());
        }
        made
    }

    /// The bytes that a picture's samples may take, where reading it can be afforded.
    fn samples_of(&mut self, image: &Image) -> Option<usize> {
        let each = match &image.space {
            // Samples of a table become amounts on every plane.
            Some(space) if !image.is_indexed() => space.components(),
            Some(_) => 4,
            None => 1,
        };
        let samples = u64::from(image.pixels.0).saturating_mul(u64::from(image.pixels.1)).saturating_mul(each as u64);
        self.affords(effort::of_samples(samples)).then_some(self.samples_left)
    }

    fn kept(&mut self, image: &Image, read: Result<Picture, String>) -> Option<Arc<Picture>> {
        match read {
            Ok(picture) => {
                self.samples_left = self.samples_left.saturating_sub(picture.size());
                Some(Arc::new(picture))
            }
            Err(why) => {
                self.lacks(format!("{}: a picture that {why}", named(image.object)));
                None
            }
        }
    }

    /// The outlines of a run in face points.
    pub(super) fn outlines(&mut self, run: &GlyphRun) -> BezPath {
        let address = Arc::as_ptr(&run.font).addr();
        self.fonts.entry(address).or_insert_with(|| Arc::clone(&run.font));
        let mut path = BezPath::new();
        for glyph in &run.glyphs {
            let Some(id) = glyph.id else {
                if !glyph.unicode.trim().is_empty() {
                    self.lacks(format!(
                        "the character {} of {}, which has no glyph for it",
                        glyph.unicode,
                        run.font.name()
                    ));
                }
                continue;
            };
            let outline = self.outlines.entry((address, id)).or_insert_with(|| Arc::new(run.font.outline(id)));
            path.extend(glyph.matrix * (**outline).clone());
        }
        path
    }

    /// Keeps how the solids of the spaces in force look.
    pub(super) fn note_spaces(&mut self, state: &State) {
        self.inker.planes.note_look(&state.fill_space);
        self.inker.planes.note_look(&state.stroke_space);
    }
}

/// Cells over an area at the most.
const MOST_CELLS: u64 = 1 << 24;
/// Pixels of a cell that is drawn once and repeated.
const MOST_REPEATED: u64 = 1 << 24;

/// What tells tiling patterns apart.
pub(super) fn cell_key(pattern: &Pattern) -> Key {
    let colour = match &pattern.kind {
        PatternKind::Tiling { colour, .. } => format!("{colour:?}"),
        PatternKind::Shading(_) => String::new(),
    };
    (pattern.object, pattern.matrix.as_coeffs().map(f64::to_bits), colour)
}

/// An object as messages name it.
pub(super) fn named(object: Option<ObjectId>) -> String {
    object.map_or_else(|| "an inline object".to_owned(), |id| format!("object {}", id.0))
}
