use kurbo::{Affine, Point, Rect};
use lopdf::ObjectId;

/// A colour as the content stated it.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Paint {
    /// `DeviceGray`, `DeviceCMYK`, or the colorant of a Separation.
    pub(super) space: String,
    /// Its components.
    pub(super) values: Vec<f64>,
}

impl Paint {
    /// Whether it is this colour, to five decimals as they are written.
    pub(super) fn is(&self, space: &str, values: &[f64]) -> bool {
        self.space == space
            && self.values.len() == values.len()
            && self.values.iter().zip(values).all(|(a, b)| (a - b).abs() < 1.0e-5)
    }

    /// Whether it is registration colour at full tint.
    pub(super) fn is_all(&self) -> bool {
        self.is("All", &[1.0])
    }
}

/// Something that a page paints, in the page's points.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Seen {
    /// A form, not yet under its own Matrix, clipped to the rectangle.
    Form { id: ObjectId, ctm: Affine, clip: Option<Rect> },
    /// A stroked path.
    Stroke { points: Vec<Point>, curved: bool, width: f64, dash: Vec<f64>, paint: Paint },
    /// A filled path.
    Fill { points: Vec<Point>, paint: Paint },
    /// Shown text.
    Text { words: String, at: Point, overprint: bool, paint: Paint },
}

/// The bounds of points.
pub(super) fn bounds(points: &[Point]) -> Rect {
    let mut points = points.iter();
    let Some(first) = points.next() else { return Rect::ZERO };
    points.fold(Rect::from_points(*first, *first), |r, p| r.union_pt(*p))
}
