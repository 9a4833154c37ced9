//! Plates as files: one grayscale PNG an ink, and a picture of them together.

use std::io::Write as _;
use std::sync::mpsc::{Receiver, sync_channel};

use image::{ExtendedColorType, ImageEncoder as _};

use super::Plates;
use super::coverage::Coverage;
use super::look::{Look, Reduced};
use crate::fault::{Fault, Faults, Result, Source};
use crate::ink::{Condition, Ink, Sight, SpotInk};

/// Plates that were drawn and put into files.
#[derive(Clone, Debug)]
pub struct PlateFiles {
    /// A PNG for each ink: black where the ink is solid, white where there is none.
    pub plates: Vec<(Ink, Vec<u8>)>,
    /// A PNG of the plates together as they look on the paper, about 100 pixels an inch.
    pub look: Vec<u8>,
    /// The same as golfers of other sights see it, for those that were asked for.
    pub sights: Vec<(Sight, Vec<u8>)>,
    /// A PNG of the sum of all inks, as large as the other: the darker the more, and red where it is over the condition's limit.
    pub total: Vec<u8>,
    /// The highest sum of all inks in percent, in the mean over one pixel of that picture.
    pub most: f64,
    /// What each plate puts on the paper.
    pub coverage: Vec<Coverage>,
}

/// Pixels an inch of the picture, about.
const LOOK: f64 = 100.0;

/// Pixels of the picture's longer side at the most.
const MOST_LOOK: usize = 2400;

/// Draws plates into files; `sights` are those beside the normal one.
///
/// # Errors
/// The profile of the condition cannot be read, or a file cannot be put together.
pub fn files(plates: &Plates, condition: &Condition, measured: &[SpotInk], sights: &[Sight]) -> Result<PlateFiles> {
    let mut look = Look::new(condition, plates.inks(), plates.looks(), measured)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a ratio of resolutions")]
    let by =
        ((plates.ppi() / LOOK).round().max(1.0) as usize).max(plates.size().0.max(plates.size().1).div_ceil(MOST_LOOK));
    let drawn = std::thread::scope(|scope| {
        let (senders, writers): (Vec<_>, Vec<_>) = plates
            .inks()
            .iter()
            .map(|_| {
                let (sender, strips) = sync_channel::<Vec<u8>>(2);
                (sender, scope.spawn(move || plate(plates, &strips, by)))
            })
            .unzip();
        plates.draw(&mut |band| {
            let mut planes = band.planes.into_iter().zip(&senders);
            planes.try_for_each(|(plane, sender)| sender.send(plane).map_err(|_| fault("a plate cannot be written")))
        })?;
        drop(senders);
        let joined = writers.into_iter().map(|w| w.join().map_err(|_| fault("a plate cannot be written"))?);
        joined.collect::<Result<Vec<(Vec<u8>, Reduced)>>>()
    })?;
    let (written, planes): (Vec<Vec<u8>>, Vec<Reduced>) = drawn.into_iter().unzip();
    let (width, height) = planes.first().map(Reduced::size).unwrap_or_default();
    let totals: Vec<f64> =
        (0..width * height).map(|n| planes.iter().map(|p| f64::from(p.at(n)) / 2.55).sum()).collect();
    let total: Vec<u8> = totals.iter().flat_map(|percent| shade(*percent, condition.total_ink)).collect();
    let seen = |sight: &Sight| Ok((*sight, picture(&Reduced::seen(&planes, &mut look.to(*sight)), width, height)?));
    Ok(PlateFiles {
        sights: sights.iter().map(seen).collect::<Result<_>>()?,
        total: picture(&total, width, height)?,
        most: totals.iter().copied().fold(0.0, f64::max),
        plates: plates.inks().iter().cloned().zip(written).collect(),
        look: picture(&Reduced::seen(&planes, &mut look), width, height)?,
        coverage: Coverage::of(plates, &planes),
    })
}

/// What a sum of inks looks like on the map: from paper to a dark gray at the limit, and from a light red on past it.
fn shade(percent: f64, limit: f64) -> [u8; 3] {
    let part = (percent / limit).clamp(0.0, 2.0);
    // A plate's tone is a byte, so that four of them may come to a little more than they were asked for.
    if percent <= limit + 1.0 {
        return [super::inks::amount(0.97 - 0.72 * part.min(1.0)); 3];
    }
    let past = (part - 1.0) * 4.0;
    [
        super::inks::amount(0.93 - 0.2 * past),
        super::inks::amount(0.35 - 0.25 * past),
        super::inks::amount(0.25 - 0.2 * past),
    ]
}

/// One plate, strip by strip.
fn plate(plates: &Plates, strips: &Receiver<Vec<u8>>, by: usize) -> Result<(Vec<u8>, Reduced)> {
    let wrong = |e: png::EncodingError| fault(&format!("a plate cannot be written: {e}"));
    let (width, height) = plates.size();
    let side = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, side(width), side(height));
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    encoder.set_filter(png::Filter::Up);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels a metre")]
    let per_metre = (plates.ppi() / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header().map_err(wrong)?;
    let mut rows = writer.stream_writer().map_err(wrong)?;
    let mut reduced = Reduced::new((width, height), by);
    let mut first = 0;
    for mut strip in strips {
        reduced.add(first, &strip);
        first += strip.len() / width.max(1);
        for tone in &mut strip {
            *tone = 255 - *tone;
        }
        rows.write_all(&strip).map_err(|e| wrong(e.into()))?;
    }
    rows.finish().map_err(wrong)?;
    drop(writer);
    Ok((bytes, reduced))
}

/// An RGB picture as a PNG.
pub(crate) fn picture(rgb: &[u8], width: usize, height: usize) -> Result<Vec<u8>> {
    let mut png = Vec::new();
    let side = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    image::codecs::png::PngEncoder::new(&mut png)
        .write_image(rgb, side(width), side(height), ExtendedColorType::Rgb8)
        .map_err(|e| fault(&format!("a picture cannot be written: {e}")))?;
    Ok(png)
}

fn fault(message: &str) -> Faults {
    Fault::new(Source::Nowhere, message).into()
}
