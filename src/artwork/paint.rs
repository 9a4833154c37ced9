use std::sync::Arc;

use kurbo::{Point, Rect, Shape};
use lopdf::{Dictionary, Object};

use super::interpreter::{Frame, Interpreter, Scope};
use super::objects::{count, matrix, name_text};
use super::operand::Operand;
use super::space::{self, Space};
use super::state::{Dash, PaintSource, State};
use super::surface::{Pattern, PatternKind, Winding};
use crate::fault::Result;

/// Which of the two paints an operator speaks of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Which {
    Fill,
    Stroke,
}

impl<'a> Interpreter<'a, '_> {
    /// Line width, cap, join, mitre, dash and the extended graphics state.
    pub(super) fn state_operator(&mut self, word: &[u8], frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        if word == b"gs" {
            return self.extended_state(frame, scope);
        }
        if word == b"d" {
            if let (Some(Operand::Array(lengths)), Some(Operand::Number(phase))) =
                (frame.operands.first(), frame.operands.get(1))
            {
                let lengths = lengths.iter().filter_map(|o| if let Operand::Number(v) = o { Some(*v) } else { None });
                frame.state.dash = Arc::new(dash(lengths.collect(), *phase));
            } else {
                self.short_of_operands(frame, word);
            }
            return Ok(());
        }
        if word == b"ri" {
            return Ok(());
        }
        let Some([value]) = frame.numbers::<1>() else {
            self.short_of_operands(frame, word);
            return Ok(());
        };
        match word {
            b"w" => frame.state.line_width = value.abs(),
            b"J" => frame.state.cap = style(value),
            b"j" => frame.state.join = style(value),
            b"M" => frame.state.mitre = value,
            _ => {}
        }
        Ok(())
    }

    /// Path construction.
    pub(super) fn path_operator(&mut self, word: &[u8], frame: &mut Frame) {
        let done = match word {
            b"m" => frame.numbers::<2>().map(|[x, y]| {
                frame.path.move_to((x, y));
                frame.pen = Some(Point::new(x, y));
            }),
            b"re" => frame.numbers::<4>().map(|[x, y, w, h]| {
                frame.path.move_to((x, y));
                frame.path.line_to((x + w, y));
                frame.path.line_to((x + w, y + h));
                frame.path.line_to((x, y + h));
                frame.path.close_path();
                frame.pen = Some(Point::new(x, y));
            }),
            b"h" => {
                if frame.pen.is_some() {
                    frame.path.close_path();
                }
                Some(())
            }
            _ => frame.pen.and_then(|pen| {
                let end = match word {
                    b"l" => frame.numbers::<2>().map(|[x, y]| {
                        frame.path.line_to((x, y));
                        Point::new(x, y)
                    }),
                    b"c" => frame.numbers::<6>().map(|[ax, ay, bx, by, x, y]| {
                        frame.path.curve_to((ax, ay), (bx, by), (x, y));
                        Point::new(x, y)
                    }),
                    b"v" => frame.numbers::<4>().map(|[bx, by, x, y]| {
                        frame.path.curve_to(pen, Point::new(bx, by), Point::new(x, y));
                        Point::new(x, y)
                    }),
                    _ => frame.numbers::<4>().map(|[ax, ay, x, y]| {
                        frame.path.curve_to((ax, ay), (x, y), (x, y));
                        Point::new(x, y)
                    }),
                };
                frame.pen = end.or(Some(pen));
                end.map(|_| ())
            }),
        };
        if done.is_none() {
            self.short_of_operands(frame, word);
        }
    }

    /// Path painting, and the clip that waits for it.
    pub(super) fn paint_path(&mut self, word: &[u8], frame: &mut Frame, scope: &Scope<'a>) -> Result<()> {
        if matches!(word, b"s" | b"b" | b"b*") && frame.pen.is_some() {
            frame.path.close_path();
        }
        let path = std::mem::take(&mut frame.path);
        frame.pen = None;
        let fills = matches!(word, b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*");
        let strokes = matches!(word, b"S" | b"s" | b"B" | b"B*" | b"b" | b"b*");
        let winding = if word.ends_with(b"*") { Winding::EvenOdd } else { Winding::NonZero };
        if !path.elements().is_empty() && self.prints() && (fills || strokes) && path.is_finite() {
            self.prepare(&frame.state, scope, fills, strokes)?;
            match (fills, strokes) {
                (true, true) => self.surface.fill_and_stroke(&path, winding, &frame.state),
                (true, false) => self.surface.fill(&path, winding, &frame.state),
                _ => self.surface.stroke(&path, &frame.state),
            }
        }
        if let Some(winding) = frame.pending_clip.take() {
            self.surface.push_clip(&(frame.state.ctm * path), winding);
            frame.clips += 1;
        }
        Ok(())
    }

    /// Shows the surface the pattern cells that the next mark needs.
    pub(super) fn prepare(&mut self, state: &State, scope: &Scope<'a>, fills: bool, strokes: bool) -> Result<()> {
        for (wanted, paint) in [(fills, &state.fill), (strokes, &state.stroke)] {
            if let (true, PaintSource::Pattern(pattern)) = (wanted, paint) {
                self.show_pattern(pattern, state, scope)?;
            }
        }
        Ok(())
    }

    /// Colours and colour spaces.
    pub(super) fn colour_operator(&mut self, word: &[u8], frame: &mut Frame, scope: &Scope<'a>) {
        let which = if word.first().is_some_and(u8::is_ascii_uppercase) { Which::Stroke } else { Which::Fill };
        match word.to_ascii_lowercase().as_slice() {
            b"g" => self.device_colour(frame, scope, which, Space::Gray, "DefaultGray"),
            b"rg" => self.device_colour(frame, scope, which, Space::Rgb, "DefaultRGB"),
            b"k" => self.device_colour(frame, scope, which, Space::Cmyk, "DefaultCMYK"),
            b"cs" => {
                let Some(name) = frame.name().map(<[u8]>::to_vec) else {
                    self.short_of_operands(frame, word);
                    return;
                };
                let object = Object::Name(name.clone());
                if let Some(space) = self.named_space(&object, scope.resources, frame.state.object) {
                    let first = space.first_colour();
                    set(&mut frame.state, which, &space, first.map_or(PaintSource::Nothing, PaintSource::Flat));
                } else {
                    let message = format!("the colour space `{}` is not there or cannot be read", name_text(&name));
                    self.remark(frame.state.object, message);
                }
            }
            _ => self.set_colour(frame, scope, which),
        }
    }

    fn device_colour(&mut self, frame: &mut Frame, scope: &Scope<'a>, which: Which, device: Space, default: &str) {
        let numbers = frame.all_numbers();
        let start = numbers.len().checked_sub(device.components());
        let Some(components) = start.and_then(|s| numbers.get(s..)) else {
            let message = format!("a colour has {} numbers where {} are needed", numbers.len(), device.components());
            self.remark(frame.state.object, message);
            return;
        };
        let space =
            self.default_space(scope.resources, default, frame.state.object).unwrap_or_else(|| Arc::new(device));
        let colour = space.colour(components);
        set(&mut frame.state, which, &space, PaintSource::Flat(colour));
    }

    /// `sc` and `scn`: a colour of the space in force, or a pattern.
    fn set_colour(&mut self, frame: &mut Frame, scope: &Scope<'a>, which: Which) {
        let space = match which {
            Which::Fill => Arc::clone(&frame.state.fill_space),
            Which::Stroke => Arc::clone(&frame.state.stroke_space),
        };
        let numbers = frame.all_numbers();
        let paint = if let Some(name) = frame.name() {
            let under = if let Space::Pattern(Some(under)) = &*space { Some(under.colour(&numbers)) } else { None };
            if let Some(pattern) = self.pattern(name, scope, under) {
                PaintSource::Pattern(Arc::new(pattern))
            } else {
                let message = format!("the pattern `{}` is not there or cannot be read", name_text(name));
                self.remark(frame.state.object, message);
                PaintSource::Nothing
            }
        } else {
            if numbers.len() < space.components() {
                let message = format!("a colour has {} numbers where {} are needed", numbers.len(), space.components());
                self.remark(frame.state.object, message);
            }
            PaintSource::Flat(space.colour(&numbers))
        };
        set(&mut frame.state, which, &space, paint);
    }

    /// The default space that stands for a device space in these resources (ISO 32000-1, 8.6.5.6).
    pub(super) fn default_space(
        &mut self,
        resources: Option<&'a Dictionary>,
        name: &str,
        object: Option<u32>,
    ) -> Option<Arc<Space>> {
        let stated = space::resource(self.objects, resources?, name.as_bytes())?;
        self.read_space(stated, None, object)
    }

    /// A colour space by its object or by a name in the resources, default spaces applied.
    pub(super) fn named_space(
        &mut self,
        object: &Object,
        resources: Option<&'a Dictionary>,
        place: Option<u32>,
    ) -> Option<Arc<Space>> {
        let Object::Name(name) = object else { return None };
        // Only inline images abbreviate device spaces (ISO 32000-1, table 93); a resource of that name goes first.
        let abbreviated = matches!(name.as_slice(), b"G" | b"RGB" | b"CMYK");
        let stated = resources.and_then(|r| self.objects.dict(r, "ColorSpace")).and_then(|d| d.get(name).ok());
        if let (true, Some(entry)) = (abbreviated, stated) {
            return self.read_space(entry, resources, place);
        }
        let default = match name.as_slice() {
            b"DeviceGray" | b"G" => "DefaultGray",
            b"DeviceRGB" | b"RGB" => "DefaultRGB",
            b"DeviceCMYK" | b"CMYK" => "DefaultCMYK",
            b"Pattern" => return Some(Arc::new(Space::Pattern(None))),
            _ => return self.read_space(stated?, resources, place),
        };
        self.default_space(resources, default, place).or_else(|| {
            Some(Arc::new(match default {
                "DefaultGray" => Space::Gray,
                "DefaultRGB" => Space::Rgb,
                _ => Space::Cmyk,
            }))
        })
    }

    /// Reads a colour space, remembering those that are objects of their own.
    pub(super) fn read_space(
        &mut self,
        object: &'a Object,
        resources: Option<&'a Dictionary>,
        place: Option<u32>,
    ) -> Option<Arc<Space>> {
        let id = object.as_reference().ok();
        if let Some(known) = id.and_then(|id| self.spaces.get(&id)) {
            return Some(Arc::clone(known));
        }
        let place_in_memory = std::ptr::from_ref(object).addr();
        if let Some(known) = self.direct_spaces.get(&place_in_memory) {
            return known.clone();
        }
        let objects = self.objects;
        let mut odd = Vec::new();
        let named = |name: &[u8]| resources.and_then(|r| space::resource(objects, r, name));
        let found = Space::read(objects, object, &named, &mut |topic, message| odd.push((topic, message)), 0);
        for (topic, message) in odd {
            self.remark_on(topic, id.map(|i| i.0).or(place), message);
        }
        match (id, &found) {
            (Some(id), Some(space)) => {
                self.spaces.insert(id, Arc::clone(space));
            }
            (Some(_), None) => {}
            (None, _) => {
                self.direct_spaces.insert(place_in_memory, found.clone());
            }
        }
        found
    }

    /// A pattern of the resources, hung on the content stream it is used in.
    fn pattern(&mut self, name: &[u8], scope: &Scope<'a>, colour: Option<crate::ink::Colour>) -> Option<Pattern> {
        let objects = self.objects;
        let entry = objects.dict(scope.resources?, "Pattern")?.get(name).ok()?;
        let dict = objects.as_dict(entry)?;
        let object = entry.as_reference().ok();
        let matrix = scope.base * objects.numbers(dict, "Matrix").and_then(|n| matrix(&n)).unwrap_or_default();
        let kind = if objects.integer(dict, "PatternType") == Some(2) {
            let shading = dict.get(b"Shading").ok()?;
            PatternKind::Shading(self.shading(shading, scope.resources, object.map(|o| o.0))?)
        } else {
            PatternKind::Tiling {
                bbox: objects.rect(dict, "BBox")?,
                x_step: objects.number(dict, "XStep").unwrap_or(0.0),
                y_step: objects.number(dict, "YStep").unwrap_or(0.0),
                colour: if objects.integer(dict, "PaintType") == Some(2) { colour } else { None },
            }
        };
        Some(Pattern { object, matrix, kind })
    }
}

fn set(state: &mut State, which: Which, space: &Arc<Space>, paint: PaintSource) {
    match which {
        Which::Fill => (state.fill_space, state.fill) = (Arc::clone(space), paint),
        Which::Stroke => (state.stroke_space, state.stroke) = (Arc::clone(space), paint),
    }
}

/// A dash pattern; one whose lengths are wrong or all zero is a solid line.
pub(super) fn dash(lengths: Vec<f64>, phase: f64) -> Dash {
    let usable = lengths.iter().all(|l| l.is_finite() && *l >= 0.0) && lengths.iter().sum::<f64>() > 0.0;
    if usable { Dash { lengths, phase } } else { Dash::default() }
}

/// A cap or join style.
pub(super) fn style(value: f64) -> u8 {
    u8::try_from(count(value, 2)).unwrap_or(0)
}

/// A rectangle as a path.
pub(super) fn rectangle(rect: Rect) -> kurbo::BezPath {
    rect.to_path(0.1)
}
