//! What is to be painted, in order, with every place in pixels of the planes. Made once, and drawn by every band.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect, Vec2};

use super::blend::BlendMode;
use super::effort::Effort;
use super::inks::{PlaneSet, Tints};
use super::layer::Area;
use super::picture::Picture;
use super::shading::PlacedShading;
use super::shape::pixels_of;

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
    /// Paints a stamp, by its number, moved by whole pixels.
    Stamp(usize, (i32, i32)),
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
    /// A shading.
    Shading(Arc<PlacedShading>),
    /// A tiling pattern, by the number of its cell, and whether that is drawn once and repeated by whole pixels.
    Tiles(usize, bool),
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
    /// What drawing it once comes to.
    pub(super) effort: Effort,
}

/// A soft mask.
#[derive(Clone, Debug)]
pub(super) struct Mask {
    pub(super) list: List,
    /// Where its group paints anything.
    pub(super) reach: Area,
    /// What drawing its group once comes to.
    pub(super) effort: Effort,
    /// Whether luminosity counts, else alpha.
    pub(super) luminosity: bool,
    /// What lies under the group where luminosity counts.
    pub(super) backdrop: Tints,
    /// What each of the 256 values becomes.
    pub(super) curve: Option<Arc<[u8]>>,
}

/// A form that stands at several places, drawn where it first stands.
#[derive(Clone, Debug)]
pub(super) struct Stamp {
    pub(super) list: List,
    pub(super) area: Area,
    /// At how many places it stands.
    pub(super) uses: usize,
}

/// Everything that is to be painted on one page or sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Scene {
    pub(super) list: List,
    pub(super) cells: Vec<Cell>,
    pub(super) masks: Vec<Mask>,
    pub(super) stamps: Vec<Stamp>,
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
            Self::Shading(shading) => shading.touches(),
            Self::Tiles(..) => super::inks::ALL,
        }
    }
}

impl Item {
    /// Whether it, or an item of it, blends with what lies below.
    pub(super) fn blends(&self) -> bool {
        match self {
            Self::Mark(mark) => mark.meets.blend != BlendMode::Normal,
            Self::Group(group) => group.meets.blend != BlendMode::Normal || group.list.iter().any(Self::blends),
            Self::Clip(_) | Self::Unclip | Self::Stamp(..) => false,
        }
    }

    /// Whether drawing it right on what lies below gives the same as drawing it in a group: nothing in it blends or overprints, and nothing
    /// knocks out what came before in the group alone.
    pub(super) fn stands_alone(&self) -> bool {
        let inside = match self {
            Self::Mark(mark) => mark.paint.touches() == super::inks::ALL,
            Self::Group(group) => !group.knockout && group.list.iter().all(Self::stands_alone),
            Self::Clip(_) | Self::Unclip => true,
            Self::Stamp(..) => false,
        };
        inside && !self.blends()
    }
}

/// Cells that are drawn one by one; beyond, one is drawn and repeated by whole pixels.
const MOST_DRAWN: u64 = 400;

impl Cell {
    /// The pixels that it covers where it first lies.
    pub(super) fn bounds(&self) -> Area {
        pixels_of(self.matrix.transform_rect_bbox(self.bbox))
    }

    /// How far the next cell lies to the right, and the next one up.
    pub(super) fn steps(&self) -> (Vec2, Vec2) {
        let origin = self.matrix * Point::ORIGIN;
        (self.matrix * Point::new(self.x_step, 0.0) - origin, self.matrix * Point::new(0.0, self.y_step) - origin)
    }

    /// How many cells an area takes at the most; none where they do not lie apart.
    pub(super) fn count(&self, area: Area) -> u64 {
        let (across, up) = self.steps();
        let det = across.cross(up).abs();
        if !(det >= 1.0e-9 && det.is_finite()) {
            return 0;
        }
        let own = self.matrix.transform_rect_bbox(self.bbox);
        // Whole cells on both sides, and a step each way for slanted ones.
        let wide = area.width() as f64 + own.width() + across.x.abs() + up.x.abs();
        let high = area.height() as f64 + own.height() + across.y.abs() + up.y.abs();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to what counts")]
        let count = (wide * high / det).ceil().min(1.0e15) as u64;
        count
    }

    /// Whether the cells of an area are so many that one is drawn and repeated.
    pub(super) fn is_repeated(&self, area: Area) -> bool {
        self.count(area) > MOST_DRAWN
    }
}
