use std::collections::BTreeMap;
use std::sync::Arc;

use lopdf::{Dictionary, Object, ObjectId};

use super::embed::embed_font_as;
use super::heavy::Heavy;
use super::image::deflated;
use super::ink_space::{separation, separation_all, separation_of};
use super::pieces::Pieces;
use super::{Content, ImageXObject, Overprint, Saving, ext_gstate, fault, image_xobject, rect_object, save};
use crate::fault::Result;
use crate::font::{FontSubset, OpenFont, ShapedLine};
use crate::ink::{Colour, Ink, SpotInk};
use crate::unit::Rect;

/// The boxes of a page (14.11.2); those left out are not written.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Boxes {
    /// The medium.
    pub media: Rect,
    /// What is shown.
    pub crop: Option<Rect>,
    /// Trim plus bleed.
    pub bleed: Option<Rect>,
    /// The finished piece.
    pub trim: Option<Rect>,
    /// The meaningful content; not together with `trim` in PDF/X.
    pub art: Option<Rect>,
}

impl Boxes {
    /// A page of trim plus bleed.
    pub const fn trimmed(trim: Rect, bleed: Rect) -> Self {
        Self { media: bleed, crop: None, bleed: Some(bleed), trim: Some(trim), art: None }
    }
}

/// A PDF being written: its pages, and what they share.
pub struct Document {
    objects: lopdf::Document,
    catalog: Dictionary,
    catalog_id: ObjectId,
    tree_id: ObjectId,
    pages: Vec<ObjectId>,
    spots: BTreeMap<Arc<str>, SpotInk>,
    spaces: BTreeMap<Ink, ObjectId>,
    states: BTreeMap<Overprint, ObjectId>,
    fonts: BTreeMap<OpenFont, (ObjectId, FontSubset)>,
    carried: Vec<Heavy>,
}

/// A line taken into the document's fonts.
pub(super) struct SetLine {
    pub(super) font: ObjectId,
    pub(super) cids: Vec<u16>,
    /// Whether the ToUnicode map gives this line's text back.
    pub(super) says_itself: bool,
}

impl Default for Document {
    fn default() -> Self {
        Self::new()
    }
}

impl Document {
    /// No pages yet.
    pub fn new() -> Self {
        let mut objects = lopdf::Document::new();
        let (catalog_id, tree_id) = (objects.new_object_id(), objects.new_object_id());
        Self {
            objects,
            catalog: Dictionary::new(),
            catalog_id,
            tree_id,
            pages: Vec::new(),
            spots: BTreeMap::new(),
            spaces: BTreeMap::new(),
            states: BTreeMap::new(),
            fonts: BTreeMap::new(),
            carried: Vec::new(),
        }
    }

    /// Makes the heavy pictures of a file known whose objects are copied into this one.
    pub fn carry(&mut self, heavy: &Heavy) {
        self.carried.push(heavy.clone());
    }

    /// The objects written so far.
    pub const fn objects(&self) -> &lopdf::Document {
        &self.objects
    }

    /// The objects, to add others to.
    pub const fn objects_mut(&mut self) -> &mut lopdf::Document {
        &mut self.objects
    }

    /// The catalog, for output intents, layers and the like. `Type`, `Pages` and `Metadata` are set on saving.
    pub const fn catalog_mut(&mut self) -> &mut Dictionary {
        &mut self.catalog
    }

    /// Makes a spot ink known, so that tints of it are written with its own alternate. A second, different ink of one name is a
    /// fault, and so is one that was used before it was known.
    pub fn define_spot(&mut self, ink: &SpotInk) -> Result<()> {
        let same = |a: &SpotInk| a.cmyk.iter().zip(&ink.cmyk).all(|(a, b)| (a - b).abs() < f64::EPSILON);
        match self.spots.get(&ink.name) {
            Some(have) if same(have) => Ok(()),
            Some(_) => Err(fault(format!("the spot ink {} has two process alternates", ink.name))),
            None if self.spaces.contains_key(&Ink::Spot(Arc::clone(&ink.name))) => {
                Err(fault(format!("the spot ink {} is used before its process alternate is known", ink.name)))
            }
            None => {
                self.spots.insert(Arc::clone(&ink.name), ink.clone());
                Ok(())
            }
        }
    }

    /// The colour space of one ink, made at its first use. A spot that was not defined gets the alternate that `look` at `tint` implies.
    pub fn ink_space(&mut self, ink: &Ink, tint: f64, look: &Colour) -> Result<ObjectId> {
        if let Some(id) = self.spaces.get(ink) {
            return Ok(*id);
        }
        let process = |n: usize| {
            let mut solid = [0.0; 4];
            if let Some(v) = solid.get_mut(n) {
                *v = 1.0;
            }
            solid
        };
        let space = match ink {
            Ink::All => separation_all(),
            Ink::None => separation_of("None", [0.0; 4]),
            Ink::Cyan => separation_of("Cyan", process(0)),
            Ink::Magenta => separation_of("Magenta", process(1)),
            Ink::Yellow => separation_of("Yellow", process(2)),
            Ink::Black => separation_of("Black", process(3)),
            Ink::Spot(name) => match (self.spots.get(name), look) {
                (Some(known), _) => separation(known),
                (None, Colour::Cmyk(cmyk)) if tint > 0.0 => {
                    separation_of(name, cmyk.map(|v| (v / tint).clamp(0.0, 1.0)))
                }
                _ => return Err(fault(format!("the spot ink {name} is used before its process alternate is known"))),
            },
        };
        let id = self.objects.add_object(space);
        self.spaces.insert(ink.clone(), id);
        Ok(id)
    }

    /// The graphics state of an overprint setting, made at its first use.
    pub fn overprint_state(&mut self, overprint: Overprint) -> ObjectId {
        let objects = &mut self.objects;
        *self.states.entry(overprint).or_insert_with(|| objects.add_object(ext_gstate(overprint)))
    }

    /// Takes a line into its font's subset.
    pub(super) fn set(&mut self, line: &ShapedLine) -> Result<SetLine> {
        if !self.fonts.contains_key(&line.font) {
            let subset = FontSubset::new(line.font)?;
            self.fonts.insert(line.font, (self.objects.new_object_id(), subset));
        }
        let Some((font, subset)) = self.fonts.get_mut(&line.font) else {
            return Err(fault("a font was lost"));
        };
        let cids = subset.take(line)?;
        let says_itself = cids.iter().enumerate().all(|(n, cid)| subset.says(*cid).unwrap_or("") == line.says(n));
        Ok(SetLine { font: *font, cids, says_itself })
    }

    /// Adds a picture; place it with [`Content::picture`].
    pub fn add_image(&mut self, image: &ImageXObject) -> Result<ObjectId> {
        Ok(self.objects.add_object(image_xobject(image)?))
    }

    /// Adds a form (8.10) that covers `bounds` in its own space; draw it with [`Content::draw`]. `extra` may carry a `Group`.
    pub fn add_form(&mut self, bounds: Rect, content: Content, extra: &Dictionary) -> Result<ObjectId> {
        let (bytes, resources) = content.finish()?;
        let mut dict = extra.clone();
        dict.set("Type", Object::Name(b"XObject".to_vec()));
        dict.set("Subtype", Object::Name(b"Form".to_vec()));
        dict.set("BBox", rect_object(bounds));
        dict.set("Resources", resources.dictionary());
        Ok(self.objects.add_object(deflated(dict, bytes)?))
    }

    /// Adds a page at the end. `extra` may carry a `Group` or a `Rotate`.
    pub fn add_page(&mut self, boxes: &Boxes, content: Content, extra: &Dictionary) -> Result<ObjectId> {
        let (bytes, resources) = content.finish()?;
        let contents = self.objects.add_object(deflated(Dictionary::new(), bytes)?);
        let mut page = extra.clone();
        page.set("Type", Object::Name(b"Page".to_vec()));
        page.set("Parent", Object::Reference(self.tree_id));
        page.set("MediaBox", rect_object(boxes.media));
        let others =
            [("CropBox", boxes.crop), ("BleedBox", boxes.bleed), ("TrimBox", boxes.trim), ("ArtBox", boxes.art)];
        for (key, rect) in others {
            if let Some(rect) = rect {
                page.set(key, rect_object(rect));
            }
        }
        page.set("Resources", resources.dictionary());
        page.set("Contents", Object::Reference(contents));
        let id = self.objects.add_object(page);
        self.pages.push(id);
        Ok(id)
    }

    /// The page objects in order.
    pub fn pages(&self) -> &[ObjectId] {
        &self.pages
    }

    /// The spot inks that were used, by name.
    pub fn used_spots(&self) -> Vec<&str> {
        self.spaces.keys().filter(|ink| ink.is_spot()).map(Ink::name).collect()
    }

    /// Embeds the fonts, closes the page tree and gives the file's bytes.
    pub fn save(self, saving: &Saving) -> Result<Vec<u8>> {
        Ok(self.finish(saving)?.into_bytes())
    }

    /// The same, with heavy pictures left where they stand.
    pub fn finish(mut self, saving: &Saving) -> Result<Pieces> {
        for (id, subset) in self.fonts.values() {
            embed_font_as(&mut self.objects, *id, subset)?;
        }
        let mut tree = Dictionary::new();
        tree.set("Type", Object::Name(b"Pages".to_vec()));
        let count = i64::try_from(self.pages.len()).map_err(|_| fault("there are too many pages"))?;
        tree.set("Count", count);
        tree.set("Kids", Object::Array(self.pages.iter().map(|id| Object::Reference(*id)).collect()));
        self.objects.set_object(self.tree_id, tree);
        self.catalog.set("Type", Object::Name(b"Catalog".to_vec()));
        self.catalog.set("Pages", Object::Reference(self.tree_id));
        self.objects.set_object(self.catalog_id, self.catalog);
        self.objects.trailer.set("Root", Object::Reference(self.catalog_id));
        save(self.objects, saving, &self.carried)
    }
}
