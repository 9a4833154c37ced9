use kurbo::Point;

use super::{BROAD, Ground, at_spot, samples};
use crate::card::{Element, Face, Mark, Side};
use crate::unit::{Length, Rect};

/// What of a face can be a ground, sorted by where it lies, so that a spot need not be held against everything painted.
#[derive(Clone, Debug)]
pub(crate) struct Floor<'a> {
    face: &'a Face,
    /// Numbers of elements in painting order, by the cell of a raster that they reach into.
    cells: Vec<Vec<usize>>,
    /// Those that reach into so many cells that they lie in none.
    wide: Vec<usize>,
}

/// Cells of the raster along each side of the page.
const CELLS: i64 = 48;
/// An element that reaches into more cells than this lies in none of them.
const WIDE: usize = 64;

impl<'a> Floor<'a> {
    /// Sorts the grounds of a face.
    pub(crate) fn of(face: &'a Face) -> Self {
        let count = usize::try_from(CELLS * CELLS).unwrap_or_default();
        let mut floor = Self { face, cells: vec![Vec::new(); count], wide: Vec::new() };
        for (index, element) in face.elements.iter().enumerate().filter(|(_, e)| is_ground(e)) {
            let bounds = element.bounds;
            let (x0, y0) = floor.cell(bounds.x0, bounds.y0);
            let (x1, y1) = floor.cell(bounds.x1, bounds.y1);
            let reached: Vec<usize> = (y0..=y1).flat_map(|y| (x0..=x1).map(move |x| number(x, y))).collect();
            if reached.len() > WIDE {
                floor.wide.push(index);
                continue;
            }
            for cell in reached {
                if let Some(cell) = floor.cells.get_mut(cell) {
                    cell.push(index);
                }
            }
        }
        floor
    }

    /// The face's side.
    pub(crate) fn side(&self) -> Side {
        self.face.side
    }

    /// The different grounds within `rect` under element number `below`, by sampling; bare paper where nothing lies there.
    pub(crate) fn within(&self, below: usize, rect: Rect) -> Vec<Ground> {
        self.at(below, samples(rect))
    }

    /// The different grounds at these spots under element number `below`.
    pub(crate) fn at(&self, below: usize, spots: impl IntoIterator<Item = Point>) -> Vec<Ground> {
        let mut grounds = Vec::new();
        for spot in spots {
            let (x, y) = self.cell(Length::from_pt(spot.x), Length::from_pt(spot.y));
            let near = self.cells.get(number(x, y)).map(Vec::as_slice).unwrap_or_default();
            let mut under: Vec<usize> = near.iter().chain(&self.wide).copied().filter(|n| *n < below).collect();
            under.sort_unstable();
            let ground = at_spot(under.iter().filter_map(|n| self.face.elements.get(*n)), spot);
            if !grounds.contains(&ground) {
                grounds.push(ground);
            }
        }
        grounds
    }

    /// The cell that a place lies in; places off the page lie in the nearest one.
    fn cell(&self, x: Length, y: Length) -> (i64, i64) {
        let page = self.face.boxes.media;
        let along = |at: Length, from: Length, long: Length| {
            let step = Length::units((long.get() / CELLS).max(1));
            (at - from).times(step).clamp(0, CELLS - 1)
        };
        (along(x, page.x0, page.width()), along(y, page.y0, page.height()))
    }
}

fn number(x: i64, y: i64) -> usize {
    usize::try_from(y * CELLS + x).unwrap_or_default()
}

/// Whether an element can be a ground: anything but text and thin rules.
fn is_ground(element: &Element) -> bool {
    match &element.mark {
        Mark::Path(path) => path.fill.is_some() || path.stroke.as_ref().is_some_and(|s| s.width >= BROAD),
        Mark::Picture(_) | Mark::Shading(_) => true,
        Mark::Text(_) => false,
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Shape;

    use super::*;
    use crate::card::{Blend, PageBoxes, Paint, PathMark};
    use crate::ink::Colour;
    use crate::unit::Size;

    /// A face with squares of many sizes strewn over it and past its edges, some overprinting.
    fn strewn() -> Face {
        let page = Size::new(Length::pt(600), Length::pt(400)).at_origin();
        let boxes =
            PageBoxes { media: page, crop: page, bleed: page, trim: page, trim_from: "TrimBox", bleed_stated: true };
        let mut face = Face::new(Side::Outside, boxes, 1);
        for n in 0..200_i32 {
            let (x, y, side) = (f64::from(n * 37 % 640) - 20.0, f64::from(n * 91 % 430) - 20.0, f64::from(n * n % 83));
            let square = kurbo::Rect::new(x, y, x + side * f64::from(1 + n % 9), y + side);
            let pt = Length::from_pt;
            let fill = Some(Paint::Flat(Colour::Cmyk([f64::from(n) / 200.0, 0.0, f64::from(n % 3) / 2.0, 0.0])));
            let mark = Mark::Path(PathMark { outline: square.to_path(0.1), fill, even_odd: false, stroke: None });
            let blend = Blend {
                alpha_fill: 1.0,
                alpha_stroke: 1.0,
                overprint_fill: n % 2 == 0,
                overprint_mode: 1,
                ..Blend::default()
            };
            let bounds = Rect::new(pt(square.x0), pt(square.y0), pt(square.x1), pt(square.y1));
            face.elements.push(Element { mark, bounds, blend, object: None });
        }
        face
    }

    #[test]
    fn sorted_or_not_the_ground_is_the_same() {
        let face = strewn();
        let floor = Floor::of(&face);
        for n in 0..2_000_i32 {
            let spot = Point::new(f64::from(n * 53 % 640) - 20.0, f64::from(n * 29 % 440) - 20.0);
            for below in [30, 200] {
                let plain = at_spot(face.elements.iter().take(below), spot);
                assert_eq!(floor.at(below, [spot]), [plain], "{spot}");
            }
        }
    }
}
