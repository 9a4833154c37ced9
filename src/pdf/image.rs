use lopdf::{Dictionary, Object, ObjectId, Stream};

use super::fault;
use crate::fault::Result;

/// What an image's numbers mean.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ImageSpace {
    /// DeviceGray.
    Gray,
    /// DeviceRGB.
    Rgb,
    /// DeviceCMYK.
    Cmyk,
    /// A space made elsewhere, such as a spot ink's, with this many components.
    Other(ObjectId, u8),
    /// A stencil painted in the fill colour: samples of 0 paint (8.9.6.2).
    Stencil,
}

impl ImageSpace {
    /// Components a pixel.
    pub const fn components(self) -> u8 {
        match self {
            Self::Gray | Self::Stencil => 1,
            Self::Rgb => 3,
            Self::Cmyk => 4,
            Self::Other(_, n) => n,
        }
    }
}

/// An image's data.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ImageData {
    /// Samples row by row from the top, each row filled up to a whole byte; deflated on the way out.
    Samples(Vec<u8>),
    /// A JPEG file, passed through byte for byte.
    Jpeg {
        /// The whole file.
        file: Vec<u8>,
        /// Whether its CMYK is stored upside down (0 is solid), as files with an `Adobe` marker do.
        inverted: bool,
    },
}

/// An image to be placed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ImageXObject {
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
    /// Bits a component: 1, 2, 4, 8 or 16.
    pub bits: u8,
    /// What its numbers mean.
    pub space: ImageSpace,
    /// The numbers.
    pub data: ImageData,
    /// Another image whose gray is this one's opacity.
    pub soft_mask: Option<ObjectId>,
}

impl ImageXObject {
    /// How many bytes its samples take.
    fn bytes(&self) -> u64 {
        let row = u64::from(self.width) * u64::from(self.space.components()) * u64::from(self.bits);
        row.div_ceil(8) * u64::from(self.height)
    }
}

/// The image as an object (8.9.5). Samples that are not as many as the size says are a fault.
pub fn image_xobject(image: &ImageXObject) -> Result<Stream> {
    let name = |text: &str| Object::Name(text.as_bytes().to_vec());
    let mut dict = Dictionary::new();
    dict.set("Type", name("XObject"));
    dict.set("Subtype", name("Image"));
    dict.set("Width", i64::from(image.width));
    dict.set("Height", i64::from(image.height));
    dict.set("BitsPerComponent", i64::from(image.bits));
    match image.space {
        ImageSpace::Gray => dict.set("ColorSpace", name("DeviceGray")),
        ImageSpace::Rgb => dict.set("ColorSpace", name("DeviceRGB")),
        ImageSpace::Cmyk => dict.set("ColorSpace", name("DeviceCMYK")),
        ImageSpace::Other(id, _) => dict.set("ColorSpace", Object::Reference(id)),
        ImageSpace::Stencil => dict.set("ImageMask", true),
    }
    if let Some(id) = image.soft_mask {
        dict.set("SMask", Object::Reference(id));
    }
    match &image.data {
        ImageData::Samples(samples) => {
            if samples.len() as u64 != image.bytes() {
                let (have, want) = (samples.len(), image.bytes());
                return Err(fault(format!(
                    "a picture of {} x {} pixels has {have} bytes of samples where {want} belong",
                    image.width, image.height
                )));
            }
            deflated(dict, samples.clone())
        }
        ImageData::Jpeg { file, inverted } => {
            dict.set("Filter", name("DCTDecode"));
            if *inverted {
                let pairs = (0..image.space.components()).flat_map(|_| [Object::Integer(1), Object::Integer(0)]);
                dict.set("Decode", Object::Array(pairs.collect()));
            }
            Ok(Stream::new(dict, file.clone()).with_compression(false))
        }
    }
}

/// A stream, deflated where that makes it shorter.
pub(super) fn deflated(dict: Dictionary, bytes: Vec<u8>) -> Result<Stream> {
    let mut stream = Stream::new(dict, bytes);
    stream.compress().map_err(|why| fault(format!("a stream cannot be deflated: {why}")))?;
    Ok(stream.with_compression(false))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn image(bits: u8, data: ImageData) -> ImageXObject {
        ImageXObject { width: 9, height: 2, bits, space: ImageSpace::Cmyk, data, soft_mask: None }
    }

    #[test]
    fn rows_end_on_whole_bytes_and_the_count_must_be_right() {
        // 9 pixels x 4 components x 1 bit = 36 bits, that is 5 bytes a row.
        assert!(image_xobject(&image(1, ImageData::Samples(vec![0; 10]))).is_ok());
        assert!(image_xobject(&image(1, ImageData::Samples(vec![0; 9]))).is_err());
        assert!(image_xobject(&image(8, ImageData::Samples(vec![0; 72]))).is_ok());
    }

    #[test]
    fn a_jpeg_goes_through_byte_for_byte() {
        let file = vec![0xff, 0xd8, 1, 2, 3];
        let stream = image_xobject(&image(8, ImageData::Jpeg { file: file.clone(), inverted: true })).unwrap();
        assert_eq!(stream.content, file);
        assert_eq!(stream.dict.get(b"Decode").unwrap().as_array().unwrap().len(), 8);
    }
}
