use kurbo::BezPath;

use crate::ink::Colour;
use crate::unit::{Length, Point, Rect};

/// One thing painted on a face.
#[derive(Clone, PartialEq, Debug)]
pub struct Element {
    /// What it is.
    pub mark: Mark,
    /// Its ink's extent in face coordinates, after clipping.
    pub bounds: Rect,
    /// How it meets what lies below.
    pub blend: Blend,
    /// The PDF object whose content stream paints it.
    pub object: Option<u32>,
}

/// The kinds of painted things.
#[derive(Clone, PartialEq, Debug)]
pub enum Mark {
    /// Glyphs set in one go: one font, size and colour.
    Text(TextRun),
    /// A path, filled or stroked or both.
    Path(PathMark),
    /// An image.
    Picture(PictureMark),
    /// A shading painted over the clip, and the space of its colours.
    Shading(PaintSpace),
}

/// How an element meets what lies below it.
#[derive(Clone, PartialEq, Debug, Default)]
#[expect(clippy::struct_excessive_bools, reason = "the standard has these switches")]
pub struct Blend {
    /// Fill overprints (`op`).
    pub overprint_fill: bool,
    /// Stroke overprints (`OP`).
    pub overprint_stroke: bool,
    /// Overprint mode (`OPM`), 0 or 1.
    pub overprint_mode: u8,
    /// Constant alpha of fills, 1 is opaque.
    pub alpha_fill: f64,
    /// Constant alpha of strokes, 1 is opaque.
    pub alpha_stroke: f64,
    /// Blend mode other than Normal.
    pub mode: Option<String>,
    /// Whether a soft mask is in force.
    pub soft_mask: bool,
    /// Whether it stands in an isolated group other than the page's own.
    pub isolated: bool,
    /// Whether a transfer function bends its tints on the press.
    pub transfer: bool,
}

impl Blend {
    /// Whether what lies below shows through, or blends.
    pub fn sees_through(&self) -> bool {
        self.mode.is_some() || self.soft_mask || self.alpha_fill < 1.0 || self.alpha_stroke < 1.0
    }
}

impl Element {
    /// What it is: `text`, `a path`, `a picture`, `a shading`.
    pub fn words(&self) -> &'static str {
        match &self.mark {
            Mark::Text(_) => "text",
            Mark::Path(_) => "a path",
            Mark::Picture(_) => "a picture",
            Mark::Shading(_) => "a shading",
        }
    }

    /// The spaces that it paints with.
    pub fn spaces(&self) -> Vec<PaintSpace> {
        let (fill, stroke) = match &self.mark {
            Mark::Text(run) => (&run.fill, &run.stroke),
            Mark::Path(path) => (&path.fill, &path.stroke),
            Mark::Picture(picture) => {
                return vec![PaintSpace { family: picture.space.clone(), calibrated: picture.calibrated }];
            }
            Mark::Shading(space) => return vec![space.clone()],
        };
        let paints = fill.iter().chain(stroke.iter().map(|s| &s.paint));
        paints.flat_map(Paint::spaces).collect()
    }
}

/// What a fill or stroke lays down.
#[derive(Clone, PartialEq, Debug)]
pub enum Paint {
    /// One colour all over.
    Flat(Colour),
    /// A tiling or shading pattern.
    Pattern(PatternPaint),
}

/// A pattern as paint.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PatternPaint {
    /// Its kind, such as `tiling` or `axial shading`.
    pub kind: String,
    /// The colour spaces that its cell or its shading paints with, each once.
    pub spaces: Vec<PaintSpace>,
}

/// A colour space that something paints with.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PaintSpace {
    /// Its family; that of the base of an Indexed one.
    pub family: PictureSpace,
    /// Whether it is ICC-based or calibrated.
    pub calibrated: bool,
}

impl PaintSpace {
    /// The space that a colour is stated in.
    pub fn of(colour: &Colour) -> Self {
        let plain = |family| Self { family, calibrated: false };
        match colour {
            Colour::Gray(_) => plain(PictureSpace::Gray),
            Colour::Rgb(_) => plain(PictureSpace::Rgb),
            Colour::Cmyk(_) => plain(PictureSpace::Cmyk),
            Colour::Lab(_) => plain(PictureSpace::Lab),
            Colour::Inks { tints, .. } => plain(PictureSpace::Inks(tints.iter().map(|(ink, _)| ink.clone()).collect())),
            Colour::Calibrated { plain, .. } => Self { calibrated: true, ..Self::of(plain) },
        }
    }
}

impl PaintSpace {
    /// Whether its colours are amounts of inks as they stand: gray, process colour or spots, and no profile in between.
    pub fn is_in_inks(&self) -> bool {
        !self.calibrated && !self.lacks_inks()
    }

    /// Whether its colours name no inks: RGB and Lab, with a profile or without.
    pub fn lacks_inks(&self) -> bool {
        matches!(self.family, PictureSpace::Rgb | PictureSpace::Lab)
    }
}

impl Paint {
    /// The spaces that it paints with.
    pub fn spaces(&self) -> Vec<PaintSpace> {
        match self {
            Self::Flat(colour) => vec![PaintSpace::of(colour)],
            Self::Pattern(pattern) => pattern.spaces.clone(),
        }
    }

    /// The colour, where it is one colour all over.
    pub fn flat(&self) -> Option<&Colour> {
        match self {
            Self::Flat(colour) => Some(colour),
            Self::Pattern(_) => None,
        }
    }
}

/// A stroke and its width after all scaling.
#[derive(Clone, PartialEq, Debug)]
pub struct Stroke {
    /// What it lays down.
    pub paint: Paint,
    /// Effective width; the smaller one where scaling differs by axis.
    pub width: Length,
    /// Whether it is dashed.
    pub dashed: bool,
}

/// How glyphs are painted (the text rendering mode in words).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Painted {
    /// Filled (mode 0 or 4).
    Fill,
    /// Stroked (mode 1 or 5).
    Stroke,
    /// Both (mode 2 or 6).
    Both,
    /// Neither (mode 3 or 7).
    Invisible,
}

/// A run of text.
#[derive(Clone, PartialEq, Debug)]
pub struct TextRun {
    /// What it says in Unicode; a replacement character where the font does not tell.
    pub text: String,
    /// The font's name without the subset tag.
    pub font: String,
    /// Effective size after all scaling (vertical).
    pub size: Length,
    /// Height of a lower-case x at that size, where the font tells.
    pub x_height: Option<Length>,
    /// Height of a capital H at that size, where the font tells.
    pub cap_height: Option<Length>,
    /// Whether the face is bold by name, flags or weight.
    pub bold: bool,
    /// Start of the baseline.
    pub origin: Point,
    /// How far the pen moved along the baseline.
    pub advance: Length,
    /// Direction of the baseline in degrees counter-clockwise, 0 to 360.
    pub angle: f64,
    /// Fill or stroke or both or neither.
    pub painted: Painted,
    /// The fill.
    pub fill: Option<Paint>,
    /// The stroke.
    pub stroke: Option<Stroke>,
}

/// A painted path in face points (f64, y up, origin at the trim's lower left).
#[derive(Clone, PartialEq, Debug)]
pub struct PathMark {
    /// The outline after all transforms, not clipped.
    pub outline: BezPath,
    /// The fill.
    pub fill: Option<Paint>,
    /// Whether the fill counts by even-odd.
    pub even_odd: bool,
    /// The stroke.
    pub stroke: Option<Stroke>,
}

/// The colour space family of an image.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PictureSpace {
    /// DeviceGray, CalGray or ICC gray.
    Gray,
    /// DeviceRGB, CalRGB or ICC RGB.
    Rgb,
    /// DeviceCMYK or ICC CMYK.
    Cmyk,
    /// Lab.
    Lab,
    /// Separation or DeviceN with these colorants.
    Inks(Vec<crate::ink::Ink>),
    /// A stencil mask painted in the fill colour.
    Stencil,
    /// Not known.
    Unknown(String),
}

/// A placed image.
#[derive(Clone, PartialEq, Debug)]
pub struct PictureMark {
    /// Width and height in samples.
    pub pixels: (u32, u32),
    /// Effective resolution along its own width and height after all scaling.
    pub ppi: (f64, f64),
    /// Its colour space (the base of an Indexed one).
    pub space: PictureSpace,
    /// Whether it is Indexed.
    pub indexed: bool,
    /// Whether the space is ICC-based or calibrated.
    pub calibrated: bool,
    /// Bits a component.
    pub bits: u8,
    /// Its filters, such as `DCTDecode`.
    pub filters: Vec<String>,
    /// Its four corners on the face in points, counter-clockwise from the image's lower left.
    pub corners: [kurbo::Point; 4],
    /// The image's own object.
    pub object: Option<u32>,
}
