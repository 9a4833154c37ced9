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
        let raw = objects.whole(raw);
        let number = |long: &str, short: &str| objects.number(dict, long).or_else(|| objects.number(dict, short));
        let side = |long, short| u32::try_from(count(number(long, short).unwrap_or(0.0), 1 << 30)).unwrap_or(0);
        let stencil = objects.boolean(dict, "ImageMask").or_else(|| objects.boolean(dict, "IM")).unwrap_or(false);
        let bits = count(number("BitsPerComponent", "BPC").unwrap_or(if stencil { 1.0 } else { 8.0 }), 16);
        let mut bits = if stencil { 1 } else { u8::try_from(bits).unwrap_or(8) };
        let mut space = if stencil { None } else { space };
        let filters = filters::names(objects, dict);
        // The data of a JPEG 2000 picture may itself say what its samples are (ISO 32000-1, 7.4.9).
        if let ([filter], Some(stated)) = (filters.as_slice(), jpeg_2000(raw))
            && filter == "JPXDecode"
        {
            bits = stated.0.unwrap_or(bits);
            space = space.or_else(|| stated.1.map(Arc::new));
        }
        Self {
            objects,
            raw,
            dict,
            object,
            pixels: (side("Width", "W"), side("Height", "H")),
            bits,
            space,
            stencil,
            filters,
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

/// Bits a component and colour space by the header boxes of a JPEG 2000 file (ISO 15444-1, I.5.3): the image header and
/// the enumerated space of the colour specification.
fn jpeg_2000(raw: &[u8]) -> Option<(Option<u8>, Option<Space>)> {
    let head = raw.get(..raw.len().min(4096))?;
    let behind = |name: &[u8; 4]| head.windows(4).position(|w| w == name).and_then(|at| head.get(at + 4..));
    let header = behind(b"ihdr")?;
    // Height, width, number of components, then bits less one; 255 says that they differ.
    let components = header.get(8..10).and_then(|b| b.try_into().ok()).map(u16::from_be_bytes);
    let bits = header.get(10).filter(|b| **b != 255).map(|b| (b & 0x7F) + 1);
    let colour = behind(b"colr").filter(|c| c.first() == Some(&1));
    let stated = colour.and_then(|c| c.get(3..7)).and_then(|b| b.try_into().ok()).map(u32::from_be_bytes);
    let space = match (stated, components) {
        (Some(12), _) | (None, Some(4)) => Some(Space::Cmyk),
        (Some(16 | 18), _) | (None, Some(3)) => Some(Space::Rgb),
        (Some(17), _) | (None, Some(1)) => Some(Space::Gray),
        (Some(14), _) => Some(Space::Lab([-128.0, 127.0, -128.0, 127.0])),
        _ => None,
    };
    Some((bits, space))
}
