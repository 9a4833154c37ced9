//! What shadings are made of (ISO 32000-1, 8.7.4.5).

use std::sync::Arc;

use kurbo::{Affine, Point};
use lopdf::{Dictionary, Object};

use super::filters;
use super::function::{Bits, Function};
use super::objects::Objects;
use super::space::Space;
use crate::ink::Colour;

/// Functions that make colours of a shading's parameter.
#[derive(Clone, PartialEq, Debug)]
pub struct Ramp(Function);

/// A corner of a mesh.
#[derive(Clone, PartialEq, Debug)]
pub struct Corner {
    /// In shading space.
    pub at: Point,
    /// Components of the space, or the parameter of the ramp.
    pub values: Vec<f64>,
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
    /// Types 4 to 7 as triangles, in painting order.
    Mesh(Arc<[[Corner; 3]]>),
    /// What could not be made sense of.
    Unknown,
}

/// Triangles that one mesh may come to.
const MOST_TRIANGLES: usize = 2_000_000;
/// A patch is cut into this many parts each way.
const PARTS: usize = 16;

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
            let mut reader = Reader::new(objects, dict, &data, values)?;
            let triangles = match kind {
                4 => reader.free(),
                5 => reader.lattice(usize::try_from(objects.integer(dict, "VerticesPerRow")?).ok()?),
                kind => reader.patches(kind == 7),
            };
            Geometry::Mesh(triangles.into())
        }
        _ => return None,
    })
}

/// Reads the stream of a mesh.
struct Reader<'d> {
    bits: Bits<'d>,
    coordinate: u32,
    component: u32,
    flag: u32,
    decode: Vec<f64>,
    values: usize,
}

impl<'d> Reader<'d> {
    fn new<'a>(objects: Objects<'a>, dict: &'a Dictionary, data: &'d [u8], values: usize) -> Option<Self> {
        let width = |key: &str| objects.integer(dict, key).and_then(|n| u32::try_from(n).ok()).filter(|n| *n <= 32);
        let decode = objects.numbers(dict, "Decode").filter(|d| d.len() >= 4 + 2 * values)?;
        Some(Self {
            bits: Bits { data, at: 0 },
            coordinate: width("BitsPerCoordinate")?,
            component: width("BitsPerComponent")?,
            flag: width("BitsPerFlag").unwrap_or(0),
            decode,
            values,
        })
    }

    fn more(&self) -> bool {
        self.bits.at + 8 <= self.bits.data.len() * 8
    }

    fn scaled(&mut self, bits: u32, pair: usize) -> f64 {
        let raw = f64::from(self.bits.take(bits));
        let most = (2.0_f64).powi(i32::try_from(bits).unwrap_or(32)) - 1.0;
        let at = |n: usize| self.decode.get(n).copied().unwrap_or(0.0);
        at(pair * 2) + raw * (at(pair * 2 + 1) - at(pair * 2)) / most.max(1.0)
    }

    fn point(&mut self) -> Point {
        let x = self.scaled(self.coordinate, 0);
        Point::new(x, self.scaled(self.coordinate, 1))
    }

    fn colour(&mut self) -> Vec<f64> {
        (0..self.values).map(|n| self.scaled(self.component, 2 + n)).collect()
    }

    fn corner(&mut self) -> Corner {
        let at = self.point();
        let values = self.colour();
        Corner { at, values }
    }

    fn align(&mut self) {
        self.bits.at = self.bits.at.div_ceil(8) * 8;
    }

    /// Type 4: each vertex says how it joins the last triangle.
    fn free(&mut self) -> Vec<[Corner; 3]> {
        let mut found: Vec<[Corner; 3]> = Vec::new();
        let mut open: Vec<Corner> = Vec::new();
        while self.more() && found.len() < MOST_TRIANGLES {
            let flag = self.bits.take(self.flag) & 3;
            let corner = self.corner();
            self.align();
            match (flag, found.last().cloned()) {
                (1, Some([_, b, c])) if open.is_empty() => found.push([b, c, corner]),
                (2, Some([a, _, c])) if open.is_empty() => found.push([a, c, corner]),
                _ => {
                    open.push(corner);
                    if let Ok(whole) = <[Corner; 3]>::try_from(open.clone()) {
                        found.push(whole);
                        open.clear();
                    }
                }
            }
        }
        found
    }

    /// Type 5: rows of vertices.
    fn lattice(&mut self, per_row: usize) -> Vec<[Corner; 3]> {
        let mut found = Vec::new();
        if !(2..=MOST_TRIANGLES).contains(&per_row) {
            return found;
        }
        let mut above: Vec<Corner> = Vec::new();
        while self.more() && found.len() < MOST_TRIANGLES {
            let row: Vec<Corner> = (0..per_row)
                .map(|_| {
                    let corner = self.corner();
                    self.align();
                    corner
                })
                .collect();
            quads(&above, &row, &mut found);
            above = row;
        }
        found
    }

    /// Types 6 and 7: Coons and tensor-product patches, cut into small quadrilaterals.
    fn patches(&mut self, tensor: bool) -> Vec<[Corner; 3]> {
        let mut found = Vec::new();
        let mut last: Option<(Vec<Point>, Vec<Vec<f64>>)> = None;
        while self.more() && found.len() < MOST_TRIANGLES {
            let flag = (self.bits.take(self.flag) & 3) as usize;
            let (mut points, mut colours) = (Vec::new(), Vec::new());
            if let (1..=3, Some((before, tints))) = (flag, &last) {
                // The edge that is shared (ISO 32000-1, table 85).
                points.extend((0..4).filter_map(|n| before.get((flag * 3 + n) % 12).copied()));
                colours.extend((0..2).filter_map(|n| tints.get((flag + n) % 4).cloned()));
            }
            while points.len() < if tensor { 16 } else { 12 } {
                let point = self.point();
                points.push(point);
            }
            while colours.len() < 4 {
                let colour = self.colour();
                colours.push(colour);
            }
            self.align();
            if let Some(net) = net(&points) {
                split(&net, &colours, &mut found);
            }
            last = Some((points, colours));
        }
        found
    }
}

fn quads(above: &[Corner], below: &[Corner], found: &mut Vec<[Corner; 3]>) {
    for (upper, lower) in above.windows(2).zip(below.windows(2)) {
        if let ([a, b], [c, d]) = (upper, lower) {
            found.push([a.clone(), b.clone(), c.clone()]);
            found.push([b.clone(), d.clone(), c.clone()]);
        }
    }
}

/// The sixteen control points in rows; those inside a Coons patch follow from its edges (ISO 32000-1, 8.7.4.5.8).
fn net(p: &[Point]) -> Option<[[Point; 4]; 4]> {
    let [p0, p1, p2, p3, p4, p5, p6, p7, p8, p9, p10, p11, rest @ ..] = p else { return None };
    let mut net = [
        [*p0, *p1, *p2, *p3],
        [*p11, Point::ZERO, Point::ZERO, *p4],
        [*p10, Point::ZERO, Point::ZERO, *p5],
        [*p9, *p8, *p7, *p6],
    ];
    let inner = if let [a, b, c, d] = rest {
        [*a, *b, *d, *c]
    } else {
        let at = |r: usize, c: usize| net.get(r).and_then(|row| row.get(c)).copied().unwrap_or_default().to_vec2();
        let formula = |r: usize, c: usize| {
            // The corner next to it and the one across, along rows and columns.
            let (nr, nc, fr, fc) = (
                if r == 1 { 0 } else { 3 },
                if c == 1 { 0 } else { 3 },
                if r == 1 { 3 } else { 0 },
                if c == 1 { 3 } else { 0 },
            );
            let sum = at(nr, nc) * -4.0 + (at(nr, c) + at(r, nc)) * 6.0 - (at(nr, fc) + at(fr, nc)) * 2.0
                + (at(fr, c) + at(r, fc)) * 3.0
                - at(fr, fc);
            (sum / 9.0).to_point()
        };
        [formula(1, 1), formula(1, 2), formula(2, 1), formula(2, 2)]
    };
    for ((r, c), point) in [(1, 1), (1, 2), (2, 1), (2, 2)].into_iter().zip(inner) {
        if let Some(place) = net.get_mut(r).and_then(|row| row.get_mut(c)) {
            *place = point;
        }
    }
    Some(net)
}

/// Cuts a patch into triangles. Rows of the net run from the edge of the first four points to that of the seventh to tenth; colours stand
/// at the corners in the order of the points.
fn split(net: &[[Point; 4]; 4], colours: &[Vec<f64>], found: &mut Vec<[Corner; 3]>) {
    let [c0, c1, c2, c3] = colours else { return };
    let bernstein = |t: f64| {
        let s = 1.0 - t;
        [s * s * s, 3.0 * t * s * s, 3.0 * t * t * s, t * t * t]
    };
    let mut above: Vec<Corner> = Vec::new();
    for i in 0..=PARTS {
        let u = i as f64 / PARTS as f64;
        let row: Vec<Corner> = (0..=PARTS)
            .map(|j| {
                let v = j as f64 / PARTS as f64;
                let (bu, bv) = (bernstein(u), bernstein(v));
                let at = net
                    .iter()
                    .zip(bu)
                    .flat_map(|(row, bu)| row.iter().zip(bv).map(move |(p, bv)| p.to_vec2() * bu * bv));
                let at = at.fold(kurbo::Vec2::ZERO, |sum, p| sum + p).to_point();
                let values = (0..c0.len())
                    .map(|n| {
                        let c = |c: &Vec<f64>| c.get(n).copied().unwrap_or(0.0);
                        (1.0 - u) * ((1.0 - v) * c(c0) + v * c(c1)) + u * ((1.0 - v) * c(c3) + v * c(c2))
                    })
                    .collect();
                Corner { at, values }
            })
            .collect();
        quads(&above, &row, found);
        above = row;
    }
}
