//! The samples of pictures, with every filter undone.

use hayro_ccitt::EncodingMode;
use jpeg_decoder::{ColorTransform, PixelFormat};

use super::filters;
use super::function::Bits;
use super::image::Image;

/// What a picture's data hold: components of each sample in eight bits, before Decode and the colour space.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Samples {
    /// Samples in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Components of a sample.
    pub components: usize,
    /// One byte a component, scaled to 0 to 255; indices of a table are left as they are.
    pub values: Vec<u8>,
    /// Alpha that came with the data themselves (JPEG 2000).
    pub alpha: Option<Vec<u8>>,
}

/// What makes parts of a picture see-through.
#[derive(Clone, Debug)]
pub enum PictureMask<'a> {
    /// A picture of alpha values.
    Soft(Image<'a>),
    /// A stencil whose ones are left out.
    Stencil(Image<'a>),
    /// Samples all of whose components lie in these ranges, before Decode, are left out.
    Key(Vec<(u32, u32)>),
}

impl<'a> Image<'a> {
    /// Undoes every filter, `most` bytes at the most.
    ///
    /// # Errors
    /// Why it cannot be done, as words that follow the picture's name.
    pub fn samples(&self, most: usize) -> Result<Samples, String> {
        let (width, height) = (self.pixels.0 as usize, self.pixels.1 as usize);
        let components = self.space.as_ref().map_or(1, |s| s.components()).max(1);
        if width == 0 || height == 0 || width.saturating_mul(height).saturating_mul(components) > most {
            return Err(format!("has no samples, or more than the {} MiB that are kept", most >> 20));
        }
        let data = self.data(most).ok_or("does not decode, or to more than is kept")?;
        match data.picture_filter.as_deref() {
            None => Ok(self.unpacked(&data.bytes, width, height)),
            Some("DCTDecode") => self.jpeg(&data.bytes, most),
            Some("JPXDecode") => jpeg_2000(&data.bytes, most),
            Some("JBIG2Decode") => self.jbig2(&data.bytes, most),
            Some("CCITTFaxDecode") => self.fax(&data.bytes, width, height),
            Some(other) => Err(format!("is compressed by {other}, which is not known")),
        }
    }

    /// What makes parts of it see-through, where anything does; a soft mask goes first (ISO 32000-1, 11.6.5.3).
    pub fn mask(&self) -> Option<PictureMask<'a>> {
        let objects = self.objects;
        let read = |key: &str| {
            let stream = objects.stream(self.dict, key)?;
            Some(Image::read(objects, &stream.dict, &stream.content, objects.reference(self.dict, key), None))
        };
        if let Some(soft) = read("SMask") {
            return Some(PictureMask::Soft(soft));
        }
        if let Some(stencil) = read("Mask") {
            return Some(PictureMask::Stencil(stencil));
        }
        let key = objects.numbers(self.dict, "Mask")?;
        let whole = |v: f64| u32::try_from(super::objects::count(v, 0xFFFF)).unwrap_or(0);
        let (pairs, _) = key.as_chunks::<2>();
        Some(PictureMask::Key(pairs.iter().map(|[low, high]| (whole(*low), whole(*high))).collect()))
    }

    /// The Decode array, as pairs.
    pub fn decode(&self) -> Option<Vec<(f64, f64)>> {
        let numbers = self.objects.numbers(self.dict, "Decode").or_else(|| self.objects.numbers(self.dict, "D"))?;
        let (pairs, _) = numbers.as_chunks::<2>();
        Some(pairs.iter().map(|[low, high]| (*low, *high)).collect())
    }

    /// Whether its values index a table.
    pub fn is_indexed(&self) -> bool {
        self.picture_space().1
    }

    fn unpacked(&self, bytes: &[u8], width: usize, height: usize) -> Samples {
        let components = self.space.as_ref().map_or(1, |s| s.components()).max(1);
        let bits = u32::from(self.bits.clamp(1, 16));
        let values = if bits == 8 {
            // Rows that are not there are zeros, as readers take them.
            let mut values = bytes.get(..bytes.len().min(width * height * components)).unwrap_or_default().to_vec();
            values.resize(width * height * components, 0);
            values
        } else {
            let row = (width * components * bits as usize).div_ceil(8);
            let indexed = self.is_indexed();
            let most = (1_u32 << bits) - 1;
            let mut values = Vec::with_capacity(width * height * components);
            for y in 0..height {
                let from = (y * row).min(bytes.len());
                let mut reader = Bits { data: bytes.get(from..bytes.len().min(from + row)).unwrap_or_default(), at: 0 };
                for _ in 0..width * components {
                    let value = reader.take(bits);
                    let value = if indexed { value.min(255) } else { (value * 255 + most / 2) / most };
                    values.push(u8::try_from(value).unwrap_or(u8::MAX));
                }
            }
            values
        };
        Samples { width, height, components, values, alpha: None }
    }

    fn jpeg(&self, bytes: &[u8], most: usize) -> Result<Samples, String> {
        let wrong = |e: jpeg_decoder::Error| format!("is a JPEG that does not decode ({e})");
        let mut decoder = jpeg_decoder::Decoder::new(bytes);
        decoder.set_max_decoding_buffer_size(most);
        decoder.read_info().map_err(wrong)?;
        let info = decoder.info().ok_or("is a JPEG without a size")?;
        // `ColorTransform` speaks where the data have no marker of their own (ISO 32000-1, table 13).
        let last = self.filters.len().saturating_sub(1);
        let stated =
            filters::parameters(self.objects, self.dict, last).and_then(|p| self.objects.integer(p, "ColorTransform"));
        let transform = adobe_transform(bytes).map(i64::from).or(stated);
        let components = match info.pixel_format {
            PixelFormat::L8 => 1,
            PixelFormat::RGB24 => 3,
            PixelFormat::CMYK32 => 4,
            PixelFormat::L16 => return Err("is a JPEG of sixteen bits".to_owned()),
        };
        match (components, transform) {
            // Taken as inks whatever they are, and turned back below.
            (4, _) => decoder.set_color_transform(ColorTransform::CMYK),
            (3, Some(0)) => decoder.set_color_transform(ColorTransform::RGB),
            (3, Some(_)) => decoder.set_color_transform(ColorTransform::YCbCr),
            _ => {}
        }
        let mut values = decoder.decode().map_err(wrong)?;
        if components == 4 {
            for v in &mut values {
                *v = 255 - *v;
            }
            if transform.is_some_and(|t| t != 0) {
                for sample in values.as_chunks_mut::<4>().0 {
                    *sample = from_ycck(*sample);
                }
            }
        }
        let (width, height) = (usize::from(info.width), usize::from(info.height));
        Ok(Samples { width, height, components, values, alpha: None })
    }

    fn jbig2(&self, bytes: &[u8], most: usize) -> Result<Samples, String> {
        let wrong = |e: &dyn std::fmt::Display| format!("is JBIG2 data that do not decode ({e})");
        let settings = hayro_jbig2::DecodeSettings::default();
        let last = self.filters.len().saturating_sub(1);
        let shared = filters::parameters(self.objects, self.dict, last)
            .and_then(|p| self.objects.stream(p, "JBIG2Globals"))
            .and_then(|s| filters::decode(self.objects, &s.dict, &s.content, most).ok());
        let globals =
            shared.map(|s| hayro_jbig2::Globals::new(&s.bytes, &settings)).transpose().map_err(|e| wrong(&e))?;
        let page = hayro_jbig2::Page::new_embedded(bytes, globals.as_ref(), &settings).map_err(|e| wrong(&e))?;
        let (width, height) = (page.width() as usize, page.height() as usize);
        if width.saturating_mul(height) > most {
            return Err("has more samples than are kept".to_owned());
        }
        let mut rows = Rows::default();
        page.decode(&mut rows).map_err(|e| wrong(&e))?;
        // Black is 1 in JBIG2 and 0 as a sample (ISO 32000-1, 7.4.7).
        Ok(rows.samples(width, height))
    }

    fn fax(&self, bytes: &[u8], width: usize, height: usize) -> Result<Samples, String> {
        let objects = self.objects;
        let parameters = filters::parameters(objects, self.dict, self.filters.len().saturating_sub(1));
        let integer = |key: &str, usual: i64| parameters.and_then(|p| objects.integer(p, key)).unwrap_or(usual);
        let flag = |key: &str, usual: bool| parameters.and_then(|p| objects.boolean(p, key)).unwrap_or(usual);
        let columns = u32::try_from(integer("Columns", 1728)).unwrap_or(1728);
        let settings = hayro_ccitt::DecodeSettings {
            columns,
            rows: u32::try_from(height).unwrap_or(0),
            end_of_block: flag("EndOfBlock", true),
            end_of_line: flag("EndOfLine", false),
            rows_are_byte_aligned: flag("EncodedByteAlign", false),
            encoding: match integer("K", 0) {
                0 => EncodingMode::Group3_1D,
                k if k > 0 => EncodingMode::Group3_2D,
                _ => EncodingMode::Group4,
            },
            strict: false,
        };
        let mut rows = FaxRows { width, black_is_one: flag("BlackIs1", false), values: Vec::new() };
        let mut context = hayro_ccitt::DecoderContext::new(settings);
        // Rows up to the first that is damaged count.
        let decoded = hayro_ccitt::decode(bytes, &mut rows, &mut context);
        if let (Err(e), true) = (&decoded, rows.values.is_empty()) {
            return Err(format!("is fax data that do not decode ({e})"));
        }
        rows.values.resize(width * height, if rows.black_is_one { 0 } else { 255 });
        Ok(Samples { width, height, components: 1, values: rows.values, alpha: None })
    }
}

/// The colour transform that the data's own marker states (Adobe's APP14: the byte behind version and two words of flags).
fn adobe_transform(bytes: &[u8]) -> Option<u8> {
    let scan = memchr::memmem::find(bytes, &[0xFF, 0xDA]).unwrap_or(bytes.len());
    let marker = memchr::memmem::find(bytes.get(..scan)?, b"\xFF\xEE\x00\x0EAdobe")?;
    bytes.get(marker + 15).copied()
}

/// YCCK as the inks it stands for (as libjpeg converts it).
fn from_ycck([y, cb, cr, k]: [u8; 4]) -> [u8; 4] {
    let (y, cb, cr) = (f32::from(y), f32::from(cb) - 128.0, f32::from(cr) - 128.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to 0 to 255")]
    let ink = |v: f32| (255.0 - v).round().clamp(0.0, 255.0) as u8;
    [ink(y + 1.402 * cr), ink(y - 0.344_136 * cb - 0.714_136 * cr), ink(y + 1.772 * cb), k]
}

fn jpeg_2000(bytes: &[u8], most: usize) -> Result<Samples, String> {
    let wrong = |e: &dyn std::fmt::Display| format!("is JPEG 2000 data that do not decode ({e})");
    let image = hayro_jpeg2000::Image::new(bytes, &hayro_jpeg2000::DecodeSettings::default()).map_err(|e| wrong(&e))?;
    let (width, height) = (image.width() as usize, image.height() as usize);
    let (components, has_alpha) = (usize::from(image.color_space().num_channels()), image.has_alpha());
    // The decoder holds each sample as a number of four bytes.
    if width.saturating_mul(height).saturating_mul(4 * (components + 1)) > most.saturating_mul(2) {
        return Err("has more samples than are kept".to_owned());
    }
    let mut context = hayro_jpeg2000::DecoderContext::default();
    let decoded = image.decode(&mut context).map_err(|e| wrong(&e))?;
    let all = decoded.data_u8();
    let step = components + usize::from(has_alpha);
    if all.len() != width * height * step {
        return Err("is JPEG 2000 data whose parts differ in size".to_owned());
    }
    if !has_alpha {
        return Ok(Samples { width, height, components, values: all, alpha: None });
    }
    let values = all.chunks_exact(step).flat_map(|s| s.iter().take(components).copied()).collect();
    let alpha = all.chunks_exact(step).filter_map(|s| s.last().copied()).collect();
    Ok(Samples { width, height, components, values, alpha: Some(alpha) })
}

/// Takes the pixels of JBIG2 data.
#[derive(Default)]
struct Rows(Vec<u8>);

impl Rows {
    fn samples(mut self, width: usize, height: usize) -> Samples {
        self.0.resize(width * height, 255);
        Samples { width, height, components: 1, values: self.0, alpha: None }
    }
}

impl hayro_jbig2::Decoder for Rows {
    fn push_pixel(&mut self, black: bool) {
        self.0.push(if black { 0 } else { 255 });
    }

    fn push_pixel_chunk(&mut self, black: bool, chunk_count: u32) {
        let value = if black { 0 } else { 255 };
        self.0.extend(std::iter::repeat_n(value, chunk_count as usize * 8));
    }

    fn next_line(&mut self) {}
}

/// Takes the rows of fax data, as long as the picture's own.
struct FaxRows {
    width: usize,
    black_is_one: bool,
    values: Vec<u8>,
}

impl hayro_ccitt::Decoder for FaxRows {
    fn push_row(&mut self, changes: &[u32]) {
        let (white, black) = if self.black_is_one { (0, 255) } else { (255, 0) };
        let start = self.values.len();
        let mut now = white;
        let mut at = 0;
        for change in changes.iter().map(|c| (*c as usize).min(self.width)) {
            self.values.extend(std::iter::repeat_n(now, change.saturating_sub(at)));
            (now, at) = (if now == white { black } else { white }, change.max(at));
        }
        self.values.resize(start + self.width, now);
    }
}
