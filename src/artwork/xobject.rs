use std::sync::Arc;

use kurbo::Affine;
use lopdf::{Dictionary, Object, ObjectId};

use super::function::Function;
use super::image::Image;
use super::interpreter::{Frame, Interpreter, Scope};
use super::lexer::Lexer;
use super::limits::{Topic, over};
use super::objects::{Objects, count, name_text};
use super::operand::{Operand, dictionary};
use super::paint::{dash, rectangle, style};
use super::shading;
use super::space::Space;
use super::state::{PaintSource, SoftMask, State};
use super::surface::{Form, Group, Pattern, PatternKind, Shading, Winding};
use crate::fault::Result;

impl<'a> Interpreter<'a, '_> {
    /// `Do`: an image or a form.
    pub(super) fn draw_object(&mut self, frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        let Some(name) = frame.name().map(<[u8]>::to_vec) else {
            self.short_of_operands(frame, b"Do");
            return Ok(());
        };
        let objects = self.objects;
        let entry = scope.resources.and_then(|r| objects.dict(r, "XObject")).and_then(|x| x.get(&name).ok());
        let Some((entry, stream)) = entry.and_then(|e| Some((e, objects.as_stream(e)?))) else {
            let message = format!("the picture or form `{}` is not in the resources", name_text(&name));
            self.remark_on(Topic::Lost, frame.state.object, message);
            return Ok(());
        };
        let hidden = stream.dict.get(b"OC").is_ok_and(|oc| !self.layers.prints(objects, oc));
        if hidden || !self.prints() {
            return Ok(());
        }
        let id = entry.as_reference().ok();
        match objects.name(&stream.dict, "Subtype") {
            Some(b"Image") => {
                let space = stream.dict.get(b"ColorSpace").ok();
                let space = space.and_then(|s| self.image_space(s, scope, frame.state.object));
                let image = Image::read(objects, &stream.dict, &stream.content, id, space);
                self.prepare(&frame.state, scope, image.stencil, false)?;
                self.surface.image(&image, &frame.state);
            }
            Some(b"PS") => {
                self.remark(id.map(|i| i.0), "a PostScript XObject draws nothing on a press; it was left out");
            }
            _ => {
                if let Some(id) = id {
                    self.draw_form(id, &frame.state, scope.resources, scope.colourless, Affine::IDENTITY)?;
                }
            }
        }
        Ok(())
    }

    fn image_space(&mut self, object: &'a Object, scope: &Scope<'a>, place: Option<u32>) -> Option<Arc<Space>> {
        match self.objects.resolve(object) {
            Object::Name(_) => self.named_space(self.objects.resolve(object), scope.resources, place),
            _ => self.read_space(object, scope.resources, place),
        }
    }

    /// Draws a form; `place` stands before its own matrix. One that is being drawn already is left out.
    pub(super) fn draw_form(
        &mut self,
        id: ObjectId,
        outer: &State,
        resources: Option<&'a Dictionary>,
        colourless: bool,
        place: Affine,
    ) -> Result<()> {
        let objects = self.objects;
        let Some(stream) = objects.object(id).and_then(|o| o.as_stream().ok()) else { return Ok(()) };
        if self.open.contains(&id) {
            self.remark(Some(id.0), "a form draws itself; the inner one was left out");
            return Ok(());
        }
        self.purse.check_depth(self.open.len() + 1, &self.source(Some(id.0)))?;
        if let Some(message) = self.purse.take_form() {
            return Err(over(self.source(Some(id.0)), message));
        }
        let dict = &stream.dict;
        let mut state = outer.clone();
        state.ctm = outer.ctm * place * objects.matrix(dict, "Matrix");
        state.object = Some(id.0);
        let bbox = objects.rect(dict, "BBox");
        if bbox.is_none() {
            self.remark(Some(id.0), "a form has no BBox; it was drawn without one");
        }
        let form = Form { object: Some(id), matrix: state.ctm, bbox: bbox.unwrap_or_default() };
        if self.surface.skips_form(&form, outer) {
            return Ok(());
        }
        let content = self.decode(id)?;
        let group = self.group(dict, resources);
        self.surface.begin_form(&form, outer);
        if let Some(bbox) = bbox {
            self.surface.push_clip(&(state.ctm * rectangle(bbox)), Winding::NonZero);
        }
        if let Some(group) = &group {
            self.surface.begin_group(group, outer);
            (state.alpha_fill, state.alpha_stroke, state.blend, state.soft_mask) = (1.0, 1.0, None, None);
        }
        let inner = Scope {
            resources: objects.dict(dict, "Resources").or(resources),
            parts: Vec::new(),
            base: state.ctm,
            colourless,
        };
        self.open.push(id);
        let result = self.run(&content, &inner, state);
        self.open.pop();
        if group.is_some() {
            self.surface.end_group();
        }
        if bbox.is_some() {
            self.surface.pop_clip();
        }
        self.surface.end_form();
        result
    }

    /// The transparency group of a form or page, where it is one.
    pub(super) fn group(&mut self, holder: &'a Dictionary, resources: Option<&'a Dictionary>) -> Option<Group> {
        let objects = self.objects;
        let dict = objects.dict(holder, "Group").filter(|g| objects.name(g, "S") == Some(b"Transparency"))?;
        let space = dict.get(b"CS").ok().and_then(|cs| match objects.resolve(cs) {
            Object::Name(_) => self.named_space(objects.resolve(cs), resources, None),
            _ => self.read_space(cs, resources, None),
        });
        Some(Group {
            of_page: false,
            isolated: objects.boolean(dict, "I").unwrap_or(false),
            knockout: objects.boolean(dict, "K").unwrap_or(false),
            space,
        })
    }

    /// `gs`: a dictionary of graphics state parameters (ISO 32000-1, table 58).
    pub(super) fn extended_state(&mut self, frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        let objects = self.objects;
        let states = scope.resources.and_then(|r| objects.dict(r, "ExtGState"));
        let dict = frame.name().and_then(|name| states?.get(name).ok()).and_then(|o| objects.as_dict(o));
        let Some(dict) = dict else {
            let name = frame.name().map(name_text).unwrap_or_default();
            self.remark(frame.state.object, format!("the graphics state `{name}` is not in the resources"));
            return Ok(());
        };
        let state = &mut frame.state;
        for (key, value) in dict {
            let value = objects.resolve(value);
            let number = objects.as_number(value);
            match (key.as_slice(), number) {
                (b"LW", Some(v)) => state.line_width = v.abs(),
                (b"LC", Some(v)) => state.cap = style(v),
                (b"LJ", Some(v)) => state.join = style(v),
                (b"ML", Some(v)) => state.mitre = v,
                (b"CA", Some(v)) => state.alpha_stroke = v.clamp(0.0, 1.0),
                (b"ca", Some(v)) => state.alpha_fill = v.clamp(0.0, 1.0),
                (b"OPM", Some(v)) => state.overprint_mode = u8::try_from(count(v, 1)).unwrap_or(0),
                (b"BM", _) => state.blend = blend(objects, value),
                (b"TK", _) => state.text_knockout = value.as_bool().unwrap_or(true),
                (b"TR", _) if !dict.has(b"TR2") => state.transfer = transfers(value),
                (b"TR2", _) => state.transfer = transfers(value),
                (b"D", _) => {
                    if let Some([lengths, phase]) = value.as_array().ok().map(Vec::as_slice) {
                        let lengths = objects.as_numbers(lengths).unwrap_or_default();
                        state.dash = Arc::new(dash(lengths, objects.as_number(phase).unwrap_or(0.0)));
                    }
                }
                _ => {}
            }
        }
        // `op` absent means that `OP` speaks for fills too (ISO 32000-1, 8.6.7).
        let (strokes, fills) = (objects.boolean(dict, "OP"), objects.boolean(dict, "op"));
        state.overprint_stroke = strokes.unwrap_or(state.overprint_stroke);
        state.overprint_fill = fills.or(strokes).unwrap_or(state.overprint_fill);
        if let Some([font, size]) = objects.array(dict, "Font")
            && let (Some(font_dict), Some(size)) = (objects.as_dict(font), objects.as_number(size))
        {
            frame.state.text.size = size;
            frame.state.text.font = Some(self.font(font_dict, font.as_reference().ok()));
        }
        match objects.get(dict, "SMask") {
            Some(Object::Name(_)) => frame.state.soft_mask = None,
            Some(Object::Dictionary(mask)) => self.set_mask(mask, frame, scope)?,
            _ => {}
        }
        Ok(())
    }

    /// Sets a soft mask and shows its group to the surface.
    fn set_mask(&mut self, dict: &'a Dictionary, frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        let objects = self.objects;
        let group = objects.reference(dict, "G");
        let space = group
            .and_then(|id| objects.object(id))
            .and_then(|o| objects.as_dict(o))
            .and_then(|form| self.group(form, scope.resources))
            .and_then(|g| g.space);
        let stated = objects.numbers(dict, "BC");
        let backdrop = stated.map(|c| space.unwrap_or_else(|| Arc::new(Space::Gray)).colour(&c));
        let mask = Arc::new(SoftMask {
            group,
            luminosity: objects.name(dict, "S") == Some(b"Luminosity"),
            curve: dict.get(b"TR").ok().and_then(|o| curve(objects, o)),
            backdrop,
            matrix: frame.state.ctm,
        });
        let mut state = State::new(frame.state.ctm);
        state.object = frame.state.object;
        frame.state.soft_mask = Some(Arc::clone(&mask));
        let Some(id) = group else { return Ok(()) };
        if self.open.contains(&id) {
            self.remark(Some(id.0), "a soft mask uses itself; the inner one was left out");
            return Ok(());
        }
        if self.prints() && self.shown.insert((id, bits(frame.state.ctm), String::new())) {
            self.surface.begin_mask(&mask);
            let result = self.draw_form(id, &state, scope.resources, false, Affine::IDENTITY);
            self.surface.end_mask();
            result?;
        }
        Ok(())
    }

    /// Shows the cell of a tiling pattern to the surface, once.
    pub(super) fn show_pattern(&mut self, pattern: &Arc<Pattern>, outer: &State, scope: &Scope<'a>) -> Result<()> {
        let PatternKind::Tiling { bbox, colour, .. } = &pattern.kind else { return Ok(()) };
        let Some(id) = pattern.object else { return Ok(()) };
        let objects = self.objects;
        let Some(stream) = objects.object(id).and_then(|o| o.as_stream().ok()) else { return Ok(()) };
        if self.open.contains(&id) {
            self.remark(Some(id.0), "a pattern fills itself; the inner one was left out");
            return Ok(());
        }
        if !self.shown.insert((id, bits(pattern.matrix), format!("{colour:?}"))) {
            return Ok(());
        }
        self.purse.check_depth(self.open.len() + 1, &self.source(Some(id.0)))?;
        let content = self.decode(id)?;
        let mut state = State::new(pattern.matrix);
        state.object = Some(id.0);
        if let Some(colour) = colour {
            state.fill = PaintSource::Flat(colour.clone());
            state.stroke = state.fill.clone();
            if let Space::Pattern(Some(under)) = &*outer.fill_space {
                (state.fill_space, state.stroke_space) = (Arc::clone(under), Arc::clone(under));
            }
        }
        let inner = Scope {
            resources: objects.dict(&stream.dict, "Resources").or(scope.resources),
            parts: Vec::new(),
            base: pattern.matrix,
            colourless: colour.is_some(),
        };
        self.surface.begin_pattern(pattern);
        self.surface.push_clip(&(pattern.matrix * rectangle(*bbox)), Winding::NonZero);
        self.open.push(id);
        let result = self.run(&content, &inner, state);
        self.open.pop();
        self.surface.pop_clip();
        self.surface.end_pattern();
        result
    }

    /// `sh`: a shading over the clip.
    pub(super) fn shade(&mut self, frame: &mut Frame, scope: &Scope<'a>) {
        let objects = self.objects;
        let shadings = scope.resources.and_then(|r| objects.dict(r, "Shading"));
        let entry = frame.name().and_then(|name| shadings?.get(name).ok());
        match entry.and_then(|e| self.shading(e, scope.resources, frame.state.object)) {
            Some(shading) if self.prints() => self.surface.shade(&shading, &frame.state),
            Some(_) => {}
            None => self.remark_on(Topic::Lost, frame.state.object, "a shading is not there or cannot be read"),
        }
    }

    /// Reads a shading.
    pub(super) fn shading(
        &mut self,
        object: &'a Object,
        resources: Option<&'a Dictionary>,
        place: Option<u32>,
    ) -> Option<Arc<Shading>> {
        let objects = self.objects;
        let id = object.as_reference().ok();
        // One that is no object of its own stands where it stands as long as the file is open.
        let place_in_memory = std::ptr::from_ref(object).addr();
        let known = match id {
            Some(id) => self.shadings.get(&id),
            None => self.direct_shadings.get(&place_in_memory),
        };
        if let Some(known) = known {
            return Some(Arc::clone(known));
        }
        let dict = objects.as_dict(object)?;
        let stated = dict.get(b"ColorSpace").ok()?;
        let space = match objects.resolve(stated) {
            name @ Object::Name(_) => self.named_space(name, resources, place)?,
            _ => self.read_space(stated, resources, place)?,
        };
        let background = objects.numbers(dict, "Background").map(|c| space.colour(&c));
        let made = Arc::new(Shading {
            object: id,
            kind: u8::try_from(objects.integer(dict, "ShadingType")?).ok()?,
            geometry: shading::geometry(objects, objects.resolve(object), dict, &space, self.purse.stream()),
            ramp: shading::ramp(objects, dict),
            space,
            bbox: objects.rect(dict, "BBox"),
            background,
        });
        match id {
            Some(id) => self.shadings.insert(id, Arc::clone(&made)),
            None => self.direct_shadings.insert(place_in_memory, Arc::clone(&made)),
        };
        Some(made)
    }

    /// `BI … ID … EI`.
    pub(super) fn inline_image(&mut self, lexer: &mut Lexer, frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        let pairs = lexer.inline_dictionary();
        let objects = self.objects;
        let dict = dictionary(&pairs);
        let space = pairs
            .iter()
            .find(|(key, _)| key == b"CS" || key == b"ColorSpace")
            .and_then(|(_, value)| self.inline_space(value, scope, frame.state.object));
        let facts = Image::read(Objects::new(objects.document()), &dict, &[], None, space);
        let row =
            facts.pixels.0 as usize * facts.space.as_ref().map_or(1, |s| s.components()) * usize::from(facts.bits);
        let plain = facts.filters.is_empty().then(|| row.div_ceil(8).saturating_mul(facts.pixels.1 as usize));
        let raw = lexer.inline_data(plain);
        if self.prints() {
            self.prepare(&frame.state, scope, facts.stencil, false)?;
            let image = Image { raw, ..facts };
            self.surface.image(&image, &frame.state);
        }
        Ok(())
    }

    /// The colour space of an inline image: a name, or an Indexed array over one.
    fn inline_space(&mut self, value: &Operand, scope: &Scope<'a>, place: Option<u32>) -> Option<Arc<Space>> {
        match value {
            Operand::Name(name) => self.named_space(&Object::Name(name.clone()), scope.resources, place),
            Operand::Array(parts) => match parts.as_slice() {
                [Operand::Name(family), base, Operand::Number(last), Operand::Text(table)]
                    if family == b"I" || family == b"Indexed" =>
                {
                    let base = self.inline_space(base, scope, place)?;
                    Some(Arc::new(Space::Indexed { base, last: count(*last, 255), table: Arc::from(table.as_slice()) }))
                }
                _ => None,
            },
            _ => None,
        }
    }
}

/// A transfer function of one number as the 256 values that it gives; `None` where it changes nothing.
fn curve<'a>(objects: Objects<'a>, value: &'a Object) -> Option<Arc<[u8]>> {
    if !transfers(objects.resolve(value)) {
        return None;
    }
    let function = Function::read(objects, value)?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to 0 to 255")]
    let at = |v: u8| {
        let out = function.at(&[f64::from(v) / 255.0]).first().copied().unwrap_or(0.0);
        (out.clamp(0.0, 1.0) * 255.0).round() as u8
    };
    Some((0..=255).map(at).collect())
}

/// Whether a transfer function changes anything.
fn transfers(value: &Object) -> bool {
    !matches!(value, Object::Name(name) if name == b"Identity" || name == b"Default")
}

/// The blend mode other than Normal: a name, or the first of several.
fn blend(objects: Objects, value: &Object) -> Option<Arc<str>> {
    let name = match value {
        Object::Name(name) => name,
        Object::Array(names) => match names.first()? {
            Object::Name(name) => name,
            Object::Reference(id) => objects.document().get_object(*id).ok()?.as_name().ok()?,
            _ => return None,
        },
        _ => return None,
    };
    (name != b"Normal" && name != b"Compatible").then(|| Arc::from(name_text(name)))
}

fn bits(matrix: Affine) -> [u64; 6] {
    matrix.as_coeffs().map(f64::to_bits)
}
