use crate::fault::Source;

/// What the file whose pages print says of itself, beside the pages.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own that a check asks for")]
pub struct FileFacts {
    /// Whether the pages were set from a card file; else they came as artwork.
    pub set_here: bool,
    /// How many pages it has; the card may use fewer.
    pub pages: u32,
    /// The PDF version, of the header or of the catalog where that is there.
    pub version: String,
    /// Whether it is encrypted, be it with an empty password.
    pub encrypted: bool,
    /// Whether its permissions allow printing at full quality (ISO 32000-1, table 22).
    pub may_print: bool,
    /// Standards that it claims to keep, such as `PDF/X-4`, each once.
    pub claims: Vec<String>,
    /// Its output intents.
    pub intents: Vec<OutputIntent>,
    /// Whether JavaScript stands in it.
    pub scripts: bool,
    /// Whether files are embedded in it.
    pub embedded_files: bool,
    /// Whether it holds form fields.
    pub fields: bool,
    /// Its layers.
    pub layers: Vec<LayerState>,
    /// What was mended in reading, and what is odd.
    pub repairs: Vec<Repair>,
}

/// An output intent (ISO 32000-1, 14.11.5).
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct OutputIntent {
    /// Its kind, such as `GTS_PDFX`.
    pub kind: String,
    /// The print condition it names.
    pub condition: String,
    /// Colour components of its embedded profile, where it has one.
    pub profile: Option<i64>,
}

/// A layer (optional content, ISO 32000-1, 8.11) and its states.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LayerState {
    /// Its name.
    pub name: String,
    /// Its object.
    pub object: u32,
    /// Whether it prints.
    pub prints: bool,
    /// Whether it shows on a screen.
    pub shows: bool,
}

/// Something that was mended while the file was read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Repair {
    /// What was found and what was made of it, one sentence without a full stop.
    pub message: String,
    /// Where.
    pub source: Source,
    /// Whether something of the file is lost by it, or contradicts itself.
    pub lost: bool,
}

/// A transparency group of a page (ISO 32000-1, 11.6.6).
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct GroupUse {
    /// Whether it is the page's own.
    pub of_page: bool,
    /// Whether it is composited apart from what lies below.
    pub isolated: bool,
    /// Whether later marks knock out earlier ones.
    pub knockout: bool,
    /// Its blending space, such as `RGB` or `CMYK`, where it states one.
    pub space: Option<String>,
    /// The object whose content draws it.
    pub object: Option<u32>,
}

/// An annotation of a page (ISO 32000-1, 12.5).
#[derive(Clone, PartialEq, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own that a check asks for")]
pub struct AnnotationUse {
    /// Its kind, such as `Stamp`, `Widget` or `Link`.
    pub kind: String,
    /// Its object.
    pub object: Option<u32>,
    /// Where it stands on the face.
    pub rect: crate::unit::Rect,
    /// Whether it is set to print and not hidden.
    pub prints: bool,
    /// Whether it has an appearance to print.
    pub look: bool,
    /// Whether it is a form field with a value.
    pub filled: bool,
    /// Whether the file says that the looks of fields are to be made anew (`NeedAppearances`).
    pub stale: bool,
}

/// Something on a page that is meant for one machine, or stands for something else.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DeviceSetting {
    /// Its kind.
    pub kind: DeviceKind,
    /// Its object, or that of the page or form whose resources name it.
    pub object: Option<u32>,
}

/// The kinds of what is meant for one machine, or stands for something else.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum DeviceKind {
    /// A halftone screen (ISO 32000-1, 10.6).
    Halftone,
    /// Black generation or under-colour removal (10.4).
    BlackGeneration,
    /// A stand-in for a picture of better quality (Open Prepress Interface, 14.11.7).
    Opi,
    /// A PostScript XObject (8.8.2).
    PostScript,
    /// A form that stands for a page of another file (8.10.4).
    Reference,
    /// A picture with others to choose from (8.9.5.4).
    Alternates,
}
