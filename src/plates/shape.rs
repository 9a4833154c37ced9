//! Outlines in pixels, and how much of each pixel they cover.

use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape as _};
use tiny_skia::{FillRule, Mask, PathBuilder, Transform};

use super::layer::{Area, share};
use super::list::Shape;
use crate::artwork::{State, Winding, scales};

/// How much of each pixel of an area is covered; 255 is all of it.
#[derive(Clone, Debug)]
pub(super) struct Cover {
    pub(super) area: Area,
    amounts: Amounts,
}

#[derive(Clone, Debug)]
enum Amounts {
    /// Row after row.
    Each(Vec<u8>),
    /// A rectangle along the pixels: its first row, its last, and those between.
    Rows([Vec<u8>; 3]),
}

impl Cover {
    /// All of an area.
    pub(super) fn full(area: Area) -> Self {
        let row = vec![255; area.width()];
        Self { area, amounts: Amounts::Rows([row.clone(), row.clone(), row]) }
    }

    /// Amounts row after row.
    pub(super) fn of(area: Area, amounts: Vec<u8>) -> Self {
        Self { area, amounts: Amounts::Each(amounts) }
    }

    /// A part of one of its rows.
    pub(super) fn row(&self, y: i32, x0: i32, x1: i32) -> &[u8] {
        let across = usize::try_from(x0 - self.area.x0).unwrap_or(0);
        let count = usize::try_from(x1 - x0).unwrap_or(0);
        match &self.amounts {
            Amounts::Each(amounts) => {
                let down = usize::try_from(y - self.area.y0).unwrap_or(usize::MAX);
                let from = down.saturating_mul(self.area.width()).saturating_add(across);
                amounts.get(from..from.saturating_add(count)).unwrap_or_default()
            }
            Amounts::Rows([first, last, between]) => {
                let row = if y == self.area.y0 {
                    first
                } else if y + 1 == self.area.y1 {
                    last
                } else {
                    between
                };
                row.get(across..across + count).unwrap_or_default()
            }
        }
    }

    /// Whether all of its area is covered.
    pub(super) fn is_full(&self) -> bool {
        let full = |row: &Vec<u8>| row.iter().all(|a| *a == 255);
        match &self.amounts {
            Amounts::Each(amounts) => full(amounts),
            Amounts::Rows([first, last, between]) => {
                full(first) && (self.area.height() < 2 || full(last)) && (self.area.height() < 3 || full(between))
            }
        }
    }

    /// The same where another covers too: the product of both.
    pub(super) fn shared(&self, other: &Self) -> Self {
        let area = self.area.shared(other.area);
        let mut amounts = Vec::with_capacity(area.width() * area.height());
        for y in area.y0..area.y1 {
            let rows = self.row(y, area.x0, area.x1).iter().zip(other.row(y, area.x0, area.x1));
            amounts.extend(rows.map(|(a, b)| share(*a, *b)));
        }
        Self::of(area, amounts)
    }

    /// What another does not cover.
    pub(super) fn without(&self, other: &Self) -> Self {
        let part = self.area.shared(other.area);
        if part.is_empty() {
            return self.clone();
        }
        let mut amounts = Vec::with_capacity(self.area.width() * self.area.height());
        for y in self.area.y0..self.area.y1 {
            let from = amounts.len();
            amounts.extend_from_slice(self.row(y, self.area.x0, self.area.x1));
            if y < part.y0 || y >= part.y1 {
                continue;
            }
            let skip = usize::try_from(part.x0 - self.area.x0).unwrap_or(0);
            let own = amounts.get_mut(from + skip..).unwrap_or_default();
            for (own, taken) in own.iter_mut().zip(other.row(y, part.x0, part.x1)) {
                *own = share(*own, 255 - taken);
            }
        }
        Self::of(self.area, amounts)
    }
}

/// Coordinates past this are no page's.
const FAR: f64 = 1.0e6;

impl Shape {
    /// The inside of a path in pixels; a path without area is a hairline one pixel wide (ISO 32000-1, 8.5.3.3.1). `None` where it
    /// leaves nothing.
    pub(super) fn filled(path: &BezPath, winding: Winding) -> Option<Self> {
        let bounds = path.bounding_box();
        if path.elements().is_empty() || !bounds.is_finite() {
            return None;
        }
        if bounds.width() < THIN || bounds.height() < THIN {
            return Self::of(
                &kurbo::stroke(path.iter(), &kurbo::Stroke::new(1.0), &kurbo::StrokeOpts::default(), FINE),
                false,
            );
        }
        let mut shape = Self::of(path, winding == Winding::EvenOdd)?;
        shape.rect = rect_of(path);
        Some(shape)
    }

    /// What a clip lets through; a path without area lets nothing through.
    pub(super) fn clip(path: &BezPath, winding: Winding) -> Self {
        let bounds = path.bounding_box();
        let nothing = || Self { path: None, even_odd: false, rect: Some(Rect::ZERO) };
        if path.elements().is_empty() || !bounds.is_finite() || bounds.width() <= 0.0 || bounds.height() <= 0.0 {
            return nothing();
        }
        let mut shape = Self::of(path, winding == Winding::EvenOdd).unwrap_or_else(nothing);
        shape.rect = shape.rect.or_else(|| rect_of(path));
        shape
    }

    fn of(path: &BezPath, even_odd: bool) -> Option<Self> {
        Some(Self { path: Some(plain(path)?), even_odd, rect: None })
    }

    /// The ink of a stroke in pixels, never thinner than one. `to_pixels` leads from user space.
    pub(super) fn stroked(path: &BezPath, state: &State, to_pixels: Affine) -> Option<Self> {
        let (large, small) = scales(to_pixels);
        let mut pen = state.pen();
        if dashes_too_finely(path, state, to_pixels) {
            pen = pen.with_dashes(0.0, [0.0; 0]);
        }
        let dots = path.segments().all(|s| s.bounding_box().width() <= 0.0 && s.bounding_box().height() <= 0.0);
        let bounds = path.bounding_box();
        if (dots && state.cap == 0) || !bounds.is_finite() || !to_pixels.is_finite() {
            return None;
        }
        let reach = to_pixels.transform_rect_bbox(bounds).inflate(pen.width * large, pen.width * large);
        if [reach.x0, reach.y0, reach.x1, reach.y1].iter().any(|v| v.abs() > FAR) {
            // No page reaches that far, and the outline would take long: bent to where pages lie, with a pen of the page's size at the most.
            let near = |p: Point| Point::new(p.x.clamp(-FAR, FAR), p.y.clamp(-FAR, FAR));
            let pen = kurbo::Stroke { width: (pen.width * large).clamp(1.0, FAR), ..pen }.with_dashes(0.0, [0.0; 0]);
            let lines = flattened(&(to_pixels * path.clone())).into_iter().map(|e| match e {
                PathEl::MoveTo(p) => PathEl::MoveTo(near(p)),
                PathEl::LineTo(p) => PathEl::LineTo(near(p)),
                other => other,
            });
            return Self::of(&kurbo::stroke(lines, &pen, &kurbo::StrokeOpts::default(), 1.0), false);
        }
        let hairline = |pen: &kurbo::Stroke| {
            let scale = f64::midpoint(large, small);
            let lengths: Vec<f64> = pen.dash_pattern.iter().map(|l| l * scale).collect();
            let pen = kurbo::Stroke { width: 1.0, ..pen.clone() }.with_dashes(pen.dash_offset * scale, lengths);
            kurbo::stroke((to_pixels * path.clone()).iter(), &pen, &kurbo::StrokeOpts::default(), FINE)
        };
        if pen.width * large <= 1.0 {
            return Self::of(&hairline(&pen), false);
        }
        let mut inked = kurbo::stroke(path.iter(), &pen, &kurbo::StrokeOpts::default(), FINE / large);
        if pen.width * small < 1.0 {
            // The pen is slanted: where it is thinner than a pixel the hairline stands in for it, wound the same way round.
            let outline = to_pixels * inked;
            inked = if to_pixels.determinant() < 0.0 { outline.reverse_subpaths() } else { outline };
            inked.extend(hairline(&pen));
            return Self::of(&inked, false);
        }
        Self::of(&(to_pixels * inked), false)
    }

    /// The pixels that it may touch, moved by an offset.
    pub(super) fn area(&self, (dx, dy): (f64, f64)) -> Area {
        let bounds = self.rect.unwrap_or_else(|| {
            let bounds = self.path.as_ref().map(tiny_skia::Path::bounds);
            bounds
                .map_or(Rect::ZERO, |b| Rect::new(b.left().into(), b.top().into(), b.right().into(), b.bottom().into()))
        });
        pixels_of(bounds + kurbo::Vec2::new(dx, dy))
    }

    /// How much of each pixel it covers within an area, moved by an offset; `None` where that is none of it.
    pub(super) fn cover(&self, within: Area, offset: (f64, f64)) -> Option<Cover> {
        let area = self.area(offset).shared(within);
        if area.is_empty() {
            return None;
        }
        if let Some(rect) = self.rect {
            return Some(rect_cover(rect + kurbo::Vec2::new(offset.0, offset.1), area));
        }
        let mut mask = Mask::new(u32::try_from(area.width()).ok()?, u32::try_from(area.height()).ok()?)?;
        let rule = if self.even_odd { FillRule::EvenOdd } else { FillRule::Winding };
        let shift =
            Transform::from_translate(single(offset.0 - f64::from(area.x0)), single(offset.1 - f64::from(area.y0)));
        mask.fill_path(self.path.as_ref()?, rule, true, shift);
        Some(Cover::of(area, mask.take()))
    }
}

/// How near to the true outline the ink of a stroke keeps, in pixels.
const FINE: f64 = 0.05;

/// Thinner than this in pixels is no area.
const THIN: f64 = 1.0e-3;

/// Straight lines between the ends of a path's segments.
fn flattened(path: &BezPath) -> Vec<PathEl> {
    let straight = |e: &PathEl| match *e {
        PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) => PathEl::LineTo(p),
        other => other,
    };
    path.elements().iter().map(straight).collect()
}

/// Whether the dashes of a stroke are finer than can be drawn, or more than anyone could count.
pub(super) fn dashes_too_finely(path: &BezPath, state: &State, to_pixels: Affine) -> bool {
    let round: f64 = state.dash.lengths.iter().sum();
    if round <= 0.0 {
        return false;
    }
    let (large, _) = scales(to_pixels);
    round * large < FINEST_DASH || path.perimeter(1.0 / large.max(1.0e-6)) / round > MOST_DASHES
}

/// Pixels that a dash and its gap take at the least.
const FINEST_DASH: f64 = 0.25;
/// Dashes along one path.
const MOST_DASHES: f64 = 100_000.0;

/// Whether a matrix keeps areas, and can be undone.
pub(super) fn has_extent(matrix: Affine) -> bool {
    matrix.is_finite() && matrix.determinant().abs() >= 1.0e-12
}

/// A rectangle as a path.
pub(super) fn outline(rect: Rect) -> BezPath {
    rect.to_path(0.1)
}

/// The pixels that a rectangle touches.
pub(super) fn pixels_of(rect: Rect) -> Area {
    #[expect(clippy::cast_possible_truncation, reason = "kept to what no page reaches")]
    let whole = |v: f64| v.clamp(-FAR, FAR) as i32;
    Area {
        x0: whole(rect.x0.floor()),
        y0: whole(rect.y0.floor()),
        x1: whole(rect.x1.ceil()),
        y1: whole(rect.y1.ceil()),
    }
}

/// The part of each pixel that lies inside a rectangle.
fn rect_cover(rect: Rect, area: Area) -> Cover {
    let parts = |from: i32, to: i32, low: f64, high: f64| -> Vec<f64> {
        (from..to).map(|n| (high.min(f64::from(n) + 1.0) - low.max(f64::from(n))).clamp(0.0, 1.0)).collect()
    };
    let across = parts(area.x0, area.x1, rect.x0, rect.x1);
    let down = parts(area.y0, area.y1, rect.y0, rect.y1);
    let row = |part: Option<&f64>| -> Vec<u8> {
        let part = part.copied().unwrap_or(0.0);
        across.iter().map(|x| super::inks::amount(x * part)).collect()
    };
    Cover { area, amounts: Amounts::Rows([row(down.first()), row(down.last()), row(down.get(1))]) }
}

/// The rectangle along the pixels that a path is.
fn rect_of(path: &BezPath) -> Option<Rect> {
    let points: Vec<Point> = path
        .elements()
        .iter()
        .filter_map(|e| match e {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => Some(Some(*p)),
            PathEl::ClosePath => None,
            _ => Some(None),
        })
        .collect::<Option<_>>()?;
    let moves = path.elements().iter().filter(|e| matches!(e, PathEl::MoveTo(_))).count();
    let (corners, extra) = points.split_at_checked(4)?;
    let [a, b, c, d] = corners else { return None };
    let near = |p: f64, q: f64| (p - q).abs() < 1.0e-6;
    let closed = extra.iter().all(|p| near(p.x, a.x) && near(p.y, a.y));
    let first = near(a.y, b.y) && near(b.x, c.x) && near(c.y, d.y) && near(d.x, a.x);
    let second = near(a.x, b.x) && near(b.y, c.y) && near(c.x, d.x) && near(d.y, a.y);
    (moves == 1 && closed && (first || second)).then(|| Rect::from_points(*a, *c))
}

/// A path as the rasteriser takes it; `None` where it draws nothing or reaches too far.
fn plain(path: &BezPath) -> Option<tiny_skia::Path> {
    let mut builder = PathBuilder::new();
    let at = |p: Point| (single(p.x.clamp(-FAR, FAR)), single(p.y.clamp(-FAR, FAR)));
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => builder.move_to(at(p).0, at(p).1),
            PathEl::LineTo(p) => builder.line_to(at(p).0, at(p).1),
            PathEl::QuadTo(p, q) => builder.quad_to(at(p).0, at(p).1, at(q).0, at(q).1),
            PathEl::CurveTo(p, q, r) => builder.cubic_to(at(p).0, at(p).1, at(q).0, at(q).1, at(r).0, at(r).1),
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

#[expect(clippy::cast_possible_truncation, reason = "a pixel's place needs no more than f32")]
fn single(v: f64) -> f32 {
    v as f32
}
