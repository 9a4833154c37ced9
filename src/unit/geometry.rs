use super::Length;

/// A place in the plane, x to the right, y up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub struct Point {
    /// To the right of the origin.
    pub x: Length,
    /// Above the origin.
    pub y: Length,
}

impl Point {
    /// At `x`, `y`.
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }

    /// Moved by `dx`, `dy`.
    pub fn moved(self, dx: Length, dy: Length) -> Self {
        Self::new(self.x + dx, self.y + dy)
    }
}

/// A width and a height.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, Debug)]
pub struct Size {
    /// Left to right.
    pub width: Length,
    /// Bottom to top.
    pub height: Length,
}

impl Size {
    /// `width` by `height`.
    pub const fn new(width: Length, height: Length) -> Self {
        Self { width, height }
    }

    /// The size after a turn: quarter turns swap width and height.
    pub fn turned(self, turn: Turn) -> Self {
        if turn.swaps() { Self::new(self.height, self.width) } else { self }
    }

    /// The rectangle of this size at the origin.
    pub fn at_origin(self) -> Rect {
        Rect::new(Length::ZERO, Length::ZERO, self.width, self.height)
    }

    /// Height by width as the trade writes card sizes: `6 x 12 in (152.4 x 304.8 mm)`.
    pub fn card_text(self) -> String {
        let (h, w) = (self.height, self.width);
        format!(
            "{} x {} ({} x {})",
            h.in_text().trim_end_matches(" in"),
            w.in_text(),
            h.mm_text().trim_end_matches(" mm"),
            w.mm_text()
        )
    }

    /// Width by height as sheets are written: `13 x 19 in (330.2 x 482.6 mm)`.
    pub fn sheet_text(self) -> String {
        Self::new(self.height, self.width).card_text()
    }
}

/// One value for each side of a rectangle.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, Debug)]
pub struct Sides<T> {
    /// The upper side.
    pub top: T,
    /// The right-hand side.
    pub right: T,
    /// The lower side.
    pub bottom: T,
    /// The left-hand side.
    pub left: T,
}

impl<T: Copy> Sides<T> {
    /// The same on all four sides.
    pub const fn all(v: T) -> Self {
        Self { top: v, right: v, bottom: v, left: v }
    }

    /// The sides after the rectangle was turned counter-clockwise by `turn`.
    pub fn turned(self, turn: Turn) -> Self {
        let Self { top, right, bottom, left } = self;
        match turn {
            Turn::None => self,
            Turn::Left => Self { top: right, right: bottom, bottom: left, left: top },
            Turn::Half => Self { top: bottom, right: left, bottom: top, left: right },
            Turn::Right => Self { top: left, right: top, bottom: right, left: bottom },
        }
    }
}

/// A rectangle with `x0 <= x1` and `y0 <= y1`.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default, Debug)]
pub struct Rect {
    /// Left.
    pub x0: Length,
    /// Bottom.
    pub y0: Length,
    /// Right.
    pub x1: Length,
    /// Top.
    pub y1: Length,
}

impl Rect {
    /// Where it lies, in millimetres: `from 3 mm to 20 mm across, 5 mm to 9 mm up`.
    pub fn reach_text(self) -> String {
        let [x0, x1, y0, y1] = [self.x0, self.x1, self.y0, self.y1].map(Length::mm_text);
        format!("from {x0} to {x1} across, {y0} to {y1} up")
    }

    /// From two opposite corners, in any order.
    pub fn new(xa: Length, ya: Length, xb: Length, yb: Length) -> Self {
        Self { x0: xa.min(xb), y0: ya.min(yb), x1: xa.max(xb), y1: ya.max(yb) }
    }

    /// With its lower left corner at `at`.
    pub fn at(at: Point, size: Size) -> Self {
        Self::new(at.x, at.y, at.x + size.width, at.y + size.height)
    }

    /// Left to right.
    pub fn width(self) -> Length {
        self.x1 - self.x0
    }

    /// Bottom to top.
    pub fn height(self) -> Length {
        self.y1 - self.y0
    }

    /// Width and height.
    pub fn size(self) -> Size {
        Size::new(self.width(), self.height())
    }

    /// The lower left corner.
    pub fn origin(self) -> Point {
        Point::new(self.x0, self.y0)
    }

    /// The middle, rounded towards the lower left by at most one unit.
    pub fn centre(self) -> Point {
        Point::new(self.x0 + self.width().half(), self.y0 + self.height().half())
    }

    /// Moved by `dx`, `dy`.
    pub fn moved(self, dx: Length, dy: Length) -> Self {
        Self { x0: self.x0 + dx, y0: self.y0 + dy, x1: self.x1 + dx, y1: self.y1 + dy }
    }

    /// Grown by `by` on every side; a negative `by` shrinks it, to nothing at most.
    pub fn grown(self, by: Length) -> Self {
        self.grown_by(Sides::all(by))
    }

    /// Grown by its own amount on each side; to nothing at most.
    pub fn grown_by(self, by: Sides<Length>) -> Self {
        let (x0, x1) = (self.x0 - by.left, self.x1 + by.right);
        let (y0, y1) = (self.y0 - by.bottom, self.y1 + by.top);
        let (x0, x1) = if x0 > x1 {
            let m = self.centre().x;
            (m, m)
        } else {
            (x0, x1)
        };
        let (y0, y1) = if y0 > y1 {
            let m = self.centre().y;
            (m, m)
        } else {
            (y0, y1)
        };
        Self { x0, y0, x1, y1 }
    }

    /// What both share; `None` where they share no area (touching edges share none).
    pub fn intersect(self, other: Self) -> Option<Self> {
        let (x0, x1) = (self.x0.max(other.x0), self.x1.min(other.x1));
        let (y0, y1) = (self.y0.max(other.y0), self.y1.min(other.y1));
        (x0 < x1 && y0 < y1).then_some(Self { x0, y0, x1, y1 })
    }

    /// The smallest rectangle that holds both.
    pub fn union(self, other: Self) -> Self {
        Self {
            x0: self.x0.min(other.x0),
            y0: self.y0.min(other.y0),
            x1: self.x1.max(other.x1),
            y1: self.y1.max(other.y1),
        }
    }

    /// Whether `other` lies wholly inside, edges included.
    pub fn contains(self, other: Self) -> bool {
        self.x0 <= other.x0 && self.y0 <= other.y0 && self.x1 >= other.x1 && self.y1 >= other.y1
    }

    /// Whether the place lies inside, edges included.
    pub fn holds(self, at: Point) -> bool {
        self.x0 <= at.x && at.x <= self.x1 && self.y0 <= at.y && at.y <= self.y1
    }

    /// The area in square inches.
    pub fn area_sq_in(self) -> f64 {
        self.width().to_in() * self.height().to_in()
    }

    /// This rectangle, which lies on a piece of size `on`, after the piece was turned counter-clockwise and
    /// brought back to the origin.
    pub fn turned_on(self, on: Size, turn: Turn) -> Self {
        let a = turn.apply(Point::new(self.x0, self.y0), on);
        let b = turn.apply(Point::new(self.x1, self.y1), on);
        Self::new(a.x, a.y, b.x, b.y)
    }
}

/// A turn by quarters, counter-clockwise.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Debug)]
pub enum Turn {
    /// As it stands.
    #[default]
    None,
    /// 90° counter-clockwise: the head points left.
    Left,
    /// 180°: head down.
    Half,
    /// 270° counter-clockwise, that is 90° clockwise: the head points right.
    Right,
}

impl Turn {
    /// All four.
    pub const ALL: [Self; 4] = [Self::None, Self::Left, Self::Half, Self::Right];

    /// From a count of counter-clockwise quarters, any whole number.
    pub const fn quarters(n: i64) -> Self {
        match n.rem_euclid(4) {
            0 => Self::None,
            1 => Self::Left,
            2 => Self::Half,
            _ => Self::Right,
        }
    }

    /// How many counter-clockwise quarters, 0 to 3.
    pub const fn count(self) -> i64 {
        match self {
            Self::None => 0,
            Self::Left => 1,
            Self::Half => 2,
            Self::Right => 3,
        }
    }

    /// Degrees counter-clockwise.
    pub const fn degrees(self) -> i64 {
        self.count() * 90
    }

    /// First this turn, then `next`.
    #[must_use]
    pub const fn then(self, next: Self) -> Self {
        Self::quarters(self.count() + next.count())
    }

    /// The turn that undoes this one.
    #[must_use]
    pub const fn back(self) -> Self {
        Self::quarters(-self.count())
    }

    /// Whether width and height change places.
    pub const fn swaps(self) -> bool {
        matches!(self, Self::Left | Self::Right)
    }

    /// Where `at`, on a piece of size `on`, comes to lie after the turned piece is moved back to the origin.
    pub fn apply(self, at: Point, on: Size) -> Point {
        match self {
            Self::None => at,
            Self::Left => Point::new(on.height - at.y, at.x),
            Self::Half => Point::new(on.width - at.x, on.height - at.y),
            Self::Right => Point::new(at.y, on.width - at.x),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn length() -> impl Strategy<Value = Length> {
        (-4_000_000_000_i64..4_000_000_000).prop_map(Length::units)
    }

    proptest! {
        #[test]
        fn four_quarter_turns_are_none(x in length(), y in length(), w in length(), h in length()) {
            let (mut at, mut on) = (Point::new(x, y), Size::new(w, h));
            for _ in 0..4 {
                at = Turn::Left.apply(at, on);
                on = on.turned(Turn::Left);
            }
            prop_assert_eq!(at, Point::new(x, y));
            prop_assert_eq!(on, Size::new(w, h));
        }

        #[test]
        fn a_turn_and_its_back_are_none(x in length(), y in length(), w in length(), h in length(), n in 0_i64..4) {
            let (at, on, turn) = (Point::new(x, y), Size::new(w, h), Turn::quarters(n));
            prop_assert_eq!(turn.back().apply(turn.apply(at, on), on.turned(turn)), at);
            prop_assert_eq!(turn.then(turn.back()), Turn::None);
        }
    }

    #[test]
    fn turning_left_brings_the_head_to_the_left() {
        // A mark near the top edge of an upright piece stands near the left edge afterwards.
        let on = Size::new(Length::pt(100), Length::pt(200));
        let mark = Point::new(Length::pt(50), Length::pt(190));
        assert_eq!(Turn::Left.apply(mark, on), Point::new(Length::pt(10), Length::pt(50)));
        let sides = Sides { top: 't', right: 'r', bottom: 'b', left: 'l' };
        assert_eq!(sides.turned(Turn::Left).left, 't');
        assert_eq!(sides.turned(Turn::Right).right, 't');
    }

    #[test]
    fn touching_rectangles_share_no_area() {
        let a = Size::new(Length::pt(10), Length::pt(10)).at_origin();
        assert_eq!(a.intersect(a.moved(Length::pt(10), Length::ZERO)), None);
        assert_eq!(a.grown(Length::pt(-6)).size(), Size::default());
    }

    #[test]
    fn card_sizes_read_height_first() {
        let size = Size::new(Length::inches(12, 1), Length::inches(9, 2));
        assert_eq!(size.card_text(), "4.5 x 12 in (114.3 x 304.8 mm)");
        assert_eq!(size.sheet_text(), "12 x 4.5 in (304.8 x 114.3 mm)");
    }
}
