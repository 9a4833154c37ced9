use std::fmt::Write as _;

use kurbo::{Affine, BezPath, PathEl};
use lopdf::ObjectId;

use super::number::{decimal, plain};
use super::{Resources, fault};
use crate::fault::Result;
use crate::unit::{Length, Point, Rect, Size, Turn};

/// How a line ends (8.4.3.3).
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Cap {
    /// At its end point.
    #[default]
    Butt,
    /// With a half disc.
    Round,
    /// Half its width further on.
    Square,
}

/// How lines meet (8.4.3.4).
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Join {
    /// In a point.
    #[default]
    Miter,
    /// In an arc.
    Round,
    /// Cut off.
    Bevel,
}

/// The content stream of one page or form, written operator by operator, with the resources it names.
#[derive(Clone, Debug, Default)]
pub struct Content {
    bytes: String,
    resources: Resources,
    depth: usize,
    marked: usize,
}

impl Content {
    /// An empty one.
    pub fn new() -> Self {
        Self::default()
    }

    /// One operator with its operands before it.
    pub(super) fn op(&mut self, operands: &[&str], operator: &str) -> &mut Self {
        for operand in operands {
            self.bytes.push_str(operand);
            self.bytes.push(' ');
        }
        self.bytes.push_str(operator);
        self.bytes.push('\n');
        self
    }

    fn lengths(&mut self, lengths: &[Length], operator: &str) -> &mut Self {
        for length in lengths {
            self.bytes.push_str(&decimal(*length));
            self.bytes.push(' ');
        }
        self.op(&[], operator)
    }

    /// The resources named so far.
    pub fn resources(&mut self) -> &mut Resources {
        &mut self.resources
    }

    /// Whether nothing was written.
    pub fn is_empty(&self) -> bool {
        self.bytes.is_empty()
    }

    /// Keeps the graphics state (`q`).
    pub fn save(&mut self) -> &mut Self {
        self.depth += 1;
        self.op(&[], "q")
    }

    /// Brings back the graphics state kept last (`Q`); nothing where none is kept.
    pub fn restore(&mut self) -> &mut Self {
        if self.depth > 0 {
            self.depth -= 1;
            self.op(&[], "Q");
        }
        self
    }

    /// Everything that `draw` does, between `q` and `Q`.
    pub fn within(&mut self, draw: impl FnOnce(&mut Self) -> Result<()>) -> Result<()> {
        self.save();
        let done = draw(self);
        self.restore();
        done
    }

    /// Moves the origin.
    pub fn moved(&mut self, dx: Length, dy: Length) -> &mut Self {
        self.op(&["1 0 0 1", &decimal(dx), &decimal(dy)], "cm")
    }

    /// Turns a piece of size `on` counter-clockwise and sets the lower left corner of what it then covers at `at`.
    pub fn turned(&mut self, turn: Turn, on: Size, at: Point) -> &mut Self {
        let origin = turn.apply(Point::default(), on);
        let (x, y) = (at.x + origin.x, at.y + origin.y);
        self.op(&[turn_numbers(turn), &decimal(x), &decimal(y)], "cm")
    }

    /// Any other transform, in points.
    pub fn transform(&mut self, by: Affine) -> &mut Self {
        let numbers = by.as_coeffs().map(|v| plain(v, 9)).join(" ");
        self.op(&[&numbers], "cm")
    }

    /// Adds a rectangle to the path (`re`).
    pub fn rect(&mut self, rect: Rect) -> &mut Self {
        self.lengths(&[rect.x0, rect.y0, rect.width(), rect.height()], "re")
    }

    /// Starts a subpath (`m`).
    pub fn move_to(&mut self, to: Point) -> &mut Self {
        self.lengths(&[to.x, to.y], "m")
    }

    /// A straight line (`l`).
    pub fn line_to(&mut self, to: Point) -> &mut Self {
        self.lengths(&[to.x, to.y], "l")
    }

    /// A cubic curve (`c`).
    pub fn curve_to(&mut self, a: Point, b: Point, to: Point) -> &mut Self {
        self.lengths(&[a.x, a.y, b.x, b.y, to.x, to.y], "c")
    }

    /// Closes the subpath (`h`).
    pub fn close(&mut self) -> &mut Self {
        self.op(&[], "h")
    }

    /// Adds a path in points, rounded to lengths; quadratic curves become cubic ones.
    pub fn path(&mut self, path: &BezPath) -> &mut Self {
        let point = |p: kurbo::Point| Point::new(Length::from_pt(p.x), Length::from_pt(p.y));
        let mut pen = kurbo::Point::ZERO;
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(p) => self.move_to(point(p)),
                PathEl::LineTo(p) => self.line_to(point(p)),
                PathEl::QuadTo(c, p) => {
                    self.curve_to(point(pen.lerp(c, 2.0 / 3.0)), point(p.lerp(c, 2.0 / 3.0)), point(p))
                }
                PathEl::CurveTo(a, b, p) => self.curve_to(point(a), point(b), point(p)),
                PathEl::ClosePath => self.close(),
            };
            pen = element.end_point().unwrap_or(pen);
        }
        self
    }

    /// Fills the path, non-zero winding (`f`).
    pub fn fill(&mut self) -> &mut Self {
        self.op(&[], "f")
    }

    /// Fills the path, even-odd (`f*`).
    pub fn fill_even_odd(&mut self) -> &mut Self {
        self.op(&[], "f*")
    }

    /// Strokes the path (`S`).
    pub fn stroke(&mut self) -> &mut Self {
        self.op(&[], "S")
    }

    /// Fills, then strokes (`B`).
    pub fn fill_and_stroke(&mut self) -> &mut Self {
        self.op(&[], "B")
    }

    /// Clips to the path, which is not painted (`W n`).
    pub fn clip(&mut self) -> &mut Self {
        self.op(&[], "W n")
    }

    /// Clips to the path by even-odd (`W* n`).
    pub fn clip_even_odd(&mut self) -> &mut Self {
        self.op(&[], "W* n")
    }

    /// Line width (`w`).
    pub fn line_width(&mut self, width: Length) -> &mut Self {
        self.lengths(&[width], "w")
    }

    /// Line ends (`J`).
    pub fn cap(&mut self, cap: Cap) -> &mut Self {
        self.op(&[["0", "1", "2"].get(cap as usize).copied().unwrap_or("0")], "J")
    }

    /// Line joins (`j`).
    pub fn join(&mut self, join: Join) -> &mut Self {
        self.op(&[["0", "1", "2"].get(join as usize).copied().unwrap_or("0")], "j")
    }

    /// Dashes and gaps in turn, starting `phase` into them; an empty list is a solid line (`d`).
    pub fn dash(&mut self, dashes: &[Length], phase: Length) -> &mut Self {
        let list = dashes.iter().map(|d| decimal(*d)).collect::<Vec<_>>().join(" ");
        self.op(&[&format!("[{list}]"), &decimal(phase)], "d")
    }

    /// Paints a form or picture in its own space (`Do`).
    pub fn draw(&mut self, xobject: ObjectId) -> &mut Self {
        let name = self.resources.xobject(xobject);
        self.op(&[&format!("/{name}")], "Do")
    }

    /// Paints a picture so that it fills `rect`.
    pub fn picture(&mut self, xobject: ObjectId, rect: Rect) -> &mut Self {
        self.save();
        let (w, h) = (decimal(rect.width()), decimal(rect.height()));
        self.op(&[&w, "0 0", &h, &decimal(rect.x0), &decimal(rect.y0)], "cm");
        self.draw(xobject).restore()
    }

    /// Applies a graphics state made elsewhere (`gs`).
    pub fn graphics_state(&mut self, state: ObjectId) -> &mut Self {
        let name = self.resources.state(state);
        self.op(&[&format!("/{name}")], "gs")
    }

    /// Begins a stretch that is no part of the text, such as marks (14.8.2.2).
    pub fn begin_artifact(&mut self) -> &mut Self {
        self.marked += 1;
        self.op(&["/Artifact"], "BMC")
    }

    /// Begins a stretch on a layer (8.11.3.2).
    pub fn begin_layer(&mut self, group: ObjectId) -> &mut Self {
        self.marked += 1;
        let name = self.resources.property(group);
        self.op(&["/OC", &format!("/{name}")], "BDC")
    }

    /// Begins a stretch that says `text` whatever its glyphs say (14.9.4).
    pub fn begin_text(&mut self, text: &str) -> &mut Self {
        self.marked += 1;
        let mut hex = String::from("FEFF");
        for unit in text.encode_utf16() {
            let _ = write!(hex, "{unit:04X}");
        }
        self.op(&["/Span", &format!("<</ActualText <{hex}>>>")], "BDC")
    }

    /// Ends the stretch begun last; nothing where none is open.
    pub fn end(&mut self) -> &mut Self {
        if self.marked > 0 {
            self.marked -= 1;
            self.op(&[], "EMC");
        }
        self
    }

    /// The bytes and the resources. Graphics states and stretches left open are a fault.
    pub fn finish(self) -> Result<(Vec<u8>, Resources)> {
        if self.depth > 0 || self.marked > 0 {
            return Err(fault("a page description ends before all it opened is closed"));
        }
        Ok((self.bytes.into_bytes(), self.resources))
    }
}

/// The four numbers of a quarter turn.
pub(super) const fn turn_numbers(turn: Turn) -> &'static str {
    match turn {
        Turn::None => "1 0 0 1",
        Turn::Left => "0 1 -1 0",
        Turn::Half => "-1 0 0 -1",
        Turn::Right => "0 -1 1 0",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_left_open_is_a_fault() {
        let mut content = Content::new();
        content.save();
        assert!(content.clone().finish().is_err());
        content.restore().restore();
        assert_eq!(content.finish().unwrap().0, b"q\nQ\n");
    }

    #[test]
    fn a_turned_piece_covers_its_turned_rectangle() {
        // The matrix is applied by kurbo, the rectangle is turned by the unit layer.
        let (on, at) = (Size::new(Length::pt(30), Length::pt(50)), Point::new(Length::pt(7), Length::pt(11)));
        for turn in Turn::ALL {
            let mut content = Content::new();
            content.turned(turn, on, at);
            let text = String::from_utf8(content.finish().unwrap().0).unwrap();
            let numbers: Vec<f64> = text.trim_end_matches(" cm\n").split(' ').map(|n| n.parse().unwrap()).collect();
            let matrix = Affine::new(numbers.try_into().unwrap());
            let covered = matrix.transform_rect_bbox(kurbo::Rect::new(0.0, 0.0, 30.0, 50.0));
            let want = on.turned(turn);
            let want = kurbo::Rect::new(7.0, 11.0, 7.0 + want.width.to_pt(), 11.0 + want.height.to_pt());
            assert_eq!(covered, want, "{turn:?}");
        }
    }
}
