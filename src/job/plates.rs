//! The plates that checks look at.

use kurbo::Rect;

use crate::artwork::Artwork;
use crate::card::{Face, FacePlates};
use crate::fault::Result;
use crate::ink::Condition;
use crate::plates::Plates;
use crate::unit::{self, Length};

/// Pixels an inch: a pixel is a sixth of a millimetre.
const PPI: f64 = 150.0;
/// Faces of more pixels are not drawn for checks: 40 x 28 in at 150 ppi is 25 million.
const MOST_PIXELS: f64 = 32.0e6;

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
        if area.area_sq_in() * PPI * PPI > MOST_PIXELS {
            continue;
        }
        let points = Rect::new(area.x0.to_pt(), area.y0.to_pt(), area.x1.to_pt(), area.y1.to_pt());
        let drawn = Plates::of_page(artwork, face.page, points, PPI, condition)?;
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
