use std::fmt;

use super::{AnnotationUse, DeviceSetting, Element, GroupUse};
use crate::ink::{Colour, Ink};
use crate::unit::Rect;

/// Which face of the flat card.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Side {
    /// The face with the cover, seen when the card is closed.
    Outside,
    /// The face seen when the card is opened.
    Inside,
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Outside => "outside",
            Self::Inside => "inside",
        })
    }
}

/// The five boxes of a page after Rotate and UserUnit, moved so that the trim's lower left corner is the origin.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PageBoxes {
    /// The medium.
    pub media: Rect,
    /// What is shown.
    pub crop: Rect,
    /// Trim plus bleed.
    pub bleed: Rect,
    /// The finished card; its origin is zero.
    pub trim: Rect,
    /// Which box gave the trim: `TrimBox`, `ArtBox`, `CropBox` or `MediaBox` where the page states no nearer one.
    pub trim_from: &'static str,
    /// Whether the page states a BleedBox.
    pub bleed_stated: bool,
}

/// A font that a page uses.
#[derive(Clone, PartialEq, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own that a check asks for")]
pub struct FontUse {
    /// The name in the file, without the subset tag.
    pub name: String,
    /// TrueType, Type1, Type0, Type3, …
    pub kind: String,
    /// Whether the program stands in the file.
    pub embedded: bool,
    /// Whether the name carries a subset tag.
    pub subset: bool,
    /// The OS/2 `fsType` of the embedded program, where there is one to read.
    pub fs_type: Option<u16>,
    /// Whether any visible text on the face is set in it.
    pub painted: bool,
    /// Whether any invisible text is set in it (text rendering mode 3 or 7).
    pub hidden: bool,
    /// The lowest resolution of the pictures that its glyphs are made of, at the sizes it is set in; Type 3 only.
    pub dots: Option<f64>,
    /// Its object in the PDF.
    pub object: Option<u32>,
}

/// An ink that the page's paint names, also inside pictures, shadings, patterns, masks and spaces of several colorants.
#[derive(Clone, PartialEq, Debug)]
pub struct InkUse {
    /// The ink.
    pub ink: Ink,
    /// What its solid looks like through the tint transform, where it is named by a Separation or DeviceN space; an ink that
    /// is defined in two ways stands twice.
    pub solid: Option<Colour>,
}

/// An ICC profile that the page's paint names.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct ProfileUse {
    /// Its stream in the PDF.
    pub object: Option<u32>,
    /// The number of components that its stream states (N).
    pub stated: Option<i64>,
    /// The number of components by the profile's own header; `None` where the header is damaged.
    pub held: Option<usize>,
}

/// One face of the card, as the page that will print shows it.
#[derive(Clone, PartialEq, Debug)]
pub struct Face {
    /// Which face.
    pub side: Side,
    /// The page's boxes.
    pub boxes: PageBoxes,
    /// The page in its PDF, from 1.
    pub page: u32,
    /// Everything that is painted, in painting order, in face coordinates.
    pub elements: Vec<Element>,
    /// Every font of the page.
    pub fonts: Vec<FontUse>,
    /// Every ink of the page, by name.
    pub inks: Vec<InkUse>,
    /// Every ICC profile of the page's paint, by object.
    pub profiles: Vec<ProfileUse>,
    /// Every transparency group of the page, each kind once.
    pub groups: Vec<GroupUse>,
    /// Its annotations in their order.
    pub annotations: Vec<AnnotationUse>,
    /// What is meant for one machine, or stands for something else, each once.
    pub device_settings: Vec<DeviceSetting>,
    /// How far the page turns clockwise when it is shown: 0, 90, 180 or 270 degrees.
    pub rotate: u16,
    /// The size of one unit of the page in points.
    pub user_unit: f64,
}

impl Face {
    /// A face with nothing on it.
    pub const fn new(side: Side, boxes: PageBoxes, page: u32) -> Self {
        Self {
            side,
            boxes,
            page,
            elements: Vec::new(),
            fonts: Vec::new(),
            inks: Vec::new(),
            profiles: Vec::new(),
            groups: Vec::new(),
            annotations: Vec::new(),
            device_settings: Vec::new(),
            rotate: 0,
            user_unit: 1.0,
        }
    }
}
