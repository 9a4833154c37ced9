//! Pictures on their places.

use kurbo::Affine;

use super::Bed;
use crate::fault::Result;
use crate::ink::Colour;
use crate::model::{FitName, PictureBlock};
use crate::typeset::Assets;
use crate::typeset::frame::Frame;
use crate::typeset::page::{Drawn, Page};
use crate::typeset::pictures::Pictures;

/// Sets a picture: it covers its place and is clipped to it, or stands inside it whole; both centred.
pub(super) fn set(
    page: &mut Page,
    bed: &Bed<'_>,
    block: &PictureBlock,
    assets: &Assets,
    pictures: &mut Pictures,
) -> Result<()> {
    let picture = pictures.get(&block.file, assets, &bed.at("file"))?;
    let place = if block.bleed { bed.bled() } else { bed.frame.panel };
    let frame = Frame::new(place, bed.frame.turn);
    let size = frame.size();
    let (width, height) = (size.width.to_pt(), size.height.to_pt());
    let (columns, rows) = (f64::from(picture.width), f64::from(picture.height));
    let (a, b) = (width / columns, height / rows);
    let scale = match block.fit {
        FitName::Cover => a.max(b),
        FitName::Inside => a.min(b),
    };
    let (w, h) = (columns * scale, rows * scale);
    let unit = Affine::new([w, 0.0, 0.0, h, (width - w) / 2.0, (height - h) / 2.0]);
    let matrix = (frame.affine() * unit).as_coeffs();
    let overhangs = w > width + 1e-6 || h > height + 1e-6;
    let colour = block.colour.as_ref().map_or(Colour::BLACK, |c| bed.model.colour(c));
    let file = block.file.clone();
    page.drawn.push(Drawn::Picture { picture, file, matrix, clip: overhangs.then_some(place), colour });
    Ok(())
}
