use std::collections::BTreeMap;

use kurbo::{Affine, Point, Rect};
use lopdf::content::{Content, Operation};
use lopdf::{Dictionary, Document, Object, ObjectId};

use super::seen::{Paint, Seen, bounds};

/// Reads what a page's own content paints: the operators that a press file may have, and no others.
pub(super) struct Reader<'a> {
    document: &'a Document,
    resources: &'a Dictionary,
    state: State,
    kept: Vec<State>,
    path: Vec<Point>,
    curved: bool,
    clipping: bool,
    text_at: Point,
    seen: Vec<Seen>,
}

#[derive(Clone, Default)]
struct State {
    ctm: Affine,
    clip: Option<Rect>,
    fill: Paint,
    stroke: Paint,
    width: f64,
    dash: Vec<f64>,
    font: BTreeMap<u16, String>,
    overprint: bool,
}

/// What went wrong in reading, as a sentence.
pub(super) type Told<T> = Result<T, String>;

/// Everything that a content stream paints, in painting order.
pub(super) fn read<'a>(document: &'a Document, content: &[u8], resources: &'a Dictionary) -> Told<Vec<Seen>> {
    let content = Content::decode_strict(content).map_err(|why| format!("the content cannot be read: {why}"))?;
    let mut reader = Reader {
        document,
        resources,
        state: State { width: 1.0, ..State::default() },
        kept: Vec::new(),
        path: Vec::new(),
        curved: false,
        clipping: false,
        text_at: Point::ZERO,
        seen: Vec::new(),
    };
    for operation in &*content.operations {
        reader.obey(operation)?;
    }
    Ok(reader.seen)
}

/// A dictionary, direct or by reference.
pub(super) fn dict_at<'a>(document: &'a Document, dict: &'a Dictionary, key: &[u8]) -> Option<&'a Dictionary> {
    match document.dereference(dict.get(key).ok()?).ok()?.1 {
        Object::Dictionary(found) => Some(found),
        Object::Stream(stream) => Some(&stream.dict),
        _ => None,
    }
}

/// A number of either kind.
pub(super) fn number(object: &Object) -> Option<f64> {
    match object {
        Object::Integer(n) => Some(*n as f64),
        Object::Real(r) => Some(f64::from(*r)),
        _ => None,
    }
}

impl Reader<'_> {
    fn obey(&mut self, operation: &Operation) -> Told<()> {
        let operands = operation.operands.as_slice();
        let numbers: Vec<f64> = operands.iter().filter_map(number).collect();
        match (operation.operator.as_str(), numbers.as_slice()) {
            ("q", _) => self.kept.push(self.state.clone()),
            ("Q", _) => self.state = self.kept.pop().ok_or("a Q without its q")?,
            ("cm", [a, b, c, d, e, f]) => self.state.ctm *= Affine::new([*a, *b, *c, *d, *e, *f]),
            ("re", [x, y, w, h]) => {
                for (x, y) in [(*x, *y), (x + w, *y), (x + w, y + h), (*x, y + h)] {
                    self.point(x, y);
                }
            }
            ("m" | "l", [x, y]) => self.point(*x, *y),
            ("c", [_, _, _, _, x, y]) => {
                self.curved = true;
                self.point(*x, *y);
            }
            ("h" | "BT" | "ET" | "Tc" | "Ts" | "BDC" | "BMC" | "EMC" | "J" | "j", _) => {}
            ("W", _) => self.clipping = true,
            ("n", _) => self.clip(),
            ("S", _) => {
                let State { width, dash, stroke, .. } = self.state.clone();
                let points = std::mem::take(&mut self.path);
                let curved = std::mem::take(&mut self.curved);
                self.seen.push(Seen::Stroke { points, curved, width, dash, paint: stroke });
            }
            ("f", _) => {
                let points = std::mem::take(&mut self.path);
                self.seen.push(Seen::Fill { points, paint: self.state.fill.clone() });
            }
            ("w", [width]) => self.state.width = *width,
            ("d", _) => self.state.dash = array(operands.first()),
            ("g", _) => self.state.fill = paint("DeviceGray", &numbers),
            ("G", _) => self.state.stroke = paint("DeviceGray", &numbers),
            ("k", _) => self.state.fill = paint("DeviceCMYK", &numbers),
            ("K", _) => self.state.stroke = paint("DeviceCMYK", &numbers),
            ("cs", _) => self.state.fill = paint(&self.space(operands)?, &[]),
            ("CS", _) => self.state.stroke = paint(&self.space(operands)?, &[]),
            ("scn", _) => self.state.fill.values = numbers,
            ("SCN", _) => self.state.stroke.values = numbers,
            ("gs", _) => self.graphics_state(operands)?,
            ("Tf", _) => self.state.font = self.font(operands)?,
            ("Tm", [_, _, _, _, x, y]) => self.text_at = self.state.ctm * Point::new(*x, *y),
            ("Tj" | "TJ", _) => self.show(operands)?,
            ("Do", _) => {
                let (id, _) = self.resource(b"XObject", operands)?;
                let id = id.ok_or("a form that is no object of its own")?;
                self.seen.push(Seen::Form { id, ctm: self.state.ctm, clip: self.state.clip });
            }
            (other, _) => return Err(format!("the operator {other} is not one that a press sheet needs")),
        }
        Ok(())
    }

    fn point(&mut self, x: f64, y: f64) {
        self.path.push(self.state.ctm * Point::new(x, y));
    }

    fn clip(&mut self) {
        let path = std::mem::take(&mut self.path);
        if std::mem::take(&mut self.clipping) {
            let new = bounds(&path);
            self.state.clip = Some(self.state.clip.map_or(new, |old| old.intersect(new)));
        }
    }

    /// The named resource of a kind, and its object number where it has one.
    fn resource(&self, kind: &[u8], operands: &[Object]) -> Told<(Option<ObjectId>, &Object)> {
        let name = operands.first().and_then(|o| o.as_name().ok()).ok_or("an operator without its name")?;
        let found = dict_at(self.document, self.resources, kind).and_then(|d| d.get(name).ok());
        let found = found.and_then(|o| self.document.dereference(o).ok());
        found.ok_or_else(|| format!("/{} is named and not there", String::from_utf8_lossy(name)))
    }

    fn space(&self, operands: &[Object]) -> Told<String> {
        let (_, space) = self.resource(b"ColorSpace", operands)?;
        match space.as_array().map(Vec::as_slice) {
            Ok([Object::Name(kind), Object::Name(colorant), ..]) if kind == b"Separation" => {
                Ok(String::from_utf8_lossy(colorant).into_owned())
            }
            _ => Err("a colour space of a press sheet is no Separation".to_owned()),
        }
    }

    fn graphics_state(&mut self, operands: &[Object]) -> Told<()> {
        let (_, state) = self.resource(b"ExtGState", operands)?;
        let state = state.as_dict().map_err(|_| "a graphics state that is no dictionary")?;
        let on = |key: &[u8]| state.get(key).and_then(Object::as_bool).unwrap_or(false);
        let mode = state.get(b"OPM").and_then(Object::as_i64).unwrap_or(0);
        self.state.overprint = on(b"op") && mode == 1;
        Ok(())
    }

    /// What each CID says, from the font's ToUnicode map.
    fn font(&self, operands: &[Object]) -> Told<BTreeMap<u16, String>> {
        let (_, font) = self.resource(b"Font", operands)?;
        let map = font.as_dict().and_then(|d| d.get(b"ToUnicode")).and_then(|o| self.document.dereference(o));
        let Ok((_, Object::Stream(map))) = map else {
            return Err("a font of the slug has no ToUnicode map".to_owned());
        };
        let map = map.get_plain_content().map_err(|why| format!("a ToUnicode map cannot be read: {why}"))?;
        let mut says = BTreeMap::new();
        for line in String::from_utf8_lossy(&map).lines() {
            let words: Vec<&str> = line.split_whitespace().map(|w| w.trim_matches(['<', '>'])).collect();
            let [cid, text] = words.as_slice() else { continue };
            let Ok(cid) = u16::from_str_radix(cid, 16) else { continue };
            let units: Option<Vec<u16>> = (0..text.len() / 4)
                .map(|n| text.get(n * 4..n * 4 + 4).and_then(|u| u16::from_str_radix(u, 16).ok()))
                .collect();
            says.insert(cid, String::from_utf16_lossy(&units.unwrap_or_default()));
        }
        Ok(says)
    }

    fn show(&mut self, operands: &[Object]) -> Told<()> {
        let mut words = String::new();
        let parts = match operands.first() {
            Some(Object::Array(parts)) => parts.as_slice(),
            _ => operands,
        };
        for part in parts {
            let Object::String(bytes, _) = part else { continue };
            for pair in bytes.chunks(2) {
                let [high, low] = *pair else { return Err("a text of half a glyph".to_owned()) };
                words
                    .push_str(self.state.font.get(&u16::from_be_bytes([high, low])).map_or("\u{fffd}", String::as_str));
            }
        }
        let State { overprint, fill, .. } = self.state.clone();
        self.seen.push(Seen::Text { words, at: self.text_at, overprint, paint: fill });
        Ok(())
    }
}

fn paint(space: &str, values: &[f64]) -> Paint {
    Paint { space: space.to_owned(), values: values.to_vec() }
}

fn array(object: Option<&Object>) -> Vec<f64> {
    let values = object.and_then(|o| o.as_array().ok()).map(Vec::as_slice).unwrap_or_default();
    values.iter().filter_map(number).collect()
}
