//! The plates that checks look at.

use kurbo::Rect;

use super::Prepared;
use crate::artwork::Artwork;
use crate::card::{Face, FacePlates};
use crate::fault::Result;
use crate::ink::Condition;
use crate::plates::{Means, Plates};
use crate::unit::{self, Length};

/// Pixels an inch: a pixel is a sixth of a millimetre.
const PPI: f64 = 150.0;
/// Faces of more pixels are not drawn for checks: 40 x 28 in at 150 ppi is 25 million.
const MOST_PIXELS: f64 = 32.0e6;

impl Prepared {
    /// Draws the plates of each face with its bleed, for the checks that look at them. A face that costs more than a look on the way is
    /// left out, and the checks say so.
    pub fn draw_plates(&mut self) {
        for face in &self.card.faces {
            let drawn = of_face(&self.artwork, face, self.card.format.bleed, &self.card.condition);
            let drawn = drawn.map_err(|why| format!("the {} cannot be drawn on the way: {why}", face.side));
            self.card.plates.keep(face.side, drawn);
        }
    }
}

fn of_face(
    artwork: &Artwork,
    face: &Face,
    bleed: Length,
    condition: &Condition,
) -> std::result::Result<FacePlates, String> {
    let area = face.boxes.trim.grown(bleed);
    if area.area_sq_in() * PPI * PPI > MOST_PIXELS {
        return Err("it is too large; `fairfold plates` draws it".to_owned());
    }
    let points = Rect::new(area.x0.to_pt(), area.y0.to_pt(), area.x1.to_pt(), area.y1.to_pt());
    let drawn = Plates::of_page(artwork, face.page, points, PPI, condition, Means::Frugal);
    drawn.and_then(|drawn| gathered(face, area, &drawn)).map_err(|faults| {
        let each: Vec<&str> = faults.iter().map(|f| f.message.as_str()).collect();
        each.join("; ")
    })
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
        looks: drawn.looks().to_vec(),
        not_drawn: drawn.not_drawn().to_vec(),
    })
}
