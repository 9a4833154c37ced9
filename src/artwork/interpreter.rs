use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use kurbo::{Affine, BezPath, Point};
use lopdf::{Dictionary, ObjectId};

use super::filters::{self, Undecoded};
use super::font::Font;
use super::layers::Layers;
use super::lexer::Lexer;
use super::limits::{Purse, Remark, Topic, over};
use super::objects::Objects;
use super::operand::{Operand, Token};
use super::space::Space;
use super::state::State;
use super::surface::{Shading, Surface, Winding};
use crate::fault::{Result, Source};

/// Reads content streams and drives a surface.
pub(super) struct Interpreter<'a, 's> {
    pub(super) objects: Objects<'a>,
    pub(super) layers: &'a Layers,
    pub(super) surface: &'s mut dyn Surface,
    pub(super) purse: Purse,
    pub(super) remarks: BTreeSet<(u32, String, Topic)>,
    pub(super) file: &'a str,
    pub(super) page: u32,
    pub(super) fonts: BTreeMap<ObjectId, Arc<Font>>,
    pub(super) spaces: BTreeMap<ObjectId, Arc<Space>>,
    /// Spaces and fonts that stand right in the resources, by where their object lies in memory.
    pub(super) direct_spaces: BTreeMap<usize, Option<Arc<Space>>>,
    pub(super) direct_fonts: BTreeMap<usize, Arc<Font>>,
    /// Shadings that are objects of their own.
    pub(super) shadings: BTreeMap<ObjectId, Arc<Shading>>,
    /// Shadings that are no objects of their own, by their address.
    pub(super) direct_shadings: BTreeMap<usize, Arc<Shading>>,
    /// Decoded streams that may be drawn again.
    decoded: BTreeMap<ObjectId, Arc<[u8]>>,
    decoded_bytes: usize,
    /// Streams that are being drawn now; one of them inside itself is left out.
    pub(super) open: Vec<ObjectId>,
    /// Pattern cells and masks that the surface has seen.
    pub(super) shown: BTreeSet<(ObjectId, [u64; 6], String)>,
    /// Inside how many layers or marked contents that do not print.
    pub(super) hidden: usize,
}

/// Where a content stream stands: its resources and the space its patterns hang on.
#[derive(Clone)]
pub(super) struct Scope<'a> {
    pub(super) resources: Option<&'a Dictionary>,
    /// Where in the content which object begins.
    pub(super) parts: Vec<(usize, u32)>,
    /// The space of the content stream to face points.
    pub(super) base: Affine,
    /// Whether colour operators are left out: uncoloured cells and glyphs.
    pub(super) colourless: bool,
}

/// What one content stream is in the middle of.
pub(super) struct Frame {
    pub(super) state: State,
    pub(super) saved: Vec<(State, usize)>,
    pub(super) clips: usize,
    pub(super) operands: Vec<Operand>,
    pub(super) path: BezPath,
    pub(super) pen: Option<Point>,
    pub(super) pending_clip: Option<Winding>,
    pub(super) text_matrix: Affine,
    pub(super) line_matrix: Affine,
    pub(super) text_clip: BezPath,
    pub(super) marked: Vec<bool>,
}

/// Operands before one operator; more are left out.
const MOST_OPERANDS: usize = 100_000;
/// States saved inside one another.
const MOST_SAVED: usize = 10_000;
/// Bytes of decoded streams that are kept for drawing them again.
const MOST_KEPT: usize = 32 << 20;
/// Remarks on one page.
const MOST_REMARKS: usize = 200;

impl<'a, 's> Interpreter<'a, 's> {
    pub(super) fn new(
        objects: Objects<'a>,
        layers: &'a Layers,
        surface: &'s mut dyn Surface,
        purse: Purse,
        file: &'a str,
        page: u32,
    ) -> Self {
        Self {
            objects,
            layers,
            surface,
            purse,
            remarks: BTreeSet::new(),
            file,
            page,
            fonts: BTreeMap::new(),
            spaces: BTreeMap::new(),
            direct_spaces: BTreeMap::new(),
            direct_fonts: BTreeMap::new(),
            shadings: BTreeMap::new(),
            direct_shadings: BTreeMap::new(),
            decoded: BTreeMap::new(),
            decoded_bytes: 0,
            open: Vec::new(),
            shown: BTreeSet::new(),
            hidden: 0,
        }
    }

    pub(super) fn source(&self, object: Option<u32>) -> Source {
        Source::Pdf { file: self.file.to_owned(), page: Some(self.page), object }
    }

    /// Notes something odd in an object, once.
    pub(super) fn remark(&mut self, object: Option<u32>, message: impl Into<String>) {
        self.remark_on(Topic::Mended, object, message);
    }

    pub(super) fn remark_on(&mut self, topic: Topic, object: Option<u32>, message: impl Into<String>) {
        if self.remarks.len() < MOST_REMARKS {
            self.remarks.insert((object.unwrap_or(0), message.into(), topic));
        }
    }

    /// What was odd, in the order of objects.
    pub(super) fn into_remarks(self) -> Vec<Remark> {
        let (file, page) = (self.file, self.page);
        self.remarks
            .into_iter()
            .map(|(object, message, topic)| {
                let object = Some(object).filter(|n| *n > 0);
                let source = Source::Pdf { file: file.to_owned(), page: Some(page), object };
                Remark { message, source, topic }
            })
            .collect()
    }

    /// Decodes a content stream within the budget. One that does not decode draws nothing and is told.
    pub(super) fn decode(&mut self, id: ObjectId) -> Result<Arc<[u8]>> {
        if let Some(known) = self.decoded.get(&id) {
            return Ok(Arc::clone(known));
        }
        let bytes: Arc<[u8]> = Arc::from(self.decode_anew(id)?);
        if self.decoded_bytes + bytes.len() <= MOST_KEPT {
            self.decoded_bytes += bytes.len();
            self.decoded.insert(id, Arc::clone(&bytes));
        }
        Ok(bytes)
    }

    fn decode_anew(&mut self, id: ObjectId) -> Result<Vec<u8>> {
        let objects = self.objects;
        let Some(stream) = objects.object(id).and_then(|o| o.as_stream().ok()) else { return Ok(Vec::new()) };
        match filters::decode(objects, &stream.dict, &stream.content, self.purse.stream()) {
            Ok(decoded) if decoded.picture_filter.is_none() => {
                self.purse.take_bytes(decoded.bytes.len());
                Ok(decoded.bytes)
            }
            Ok(_) => {
                self.remark_on(
                    Topic::Lost,
                    Some(id.0),
                    "a content stream is compressed as a picture; it draws nothing",
                );
                Ok(Vec::new())
            }
            Err(Undecoded::Bad(why)) => {
                self.remark_on(
                    Topic::Lost,
                    Some(id.0),
                    format!("a content stream cannot be decoded and draws nothing ({why})"),
                );
                Ok(Vec::new())
            }
            Err(Undecoded::TooLarge(most)) => {
                let message = format!("the page's drawing decodes to more than {} MiB", most >> 20);
                Err(over(self.source(Some(id.0)), message))
            }
        }
    }

    /// Runs a content stream from a state and leaves the surface's clips as they were.
    pub(super) fn run(&mut self, content: &[u8], scope: &Scope<'a>, state: State) -> Result<()> {
        let mut frame = Frame {
            state,
            saved: Vec::new(),
            clips: 0,
            operands: Vec::new(),
            path: BezPath::new(),
            pen: None,
            pending_clip: None,
            text_matrix: Affine::IDENTITY,
            line_matrix: Affine::IDENTITY,
            text_clip: BezPath::new(),
            marked: Vec::new(),
        };
        let mut lexer = Lexer::new(content);
        let mut parts = scope.parts.iter().peekable();
        while let Some(token) = lexer.next() {
            while let Some((start, object)) = parts.peek().filter(|(start, _)| *start < lexer.at()) {
                let _ = start;
                frame.state.object = Some(*object);
                parts.next();
            }
            match token {
                Token::Operand(operand) if frame.operands.len() < MOST_OPERANDS => frame.operands.push(operand),
                Token::Operand(_) => {}
                Token::Operator(word) => {
                    if let Some(message) = self.purse.take_operator() {
                        return Err(over(self.source(frame.state.object), message));
                    }
                    if word == b"BI" {
                        self.inline_image(&mut lexer, &mut frame, scope)?;
                    } else {
                        self.operator(&word, &mut frame, scope)?;
                    }
                    frame.operands.clear();
                }
            }
        }
        for bent in lexer.take_bent() {
            self.remark(frame.state.object, bent.what);
        }
        if !frame.saved.is_empty() {
            let message = format!("{} saved graphics states (q) are never taken back (Q)", frame.saved.len());
            self.remark(frame.state.object, message);
        }
        self.hidden -= frame.marked.iter().filter(|hides| **hides).count();
        for _ in 0..frame.clips {
            self.surface.pop_clip();
        }
        Ok(())
    }

    fn operator(&mut self, word: &[u8], frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        match word {
            b"q" => {
                if frame.saved.len() < MOST_SAVED {
                    frame.saved.push((frame.state.clone(), frame.clips));
                }
            }
            b"Q" => self.restore(frame),
            b"cm" => {
                if let Some(matrix) = frame.matrix() {
                    frame.state.ctm *= matrix;
                } else {
                    self.short_of_operands(frame, word);
                }
            }
            b"w" | b"J" | b"j" | b"M" | b"d" | b"gs" | b"i" | b"ri" => self.state_operator(word, frame, scope)?,
            b"m" | b"l" | b"c" | b"v" | b"y" | b"h" | b"re" => self.path_operator(word, frame),
            b"S" | b"s" | b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"n" => {
                self.paint_path(word, frame, scope)?;
            }
            b"W" => frame.pending_clip = Some(Winding::NonZero),
            b"W*" => frame.pending_clip = Some(Winding::EvenOdd),
            b"g" | b"G" | b"rg" | b"RG" | b"k" | b"K" | b"cs" | b"CS" | b"sc" | b"SC" | b"scn" | b"SCN" => {
                if !scope.colourless {
                    self.colour_operator(word, frame, scope);
                }
            }
            b"BT" | b"ET" | b"Tc" | b"Tw" | b"Tz" | b"TL" | b"Tf" | b"Tr" | b"Ts" | b"Td" | b"TD" | b"Tm" | b"T*"
            | b"Tj" | b"TJ" | b"'" | b"\"" => self.text_operator(word, frame, scope)?,
            b"Do" => self.draw_object(frame, scope)?,
            b"sh" => self.shade(frame, scope),
            b"BMC" => frame.marked.push(false),
            b"BDC" => {
                let hides = self.hides(frame, scope);
                self.hidden += usize::from(hides);
                frame.marked.push(hides);
            }
            b"EMC" => {
                if frame.marked.pop().unwrap_or(false) {
                    self.hidden -= 1;
                }
            }
            b"MP" | b"DP" | b"BX" | b"EX" | b"d0" | b"d1" | b"EI" => {}
            other => {
                let message = format!("`{}` is no drawing operator and was left out", shown(other));
                self.remark(frame.state.object, message);
            }
        }
        Ok(())
    }

    fn restore(&mut self, frame: &mut Frame) {
        let Some((mut state, clips)) = frame.saved.pop() else {
            self.remark(frame.state.object, "a graphics state is taken back (Q) that was never saved (q)");
            return;
        };
        while frame.clips > clips {
            self.surface.pop_clip();
            frame.clips -= 1;
        }
        state.object = frame.state.object;
        frame.state = state;
    }

    /// Whether the marked content that begins here belongs to a layer that does not print.
    fn hides(&self, frame: &Frame, scope: &Scope<'a>) -> bool {
        let (Some(Operand::Name(tag)), Some(Operand::Name(name))) = (frame.operands.first(), frame.operands.get(1))
        else {
            return false;
        };
        if tag != b"OC" {
            return false;
        }
        scope
            .resources
            .and_then(|r| self.objects.dict(r, "Properties"))
            .and_then(|p| p.get(name).ok())
            .is_some_and(|content| !self.layers.prints(self.objects, content))
    }

    /// Whether painting reaches the surface now.
    pub(super) fn prints(&self) -> bool {
        self.hidden == 0
    }

    pub(super) fn short_of_operands(&mut self, frame: &Frame, word: &[u8]) {
        let message = format!("`{}` has too few or wrong operands and was left out", shown(word));
        self.remark(frame.state.object, message);
    }
}

/// An operator's bytes for a message.
fn shown(word: &[u8]) -> String {
    String::from_utf8_lossy(word.get(..word.len().min(20)).unwrap_or_default()).escape_debug().to_string()
}

impl Frame {
    /// The last `N` operands, where all are numbers.
    pub(super) fn numbers<const N: usize>(&self) -> Option<[f64; N]> {
        let start = self.operands.len().checked_sub(N)?;
        let mut found = [0.0; N];
        for (place, operand) in found.iter_mut().zip(self.operands.get(start..)?) {
            match operand {
                Operand::Number(v) => *place = *v,
                _ => return None,
            }
        }
        Some(found)
    }

    /// All operands that are numbers.
    pub(super) fn all_numbers(&self) -> Vec<f64> {
        let number = |o: &Operand| if let Operand::Number(v) = o { Some(*v) } else { None };
        self.operands.iter().filter_map(number).collect()
    }

    /// The last operand, where it is a name.
    pub(super) fn name(&self) -> Option<&[u8]> {
        match self.operands.last() {
            Some(Operand::Name(name)) => Some(name),
            _ => None,
        }
    }

    /// The last six operands as a matrix.
    pub(super) fn matrix(&self) -> Option<Affine> {
        self.numbers::<6>().map(Affine::new).filter(Affine::is_finite)
    }
}
