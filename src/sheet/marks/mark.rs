use std::fmt;

use super::super::WorkStyle;
use crate::ink::Ink;
use crate::unit::{Length, Point, Rect, Size, Turn};

/// Weight of every mark that is a line: 0.25 pt (common practice).
pub const LINE_WEIGHT: Length = Length::units(Length::PER_PT / 4);

/// Dashes of a line.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Dash {
    /// Ink.
    pub on: Length,
    /// Paper.
    pub off: Length,
}

/// Fold marks: 3 pt of ink, 2 pt of paper, so that a mark of 1/4 in begins and ends in ink.
pub const FOLD_DASH: Dash = Dash { on: Length::pt(3), off: Length::pt(2) };

/// A straight line along x or y, from the card outwards, with butt ends.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Line {
    /// The end nearer to the card.
    pub from: Point,
    /// The other end.
    pub to: Point,
}

impl Line {
    /// What its ink covers.
    pub fn bounds(self) -> Rect {
        let half = LINE_WEIGHT.half();
        let rect = Rect::new(self.from.x, self.from.y, self.to.x, self.to.y);
        if rect.width() == Length::ZERO {
            Rect::new(rect.x0 - half, rect.y0, rect.x1 + half, rect.y1)
        } else {
            Rect::new(rect.x0, rect.y0 - half, rect.x1, rect.y1 + half)
        }
    }

    /// Its length.
    pub fn length(self) -> Length {
        (self.to.x - self.from.x).abs() + (self.to.y - self.from.y).abs()
    }
}

/// One mark on a form.
#[derive(Clone, PartialEq, Debug)]
pub enum Mark {
    /// Where to cut; in every ink.
    Crop(Line),
    /// Where to fold, dashed; in every ink.
    Fold(Line),
    /// The middle of an edge of the sheet; in every ink.
    Centre(Line),
    /// A circle with a cross, in every ink; the plates are in register where all its images meet.
    Register {
        /// Where the cross meets.
        centre: Point,
        /// Half the length of the cross; the circle has half of that as its radius.
        arm: Length,
    },
    /// A filled triangle that points to the edge that the grippers hold; in every ink.
    Gripper([Point; 3]),
    /// A filled triangle that points to the edge that the side guide touches; in every ink.
    SideGuide([Point; 3]),
    /// A patch of the colour strip, in one ink.
    Patch {
        /// Its place.
        rect: Rect,
        /// Its ink.
        ink: Ink,
        /// Its tint in percent.
        percent: u8,
    },
    /// The slug line: words that name the form, in black.
    Slug {
        /// The room for it.
        rect: Rect,
        /// How the words are turned.
        turn: Turn,
    },
}

impl Mark {
    /// Its kind.
    pub const fn kind(&self) -> MarkKind {
        match self {
            Self::Crop(_) => MarkKind::Crop,
            Self::Fold(_) => MarkKind::Fold,
            Self::Centre(_) => MarkKind::Centre,
            Self::Register { .. } => MarkKind::Register,
            Self::Gripper(_) => MarkKind::Gripper,
            Self::SideGuide(_) => MarkKind::SideGuide,
            Self::Patch { .. } => MarkKind::Strip,
            Self::Slug { .. } => MarkKind::Slug,
        }
    }

    /// What its ink covers at most.
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Crop(line) | Self::Fold(line) | Self::Centre(line) => line.bounds(),
            Self::Register { centre, arm } => {
                Rect::new(centre.x - *arm, centre.y - *arm, centre.x + *arm, centre.y + *arm)
            }
            Self::Gripper([a, b, c]) | Self::SideGuide([a, b, c]) => {
                Rect::new(a.x, a.y, b.x, b.y).union(Rect::new(b.x, b.y, c.x, c.y))
            }
            Self::Patch { rect, .. } | Self::Slug { rect, .. } => *rect,
        }
    }

    /// Whether the mark on the back lies exactly behind that of the front.
    pub(super) const fn backs_up(&self) -> bool {
        matches!(self, Self::Crop(_) | Self::Fold(_) | Self::Centre(_) | Self::Register { .. })
    }

    /// The mark as it lies when the turned sheet is looked at.
    pub(super) fn behind(&self, style: WorkStyle, sheet: Size) -> Self {
        let at = |p: Point| style.behind(p, sheet);
        let line = |l: Line| Line { from: at(l.from), to: at(l.to) };
        match self {
            Self::Crop(l) => Self::Crop(line(*l)),
            Self::Fold(l) => Self::Fold(line(*l)),
            Self::Centre(l) => Self::Centre(line(*l)),
            Self::Register { centre, arm } => Self::Register { centre: at(*centre), arm: *arm },
            Self::Gripper(t) => Self::Gripper(t.map(at)),
            Self::SideGuide(t) => Self::SideGuide(t.map(at)),
            Self::Patch { rect, ink, percent } => {
                Self::Patch { rect: style.rect_behind(*rect, sheet), ink: ink.clone(), percent: *percent }
            }
            Self::Slug { rect, turn } => {
                Self::Slug { rect: style.rect_behind(*rect, sheet), turn: style.turn_behind(*turn) }
            }
        }
    }
}

/// The kinds of marks.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum MarkKind {
    /// Crop marks.
    Crop,
    /// Fold marks.
    Fold,
    /// Centre marks.
    Centre,
    /// Registration marks.
    Register,
    /// Gripper edge.
    Gripper,
    /// Side guide.
    SideGuide,
    /// Colour strip.
    Strip,
    /// Slug line.
    Slug,
}

impl fmt::Display for MarkKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Crop => "crop marks",
            Self::Fold => "fold marks",
            Self::Centre => "the centre mark",
            Self::Register => "a registration mark",
            Self::Gripper => "the gripper edge marks",
            Self::SideGuide => "the side guide mark",
            Self::Strip => "the colour strip",
            Self::Slug => "the slug line",
        })
    }
}

/// An edge of a form, or of a card.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Edge {
    /// The upper edge: the tail.
    Top,
    /// The right-hand edge.
    Right,
    /// The lower edge: the grippers.
    Bottom,
    /// The left-hand edge.
    Left,
}

impl Edge {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Top, Self::Right, Self::Bottom, Self::Left];

    /// Whether it runs along x.
    pub const fn level(self) -> bool {
        matches!(self, Self::Top | Self::Bottom)
    }
}

impl fmt::Display for Edge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Top => "upper edge",
            Self::Right => "right edge",
            Self::Bottom => "lower edge",
            Self::Left => "left edge",
        })
    }
}

/// Which marks are wanted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one kind of mark, on or off, as the press room asks for them"
)]
pub struct MarkSet {
    /// Crop marks.
    pub crop: bool,
    /// Fold marks.
    pub fold: bool,
    /// Centre and registration marks.
    pub register: bool,
    /// Gripper edge and side guide.
    pub guides: bool,
    /// Colour strip.
    pub strip: bool,
    /// Slug line.
    pub slug: bool,
}

impl MarkSet {
    /// Every mark.
    pub const ALL: Self = Self { crop: true, fold: true, register: true, guides: true, strip: true, slug: true };
    /// None at all.
    pub const NONE: Self = Self { crop: false, fold: false, register: false, guides: false, strip: false, slug: false };
}

impl Default for MarkSet {
    fn default() -> Self {
        Self::ALL
    }
}
