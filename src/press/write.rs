use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Object, ObjectId};

use super::{Art, PressInfo, fault, marks, standard};
use crate::artwork::SourcePage;
use crate::card::Side;
use crate::fault::{Fault, Faults, Result, Source};
use crate::pdf::{Boxes, Content, Document, Pieces};
use crate::place::Placer;
use crate::sheet::{Form, Sheet};
use crate::unit::{Length, Point};

/// A page whose trim differs from the card's by more than this is not the card: 0.5 mm. What is less is centred.
const OFF_SIZE: Length = Length::um(500);

/// A face ready to be drawn.
#[derive(Clone, Copy, Debug)]
struct Laid {
    form: ObjectId,
    /// From the card's lower left corner to the page's trim; nothing for a page that is the card's size to the unit.
    shift: Point,
}

/// Writes a planned sheet as a PDF/X-4 file: one page for each form, each source page once however many stations show it. The same
/// input gives the same bytes. Nothing is proven by it: hand the bytes to [`verify`](super::verify()).
///
/// # Errors
/// A face of the plan has no page, a page's trim is not the card's size, a page cannot be copied, or the slug's words do not fit.
pub fn write(sheet: &Sheet, arts: &[Art], info: &PressInfo) -> Result<Vec<u8>> {
    Ok(compose(sheet, arts, info)?.into_bytes())
}

/// The same, with heavy pictures left where they stand until the file is written out.
///
/// # Errors
/// As [`write()`].
pub fn compose(sheet: &Sheet, arts: &[Art], info: &PressInfo) -> Result<Pieces> {
    let mut document = Document::new();
    for spot in info.spots {
        document.define_spot(spot)?;
    }
    let mut placer = Placer::default();
    let mut faces: BTreeMap<Side, Laid> = BTreeMap::new();
    let mut faults = Faults::new();
    for side in sides(sheet) {
        let Some(art) = arts.iter().find(|a| a.side == side) else {
            faults.push(Fault::new(Source::Nowhere, format!("no page was given for the {side}")));
            continue;
        };
        let Some((page, shift)) = faults.take(page(sheet, art)) else { continue };
        if let Some(form) = faults.take(placer.place(&mut document, art.artwork, &page)) {
            faces.insert(side, Laid { form, shift });
        }
    }
    faults.or(())?;
    let placed = placer.finish(&mut document);
    for laid in faces.values_mut() {
        laid.form = placed.form(laid.form);
    }
    for form in &sheet.forms {
        draw(&mut document, sheet, form, &faces, info, placed.grouped)?;
    }
    standard::output_intent(&mut document, info)?;
    document.finish(&standard::saving(info))
}

/// The faces that the sheet shows.
pub(super) fn sides(sheet: &Sheet) -> BTreeSet<Side> {
    sheet.forms.iter().flat_map(|f| f.stations.iter().map(|s| s.face)).collect()
}

/// The source page of a face, and how its trim lies on the card.
pub(super) fn page(sheet: &Sheet, art: &Art) -> Result<(SourcePage, Point)> {
    let page = art.artwork.source_page(art.page)?;
    let (trim, flat) = (page.boxes.on_face().trim.size(), sheet.format.flat);
    let (dx, dy) = (flat.width - trim.width, flat.height - trim.height);
    if dx.abs() > OFF_SIZE || dy.abs() > OFF_SIZE {
        let source = Source::Pdf {
            file: art.artwork.name().to_owned(),
            page: Some(art.page),
            object: page.object.map(|id| id.0),
        };
        let message = format!("the page is {} and the card is {}", trim.card_text(), flat.card_text());
        return Err(Fault::new(source, message)
            .hint("state the card's size as it is, or export the page at that size")
            .into());
    }
    Ok((page, Point::new(dx.half(), dy.half())))
}

/// One form of the sheet as a page.
fn draw(
    document: &mut Document,
    sheet: &Sheet,
    form: &Form,
    faces: &BTreeMap<Side, Laid>,
    info: &PressInfo,
    grouped: bool,
) -> Result<()> {
    let mut content = Content::new();
    for station in &form.stations {
        let Some(Laid { form, shift }) = faces.get(&station.face) else {
            return Err(fault(format!("no page was given for the {}", station.face)));
        };
        content.save().rect(station.piece(sheet.format.bleed)).clip();
        content.turned(station.turn, station.flat(), station.trim.origin());
        if *shift != Point::default() {
            content.moved(shift.x, shift.y);
        }
        content.draw(*form).restore();
    }
    marks::draw(document, &mut content, sheet, form, info)?;
    let (trim, bleed) = sheet.page_boxes(form);
    let boxes = Boxes { media: sheet.rect(), crop: None, bleed: Some(bleed), trim: Some(trim), art: None };
    let mut extra = Dictionary::new();
    if grouped {
        // Pages that state a group blend in it; the sheet blends in the inks of the press.
        let mut group = Dictionary::new();
        group.set("S", Object::Name(b"Transparency".to_vec()));
        group.set("CS", Object::Name(b"DeviceCMYK".to_vec()));
        extra.set("Group", group);
    }
    document.add_page(&boxes, content, &extra)?;
    Ok(())
}
