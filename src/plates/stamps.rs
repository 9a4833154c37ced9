//! Forms that stand on the page at several places alike, such as the stations of a press sheet: listed and drawn once, then put down moved by
//! whole pixels.
//!
//! A stamp is laid on bare paper only, so that nothing in it can meet anything below: what was painted before is kept as areas.

use kurbo::{Affine, Vec2};
use lopdf::ObjectId;

use super::layer::Area;
use super::list::{List, Stamp};
use super::shape::pixels_of;
use crate::artwork::{Form, State};

/// Where a form stands, and what it takes over from around it.
pub(super) struct Placing {
    object: ObjectId,
    /// The pixels that it may cover.
    area: Area,
    /// From form space to pixels, but for the shift.
    linear: [f64; 4],
    shift: Vec2,
    /// The graphics state, its place aside.
    state: State,
}

/// A form that was listed.
struct Known {
    placing: Box<Placing>,
    number: usize,
}

/// The stamps so far, and what of the page is painted.
#[derive(Default)]
pub(super) struct Stamps {
    known: Vec<Known>,
    painted: Vec<Area>,
    /// Bytes that the stamps take once they are drawn.
    bytes: usize,
}

/// A stamp that is still without its items.
pub(super) struct Begun(Area);

/// Places that differ by less than this from whole pixels differ by whole pixels.
const NEAR: f64 = 1.0e-3;
/// Painted areas that are looked through; on a page of more nothing is a stamp.
const MOST_PAINTED: usize = 4096;
/// Bytes that stamps may take.
const MOST_BYTES: usize = 192 << 20;

impl Placing {
    /// The place of a form whose box is known.
    pub(super) fn new(form: &Form, state: &State, to_pixels: Affine) -> Option<Box<Self>> {
        let matrix = to_pixels * form.matrix;
        let [a, b, c, d, e, f] = matrix.as_coeffs();
        let area = pixels_of(matrix.transform_rect_bbox(form.bbox));
        let state = State { ctm: Affine::IDENTITY, object: None, ..state.clone() };
        let usable = !area.is_empty() && matrix.is_finite();
        usable.then_some(Box::new(Self {
            object: form.object?,
            area,
            linear: [a, b, c, d],
            shift: Vec2::new(e, f),
            state,
        }))
    }

    /// The pixels that the form may cover.
    pub(super) fn area(&self) -> Area {
        self.area
    }

    /// The whole pixels from another place of the same form to this one.
    fn from(&self, other: &Self) -> Option<(i32, i32)> {
        let moved = self.shift - other.shift;
        let whole = Vec2::new(moved.x.round(), moved.y.round());
        // A linear part may differ by what moves no point of the form by a thousandth of a pixel.
        let size = (self.area.width() + self.area.height()) as f64;
        let alike = self.linear.iter().zip(other.linear).all(|(a, b)| (a - b).abs() * size < NEAR * a.abs().max(1.0));
        let same = self.object == other.object && alike && (moved - whole).hypot() < NEAR && self.state == other.state;
        #[expect(clippy::cast_possible_truncation, reason = "both places lie among pixels")]
        same.then_some((whole.x as i32, whole.y as i32))
    }
}

impl Stamps {
    /// Keeps in mind that something was painted there.
    pub(super) fn painted(&mut self, area: Area) {
        if !area.is_empty() && self.painted.len() <= MOST_PAINTED {
            self.painted.push(area);
        }
    }

    /// Whether an area is bare but for the pixels of its edge, which neighbours share.
    fn is_bare(&self, area: Area) -> bool {
        let inner = Area { x0: area.x0 + 1, y0: area.y0 + 1, x1: area.x1 - 1, y1: area.y1 - 1 };
        self.painted.len() <= MOST_PAINTED && self.painted.iter().all(|p| p.shared(inner).is_empty())
    }

    /// The stamp of a form that stands here: its number, how far it is moved, and where it then lies.
    pub(super) fn known(&self, placing: &Placing) -> Option<(usize, (i32, i32), Area)> {
        let found = self.known.iter().find_map(|k| Some((k.number, placing.from(&k.placing)?)));
        let (number, shift) = found?;
        self.is_bare(placing.area).then_some((number, shift, placing.area))
    }

    /// Keeps a form that was listed just now as the stamp of a number, where it stands on bare paper and there is room for it.
    pub(super) fn keep(&mut self, placing: Box<Placing>, number: usize, planes: usize) -> Option<Begun> {
        let area = placing.area;
        let bytes = (area.width() * area.height()).checked_mul(planes)?.checked_add(self.bytes)?;
        if bytes > MOST_BYTES || !self.is_bare(area) {
            return None;
        }
        self.bytes = bytes;
        self.known.push(Known { placing, number });
        Some(Begun(area))
    }
}

impl Begun {
    /// The stamp with its items.
    pub(super) fn of(self, list: List) -> Stamp {
        Stamp { list, area: self.0, uses: 1 }
    }
}
