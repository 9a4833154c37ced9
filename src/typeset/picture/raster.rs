//! Samples of PNG and TIFF pictures, in the space that the file states.

use std::io::Cursor;

use image::codecs::png::PngDecoder;
use image::{DynamicImage, ImageDecoder};
use tiff::ColorType;
use tiff::decoder::{Decoder, DecodingResult};
use tiff::tags::Tag;

/// Decoded samples, row by row from the top.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Raster {
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) samples: Samples,
    /// How opaque each sample is, where that differs.
    pub(super) alpha: Option<Vec<u8>>,
    pub(super) profile: Option<Vec<u8>>,
}

/// The space of the samples.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Samples {
    /// One bit each, eight to a byte, rows filled up to whole bytes; 0 is black.
    Bits(Vec<u8>),
    /// One byte each; 0 is black.
    Gray(Vec<u8>),
    /// Three bytes each.
    Rgb(Vec<u8>),
    /// Four bytes each; 0 is no ink.
    Cmyk(Vec<u8>),
}

/// Decodes a PNG. Palettes become RGB and deeper samples 8 bits.
pub(super) fn png(bytes: &[u8]) -> Result<Raster, String> {
    let wrong = |e: image::ImageError| e.to_string();
    // W3C PNG, 11.2.1: bit depth and colour type stand in bytes 24 and 25.
    let one_bit = bytes.get(24..26) == Some(&[1, 0]);
    let mut decoder = PngDecoder::new(Cursor::new(bytes)).map_err(wrong)?;
    let profile = decoder.icc_profile().map_err(wrong)?;
    let picture = DynamicImage::from_decoder(decoder).map_err(wrong)?;
    let (width, height) = (picture.width(), picture.height());
    let opaque = |a: &Option<Vec<u8>>| a.as_ref().is_none_or(|a| a.iter().all(|v| *v == 255));
    let (samples, alpha) = if picture.color().has_color() {
        let (rgb, alpha) = parted::<3>(&picture.into_rgba8().into_raw());
        (Samples::Rgb(rgb), alpha)
    } else {
        let (gray, alpha) = parted::<1>(&picture.into_luma_alpha8().into_raw());
        (if one_bit { Samples::Bits(packed(&gray, width)) } else { Samples::Gray(gray) }, alpha)
    };
    let alpha = if opaque(&alpha) { None } else { alpha };
    Ok(Raster { width, height, samples, alpha, profile })
}

/// Colour and alpha of pixels with `N` colour samples and one of alpha.
fn parted<const N: usize>(pixels: &[u8]) -> (Vec<u8>, Option<Vec<u8>>) {
    let mut colour = Vec::with_capacity(pixels.len());
    let mut alpha = Vec::with_capacity(pixels.len() / (N + 1));
    for pixel in pixels.chunks_exact(N + 1) {
        if let Some((a, c)) = pixel.split_last() {
            colour.extend_from_slice(c);
            alpha.push(*a);
        }
    }
    (colour, Some(alpha))
}

/// Gray samples as bits, each row filled up to a whole byte.
fn packed(gray: &[u8], width: u32) -> Vec<u8> {
    let width = usize::try_from(width).unwrap_or(1).max(1);
    let byte = |eight: &[u8]| eight.iter().enumerate().fold(0, |b, (n, v)| b | u8::from(*v >= 128) << (7 - n));
    gray.chunks(width).flat_map(|row| row.chunks(8).map(byte)).collect()
}

/// Decodes a TIFF: the first picture of the file.
pub(super) fn tiff(bytes: &[u8]) -> Result<Raster, String> {
    let wrong = |e: tiff::TiffError| e.to_string();
    let mut decoder = Decoder::new(Cursor::new(bytes)).map_err(wrong)?;
    let (width, height) = decoder.dimensions().map_err(wrong)?;
    let colour = decoder.colortype().map_err(wrong)?;
    let profile = decoder.get_tag_u8_vec(Tag::IccProfile).ok();
    let samples = match decoder.read_image().map_err(wrong)? {
        DecodingResult::U8(samples) => samples,
        DecodingResult::U16(samples) => samples.into_iter().map(high_byte).collect(),
        _ => return Err("its samples are neither 8 nor 16 bits deep".to_owned()),
    };
    let (samples, alpha) = match colour {
        ColorType::Gray(1) => (Samples::Bits(samples), None),
        ColorType::Gray(8 | 16) => (Samples::Gray(samples), None),
        ColorType::RGB(8 | 16) => (Samples::Rgb(samples), None),
        ColorType::CMYK(8 | 16) => (Samples::Cmyk(samples), None),
        ColorType::GrayA(8 | 16) => apart::<1>(&samples, Samples::Gray),
        ColorType::RGBA(8 | 16) => apart::<3>(&samples, Samples::Rgb),
        ColorType::CMYKA(8 | 16) => apart::<4>(&samples, Samples::Cmyk),
        other => return Err(format!("its colour type {other:?} is not one of gray, RGB, CMYK or 1-bit")),
    };
    Ok(Raster { width, height, samples, alpha, profile })
}

fn apart<const N: usize>(pixels: &[u8], samples: fn(Vec<u8>) -> Samples) -> (Samples, Option<Vec<u8>>) {
    let (colour, alpha) = parted::<N>(pixels);
    (samples(colour), alpha.filter(|a| a.iter().any(|v| *v != 255)))
}

fn high_byte(sample: u16) -> u8 {
    let [high, _] = sample.to_be_bytes();
    high
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_are_packed_row_by_row() {
        let gray = [0, 255, 255, 255, 0, 0, 0, 0, 255, 255, 0, 0, 0, 0, 0, 0, 0, 0];
        assert_eq!(packed(&gray, 9), [0b0111_0000, 0b1000_0000, 0b1000_0000, 0b0000_0000]);
    }

    #[test]
    fn a_cmyk_tiff_keeps_its_samples() {
        let mut file = Cursor::new(Vec::new());
        let mut encoder = tiff::encoder::TiffEncoder::new(&mut file).unwrap();
        let samples = [10_u8, 20, 30, 40, 50, 60, 70, 80];
        encoder.write_image::<tiff::encoder::colortype::CMYK8>(2, 1, &samples).unwrap();
        let raster = tiff(file.get_ref()).unwrap();
        assert_eq!((raster.width, raster.height), (2, 1));
        assert_eq!(raster.samples, Samples::Cmyk(samples.to_vec()));
    }

    #[test]
    fn an_opaque_png_has_no_alpha() {
        let picture = image::RgbaImage::from_pixel(3, 2, image::Rgba([1, 2, 3, 255]));
        let mut file = Cursor::new(Vec::new());
        picture.write_to(&mut file, image::ImageFormat::Png).unwrap();
        let raster = png(file.get_ref()).unwrap();
        assert_eq!(raster.alpha, None);
        assert_eq!(raster.samples, Samples::Rgb([1, 2, 3].repeat(6)));
    }
}
