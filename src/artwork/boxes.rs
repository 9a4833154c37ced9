use kurbo::{Affine, Rect};

use super::limits::{Remark, Topic};
use super::objects::{Objects, number, whole};
use super::tree::PageNode;
use crate::card::PageBoxes;
use crate::fault::{Fault, Result, Source};
use crate::unit::{self, Length};

/// The boxes of a page in its own space, sorted and cut to the medium, and how the page turns and scales.
#[derive(Clone, PartialEq, Debug)]
pub struct SourceBoxes {
    /// The medium.
    pub media: Rect,
    /// What viewers show; the medium where the page does not say.
    pub crop: Rect,
    /// Trim plus bleed; the crop box where the page does not say (ISO 32000-1, 14.11.2).
    pub bleed: Rect,
    /// The finished card.
    pub trim: Rect,
    /// Which box gave the trim: `TrimBox`, else `ArtBox`, `CropBox` or `MediaBox`.
    pub trim_from: &'static str,
    /// Whether the page states a BleedBox that can be used.
    pub bleed_stated: bool,
    /// How far the page turns clockwise when it is shown: 0, 90, 180 or 270 degrees.
    pub rotate: u16,
    /// The size of one unit of the page in points.
    pub user_unit: f64,
}

/// Boxes nearer to each other than this, in points, are the same box: what rounding in layout programs leaves.
const NOISE: f64 = 0.02;
/// A medium this many times wider or higher than the trim is worth a word: art of old layout programs.
const MUCH_LARGER: f64 = 3.0;

/// Reads the boxes of a page.
pub(super) fn read(
    objects: Objects,
    node: &PageNode,
    source: &Source,
    remarks: &mut Vec<Remark>,
) -> Result<SourceBoxes> {
    let mut remark = |message: String| remarks.push(Remark { message, source: source.clone(), topic: Topic::Mended });
    let stated = |key: &str| node.value(objects, key).and_then(|o| objects.as_rect(o)).filter(usable);
    let media = stated("MediaBox").unwrap_or_else(|| {
        remark("the page states no MediaBox; 8.5 x 11 in was taken, as viewers do".to_owned());
        Rect::new(0.0, 0.0, 612.0, 792.0)
    });
    // A box that reaches past the medium is cut to it, with a word; one that lies wholly outside counts as absent, and is
    // a fault where the product's size hangs on it.
    let mut outside = Vec::new();
    let mut cut = |key: &'static str| {
        let own = stated(key)?;
        let inside = own.intersect(media);
        if inside.width() <= NOISE || inside.height() <= NOISE || !overlaps(own, media) {
            outside.push(key);
            return None;
        }
        let far = [own.x0 - inside.x0, own.y0 - inside.y0, own.x1 - inside.x1, own.y1 - inside.y1];
        if far.iter().any(|d| d.abs() > NOISE) {
            remark(format!("the {key} reaches past the MediaBox and was cut to it"));
        }
        Some(inside)
    };
    let crop = cut("CropBox");
    let art = cut("ArtBox");
    let trim = cut("TrimBox");
    let bleed = cut("BleedBox");
    let (trim, trim_from) = match (trim, art, crop) {
        (Some(trim), ..) => (trim, "TrimBox"),
        (None, Some(art), _) => (art, "ArtBox"),
        (None, None, Some(crop)) => (crop, "CropBox"),
        (None, None, None) => (media, "MediaBox"),
    };
    let lost_trim = outside.iter().any(|key| match trim_from {
        "TrimBox" => false,
        "ArtBox" => *key == "TrimBox",
        "CropBox" => *key == "TrimBox" || *key == "ArtBox",
        _ => true,
    });
    for key in &outside {
        let message = format!("the {key} lies wholly outside the MediaBox");
        if lost_trim && *key != "BleedBox" {
            let fault = Fault::new(source.clone(), message);
            return Err(fault.hint("set the page boxes again in the layout program and export anew").into());
        }
        remark(format!("{message} and was left out of account"));
    }
    if media.width() > trim.width() * MUCH_LARGER || media.height() > trim.height() * MUCH_LARGER {
        remark(format!("the MediaBox is far larger than the {trim_from}; the card is what the {trim_from} shows"));
    }
    let crop = crop.unwrap_or(media);
    let rotate = rotate(objects, node, source)?;
    let user_unit = match node.value(objects, "UserUnit").and_then(number) {
        Some(unit) if unit > 0.0 && unit.is_finite() => unit,
        None => 1.0,
        Some(unit) => {
            remark(format!("the UserUnit is {unit}, which is no size; 1 was taken"));
            1.0
        }
    };
    Ok(SourceBoxes {
        media,
        crop,
        bleed: bleed.unwrap_or(crop),
        trim,
        trim_from,
        bleed_stated: bleed.is_some(),
        rotate,
        user_unit,
    })
}

/// Whether a box has an area and numbers that can be reckoned with.
fn usable(rect: &Rect) -> bool {
    rect.is_finite() && rect.width() > 0.0 && rect.height() > 0.0 && rect.width() < 1.0e7 && rect.height() < 1.0e7
}

fn overlaps(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

/// Rotate modulo 360; anything but quarter turns is a fault.
fn rotate(objects: Objects, node: &PageNode, source: &Source) -> Result<u16> {
    let Some(value) = node.value(objects, "Rotate").and_then(number) else { return Ok(0) };
    let turned = whole(value).filter(|n| (*n as f64 - value).abs() < 1.0e-6).map(|n| n.rem_euclid(360));
    match turned {
        Some(0) => Ok(0),
        Some(90) => Ok(90),
        Some(180) => Ok(180),
        Some(270) => Ok(270),
        _ => {
            let fault = Fault::new(source.clone(), format!("the page's Rotate is {value}, which is no quarter turn"));
            Err(fault.hint("export the page upright, or turned by 90, 180 or 270 degrees").into())
        }
    }
}

impl SourceBoxes {
    /// Page space to face points: the trim's lower left corner, as the page is shown, becomes the origin.
    pub fn to_face(&self) -> Affine {
        let (w, h) = (self.trim.width(), self.trim.height());
        let turn = match self.rotate {
            90 => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, w]),
            180 => Affine::new([-1.0, 0.0, 0.0, -1.0, w, h]),
            270 => Affine::new([0.0, 1.0, -1.0, 0.0, h, 0.0]),
            _ => Affine::IDENTITY,
        };
        Affine::scale(self.user_unit) * turn * Affine::translate((-self.trim.x0, -self.trim.y0))
    }

    /// The boxes on the face, rounded once.
    pub fn on_face(&self) -> PageBoxes {
        let to_face = self.to_face();
        let on = |rect: Rect| rounded(to_face.transform_rect_bbox(rect));
        PageBoxes {
            media: on(self.media),
            crop: on(self.crop),
            bleed: on(self.bleed),
            trim: on(self.trim),
            trim_from: self.trim_from,
            bleed_stated: self.bleed_stated,
        }
    }
}

/// A rectangle of face points as lengths.
pub(super) fn rounded(rect: Rect) -> unit::Rect {
    unit::Rect::new(
        Length::from_pt(rect.x0),
        Length::from_pt(rect.y0),
        Length::from_pt(rect.x1),
        Length::from_pt(rect.y1),
    )
}
