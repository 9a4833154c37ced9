//! What shadings are made of (ISO 32000-1, 8.7.4.5).

use std::sync::Arc;

use kurbo::{Affine, Point};
use lopdf::{Dictionary, Object};

use super::filters;
use super::function::Function;
use super::mesh;
use super::objects::Objects;
use super::space::Space;
use crate::ink::Colour;

/// Functions that make colours of a shading's parameter.
#[derive(Clone, PartialEq, Debug)]
pub struct Ramp(Function);

/// A mesh of triangles.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Mesh {
    /// Its corners in shading space.
    pub corners: Vec<Point>,
    /// How many values a corner has.
    pub each: usize,
    /// The values of the corners, one corner after another: components of the space, or the parameter of the ramp.
    pub values: Vec<f64>,
    /// The corners of each triangle, by their numbers, in painting order.
    pub triangles: Vec<[u32; 3]>,
}

impl Mesh {
    /// The values of a corner.
    pub fn values(&self, corner: usize) -> &[f64] {
        let from = corner.saturating_mul(self.each);
        self.values.get(from..from.saturating_add(self.each)).unwrap_or_default()
    }
}

/// How a shading's colours lie.
#[derive(Clone, PartialEq, Debug)]
pub enum Geometry {
    /// Type 1: a function of place.
    Field {
        /// x0, x1, y0, y1 in the function's own space.
        domain: [f64; 4],
        /// From there to shading space.
        matrix: Affine,
    },
    /// Type 2: along a line.
    Axial {
        /// Where it starts and ends.
        ends: [Point; 2],
        /// The parameter there.
        domain: [f64; 2],
        /// Whether it goes on before and behind.
        extend: [bool; 2],
    },
    /// Type 3: between two circles.
    Radial {
        /// Centres.
        centres: [Point; 2],
        /// Radii.
        radii: [f64; 2],
        /// The parameter at each.
        domain: [f64; 2],
        /// Whether it goes on before and behind.
        extend: [bool; 2],
    },
    /// Types 4 to 7 as triangles.
    Mesh(Arc<Mesh>),
    /// What could not be made sense of.
    Unknown,
}

impl Ramp {
    /// The colour of a space at these inputs.
    pub fn colour(&self, space: &Space, input: &[f64]) -> Colour {
        space.colour(&self.0.at(input))
    }
}

/// The functions of a shading.
pub(super) fn ramp<'a>(objects: Objects<'a>, dict: &'a Dictionary) -> Option<Ramp> {
    Function::read(objects, dict.get(b"Function").ok()?).map(Ramp)
}

/// The geometry of a shading.
pub(super) fn geometry<'a>(
    objects: Objects<'a>,
    object: &'a Object,
    dict: &'a Dictionary,
    space: &Space,
    most: usize,
) -> Geometry {
    read(objects, object, dict, space, most).unwrap_or(Geometry::Unknown)
}

fn read<'a>(
    objects: Objects<'a>,
    object: &'a Object,
    dict: &'a Dictionary,
    space: &Space,
    most: usize,
) -> Option<Geometry> {
    let array = |key: &str| objects.numbers(dict, key);
    let domain = || array("Domain").and_then(|d| d.try_into().ok()).unwrap_or([0.0, 1.0]);
    let extend = || {
        let each = objects.array(dict, "Extend").unwrap_or_default();
        [0, 1].map(|n| each.get(n).is_some_and(|o| objects.resolve(o).as_bool().unwrap_or(false)))
    };
    Some(match objects.integer(dict, "ShadingType")? {
        1 => Geometry::Field {
            domain: array("Domain").and_then(|d| d.try_into().ok()).unwrap_or([0.0, 1.0, 0.0, 1.0]),
            matrix: objects.matrix(dict, "Matrix"),
        },
        2 => {
            let [x0, y0, x1, y1] = array("Coords")?.try_into().ok()?;
            Geometry::Axial { ends: [Point::new(x0, y0), Point::new(x1, y1)], domain: domain(), extend: extend() }
        }
        3 => {
            let [x0, y0, r0, x1, y1, r1] = array("Coords")?.try_into().ok()?;
            Geometry::Radial {
                centres: [Point::new(x0, y0), Point::new(x1, y1)],
                radii: [r0, r1],
                domain: domain(),
                extend: extend(),
            }
        }
        kind @ 4..=7 => {
            let stream = objects.as_stream(object)?;
            let data = filters::decode(objects, &stream.dict, &stream.content, most).ok()?.bytes;
            let values = if dict.has(b"Function") { 1 } else { space.components() };
            Geometry::Mesh(Arc::new(mesh::read(objects, dict, kind, &data, values)?))
        }
        _ => return None,
    })
}
