//! Rules, boxes and symbols.

use kurbo::{Affine, BezPath, Shape};

use super::Bed;
use crate::fault::{Fault, Faults, Result};
use crate::ink::Colour;
use crate::model::{BoxBlock, RuleBlock, SymbolBlock};
use crate::typeset::frame::Frame;
use crate::typeset::page::{Page, outline};
use crate::unit::{Length, Point, Rect};

/// Half a point where the card does not say.
const USUAL_WEIGHT: Length = Length::units(Length::PER_PT / 2);

fn colour(bed: &Bed<'_>, text: Option<&crate::model::ColourText>) -> Colour {
    text.map_or(Colour::BLACK, |c| bed.model.colour(c))
}

/// The ends of a rule on the face. An end of a level or upright rule that lies on the trim runs out into the bleed.
fn ends(bed: &Bed<'_>, panel: Frame, block: &RuleBlock) -> (Point, Point) {
    let ([x0, y0], [x1, y1]) = (block.from, block.to);
    let (from, to) = (panel.point(x0.0, y0.0), panel.point(x1.0, y1.0));
    let out = |end: Point, other: Point| {
        let bled = super::out_to_bleed(Rect::new(end.x, end.y, end.x, end.y), bed.format);
        let pick = |low: Length, high: Length, at: Length| if low == at { high } else { low };
        let (x, y) = (pick(bled.x0, bled.x1, end.x), pick(bled.y0, bled.y1, end.y));
        Point::new(if end.y == other.y { x } else { end.x }, if end.x == other.x { y } else { end.y })
    };
    (out(from, to), out(to, from))
}

/// A straight rule.
pub(super) fn rule(page: &mut Page, bed: &Bed<'_>, panel: Frame, block: &RuleBlock) {
    let (from, to) = ends(bed, panel, block);
    let weight = block.weight.map_or(USUAL_WEIGHT, |m| m.0);
    let colour = colour(bed, block.colour.as_ref());
    let mut path = BezPath::new();
    path.move_to((from.x.to_pt(), from.y.to_pt()));
    path.line_to((to.x.to_pt(), to.y.to_pt()));
    page.stroke(path, weight, &colour);
}

/// What a rule covers.
pub(super) fn rule_rect(bed: &Bed<'_>, panel: Frame, block: &RuleBlock) -> Rect {
    let (from, to) = ends(bed, panel, block);
    Rect::new(from.x, from.y, to.x, to.y).grown(block.weight.map_or(USUAL_WEIGHT, |m| m.0).half())
}

/// A filled or ruled box. Its rule lies inside its place.
pub(super) fn ruled_box(page: &mut Page, bed: &Bed<'_>, block: &BoxBlock) {
    let place = if block.bleed { bed.bled() } else { bed.frame.panel };
    let radius = block.radius.map_or(Length::ZERO, |m| m.0);
    if let Some(fill) = &block.fill {
        let fill = bed.model.colour(fill);
        if radius > Length::ZERO {
            page.fill(outline(place, radius), &fill);
        } else {
            page.block(place, &fill);
        }
    }
    if let Some(weight) = block.rule {
        let inside = place.grown(-weight.0.half());
        let radius = (radius - weight.0.half()).max(Length::ZERO);
        page.stroke(outline(inside, radius), weight.0, &colour(bed, block.colour.as_ref()));
    }
}

/// A drawing by path data, fitted inside its place and centred.
pub(super) fn symbol(page: &mut Page, bed: &Bed<'_>, block: &SymbolBlock) -> Result<()> {
    let [view_width, view_height] = block.view;
    let size = bed.frame.size();
    let (width, height) = (size.width.to_pt(), size.height.to_pt());
    let scale = (width / view_width).min(height / view_height);
    let (left, bottom) = ((width - view_width * scale) / 2.0, (height - view_height * scale) / 2.0);
    let fit = Affine::new([scale, 0.0, 0.0, -scale, left, bottom + view_height * scale]);
    let mut faults = Faults::new();
    for (n, part) in block.parts.iter().enumerate() {
        let path = match BezPath::from_svg(&part.path) {
            Ok(path) => bed.frame.path(&(fit * path)),
            Err(why) => {
                let at = bed.at(&format!("parts[{n}].path"));
                faults
                    .push(Fault::new(at, format!("the path data cannot be read: {why}")).hint("write it as SVG does"));
                continue;
            }
        };
        if let Some(fill) = &part.fill {
            page.fill(path.clone(), &bed.model.colour(fill));
        }
        if let Some(stroke) = &part.stroke {
            page.stroke(path, part.weight.map_or(USUAL_WEIGHT, |m| m.0), &bed.model.colour(stroke));
        }
    }
    faults.or(())
}

/// The middle of a place in points.
pub(super) fn dot(middle: kurbo::Point, radius: f64) -> BezPath {
    kurbo::Circle::new(middle, radius).to_path(0.001)
}
