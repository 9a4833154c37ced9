//! Shadings as what they put on the planes.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect};

use super::effort::{Effort, of_colours};
use super::inks::{Inker, Overprint, PlaneSet, Tints};
use super::layer::Area;
use super::mesh::{InkedMesh, PlacedMesh};
use super::shape::has_extent;
use crate::artwork::{Geometry, Shading};
use crate::ink::Colour;

/// A shading at its place.
#[derive(Clone, Debug)]
pub(super) struct PlacedShading {
    shading: Arc<ShadingPaint>,
    /// From pixels of the planes to its space.
    from_pixels: Affine,
    mesh: Option<PlacedMesh>,
}

/// A shading that knows what it puts on the planes.
#[derive(Clone, Debug)]
pub(super) struct ShadingPaint {
    kind: Kind,
    bbox: Option<Rect>,
    background: Option<Tints>,
    touches: PlaneSet,
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
    Mesh(Arc<InkedMesh>),
}

/// Steps of a ramp, finer than what one byte tells apart.
const STEPS: usize = 1024;
/// Steps each way of a field.
const FIELD: usize = 256;

impl ShadingPaint {
    /// What reading a shading comes to.
    pub(super) fn effort(shading: &Shading) -> Effort {
        of_colours(match &shading.geometry {
            Geometry::Axial { .. } | Geometry::Radial { .. } => STEPS,
            Geometry::Field { .. } => FIELD * FIELD,
            Geometry::Mesh(mesh) => mesh.corners.len() + STEPS,
            Geometry::Unknown => 0,
        })
    }

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
                if !has_extent(*matrix) {
                    return None;
                }
                let [x0, x1, y0, y1] = *domain;
                let at = |n: usize, low: f64, high: f64| low + (high - low) * n as f64 / FIELD as f64;
                let grid = (0..=FIELD).flat_map(|y| (0..=FIELD).map(move |x| (x, y)));
                let grid = grid.map(|(x, y)| tints(&colour(&[at(x, x0, x1), at(y, y0, y1)]))).collect();
                Kind::Field { grid, domain: *domain, inverse: matrix.inverse() }
            }
            Geometry::Mesh(mesh) if shading.ramp.is_some() => {
                let first = mesh.values.first().copied().unwrap_or(0.0);
                let reach = mesh.values.iter().fold([first; 2], |[low, high], v| [low.min(*v), high.max(*v)]);
                Kind::Mesh(Arc::new(InkedMesh::along(Arc::clone(mesh), reach, ramp(reach))))
            }
            Geometry::Mesh(mesh) => {
                let corners = (0..mesh.corners.len()).map(|n| tints(&colour(mesh.values(n)))).collect();
                Kind::Mesh(Arc::new(InkedMesh::of_corners(Arc::clone(mesh), corners)))
            }
            Geometry::Unknown => return None,
        };
        let touches = inker.tints(&colour(&[0.0]), overprint).touches;
        let background = shading.background.as_ref().filter(|_| as_pattern).map(|c| inker.tints(c, overprint));
        Some(Self { kind, bbox: shading.bbox, background, touches })
    }

    /// The amounts for a row of pixels from a centre on; `matrix` leads from pixels to the shading's space.
    fn row(&self, matrix: Affine, from: Point, planes: &mut [Vec<u8>], alpha: &mut [u8]) {
        let [a, b, ..] = matrix.as_coeffs();
        let start = matrix * from;
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
}

impl PlacedShading {
    /// A shading whose space leads to pixels by `to_pixels`; `None` where that has no extent. `reach` is where it may be seen.
    pub(super) fn new(shading: Arc<ShadingPaint>, to_pixels: Affine, reach: Area) -> Option<Self> {
        if !has_extent(to_pixels) {
            return None;
        }
        let mesh = match &shading.kind {
            Kind::Mesh(mesh) => Some(PlacedMesh::new(Arc::clone(mesh), to_pixels, reach)),
            _ => None,
        };
        Some(Self { shading, from_pixels: to_pixels.inverse(), mesh })
    }

    /// The planes that it touches.
    pub(super) fn touches(&self) -> PlaneSet {
        self.shading.touches
    }

    /// What drawing it comes to beside its pixels.
    pub(super) fn work(&self) -> Effort {
        self.mesh.as_ref().map_or(0, PlacedMesh::work)
    }

    /// The amounts for a row of pixels from a centre on.
    pub(super) fn row(&self, from: Point, planes: &mut [Vec<u8>], alpha: &mut [u8]) {
        let Some(mesh) = &self.mesh else { return self.shading.row(self.from_pixels, from, planes, alpha) };
        for (n, alpha) in alpha.iter_mut().enumerate() {
            put(self.shading.background.as_ref(), n, planes, alpha);
        }
        let inside = |at: Point| self.shading.bbox.is_none_or(|b| b.contains(self.from_pixels * at));
        mesh.row(from, &inside, planes, alpha);
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
