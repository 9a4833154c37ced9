//! Pictures from files: PNG, JPEG and TIFF, each kept in the space that the file states.
//!
//! JPEG bytes pass through unchanged. CMYK and gray numbers stay as they are and print as they are; RGB keeps its own
//! profile or is sRGB, which is what a file without one means on the web (W3C PNG, 4.3; W3C CSS Color 4).

mod jpeg;
mod raster;

use std::sync::Arc;

use crate::ink::Colour;
use raster::{Raster, Samples};

/// A picture ready to be written.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Picture {
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) space: Space,
    pub(super) bits: u8,
    pub(super) data: Data,
    /// Opacity, one byte a sample, where it differs.
    pub(super) alpha: Option<Vec<u8>>,
}

/// The picture's colour space.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Space {
    /// A stencil through which a colour is painted; 0 paints.
    Stencil,
    Gray,
    /// RGB with its ICC profile, or sRGB.
    Rgb(Option<Vec<u8>>),
    /// Process tints; `inverted` where 255 is no ink.
    Cmyk {
        inverted: bool,
    },
}

/// The samples.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Data {
    /// A JPEG file as it came.
    Jpeg(Arc<[u8]>),
    /// Plain samples.
    Samples(Vec<u8>),
}

/// Reads a picture; `Err` says in words what is wrong with the file.
pub(super) fn read(bytes: &Arc<[u8]>) -> Result<Picture, String> {
    let picture = match **bytes {
        [0xFF, 0xD8, ..] => from_jpeg(bytes)?,
        [0x89, b'P', b'N', b'G', ..] => from_raster(raster::png(bytes)?),
        [b'I', b'I', 42 | 43, 0, ..] | [b'M', b'M', 0, 42 | 43, ..] => from_raster(raster::tiff(bytes)?),
        [b'%', b'P', b'D', b'F', ..] => return Err("it is a PDF; a PDF goes on a panel with a `page` block".to_owned()),
        _ => return Err("it is neither a PNG nor a JPEG nor a TIFF".to_owned()),
    };
    if picture.width == 0 || picture.height == 0 {
        return Err("it has no samples".to_owned());
    }
    Ok(picture)
}

fn from_jpeg(bytes: &Arc<[u8]>) -> Result<Picture, String> {
    let head = jpeg::head(bytes)?;
    if head.bits != 8 {
        return Err(format!("its samples are {} bits deep; a JPEG in a PDF has 8", head.bits));
    }
    let space = match head.components {
        1 => Space::Gray,
        3 => Space::Rgb(head.profile),
        4 => Space::Cmyk { inverted: head.adobe },
        n => return Err(format!("it has {n} components; one, three or four are possible")),
    };
    Ok(Picture {
        width: head.width,
        height: head.height,
        space,
        bits: 8,
        data: Data::Jpeg(Arc::clone(bytes)),
        alpha: None,
    })
}

fn from_raster(raster: Raster) -> Picture {
    let Raster { width, height, samples, alpha, profile } = raster;
    let (space, bits, samples) = match samples {
        Samples::Bits(v) => (Space::Stencil, 1, v),
        Samples::Gray(v) => (Space::Gray, 8, v),
        Samples::Rgb(v) => (Space::Rgb(profile), 8, v),
        Samples::Cmyk(v) => (Space::Cmyk { inverted: false }, 8, v),
    };
    Picture { width, height, space, bits, data: Data::Samples(samples), alpha }
}

/// The look-up table of a gray picture printed in a colour: for each of 256 grays the tints, a byte each. `None` where plain gray
/// says the same, or the colour has no tints of its own.
pub(super) fn tinted(colour: &Colour) -> Option<(Colour, Vec<u8>)> {
    let tints: Vec<f64> = match colour {
        Colour::Cmyk([0.0, 0.0, 0.0, 1.0]) => return None,
        Colour::Cmyk(tints) => tints.to_vec(),
        Colour::Inks { tints, .. } => tints.iter().map(|(_, t)| *t).collect(),
        _ => return None,
    };
    let entry = |gray: u32| tints.iter().map(move |t| byte(t * f64::from(255 - gray)));
    Some((colour.clone(), (0..=255).flat_map(entry).collect()))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "`as` keeps the range of a byte")]
fn byte(value: f64) -> u8 {
    value.round() as u8
}
