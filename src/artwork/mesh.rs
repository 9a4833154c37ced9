//! Meshes of shadings as triangles (ISO 32000-1, 8.7.4.5.5 to 8.7.4.5.8).

use kurbo::{Point, Vec2};
use lopdf::Dictionary;

use super::function::Bits;
use super::objects::Objects;
use super::shading::Mesh;

/// Corners that one mesh may have; one of more cannot be read.
const MOST_CORNERS: usize = 1_000_000;
/// A patch is cut into this many parts each way.
const PARTS: usize = 16;

/// The mesh of a shading of type 4 to 7; `each` is how many values a corner has. `None` where it says nothing that can be read, or has too
/// many corners.
pub(super) fn read<'a>(
    objects: Objects<'a>,
    dict: &'a Dictionary,
    kind: i64,
    data: &[u8],
    each: usize,
) -> Option<Mesh> {
    let mut reader = Reader::new(objects, dict, data, each)?;
    match kind {
        4 => reader.free(),
        5 => reader.lattice(usize::try_from(objects.integer(dict, "VerticesPerRow")?).ok()?),
        kind => reader.patches(kind == 7),
    }
}

impl Mesh {
    /// Adds a corner and gives its number; `None` where there are too many.
    fn corner(&mut self, at: Point, values: &[f64]) -> Option<u32> {
        let number = self.corners.len();
        if number >= MOST_CORNERS {
            return None;
        }
        self.corners.push(at);
        self.values.extend_from_slice(values);
        u32::try_from(number).ok()
    }

    /// The quadrilaterals between two rows of corners, as pairs of triangles.
    fn quads(&mut self, above: &[u32], below: &[u32]) {
        for (upper, lower) in above.windows(2).zip(below.windows(2)) {
            if let ([a, b], [c, d]) = (upper, lower) {
                self.triangles.extend([[*a, *b, *c], [*b, *d, *c]]);
            }
        }
    }
}

/// Reads the stream of a mesh.
struct Reader<'d> {
    bits: Bits<'d>,
    coordinate: u32,
    component: u32,
    flag: u32,
    decode: Vec<f64>,
    each: usize,
}

impl<'d> Reader<'d> {
    fn new<'a>(objects: Objects<'a>, dict: &'a Dictionary, data: &'d [u8], each: usize) -> Option<Self> {
        let width = |key: &str| objects.integer(dict, key).and_then(|n| u32::try_from(n).ok()).filter(|n| *n <= 32);
        let decode = objects.numbers(dict, "Decode").filter(|d| d.len() >= 4 + 2 * each)?;
        Some(Self {
            bits: Bits { data, at: 0 },
            coordinate: width("BitsPerCoordinate")?,
            component: width("BitsPerComponent")?,
            flag: width("BitsPerFlag").unwrap_or(0),
            decode,
            each,
        })
    }

    fn mesh(&self) -> Mesh {
        Mesh { each: self.each, ..Mesh::default() }
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
        (0..self.each).map(|n| self.scaled(self.component, 2 + n)).collect()
    }

    fn corner(&mut self, mesh: &mut Mesh) -> Option<u32> {
        let at = self.point();
        let values = self.colour();
        self.align();
        mesh.corner(at, &values)
    }

    fn align(&mut self) {
        self.bits.at = self.bits.at.div_ceil(8) * 8;
    }

    /// Type 4: each vertex says how it joins the last triangle.
    fn free(&mut self) -> Option<Mesh> {
        let mut mesh = self.mesh();
        let mut open: Vec<u32> = Vec::new();
        while self.more() {
            let flag = self.bits.take(self.flag) & 3;
            let corner = self.corner(&mut mesh)?;
            match (flag, mesh.triangles.last().copied()) {
                (1, Some([_, b, c])) if open.is_empty() => mesh.triangles.push([b, c, corner]),
                (2, Some([a, _, c])) if open.is_empty() => mesh.triangles.push([a, c, corner]),
                _ => {
                    open.push(corner);
                    if let [a, b, c] = *open {
                        mesh.triangles.push([a, b, c]);
                        open.clear();
                    }
                }
            }
        }
        Some(mesh)
    }

    /// Type 5: rows of vertices.
    fn lattice(&mut self, per_row: usize) -> Option<Mesh> {
        let mut mesh = self.mesh();
        if per_row < 2 {
            return None;
        }
        let mut above: Vec<u32> = Vec::new();
        while self.more() {
            let row = (0..per_row).map(|_| self.corner(&mut mesh)).collect::<Option<Vec<u32>>>()?;
            mesh.quads(&above, &row);
            above = row;
        }
        Some(mesh)
    }

    /// Types 6 and 7: Coons and tensor-product patches, cut into small quadrilaterals.
    fn patches(&mut self, tensor: bool) -> Option<Mesh> {
        let mut mesh = self.mesh();
        let mut last: Option<(Vec<Point>, Vec<Vec<f64>>)> = None;
        while self.more() {
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
                cut(&net, &colours, &mut mesh)?;
            }
            last = Some((points, colours));
        }
        Some(mesh)
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
/// at the corners in the order of the points. `None` where the mesh gets too large.
fn cut(net: &[[Point; 4]; 4], colours: &[Vec<f64>], mesh: &mut Mesh) -> Option<()> {
    let [c0, c1, c2, c3] = colours else { return Some(()) };
    let bernstein = |t: f64| {
        let s = 1.0 - t;
        [s * s * s, 3.0 * t * s * s, 3.0 * t * t * s, t * t * t]
    };
    let mut above: Vec<u32> = Vec::new();
    for i in 0..=PARTS {
        let u = i as f64 / PARTS as f64;
        let mut row = Vec::with_capacity(PARTS + 1);
        for j in 0..=PARTS {
            let v = j as f64 / PARTS as f64;
            let (bu, bv) = (bernstein(u), bernstein(v));
            let at =
                net.iter().zip(bu).flat_map(|(row, bu)| row.iter().zip(bv).map(move |(p, bv)| p.to_vec2() * bu * bv));
            let at = at.fold(Vec2::ZERO, |sum, p| sum + p).to_point();
            let values: Vec<f64> = (0..c0.len())
                .map(|n| {
                    let c = |c: &Vec<f64>| c.get(n).copied().unwrap_or(0.0);
                    (1.0 - u) * ((1.0 - v) * c(c0) + v * c(c1)) + u * ((1.0 - v) * c(c3) + v * c(c2))
                })
                .collect();
            row.push(mesh.corner(at, &values)?);
        }
        mesh.quads(&above, &row);
        above = row;
    }
    Some(())
}
