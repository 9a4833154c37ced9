use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex};

use lopdf::{Dictionary, Document, ObjectId, Stream};

use super::annotations;
use super::collect::Collector;
use super::device;
use super::facts;
use super::filters;
use super::font::Font;
use super::inline_image::ends_inside_text;
use super::interpreter::{Interpreter, Scope};
use super::layers::Layers;
use super::limits::{OpenOptions, Purse, Remark, Topic, over};
use super::objects::Objects;
use super::open;
use super::page::{self, SourcePage};
use super::state::State;
use super::surface::{Group, Surface};
use super::tree::{self, PageNode};
use crate::card::{Face, FileFacts, Repair, Side};
use crate::fault::{Fault, Faults, Result, Source};
use crate::pdf::Heavy;

/// A finished artwork PDF that was opened.
#[derive(Debug)]
pub struct Artwork {
    name: String,
    document: Document,
    heavy: Heavy,
    pages: Vec<PageNode>,
    layers: Layers,
    options: OpenOptions,
    remarks: Mutex<Vec<Remark>>,
    known_fonts: Mutex<BTreeMap<ObjectId, Arc<Font>>>,
}

/// Content streams of more bytes than this are joined without looking for a text that runs on.
const MOST_WATCHED: usize = 1 << 20;
/// Pages that one file may have; a card has two.
const MOST_PAGES: usize = 10_000;

impl Artwork {
    /// Opens a PDF. Damage is repaired where it can be and told in [`Artwork::remarks`]; a file that stays shut, is no PDF or
    /// has no pages is a fault.
    pub fn open(bytes: &[u8], name: &str, options: &OpenOptions) -> Result<Self> {
        let mut remarks = Vec::new();
        let document = open::load(bytes, name, options, &mut remarks)?;
        Self::of(document, Heavy::default(), remarks, name, options)
    }

    /// The same for bytes that may be kept: heavy pictures stay in them and are not copied.
    pub fn open_shared(bytes: &Arc<[u8]>, name: &str, options: &OpenOptions) -> Result<Self> {
        match open::load_light(bytes, options) {
            Some((document, heavy)) => Self::of(document, heavy, Vec::new(), name, options),
            None => Self::open(bytes, name, options),
        }
    }

    fn of(
        document: Document,
        heavy: Heavy,
        mut remarks: Vec<Remark>,
        name: &str,
        options: &OpenOptions,
    ) -> Result<Self> {
        let objects = Objects::new(&document);
        let pages = tree::pages(objects, name, MOST_PAGES, &mut remarks);
        if pages.is_empty() {
            let fault = Fault::new(Source::File(name.to_owned()), "the PDF has no pages");
            return Err(fault.hint("export the artwork again").into());
        }
        let layers = Layers::read(objects);
        let remarks = Mutex::new(remarks);
        Ok(Self {
            name: name.to_owned(),
            document,
            heavy,
            pages,
            layers,
            options: options.clone(),
            remarks,
            known_fonts: Mutex::default(),
        })
    }

    /// How many pages it has; never none.
    pub fn page_count(&self) -> u32 {
        u32::try_from(self.pages.len()).unwrap_or(u32::MAX)
    }

    /// The name the file was opened under.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its objects.
    pub fn document(&self) -> &Document {
        &self.document
    }

    fn objects(&self) -> Objects<'_> {
        Objects::with(&self.document, &self.heavy)
    }

    /// The pictures that stay in the file.
    pub fn heavy(&self) -> &Heavy {
        &self.heavy
    }

    /// Forgets the file's bytes. What needs heavy pictures does not work any more; everything else does.
    pub fn let_go(&mut self) {
        self.heavy.let_go();
    }

    /// Its layers.
    pub fn layers(&self) -> &Layers {
        &self.layers
    }

    /// What the file says of itself, with what was mended in opening it and in the pages read so far.
    pub fn facts(&self) -> FileFacts {
        let repair = |r: Remark| Repair { message: r.message, source: r.source, lost: r.topic == Topic::Lost };
        let remarks = self.remarks().into_iter().filter(|r| r.topic != Topic::Annotation);
        FileFacts {
            pages: self.page_count(),
            layers: self.layers.states(),
            repairs: remarks.map(repair).collect(),
            ..facts::read(self.objects())
        }
    }

    /// Whether it has layers.
    pub fn has_layers(&self) -> bool {
        !self.layers.is_empty()
    }

    /// Repairs and oddities that were met so far, in opening and in the pages that were read, each once.
    pub fn remarks(&self) -> Vec<Remark> {
        self.remarks.lock().map(|r| r.clone()).unwrap_or_default()
    }

    /// A page, from 1, as the press file needs it.
    pub fn source_page(&self, number: u32) -> Result<SourcePage> {
        let node = self.node(number)?;
        let mut remarks = Vec::new();
        let source = self.source(number, node.id);
        let page = page::read(self.objects(), node, number, &self.layers, &source, &mut remarks);
        self.note(remarks);
        page
    }

    /// All of a page, from 1: its MediaBox in face points.
    pub fn page_area(&self, number: u32) -> Result<kurbo::Rect> {
        let page = self.source_page(number)?;
        Ok(page.matrix.transform_rect_bbox(page.boxes.media))
    }

    /// A page, from 1, as a face of the card: everything that is painted, in face coordinates.
    pub fn face(&self, number: u32, side: Side) -> Result<Face> {
        let page = self.source_page(number)?;
        let boxes = page.boxes.on_face();
        let mut collector =
            Collector::new(page.matrix.transform_rect_bbox(page.boxes.media), self.options.budget.elements);
        self.draw_page(&page, &mut collector)?;
        if collector.overfull() {
            let message = format!("the page paints more than {} things", self.options.budget.elements);
            return Err(over(self.source(number, page.object), message));
        }
        for font in self.fonts(&page)? {
            collector.list_font(&font);
        }
        let annotations =
            self.node(number).map(|node| annotations::listed(self.objects(), node, &self.layers, &page))?;
        let seen = collector.finish();
        Ok(Face {
            elements: seen.elements,
            fonts: seen.fonts,
            inks: seen.inks,
            profiles: seen.profiles,
            groups: seen.groups,
            annotations,
            device_settings: device::read(self.objects(), &page, self.options.budget.objects),
            rotate: page.boxes.rotate,
            user_unit: page.boxes.user_unit,
            ..Face::new(side, boxes, number)
        })
    }

    /// Drives `surface` with everything that prints on a page, from 1: the contents, then the annotations.
    pub fn draw(&self, number: u32, surface: &mut dyn Surface) -> Result<()> {
        let page = self.source_page(number)?;
        self.draw_page(&page, surface)
    }

    /// The bytes of a stream of this file after its general filters, within the budget; `None` where they cannot be had.
    pub fn stream_bytes(&self, stream: &Stream) -> Option<Vec<u8>> {
        let decoded = filters::decode(self.objects(), &stream.dict, &stream.content, self.options.budget.stream);
        decoded.ok().filter(|d| d.picture_filter.is_none()).map(|d| d.bytes)
    }

    /// The contents of a page as one stream: decoded, and joined as [`Artwork::draw`] joins them. Parts that cannot be decoded
    /// draw nothing and are left out.
    pub fn page_content(&self, page: &SourcePage) -> Vec<u8> {
        let mut content = Vec::new();
        for id in &page.contents {
            let stream = self.document.get_object(*id).and_then(lopdf::Object::as_stream);
            let Some(bytes) = stream.ok().and_then(|s| self.stream_bytes(s)) else { continue };
            if !content.is_empty() && (page.contents.len() > MOST_WATCHED || !ends_inside_text(&content)) {
                content.push(b'\n');
            }
            content.extend(bytes);
        }
        content
    }

    fn draw_page(&self, page: &SourcePage, surface: &mut dyn Surface) -> Result<()> {
        let objects = self.objects();
        let node = self.node(page.number)?;
        let purse = Purse::new(self.options.budget);
        let mut interpreter = Interpreter::new(objects, &self.layers, surface, purse, &self.name, page.number);
        interpreter.fonts = self.known_fonts.lock().map(|f| f.clone()).unwrap_or_default();
        let result = Self::interpret(&mut interpreter, objects, node, page);
        if let Ok(mut known) = self.known_fonts.lock() {
            known.append(&mut interpreter.fonts);
        }
        let remarks = interpreter.into_remarks();
        self.note(remarks);
        result
    }

    fn interpret<'a>(
        interpreter: &mut Interpreter<'a, '_>,
        objects: Objects<'a>,
        node: &'a PageNode,
        page: &SourcePage,
    ) -> Result<()> {
        let resources = node.resources(objects);
        let mut content = Vec::new();
        let mut parts = Vec::new();
        let mut from = 0;
        for id in &page.contents {
            let bytes = interpreter.decode(*id)?;
            // Streams are joined with a white space (ISO 32000-1, 7.8.2), one that also ends a comment; only a text that
            // runs on into the next stream is not torn apart.
            let last = content.get(from..).unwrap_or_default();
            let runs_on = last.len() < MOST_WATCHED && ends_inside_text(last);
            if !last.is_empty() && !runs_on {
                content.push(b'\n');
                from = content.len();
            }
            parts.push((content.len(), id.0));
            content.extend_from_slice(&bytes);
        }
        let mut state = State::new(page.matrix);
        state.object = page.contents.first().map(|id| id.0);
        let scope = Scope { resources, parts, base: page.matrix, colourless: false };
        let group = interpreter.group(&node.dict, resources).map(|g| Group { of_page: true, ..g });
        if let Some(group) = &group {
            interpreter.surface.begin_group(group, &state);
        }
        interpreter.run(&content, &scope, state.clone())?;
        if group.is_some() {
            interpreter.surface.end_group();
        }
        for annotation in &page.annotations {
            interpreter.draw_form(annotation.appearance, &state, resources, false, annotation.place)?;
        }
        Ok(())
    }

    /// Every font in the resources of a page, its forms, patterns and printing annotations, used or not.
    fn fonts(&self, page: &SourcePage) -> Result<Vec<Arc<Font>>> {
        let objects = self.objects();
        let mut seen: BTreeSet<ObjectId> = BTreeSet::new();
        let mut fonts = Vec::new();
        let mut waiting: Vec<&Dictionary> = vec![&page.resources];
        for annotation in &page.annotations {
            waiting.extend(objects.object(annotation.appearance).and_then(|o| objects.as_dict(o)));
        }
        let mut steps = 0_usize;
        while let Some(dict) = waiting.pop() {
            steps += 1;
            if steps > self.options.budget.objects {
                let message = "the page's resources never end".to_owned();
                return Err(over(self.source(page.number, page.object), message));
            }
            for key in ["XObject", "Pattern", "Font", "Resources"] {
                let Some(entries) = objects.dict(dict, key) else { continue };
                if key == "Resources" {
                    waiting.push(entries);
                    continue;
                }
                for (_, entry) in entries {
                    let id = entry.as_reference().ok();
                    if id.is_some_and(|id| !seen.insert(id)) {
                        continue;
                    }
                    let Some(inner) = objects.as_dict(entry) else { continue };
                    if key == "Font" {
                        let known = id.and_then(|id| self.known_fonts.lock().ok()?.get(&id).cloned());
                        fonts.push(known.unwrap_or_else(|| Arc::new(Font::read(objects, inner, id))));
                    }
                    if inner.get(b"Resources").is_ok() && (id.is_some() || key == "Font") {
                        waiting.push(inner);
                    }
                }
            }
        }
        Ok(fonts)
    }

    fn node(&self, number: u32) -> Result<&PageNode> {
        let index = usize::try_from(number).ok().and_then(|n| n.checked_sub(1));
        index.and_then(|i| self.pages.get(i)).ok_or_else(|| {
            let message = format!("the PDF has {} pages and no page {number}", self.pages.len());
            Faults::from(Fault::new(Source::File(self.name.clone()), message))
        })
    }

    fn source(&self, number: u32, object: Option<ObjectId>) -> Source {
        Source::Pdf { file: self.name.clone(), page: Some(number), object: object.map(|id| id.0) }
    }

    fn note(&self, remarks: Vec<Remark>) {
        if let Ok(mut known) = self.remarks.lock() {
            for remark in remarks {
                if !known.contains(&remark) {
                    known.push(remark);
                }
            }
        }
    }
}
