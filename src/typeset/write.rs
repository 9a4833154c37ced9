//! Pages to PDF bytes.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use kurbo::Affine;
use lopdf::{Dictionary, Object, ObjectId, Stream};

use super::page::{Drawn, Page};
use super::picture::{Data, Picture, Space, tinted};
use crate::artwork::Artwork;
use crate::card::Format;
use crate::fault::{Fault, Result, Source};
use crate::ink::{Colour, SpotInk};
use crate::pdf::{Boxes, Cap, Content, Document, ImageData, ImageSpace, ImageXObject, Overprint, Saving};
use crate::place::Placer;
use crate::unit::{Length, Rect};

/// Lines of black alone below this weight overprint (Ghent Workgroup 2022).
const OVERPRINTS_BELOW: Length = Length::pt(2);

/// Writes the pages in their order; face coordinates are page coordinates, so the trim's lower left corner is the origin.
pub(super) fn write(pages: &[Page], format: &Format, title: &str, spots: &[SpotInk]) -> Result<Vec<u8>> {
    let mut document = Document::new();
    for spot in spots {
        document.define_spot(spot)?;
    }
    let boxes = Boxes::trimmed(format.trim(), format.bleed_box());
    let placed = place(&mut document, pages)?;
    let mut pictures = BTreeMap::new();
    for page in pages {
        let mut hand = Hand {
            document: &mut document,
            content: Content::new(),
            pictures: &mut pictures,
            placed: &placed,
            state: State::default(),
        };
        // What stands around artwork is drawn between `q` and `Q`, so that each page of artwork begins as it would alone.
        let with_art = page.has_art();
        if with_art {
            hand.content.save();
        }
        for drawn in &page.drawn {
            hand.draw(drawn)?;
        }
        let mut content = hand.content;
        if with_art {
            content.restore();
        }
        document.add_page(&boxes, content, &extra(page, &placed))?;
    }
    document.save(&Saving::default().text("Title", title))
}

/// Pages of artwork as forms.
#[derive(Default)]
struct PlacedArt {
    /// By file and page.
    forms: BTreeMap<(String, u32), ObjectId>,
    /// Whether one of them blends in a group of its own.
    grouped: bool,
}

/// Makes all pages of artwork forms of the document, each once.
fn place(document: &mut Document, pages: &[Page]) -> Result<PlacedArt> {
    let mut placer = Placer::default();
    let mut forms = BTreeMap::new();
    for drawn in pages.iter().flat_map(|page| &page.drawn) {
        let Drawn::Art { artwork, number, .. } = drawn else { continue };
        if let Entry::Vacant(vacant) = forms.entry((artwork.name().to_owned(), *number)) {
            vacant.insert(placer.place(document, artwork, &artwork.source_page(*number)?)?);
        }
    }
    if forms.is_empty() {
        return Ok(PlacedArt::default());
    }
    let placed = placer.finish(document);
    let forms = forms.into_iter().map(|(key, form)| (key, placed.form(form))).collect();
    Ok(PlacedArt { forms, grouped: placed.grouped })
}

/// What a page says beside its boxes and contents: where artwork blends in a group of its own, the page blends in the inks
/// of the press.
fn extra(page: &Page, placed: &PlacedArt) -> Dictionary {
    let mut extra = Dictionary::new();
    if placed.grouped && page.has_art() {
        let mut group = Dictionary::new();
        group.set("S", name("Transparency"));
        group.set("CS", name("DeviceCMYK"));
        extra.set("Group", group);
    }
    extra
}

/// What is in force, so that nothing is said twice.
#[derive(Clone, Default)]
struct State {
    fill: Option<Colour>,
    stroke: Option<Colour>,
    weight: Option<Length>,
    cap: Cap,
    overprint: Overprint,
}

/// A picture file in one colour, as it was written.
type PictureKey = (String, String);

struct Hand<'a> {
    document: &'a mut Document,
    content: Content,
    pictures: &'a mut BTreeMap<PictureKey, ObjectId>,
    placed: &'a PlacedArt,
    state: State,
}

impl Hand<'_> {
    fn draw(&mut self, drawn: &Drawn) -> Result<()> {
        match drawn {
            Drawn::Block { rect, colour } => {
                self.fill(colour, Overprint::Off)?;
                self.content.rect(*rect).fill();
            }
            Drawn::Fill { path, colour } => {
                self.fill(colour, Overprint::Off)?;
                self.content.path(path).fill();
            }
            Drawn::Stroke { path, weight, colour } => {
                self.stroke(colour, *weight, Cap::Butt)?;
                self.content.path(path).stroke();
            }
            Drawn::Rule { from, to, weight, colour } => {
                self.stroke(colour, *weight, Cap::Square)?;
                self.content.move_to(*from).line_to(*to).stroke();
            }
            Drawn::Text { line, at, turn, colour } => {
                let overprint = if is_black(colour) { Overprint::OnNonZero } else { Overprint::Off };
                self.fill(colour, overprint)?;
                self.content.text_turned(self.document, line, *at, *turn)?;
            }
            Drawn::Picture { picture, file, matrix, clip, colour } => {
                let id = self.picture(picture, file, colour)?;
                if picture.space == Space::Stencil {
                    self.fill(colour, Overprint::Off)?;
                } else {
                    self.overprint(Overprint::Off);
                }
                self.content.save();
                if let Some(clip) = clip {
                    self.content.rect(*clip).clip();
                }
                self.content.transform(Affine::new(*matrix)).draw(id).restore();
            }
            Drawn::Art { artwork, number, matrix, clip } => self.art(artwork, *number, *matrix, *clip)?,
        }
        Ok(())
    }

    /// A page of artwork, which must begin with the graphics state of a page of its own (ISO 32000-1, 8.4.1).
    fn art(&mut self, artwork: &Artwork, number: u32, matrix: [f64; 6], clip: Rect) -> Result<()> {
        let form = self.placed.forms.get(&(artwork.name().to_owned(), number)).copied();
        let form = form.ok_or_else(|| Fault::new(Source::Nowhere, "a placed page was lost"))?;
        self.content.restore().save().rect(clip).clip();
        self.content.transform(Affine::new(matrix)).draw(form).restore().save();
        self.state = State::default();
        Ok(())
    }

    fn overprint(&mut self, overprint: Overprint) {
        if self.state.overprint != overprint {
            self.content.overprint(self.document, overprint);
            self.state.overprint = overprint;
        }
    }

    fn fill(&mut self, colour: &Colour, overprint: Overprint) -> Result<()> {
        self.overprint(overprint);
        if self.state.fill.as_ref() != Some(colour) {
            self.content.fill_colour(self.document, colour)?;
            self.state.fill = Some(colour.clone());
        }
        Ok(())
    }

    fn stroke(&mut self, colour: &Colour, weight: Length, cap: Cap) -> Result<()> {
        let overprints = is_black(colour) && weight < OVERPRINTS_BELOW;
        self.overprint(if overprints { Overprint::OnNonZero } else { Overprint::Off });
        if self.state.stroke.as_ref() != Some(colour) {
            self.content.stroke_colour(self.document, colour)?;
            self.state.stroke = Some(colour.clone());
        }
        if self.state.weight != Some(weight) {
            self.content.line_width(weight);
            self.state.weight = Some(weight);
        }
        if self.state.cap != cap {
            self.content.cap(cap);
            self.state.cap = cap;
        }
        Ok(())
    }

    fn picture(&mut self, picture: &Picture, file: &str, colour: &Colour) -> Result<ObjectId> {
        let table = if picture.space == Space::Gray { tinted(colour) } else { None };
        let key = (file.to_owned(), table.as_ref().map(|_| colour.to_string()).unwrap_or_default());
        if let Some(id) = self.pictures.get(&key) {
            return Ok(*id);
        }
        let space = match (&picture.space, table) {
            (_, Some((colour, table))) => ImageSpace::Other(self.indexed(&colour, table)?, 1),
            (Space::Stencil, None) => ImageSpace::Stencil,
            (Space::Gray, None) => ImageSpace::Gray,
            (Space::Cmyk { .. }, None) => ImageSpace::Cmyk,
            (Space::Rgb(profile), None) => ImageSpace::Other(self.icc(profile.as_deref())?, 3),
        };
        let soft_mask = match &picture.alpha {
            Some(alpha) => Some(self.document.add_image(&ImageXObject {
                width: picture.width,
                height: picture.height,
                bits: 8,
                space: ImageSpace::Gray,
                data: ImageData::Samples(alpha.clone()),
                soft_mask: None,
            })?),
            None => None,
        };
        let data = match &picture.data {
            Data::Samples(samples) => ImageData::Samples(samples.clone()),
            Data::Jpeg(file) => {
                ImageData::Jpeg { file: file.to_vec(), inverted: picture.space == (Space::Cmyk { inverted: true }) }
            }
        };
        let (width, height, bits) = (picture.width, picture.height, picture.bits);
        let id = self.document.add_image(&ImageXObject { width, height, bits, space, data, soft_mask })?;
        self.pictures.insert(key, id);
        Ok(id)
    }

    /// A space of 256 grays in tints of a colour (ISO 32000-1, 8.6.6.3).
    fn indexed(&mut self, colour: &Colour, table: Vec<u8>) -> Result<ObjectId> {
        let base = match colour {
            Colour::Inks { tints, look } => match tints.as_slice() {
                [(ink, tint)] => Object::Reference(self.document.ink_space(ink, *tint, look)?),
                _ => return Err(unwritable(colour)),
            },
            Colour::Cmyk(_) => name("DeviceCMYK"),
            _ => return Err(unwritable(colour)),
        };
        let objects = self.document.objects_mut();
        let mut table = Stream::new(Dictionary::new(), table);
        // Where deflating gains nothing the table stays as it is.
        let _ = table.compress();
        let table = objects.add_object(table);
        Ok(objects.add_object(Object::Array(vec![
            name("Indexed"),
            base,
            Object::Integer(255),
            Object::Reference(table),
        ])))
    }

    /// An ICC-based RGB space (ISO 32000-1, 8.6.5.5): the picture's own profile, or sRGB.
    fn icc(&mut self, profile: Option<&[u8]>) -> Result<ObjectId> {
        let profile = match profile {
            Some(profile) => profile.to_vec(),
            None => srgb()?,
        };
        let objects = self.document.objects_mut();
        let mut dict = Dictionary::new();
        dict.set("N", 3);
        dict.set("Alternate", name("DeviceRGB"));
        let mut stream = Stream::new(dict, profile);
        let _ = stream.compress();
        let stream = objects.add_object(stream);
        Ok(objects.add_object(Object::Array(vec![name("ICCBased"), Object::Reference(stream)])))
    }
}

/// Black ink alone and solid.
fn is_black(colour: &Colour) -> bool {
    *colour == Colour::BLACK
}

fn name(text: &str) -> Object {
    Object::Name(text.as_bytes().to_vec())
}

fn unwritable(colour: &Colour) -> crate::fault::Faults {
    Fault::new(Source::Nowhere, format!("a gray picture cannot be printed in {colour}")).hint("state one ink").into()
}

/// The sRGB profile (IEC 61966-2-1), dated at that standard's year so that it is the same bytes every time.
fn srgb() -> Result<Vec<u8>> {
    let mut profile = moxcms::ColorProfile::new_srgb();
    profile.creation_date_time =
        moxcms::ColorDateTime { year: 1999, month: 1, day_of_the_month: 1, hours: 0, minutes: 0, seconds: 0 };
    profile
        .encode()
        .map_err(|why| Fault::new(Source::Nowhere, format!("the sRGB profile cannot be made: {why}")).into())
}
