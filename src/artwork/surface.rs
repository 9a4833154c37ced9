use std::sync::Arc;

use kurbo::{Affine, BezPath, Rect};
use lopdf::ObjectId;

use super::font::Font;
use super::image::Image;
use super::shading::{Geometry, Ramp};
use super::space::Space;
use super::state::{SoftMask, State};
use crate::ink::Colour;

/// How the inside of a path is told.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Winding {
    /// By the winding number.
    NonZero,
    /// By crossings, odd is inside.
    EvenOdd,
}

/// One glyph of a run.
#[derive(Clone, PartialEq, Debug)]
pub struct Glyph {
    /// The character code in the font's encoding.
    pub code: u32,
    /// The glyph in the font program; `None` where the program has none for the code.
    pub id: Option<u32>,
    /// Glyph space of one unit an em to face points.
    pub matrix: Affine,
    /// The glyph's own advance in ems.
    pub advance: f64,
    /// How far the pen moves after it in ems, character and word spacing included.
    pub step: f64,
    /// What it says; empty where the font does not tell.
    pub unicode: String,
}

/// The glyphs of one text-showing operator.
#[derive(Clone, PartialEq, Debug)]
pub struct GlyphRun {
    /// The font, with its outlines.
    pub font: Arc<Font>,
    /// The glyphs in order.
    pub glyphs: Vec<Glyph>,
}

/// A form XObject that is about to be drawn.
#[derive(Clone, PartialEq, Debug)]
pub struct Form {
    /// Its object.
    pub object: Option<ObjectId>,
    /// Form space to face points.
    pub matrix: Affine,
    /// Its box in form space.
    pub bbox: Rect,
}

/// A transparency group that is about to be drawn.
#[derive(Clone, PartialEq, Debug)]
pub struct Group {
    /// Whether it is the page's own.
    pub of_page: bool,
    /// Whether it is composited apart from what lies below.
    pub isolated: bool,
    /// Whether later elements knock out earlier ones.
    pub knockout: bool,
    /// Its blending space, where it states one.
    pub space: Option<Arc<Space>>,
}

/// A pattern that fills or strokes lay down.
#[derive(Clone, PartialEq, Debug)]
pub struct Pattern {
    /// Its object.
    pub object: Option<ObjectId>,
    /// Pattern space to face points.
    pub matrix: Affine,
    /// Tiling or shading.
    pub kind: PatternKind,
}

/// The kinds of patterns.
#[derive(Clone, PartialEq, Debug)]
pub enum PatternKind {
    /// A cell that repeats.
    Tiling {
        /// The cell's box.
        bbox: Rect,
        /// Distance of cells to the right.
        x_step: f64,
        /// Distance of cells upwards.
        y_step: f64,
        /// The colour of an uncoloured pattern.
        colour: Option<Colour>,
    },
    /// A shading.
    Shading(Arc<Shading>),
}

/// A shading (ISO 32000-1, 8.7.4.5).
#[derive(Clone, PartialEq, Debug)]
pub struct Shading {
    /// Its object.
    pub object: Option<ObjectId>,
    /// Its type, 1 to 7.
    pub kind: u8,
    /// The space of its colours.
    pub space: Arc<Space>,
    /// Its box in its own space, where it has one.
    pub bbox: Option<Rect>,
    /// How its colours lie.
    pub geometry: Geometry,
    /// What makes colours of its parameter; without it the geometry holds colours.
    pub ramp: Option<Ramp>,
    /// The colour around it where it is a pattern.
    pub background: Option<Colour>,
}

/// What the interpreter paints on. Paths come in user space with the state whose `ctm` leads to face points; clips come in
/// face points. What does not print (a layer that is off, an annotation without Print) never arrives.
///
/// A pattern cell is drawn once between `begin_pattern` and `end_pattern` before the first mark that uses it, a soft mask's
/// group between `begin_mask` and `end_mask` when it is set, and the drawing of a Type 3 glyph between `begin_glyph` and
/// `end_glyph` after its run.
pub trait Surface {
    /// Fills a path.
    fn fill(&mut self, path: &BezPath, winding: Winding, state: &State);
    /// Strokes a path.
    fn stroke(&mut self, path: &BezPath, state: &State);
    /// Fills, then strokes the same path as one mark.
    fn fill_and_stroke(&mut self, path: &BezPath, winding: Winding, state: &State) {
        self.fill(path, winding, state);
        self.stroke(path, state);
    }
    /// Narrows the clip; the path is in face points.
    fn push_clip(&mut self, path: &BezPath, winding: Winding);
    /// Takes back the last clip.
    fn pop_clip(&mut self);
    /// Shows glyphs.
    fn glyphs(&mut self, run: &GlyphRun, state: &State);
    /// Draws an image into the unit square of user space.
    fn image(&mut self, image: &Image, state: &State);
    /// Paints a shading over the clip.
    fn shade(&mut self, shading: &Arc<Shading>, state: &State);
    /// Whether a form need not be gone through, because the surface has seen all of it and minds its place alone.
    fn skips_form(&mut self, _form: &Form, _state: &State) -> bool {
        false
    }
    /// A form begins.
    fn begin_form(&mut self, form: &Form, state: &State);
    /// The form ends.
    fn end_form(&mut self);
    /// A transparency group begins.
    fn begin_group(&mut self, group: &Group, state: &State);
    /// The group ends.
    fn end_group(&mut self);
    /// The cell of a tiling pattern begins.
    fn begin_pattern(&mut self, pattern: &Arc<Pattern>);
    /// The cell ends.
    fn end_pattern(&mut self);
    /// The group of a soft mask begins.
    fn begin_mask(&mut self, mask: &Arc<SoftMask>);
    /// The group ends.
    fn end_mask(&mut self);
    /// The drawing of a Type 3 glyph begins; `coloured` where it sets its own colours (`d0`).
    fn begin_glyph(&mut self, coloured: bool);
    /// The glyph ends.
    fn end_glyph(&mut self);
}
