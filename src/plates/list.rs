//! What is to be painted, in order, with every place in pixels of the planes. Made once, and drawn by every band.

use std::sync::Arc;

use kurbo::{Affine, Rect};

use super::blend::BlendMode;
use super::inks::{PlaneSet, Tints};
use super::picture::Picture;
use super::shading::ShadingPaint;

/// A drawing: items in painting order.
pub(super) type List = Vec<Item>;

/// One thing to do.
#[derive(Clone, Debug)]
pub(super) enum Item {
    /// Lays paint down.
    Mark(Box<Mark>),
    /// Narrows the clip.
    Clip(Shape),
    /// Takes back the last clip.
    Unclip,
    /// Paints a group as one thing.
    Group(Group),
}

/// Paint within a shape.
#[derive(Clone, Debug)]
pub(super) struct Mark {
    /// Where; `None` is all of the clip.
    pub(super) shape: Option<Shape>,
    /// What is left out of it: the stroke that follows a fill of the same path.
    pub(super) without: Option<Shape>,
    /// With what.
    pub(super) paint: Paint,
    /// How it meets what is there.
    pub(super) meets: Meets,
}

/// How paint meets what lies below.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Meets {
    /// Constant alpha.
    pub(super) alpha: f64,
    /// Blend mode.
    pub(super) blend: BlendMode,
    /// The soft mask, by its number.
    pub(super) mask: Option<usize>,
}

/// What is laid down.
#[derive(Clone, Debug)]
pub(super) enum Paint {
    /// One colour.
    Flat(Tints),
    /// The samples of a picture; the matrix leads from pixels of the planes to its unit square.
    Picture(Arc<Picture>, Affine),
    /// A shading; the matrix leads from pixels of the planes to its space.
    Shading(Arc<ShadingPaint>, Affine),
    /// A tiling pattern, by the number of its cell.
    Tiles(usize),
}

/// The outline of a mark, and how its inside is told.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    /// The path, where there is one.
    pub(super) path: Option<tiny_skia::Path>,
    pub(super) even_odd: bool,
    /// The rectangle that it is, where it is one along the pixels.
    pub(super) rect: Option<Rect>,
}

/// A transparency group.
#[derive(Clone, Debug)]
pub(super) struct Group {
    pub(super) list: List,
    pub(super) isolated: bool,
    pub(super) knockout: bool,
    pub(super) meets: Meets,
}

/// The cell of a tiling pattern, drawn where the first cell lies.
#[derive(Clone, Debug)]
pub(super) struct Cell {
    pub(super) list: List,
    /// Its box in its own space.
    pub(super) bbox: Rect,
    pub(super) x_step: f64,
    pub(super) y_step: f64,
    /// From its own space to pixels.
    pub(super) matrix: Affine,
}

/// A soft mask.
#[derive(Clone, Debug)]
pub(super) struct Mask {
    pub(super) list: List,
    /// Whether luminosity counts, else alpha.
    pub(super) luminosity: bool,
    /// What lies under the group where luminosity counts.
    pub(super) backdrop: Tints,
    /// What each of the 256 values becomes.
    pub(super) curve: Option<Arc<[u8]>>,
}

/// Everything that is to be painted on one page or sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Scene {
    pub(super) list: List,
    pub(super) cells: Vec<Cell>,
    pub(super) masks: Vec<Mask>,
    /// Whether something blends with what lies below, so that bare paper must be told from white paint.
    pub(super) blends: bool,
}

impl Meets {
    /// Opaque paint.
    pub(super) const PLAINLY: Self = Self { alpha: 1.0, blend: BlendMode::Normal, mask: None };

    pub(super) fn plainly(self) -> bool {
        self.alpha >= 1.0 && self.blend == BlendMode::Normal && self.mask.is_none()
    }
}

impl Paint {
    /// The planes that it touches.
    pub(super) fn touches(&self) -> PlaneSet {
        match self {
            Self::Flat(tints) => tints.touches,
            Self::Picture(picture, _) => picture.touches,
            Self::Shading(shading, _) => shading.touches,
            Self::Tiles(_) => super::inks::ALL,
        }
    }
}

/// Whether drawing these items right on what lies below gives the same as drawing them as a group: nothing in them blends or overprints,
/// and nothing knocks out what came before in the group alone.
pub(super) fn stands_alone(list: &[Item]) -> bool {
    list.iter().all(|item| match item {
        Item::Mark(mark) => mark.meets.blend == BlendMode::Normal && mark.paint.touches() == super::inks::ALL,
        Item::Group(group) => group.meets.blend == BlendMode::Normal && !group.knockout && stands_alone(&group.list),
        Item::Clip(_) | Item::Unclip => true,
    })
}
