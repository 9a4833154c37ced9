//! Shadings as what they put on the planes.

use kurbo::{Affine, Point, Rect};

use super::inks::{Inker, Overprint, PlaneSet, Tints};
use crate::artwork::{Corner, Geometry, Shading};
use crate::ink::Colour;

/// A shading that knows what it puts on the planes.
#[derive(Clone, Debug)]
pub(super) struct ShadingPaint {
    kind: Kind,
    bbox: Option<Rect>,
    background: Option<Tints>,
    pub(super) touches: PlaneSet,
}

#[derive(Clone, Debug)]
enum Kind {
    /// Amounts in a grid over the domain, and the matrix to it.
    Field {
        grid: Vec<Tints>,
        domain: [f64; 4],
        inverse: Affine,
    },
    Axial {
        ends: [Point; 2],
        extend: [bool; 2],
        ramp: Vec<Tints>,
    },
    Radial {
        centres: [Point; 2],
        radii: [f64; 2],
        extend: [bool; 2],
        ramp: Vec<Tints>,
    },
    Mesh(Vec<Triangle>),
}

/// A triangle with amounts at its corners, plane by plane.
#[derive(Clone, Debug)]
struct Triangle {
    at: [Point; 3],
    amounts: [Tints; 3],
    bounds: Rect,
}

/// Steps of a ramp, finer than what one byte tells apart.
const STEPS: usize = 1024;
/// Steps each way of a field.
const FIELD: usize = 256;
/// Steps of a triangle's edge whose corners hold the parameter of a ramp.
const EDGE: usize = 8;

impl ShadingPaint {
    /// Reads a shading; `None` where its geometry could not be made sense of. `as_pattern` paints its background around it.
    pub(super) fn read(shading: &Shading, inker: &mut Inker, overprint: Overprint, as_pattern: bool) -> Option<Self> {
        let overprint = overprint.of_samples();
        let colour = |input: &[f64]| match &shading.ramp {
            Some(ramp) => ramp.colour(&shading.space, input),
            None => shading.space.colour(input),
        };
        let mut tints = |c: &Colour| inker.tints(c, overprint);
        let mut ramp = |domain: [f64; 2]| -> Vec<Tints> {
            let [t0, t1] = domain;
            (0..=STEPS).map(|n| tints(&colour(&[t0 + (t1 - t0) * n as f64 / STEPS as f64]))).collect()
        };
        let kind = match &shading.geometry {
            Geometry::Axial { ends, domain, extend } => {
                Kind::Axial { ends: *ends, extend: *extend, ramp: ramp(*domain) }
            }
            Geometry::Radial { centres, radii, domain, extend } => {
                Kind::Radial { centres: *centres, radii: *radii, extend: *extend, ramp: ramp(*domain) }
            }
            Geometry::Field { domain, matrix } => {
                if matrix.determinant().abs() < 1.0e-12 {
                    return None;
                }
                let [x0, x1, y0, y1] = *domain;
                let at = |n: usize, low: f64, high: f64| low + (high - low) * n as f64 / FIELD as f64;
                let grid = (0..=FIELD).flat_map(|y| (0..=FIELD).map(move |x| (x, y)));
                let grid = grid.map(|(x, y)| tints(&colour(&[at(x, x0, x1), at(y, y0, y1)]))).collect();
                Kind::Field { grid, domain: *domain, inverse: matrix.inverse() }
            }
            Geometry::Mesh(triangles) => {
                let mut made = Vec::with_capacity(triangles.len());
                for triangle in triangles.iter() {
                    let parts = if shading.ramp.is_some() { split(triangle) } else { vec![triangle.clone()] };
                    for corners in parts {
                        let at = [0, 1, 2].map(|n: usize| corners.get(n).map_or(Point::ZERO, |c| c.at));
                        let amounts = corners.each_ref().map(|c| tints(&colour(&c.values)));
                        let bounds = Rect::from_points(at[0], at[1]).union_pt(at[2]);
                        made.push(Triangle { at, amounts, bounds });
                    }
                }
                Kind::Mesh(made)
            }
            Geometry::Unknown => return None,
        };
        let touches = inker.tints(&colour(&[0.0]), overprint).touches;
        let background = shading.background.as_ref().filter(|_| as_pattern).map(|c| inker.tints(c, overprint));
        Some(Self { kind, bbox: shading.bbox, background, touches })
    }

    /// The amounts for a row of pixels from a centre on; `matrix` leads from pixels to the shading's space.
    pub(super) fn row(&self, matrix: Affine, from: Point, planes: &mut [Vec<u8>], alpha: &mut [u8]) {
        let [a, b, ..] = matrix.as_coeffs();
        let start = matrix * from;
        if let Kind::Mesh(triangles) = &self.kind {
            return self.mesh_row(triangles, matrix, start, planes, alpha);
        }
        for (n, alpha) in alpha.iter_mut().enumerate() {
            let at = Point::new(start.x + a * n as f64, start.y + b * n as f64);
            let inside = self.bbox.is_none_or(|b| b.contains(at));
            let found = if inside { self.at(at) } else { None };
            put(found.or(self.background.as_ref()), n, planes, alpha);
        }
    }

    fn at(&self, at: Point) -> Option<&Tints> {
        let step = |t: f64, ramp: &'_ [Tints]| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to the ramp")]
            let n = (t.clamp(0.0, 1.0) * STEPS as f64).round() as usize;
            n.min(ramp.len().saturating_sub(1))
        };
        match &self.kind {
            Kind::Axial { ends: [p, q], extend, ramp } => {
                let along = *q - *p;
                let length = along.hypot2();
                let t = if length > 0.0 { (at - *p).dot(along) / length } else { return None };
                let [before, behind] = *extend;
                if (t < 0.0 && !before) || (t > 1.0 && !behind) {
                    return None;
                }
                ramp.get(step(t, ramp))
            }
            Kind::Radial { centres, radii, extend, ramp } => {
                let t = radial(at, *centres, *radii, *extend)?;
                ramp.get(step(t, ramp))
            }
            Kind::Field { grid, domain: [x0, x1, y0, y1], inverse } => {
                let p = *inverse * at;
                let place = |v: f64, low: f64, high: f64| {
                    let t = (v - low) / (high - low);
                    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 1")]
                    (0.0..=1.0).contains(&t).then(|| (t * FIELD as f64).round() as usize)
                };
                let (x, y) = (place(p.x, *x0, *x1)?, place(p.y, *y0, *y1)?);
                grid.get(y * (FIELD + 1) + x)
            }
            Kind::Mesh(_) => None,
        }
    }

    fn mesh_row(&self, triangles: &[Triangle], matrix: Affine, start: Point, planes: &mut [Vec<u8>], alpha: &mut [u8]) {
        let [a, b, ..] = matrix.as_coeffs();
        for n in 0..alpha.len() {
            if let Some(alpha) = alpha.get_mut(n) {
                put(self.background.as_ref(), n, planes, alpha);
            }
        }
        let end = Point::new(start.x + a * alpha.len() as f64, start.y + b * alpha.len() as f64);
        let line = Rect::from_points(start, end).inflate(1.0e-6, 1.0e-6);
        for triangle in triangles.iter().filter(|t| t.bounds.inflate(1.0e-6, 1.0e-6).overlaps(line)) {
            let [p, q, r] = triangle.at;
            let area = (q - p).cross(r - p);
            if area.abs() < 1.0e-12 {
                continue;
            }
            for (n, alpha) in alpha.iter_mut().enumerate() {
                let at = Point::new(start.x + a * n as f64, start.y + b * n as f64);
                let (u, v) = ((at - p).cross(r - p) / area, (q - p).cross(at - p) / area);
                if u < -1.0e-9 || v < -1.0e-9 || u + v > 1.0 + 1.0e-9 || self.bbox.is_some_and(|b| !b.contains(at)) {
                    continue;
                }
                *alpha = 255;
                let [ta, tb, tc] = &triangle.amounts;
                for (number, plane) in planes.iter_mut().enumerate() {
                    let mix = f64::from(ta.at(number)) * (1.0 - u - v)
                        + f64::from(tb.at(number)) * u
                        + f64::from(tc.at(number)) * v;
                    if let Some(place) = plane.get_mut(n) {
                        *place = super::inks::amount(mix / 255.0);
                    }
                }
            }
        }
    }
}

fn put(tints: Option<&Tints>, n: usize, planes: &mut [Vec<u8>], alpha: &mut u8) {
    let Some(tints) = tints else {
        *alpha = 0;
        return;
    };
    for (number, plane) in planes.iter_mut().enumerate() {
        if let Some(place) = plane.get_mut(n) {
            *place = tints.at(number);
        }
    }
}

/// The larger parameter whose circle goes through a point (ISO 32000-1, 8.7.4.5.4).
fn radial(at: Point, [c0, c1]: [Point; 2], [r0, r1]: [f64; 2], [before, behind]: [bool; 2]) -> Option<f64> {
    let (d, dr, p) = (c1 - c0, r1 - r0, at - c0);
    let (a, b, c) = (d.hypot2() - dr * dr, p.dot(d) + r0 * dr, p.hypot2() - r0 * r0);
    let usable = |t: f64| {
        let inside = (t >= 0.0 || before) && (t <= 1.0 || behind);
        (inside && r0 + t * dr >= 0.0).then_some(t)
    };
    if a.abs() < 1.0e-9 {
        return if b.abs() < 1.0e-12 { None } else { usable(c / (2.0 * b)) };
    }
    let root = b * b - a * c;
    if root < 0.0 {
        return None;
    }
    let (one, two) = ((b + root.sqrt()) / a, (b - root.sqrt()) / a);
    usable(one.max(two)).or_else(|| usable(one.min(two)))
}

/// A triangle in small ones, so that a ramp that bends is followed.
fn split(corners: &[Corner; 3]) -> Vec<[Corner; 3]> {
    let [a, b, c] = corners;
    let at = |i: usize, j: usize| {
        let (u, v) = (i as f64 / EDGE as f64, j as f64 / EDGE as f64);
        let mix = |a: f64, b: f64, c: f64| a * (1.0 - u - v) + b * u + c * v;
        let values = a.values.iter().zip(&b.values).zip(&c.values).map(|((a, b), c)| mix(*a, *b, *c)).collect();
        Corner { at: Point::new(mix(a.at.x, b.at.x, c.at.x), mix(a.at.y, b.at.y, c.at.y)), values }
    };
    let mut parts = Vec::with_capacity(EDGE * EDGE);
    for i in 0..EDGE {
        for j in 0..EDGE - i {
            parts.push([at(i, j), at(i + 1, j), at(i, j + 1)]);
            if i + j + 1 < EDGE {
                parts.push([at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)]);
            }
        }
    }
    parts
}
