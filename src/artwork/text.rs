use std::sync::Arc;

use kurbo::Affine;
use lopdf::ObjectId;

use super::font::{Character, Font};
use super::interpreter::{Frame, Interpreter, Scope};
use super::lexer::Lexer;
use super::limits::over;
use super::objects::{count, name_text};
use super::operand::{Operand, Token};
use super::surface::{Glyph, GlyphRun, Winding};
use crate::fault::Result;

/// Text strings of one showing operator have this many bytes at the most; layout programs stay far below.
const MOST_BYTES: usize = 1 << 20;

impl<'a> Interpreter<'a, '_> {
    /// Text objects, state, positioning and showing.
    pub(super) fn text_operator(&mut self, word: &[u8], frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        match word {
            b"BT" => {
                frame.text_matrix = Affine::IDENTITY;
                frame.line_matrix = Affine::IDENTITY;
            }
            b"ET" => self.end_text(frame),
            b"Tf" => self.set_font(frame, scope),
            b"Tm" => match frame.matrix() {
                Some(matrix) => (frame.text_matrix, frame.line_matrix) = (matrix, matrix),
                None => self.short_of_operands(frame, word),
            },
            b"Td" | b"TD" => match frame.numbers::<2>() {
                Some([x, y]) => {
                    if word == b"TD" {
                        frame.state.text.leading = -y;
                    }
                    next_line(frame, x, y);
                }
                None => self.short_of_operands(frame, word),
            },
            b"T*" => {
                let leading = frame.state.text.leading;
                next_line(frame, 0.0, -leading);
            }
            b"Tj" | b"TJ" | b"'" | b"\"" => self.show(word, frame, scope)?,
            _ => self.text_state(word, frame),
        }
        Ok(())
    }

    fn text_state(&mut self, word: &[u8], frame: &mut Frame) {
        let Some([value]) = frame.numbers::<1>() else {
            self.short_of_operands(frame, word);
            return;
        };
        let text = &mut frame.state.text;
        match word {
            b"Tc" => text.character_space = value,
            b"Tw" => text.word_space = value,
            b"Tz" => text.scale = value / 100.0,
            b"TL" => text.leading = value,
            b"Tr" => text.mode = u8::try_from(count(value, 7)).unwrap_or(0),
            _ => text.rise = value,
        }
    }

    fn set_font(&mut self, frame: &mut Frame, scope: &Scope<'a>) {
        let (Some(Operand::Name(name)), Some(Operand::Number(size))) = (frame.operands.first(), frame.operands.get(1))
        else {
            self.short_of_operands(frame, b"Tf");
            return;
        };
        frame.state.text.size = *size;
        let fonts = scope.resources.and_then(|r| self.objects.dict(r, "Font"));
        let entry = fonts.and_then(|f| f.get(name).ok());
        let dict = entry.and_then(|o| self.objects.as_dict(o));
        let (Some(entry), Some(dict)) = (entry, dict) else {
            let message = format!("the font `{}` is not in the resources; its text was left out", name_text(name));
            frame.state.text.font = None;
            self.remark(frame.state.object, message);
            return;
        };
        frame.state.text.font = Some(self.font(dict, entry.as_reference().ok()));
    }

    /// A font, read once.
    pub(super) fn font(&mut self, dict: &'a lopdf::Dictionary, id: Option<ObjectId>) -> Arc<Font> {
        if let Some(known) = id.and_then(|id| self.fonts.get(&id)) {
            return Arc::clone(known);
        }
        let place_in_memory = std::ptr::from_ref(dict).addr();
        if let Some(known) = self.direct_fonts.get(&place_in_memory) {
            return Arc::clone(known);
        }
        let font = Arc::new(Font::read(self.objects, dict, id));
        if font.embedded && font.program.is_none() {
            let message = format!("the program of the font {} is damaged and cannot be measured", font.name());
            self.remark(id.map(|i| i.0), message);
        }
        if let Some(id) = id {
            self.fonts.insert(id, Arc::clone(&font));
        } else {
            self.direct_fonts.insert(place_in_memory, Arc::clone(&font));
        }
        font
    }

    fn show(&mut self, word: &[u8], frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        if word == b"\""
            && let Some([Operand::Number(w), Operand::Number(c)]) = frame.operands.get(..2)
        {
            (frame.state.text.word_space, frame.state.text.character_space) = (*w, *c);
        }
        if word == b"'" || word == b"\"" {
            let leading = frame.state.text.leading;
            next_line(frame, 0.0, -leading);
        }
        let Some(font) = frame.state.text.font.clone() else { return Ok(()) };
        let Some(operand) = frame.operands.pop() else {
            self.short_of_operands(frame, word);
            return Ok(());
        };
        let items = match operand {
            Operand::Array(items) => items,
            text @ Operand::Text(_) => vec![text],
            _ => {
                self.short_of_operands(frame, word);
                return Ok(());
            }
        };
        let mut glyphs = Vec::new();
        let mut bytes = 0;
        for item in &items {
            match item {
                Operand::Number(back) => {
                    let text = &frame.state.text;
                    let by = -back / 1000.0 * text.size;
                    let step = if font.vertical() { (0.0, by) } else { (by * text.scale, 0.0) };
                    frame.text_matrix *= Affine::translate(step);
                }
                Operand::Text(text) => {
                    bytes += text.len();
                    if bytes > MOST_BYTES {
                        break;
                    }
                    for character in font.characters(text) {
                        if let Some(message) = self.purse.take_operator() {
                            return Err(over(self.source(frame.state.object), message));
                        }
                        glyphs.push(place(frame, character));
                    }
                }
                _ => {}
            }
        }
        self.paint_glyphs(&GlyphRun { font, glyphs }, frame, scope)
    }

    fn paint_glyphs(&mut self, run: &GlyphRun, frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        if run.glyphs.is_empty() {
            return Ok(());
        }
        if frame.state.text.mode >= 4 {
            for glyph in &run.glyphs {
                let outline = glyph.matrix * run.font.outline(glyph.id.unwrap_or(0));
                frame.text_clip.extend(outline);
            }
        }
        if !self.prints() {
            return Ok(());
        }
        let painted = frame.state.painted();
        let fills = matches!(painted, crate::card::Painted::Fill | crate::card::Painted::Both);
        let strokes = matches!(painted, crate::card::Painted::Stroke | crate::card::Painted::Both);
        self.prepare(&frame.state, scope, fills, strokes)?;
        self.surface.glyphs(run, &frame.state);
        if run.font.type3.is_some() && frame.state.text.mode != 3 {
            for glyph in &run.glyphs {
                self.type3_glyph(&run.font, glyph, frame, scope)?;
            }
        }
        Ok(())
    }

    /// Draws a glyph of a Type 3 font by its content stream.
    fn type3_glyph(&mut self, font: &Arc<Font>, glyph: &Glyph, frame: &Frame, scope: &Scope<'a>) -> Result<()> {
        let Some(type3) = &font.type3 else { return Ok(()) };
        let id = u8::try_from(glyph.code).ok().and_then(|code| type3.glyphs.get(&code)).copied();
        let Some(id) = id else { return Ok(()) };
        if self.open.contains(&id) {
            self.remark(Some(id.0), "a Type 3 glyph draws itself; the inner one was left out");
            return Ok(());
        }
        self.purse.check_depth(self.open.len() + 1, &self.source(Some(id.0)))?;
        let content = self.decode(id)?;
        let coloured = !first_operator_is(&content, b"d1");
        let mut state = frame.state.clone();
        state.ctm = glyph.matrix * type3.matrix;
        state.object = Some(id.0);
        state.text.mode = 0;
        if !coloured {
            state.stroke = state.fill.clone();
            state.stroke_space = Arc::clone(&state.fill_space);
        }
        let own = self.type3_resources(font);
        let inner = Scope {
            resources: own.or(scope.resources),
            parts: Vec::new(),
            base: state.ctm,
            colourless: !coloured || scope.colourless,
        };
        self.surface.begin_glyph(coloured);
        self.open.push(id);
        let result = self.run(&content, &inner, state);
        self.open.pop();
        self.surface.end_glyph();
        result
    }

    /// The resources of a Type 3 font as they stand in the document.
    fn type3_resources(&self, font: &Font) -> Option<&'a lopdf::Dictionary> {
        let dict = self.objects.object(font.object?).and_then(|o| o.as_dict().ok())?;
        self.objects.dict(dict, "Resources")
    }

    fn end_text(&mut self, frame: &mut Frame) {
        let clip = std::mem::take(&mut frame.text_clip);
        if !clip.elements().is_empty() {
            self.surface.push_clip(&clip, Winding::NonZero);
            frame.clips += 1;
        }
    }
}

/// Moves to the start of the next line.
fn next_line(frame: &mut Frame, x: f64, y: f64) {
    frame.line_matrix *= Affine::translate((x, y));
    frame.text_matrix = frame.line_matrix;
}

/// Places a character at the pen and moves the pen (ISO 32000-1, 9.4.4).
fn place(frame: &mut Frame, character: Character) -> Glyph {
    let text = &frame.state.text;
    let spacing = text.character_space + if character.space { text.word_space } else { 0.0 };
    let em = Affine::new([text.size * text.scale, 0.0, 0.0, text.size, 0.0, text.rise]);
    let mut matrix = frame.state.ctm * frame.text_matrix * em;
    let in_ems = |length: f64| if text.size.abs() > 1.0e-12 { length / text.size } else { 0.0 };
    let (advance, step, by) = if let Some((down, x, y)) = character.upright {
        matrix *= Affine::translate((-x, -y));
        (character.width, down, (0.0, down * text.size + spacing))
    } else {
        let by = character.width * text.size + spacing;
        (character.width, character.width + in_ems(spacing), (by * text.scale, 0.0))
    };
    frame.text_matrix *= Affine::translate(by);
    Glyph { code: character.code, id: character.glyph, matrix, advance, step, unicode: character.unicode }
}

/// Whether the first operator of a content stream is `word`.
fn first_operator_is(content: &[u8], word: &[u8]) -> bool {
    let mut lexer = Lexer::new(content);
    loop {
        match lexer.next() {
            Some(Token::Operand(_)) => {}
            Some(Token::Operator(first)) => return first == word,
            None => return false,
        }
    }
}
