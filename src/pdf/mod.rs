//! Writing blocks for PDF pages: what the typesetter draws cards with and the press file is put together from.
//!
//! [`Content`] writes a content stream and keeps the resources it names, [`Document`] holds what pages share (fonts, ink spaces,
//! overprint states, pictures, forms) and turns all of it into bytes, the same bytes each time. Lengths are written as the shortest
//! decimal that reads back as the same length. Clauses cited are those of ISO 32000-1.

mod action;
mod content;
mod document;
mod embed;
mod heavy;
mod image;
mod ink_space;
mod light;
mod number;
mod overprint;
mod paint;
mod pieces;
mod read_back;
mod resources;
mod save;
mod text;

pub(crate) use action::ACTIONS;
pub use content::{Cap, Content, Join};
pub use document::{Boxes, Document};
pub use embed::embed_font;
pub(crate) use heavy::{Digest, digest, load};
pub use heavy::{Heavy, stands_for};
pub use image::{ImageData, ImageSpace, ImageXObject, image_xobject};
pub use ink_space::{separation, separation_all};
pub use number::{decimal, rect_object};
pub use overprint::{Overprint, ext_gstate};
pub use pieces::Pieces;
pub use read_back::ReadBack;
pub use resources::Resources;
pub use save::{FileKind, InfoValue, Saving, save};

use crate::fault::{Fault, Faults, Source};

fn fault(message: impl Into<String>) -> Faults {
    Fault::new(Source::Nowhere, message).into()
}
