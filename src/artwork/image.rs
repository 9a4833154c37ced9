use std::sync::Arc;

use kurbo::Affine;
use lopdf::{Dictionary, ObjectId};

use super::filters;
use super::objects::{Objects, count};
use super::space::Space;
use crate::card::PictureSpace;

/// An image of the artwork: what its dictionary says, and its samples on demand.
#[derive(Clone, Debug)]
pub struct Image<'a> {
    pub(super) objects: Objects<'a>,
    pub(super) raw: &'a [u8],
    /// Its dictionary.
    pub dict: &'a Dictionary,
    /// Its object; inline images have none.
    pub object: Option<ObjectId>,
    /// Width and height in samples.
    pub pixels: (u32, u32),
    /// Bits a component.
    pub bits: u8,
    /// Its colour space; `None` for stencils and where the compressed data itself says.
    pub space: Option<Arc<Space>>,
    /// Whether it is a stencil painted in the fill colour.
    pub stencil: bool,
    /// Its filters in the order of decoding.
    pub filters: Vec<String>,
}

/// The bytes of an image after the general filters.
#[derive(Clone, PartialEq, Debug)]
pub struct ImageData {
    /// Samples, or what the picture filter makes samples of.
    pub bytes: Vec<u8>,
    /// The picture filter that is left to undo, such as `DCTDecode`.
    pub picture_filter: Option<String>,
}

impl<'a> Image<'a> {
    /// Reads an image's facts. Inline images use short keys.
    pub(super) fn read(
        objects: Objects<'a>,
        dict: &'a Dictionary,
        raw: &'a [u8],
        object: Option<ObjectId>,
        space: Option<Arc<Space>>,
    ) -> Self {
        let number = |long: &str, short: &str| objects.number(dict, long).or_else(|| objects.number(dict, short));
        let side = |long, short| u32::try_from(count(number(long, short).unwrap_or(0.0), 1 << 30)).unwrap_or(0);
        let stencil = objects.boolean(dict, "ImageMask").or_else(|| objects.boolean(dict, "IM")).unwrap_or(false);
        let bits = count(number("BitsPerComponent", "BPC").unwrap_or(if stencil { 1.0 } else { 8.0 }), 16);
        Self {
            objects,
            raw,
            dict,
            object,
            pixels: (side("Width", "W"), side("Height", "H")),
            bits: if stencil { 1 } else { u8::try_from(bits).unwrap_or(8) },
            space: if stencil { None } else { space },
            stencil,
            filters: filters::names(objects, dict),
        }
    }

    /// The bytes with the general filters undone, `most` of them at the most; `None` where that does not work.
    pub fn data(&self, most: usize) -> Option<ImageData> {
        let decoded = filters::decode(self.objects, self.dict, self.raw, most).ok()?;
        Some(ImageData { bytes: decoded.bytes, picture_filter: decoded.picture_filter })
    }

    /// The family of its samples, whether they index a table, and whether they are calibrated.
    pub fn picture_space(&self) -> (PictureSpace, bool, bool) {
        match &self.space {
            _ if self.stencil => (PictureSpace::Stencil, false, false),
            Some(space) => space.picture(),
            None => {
                let filter = self.filters.last().map_or("no colour space", String::as_str);
                (PictureSpace::Unknown(filter.to_owned()), false, false)
            }
        }
    }

    /// Whether a soft mask of its own makes parts of it see-through.
    pub fn has_soft_mask(&self) -> bool {
        let in_data = self.objects.integer(self.dict, "SMaskInData").is_some_and(|n| n > 0);
        in_data || self.objects.stream(self.dict, "SMask").is_some()
    }

    /// Samples an inch along its own width and height under a matrix from the unit square to points.
    pub fn ppi(&self, matrix: Affine) -> (f64, f64) {
        let [a, b, c, d, ..] = matrix.as_coeffs();
        let along = |samples: u32, length: f64| if length > 0.0 { f64::from(samples) * 72.0 / length } else { 0.0 };
        (along(self.pixels.0, a.hypot(b)), along(self.pixels.1, c.hypot(d)))
    }
}
