//! Plates as files: one grayscale PNG an ink, and a picture of them together.

use std::io::Write as _;
use std::sync::mpsc::{Receiver, sync_channel};

use image::{ExtendedColorType, ImageEncoder as _};

use super::Plates;
use super::coverage::{Coverage, CoverageSum};
use super::look::{Look, Reduced};
use crate::fault::{Fault, Faults, Result, Source};
use crate::ink::{Condition, Ink, SpotInk};

/// Plates that were drawn and put into files.
#[derive(Clone, Debug)]
pub struct PlateFiles {
    /// A PNG for each ink: black where the ink is solid, white where there is none.
    pub plates: Vec<(Ink, Vec<u8>)>,
    /// A PNG of the plates together as they look on the paper, about 100 pixels an inch.
    pub look: Vec<u8>,
    /// What each plate puts on the paper.
    pub coverage: Vec<Coverage>,
}

/// Pixels an inch of the picture, about.
const LOOK: f64 = 100.0;

/// Draws plates into files.
///
/// # Errors
/// The profile of the condition cannot be read, or a file cannot be put together.
pub fn files(plates: &Plates, condition: &Condition, measured: &[SpotInk]) -> Result<PlateFiles> {
    let mut look = Look::new(condition, plates.inks(), plates.looks(), measured)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a ratio of resolutions")]
    let by = (plates.ppi() / LOOK).round().max(1.0) as usize;
    let mut reduced = Reduced::new(plates.size(), plates.inks().len(), by);
    let mut sum = CoverageSum::new(plates.inks().len());
    let written = std::thread::scope(|scope| {
        let (senders, writers): (Vec<_>, Vec<_>) = plates
            .inks()
            .iter()
            .map(|_| {
                let (sender, strips) = sync_channel::<Vec<u8>>(2);
                (sender, scope.spawn(move || plate(plates, &strips)))
            })
            .unzip();
        plates.draw(&mut |band| {
            reduced.add(&band);
            sum.add(&band);
            for (plane, sender) in band.planes.into_iter().zip(&senders) {
                sender.send(plane).map_err(|_| fault("a plate cannot be written"))?;
            }
            Ok(())
        })?;
        drop(senders);
        let joined = writers.into_iter().map(|w| w.join().map_err(|_| fault("a plate cannot be written"))?);
        joined.collect::<Result<Vec<Vec<u8>>>>()
    })?;
    let png = picture(&reduced.seen(&mut look), reduced.width, reduced.height)?;
    Ok(PlateFiles { plates: plates.inks().iter().cloned().zip(written).collect(), look: png, coverage: sum.of(plates) })
}

/// One plate, strip by strip.
fn plate(plates: &Plates, strips: &Receiver<Vec<u8>>) -> Result<Vec<u8>> {
    let wrong = |e: png::EncodingError| fault(&format!("a plate cannot be written: {e}"));
    let (width, height) = plates.size();
    let side = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, side(width), side(height));
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels a metre")]
    let per_metre = (plates.ppi() / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: per_metre, yppu: per_metre, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header().map_err(wrong)?;
    let mut rows = writer.stream_writer().map_err(wrong)?;
    for strip in strips {
        let tones: Vec<u8> = strip.iter().map(|v| 255 - v).collect();
        rows.write_all(&tones).map_err(|e| wrong(e.into()))?;
    }
    rows.finish().map_err(wrong)?;
    drop(writer);
    Ok(bytes)
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
