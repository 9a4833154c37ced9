//! Meshes of shadings as what they put on the planes.

use std::sync::Arc;

use kurbo::{Affine, Point};

use super::effort::Effort;
use super::inks::{Tints, amount};
use super::layer::Area;
use crate::artwork::Mesh;

/// A mesh that knows what its corners put on the planes.
#[derive(Clone, Debug)]
pub(super) struct InkedMesh {
    mesh: Arc<Mesh>,
    colours: Colours,
}

#[derive(Clone, Debug)]
enum Colours {
    /// Of each corner; between corners the amounts are mixed.
    Corners(Vec<Tints>),
    /// Along the parameter that corners hold, from the least to the greatest; between corners the parameter is mixed.
    Along { reach: [f64; 2], ramp: Vec<Tints> },
}

/// A mesh at its place in pixels.
#[derive(Clone, Debug)]
pub(super) struct PlacedMesh {
    mesh: Arc<InkedMesh>,
    corners: Vec<Point>,
    /// The first row of the first block.
    first: i32,
    /// For each block of rows the triangles that reach into it, in painting order.
    blocks: Vec<Vec<u32>>,
    work: Effort,
}

/// Rows of a block.
const BLOCK: i32 = 16;
/// A centre counts as inside from this near to an edge.
const NEAR: f64 = 1.0e-6;

impl InkedMesh {
    /// A mesh whose corners hold colours.
    pub(super) fn of_corners(mesh: Arc<Mesh>, corners: Vec<Tints>) -> Self {
        Self { mesh, colours: Colours::Corners(corners) }
    }

    /// A mesh whose corners hold the parameter of a ramp.
    pub(super) fn along(mesh: Arc<Mesh>, reach: [f64; 2], ramp: Vec<Tints>) -> Self {
        Self { mesh, colours: Colours::Along { reach, ramp } }
    }

    /// Puts the colour at a place in a triangle, by the shares of its corners, on the planes.
    fn put(&self, corners: [u32; 3], shares: [f64; 3], n: usize, planes: &mut [Vec<u8>]) {
        match &self.colours {
            Colours::Corners(tints) => {
                let [a, b, c] = corners.map(|c| tints.get(c as usize));
                let (Some(a), Some(b), Some(c)) = (a, b, c) else { return };
                for (number, plane) in planes.iter_mut().enumerate() {
                    let mix = [a, b, c].into_iter().zip(shares).map(|(t, s)| f64::from(t.at(number)) * s).sum::<f64>();
                    if let Some(place) = plane.get_mut(n) {
                        *place = amount(mix / 255.0);
                    }
                }
            }
            Colours::Along { reach: [low, high], ramp } => {
                let value = |c: u32| self.mesh.values(c as usize).first().copied().unwrap_or(0.0);
                let t = corners.into_iter().zip(shares).map(|(c, s)| value(c) * s).sum::<f64>();
                let last = ramp.len().saturating_sub(1);
                let part = if high > low { (t - low) / (high - low) } else { 0.0 };
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to the ramp")]
                let step = (part.clamp(0.0, 1.0) * last as f64).round() as usize;
                let Some(tints) = ramp.get(step) else { return };
                for (number, plane) in planes.iter_mut().enumerate() {
                    if let Some(place) = plane.get_mut(n) {
                        *place = tints.at(number);
                    }
                }
            }
        }
    }
}

impl PlacedMesh {
    /// A mesh whose space leads to pixels by `to_pixels`; triangles outside of the rows of `reach` are left out.
    pub(super) fn new(mesh: Arc<InkedMesh>, to_pixels: Affine, reach: Area) -> Self {
        let corners: Vec<Point> = mesh.mesh.corners.iter().map(|at| to_pixels * *at).collect();
        let rows = (reach.y1 - reach.y0).max(0);
        let mut blocks = vec![Vec::new(); usize::try_from((rows + BLOCK - 1) / BLOCK).unwrap_or(0)];
        let mut work = mesh.mesh.triangles.len() as Effort;
        for (number, triangle) in mesh.mesh.triangles.iter().enumerate() {
            let Some(at) = corners_of(&corners, *triangle).filter(|at| at.iter().all(|p| p.is_finite())) else {
                continue;
            };
            let (low, high) = at.iter().fold((f64::MAX, f64::MIN), |(l, h), p| (l.min(p.y), h.max(p.y)));
            let (low, high) = (low.max(reach.y0.into()), high.min(reach.y1.into()));
            if low > high {
                continue;
            }
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "kept to the rows of the reach"
            )]
            let block = |y: f64| ((y - f64::from(reach.y0)) / f64::from(BLOCK)) as usize;
            for block in blocks.iter_mut().take(block(high) + 1).skip(block(low)) {
                block.push(u32::try_from(number).unwrap_or(u32::MAX));
                work += 2 * Effort::from(BLOCK.unsigned_abs());
            }
        }
        Self { mesh, corners, first: reach.y0, blocks, work }
    }

    /// What drawing it comes to beside its pixels.
    pub(super) fn work(&self) -> Effort {
        self.work
    }

    /// Paints the row of pixels from a centre on where triangles lie `inside`.
    pub(super) fn row(&self, from: Point, inside: &dyn Fn(Point) -> bool, planes: &mut [Vec<u8>], alpha: &mut [u8]) {
        #[expect(clippy::cast_possible_truncation, reason = "a row of the planes")]
        let block = usize::try_from((from.y.floor() as i32 - self.first).div_euclid(BLOCK));
        let Some(block) = block.ok().and_then(|b| self.blocks.get(b)) else { return };
        for number in block {
            let Some(triangle) = self.mesh.mesh.triangles.get(*number as usize) else { continue };
            let Some(at) = corners_of(&self.corners, *triangle) else { continue };
            let [p, q, r] = at;
            let area = (q - p).cross(r - p);
            let Some((left, right)) = span(at, from.y).filter(|_| area.abs() > 1.0e-12) else { continue };
            let kept = |v: f64| v.clamp(0.0, alpha.len() as f64);
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to the row")]
            let (first, behind) =
                (kept((left - from.x - NEAR).ceil()) as usize, kept((right - from.x + NEAR).floor() + 1.0) as usize);
            for n in first..behind {
                let at = Point::new(from.x + n as f64, from.y);
                let (u, v) = ((at - p).cross(r - p) / area, (q - p).cross(at - p) / area);
                let (u, v) = (u.clamp(0.0, 1.0), v.clamp(0.0, 1.0));
                if !inside(at) {
                    continue;
                }
                if let Some(alpha) = alpha.get_mut(n) {
                    *alpha = 255;
                }
                self.mesh.put(*triangle, [(1.0 - u - v).max(0.0), u, v], n, planes);
            }
        }
    }
}

fn corners_of(corners: &[Point], [a, b, c]: [u32; 3]) -> Option<[Point; 3]> {
    let at = |n: u32| corners.get(n as usize).copied();
    Some([at(a)?, at(b)?, at(c)?])
}

/// From where to where a line of pixels crosses a triangle.
fn span([p, q, r]: [Point; 3], y: f64) -> Option<(f64, f64)> {
    let mut reach: Option<(f64, f64)> = None;
    for (a, b) in [(p, q), (q, r), (r, p)] {
        if a.y.min(b.y) - NEAR > y || a.y.max(b.y) + NEAR < y {
            continue;
        }
        let level = (b.y - a.y).abs() < NEAR;
        let t = if level { 0.0 } else { ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0) };
        for x in [a.x + (b.x - a.x) * t, if level { b.x } else { a.x + (b.x - a.x) * t }] {
            reach = Some(reach.map_or((x, x), |(low, high)| (low.min(x), high.max(x))));
        }
    }
    reach
}
