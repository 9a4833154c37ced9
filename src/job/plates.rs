//! The plates that checks look at.

use std::collections::BTreeSet;

use kurbo::Rect;

use crate::artwork::Artwork;
use crate::card::{Face, FacePlates, Mark, PictureSpace};
use crate::fault::Result;
use crate::ink::Condition;
use crate::plates::{Means, Plates};
use crate::unit::{self, Length};

/// Pixels an inch: a pixel is a sixth of a millimetre.
const PPI: f64 = 150.0;
/// Faces of more pixels are not drawn for checks: 40 x 28 in at 150 ppi is 25 million.
const MOST_PIXELS: f64 = 32.0e6;

/// Faces whose marks and clips cover more pixels than this are not drawn for checks: about a second's work. A full card of two million
/// pixels may be covered a thousand times.
const MOST_WORK: u64 = 2_000_000_000;

/// Faces whose pictures hold more samples than this are not drawn for checks: a full picture on a 6 x 17 in card at 400 ppi holds 68 million.
const MOST_SAMPLES: u64 = 72_000_000;

/// The samples of all pictures of a face, each counted once, a byte a component.
fn samples(face: &Face) -> u64 {
    let mut seen = BTreeSet::new();
    let pictures = face.elements.iter().filter_map(|e| if let Mark::Picture(p) = &e.mark { Some(p) } else { None });
    let each = pictures.filter(|p| p.object.is_none_or(|id| seen.insert(id))).map(|p| {
        let components = match &p.space {
            _ if p.indexed => 1,
            PictureSpace::Cmyk | PictureSpace::Unknown(_) => 4,
            PictureSpace::Rgb | PictureSpace::Lab => 3,
            PictureSpace::Inks(inks) => inks.len() as u64,
            PictureSpace::Gray | PictureSpace::Stencil => 1,
        };
        u64::from(p.pixels.0) * u64::from(p.pixels.1) * components
    });
    each.fold(0, u64::saturating_add)
}

/// The plates of each face, its bleed included; a face that is too large for that is left out.
pub(super) fn of_faces(
    artwork: &Artwork,
    faces: &[Face],
    bleed: Length,
    condition: &Condition,
) -> Result<Vec<FacePlates>> {
    let mut found = Vec::new();
    for face in faces {
        let area = face.boxes.trim.grown(bleed);
        if area.area_sq_in() * PPI * PPI > MOST_PIXELS || samples(face) > MOST_SAMPLES {
            continue;
        }
        let points = Rect::new(area.x0.to_pt(), area.y0.to_pt(), area.x1.to_pt(), area.y1.to_pt());
        let drawn = Plates::of_page(artwork, face.page, points, PPI, condition, Means::Frugal)?;
        if drawn.work() > MOST_WORK {
            continue;
        }
        found.push(gathered(face, area, &drawn)?);
    }
    Ok(found)
}

fn gathered(face: &Face, area: unit::Rect, drawn: &Plates) -> Result<FacePlates> {
    let size = drawn.size();
    let mut planes = vec![Vec::with_capacity(size.0 * size.1); drawn.inks().len()];
    drawn.draw(&mut |band| {
        planes.iter_mut().zip(&band.planes).for_each(|(all, some)| all.extend_from_slice(some));
        Ok(())
    })?;
    Ok(FacePlates {
        side: face.side,
        area,
        ppi: PPI,
        size,
        planes: drawn.inks().iter().cloned().zip(planes).collect(),
        not_drawn: drawn.not_drawn().to_vec(),
    })
}
