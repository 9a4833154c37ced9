//! Artwork: a finished PDF in, the elements of its faces out.
//!
//! The second station on the way of a card, and the first for a card that comes as artwork: whatever a layout program
//! (or this one's own typesetter) wrote is opened, repaired where it can be, and read page by page. A tolerant lexer and
//! an interpreter of content streams drive a [`Surface`]; the collector is the surface that lists every text run, path
//! and picture with its native inks, sizes after all scaling, and bounds inside the clip. Lengths are f64 points here and
//! are rounded once, on the way out. Nothing in this folder draws, and nothing panics or hangs on a hostile file: depth,
//! bytes, objects and operators are counted, and what runs over is a fault.

mod annotations;
mod boxes;
mod calculator;
mod collect;
mod composite_font;
mod device;
mod encoding;
mod extent;
mod facts;
mod file;
mod filters;
mod font;
mod font_program;
mod function;
mod image;
mod inline_image;
mod interpreter;
mod layers;
mod lexer;
mod limits;
mod mend;
mod mesh;
mod objects;
mod open;
mod operand;
mod page;
mod paint;
mod samples;
mod shading;
mod simple_font;
mod space;
mod state;
mod surface;
mod text;
mod text_run;
mod to_unicode;
mod tree;
mod used_colour;
mod xobject;

pub use annotations::PrintedAnnotation;
pub use boxes::SourceBoxes;

pub use file::Artwork;
pub use font::{Font, FontKind};
pub use image::{Image, ImageData};
pub use layers::Layers;
pub use limits::{Budget, OpenOptions, Remark, Topic};
pub use objects::Objects;
pub use page::SourcePage;
pub use samples::{PictureMask, Samples};
pub use shading::{Geometry, Mesh, Ramp};
pub use space::{Space, TintTransform};
pub(crate) use state::scales;
pub use state::{Dash, PaintSource, SoftMask, State, TextState};
pub use surface::{Form, Glyph, GlyphRun, Group, Pattern, PatternKind, Shading, Surface, Winding};
