use kurbo::{Affine, Point, Rect};
use lopdf::{Dictionary, Document, Object, ObjectId};

use super::super::slug;
use super::super::{Art, PressInfo};
use super::reader::{Told, dict_at, number, read};
use super::seen::{Paint, Seen, bounds};
use super::{Wrong, near, off};
use crate::artwork::SourcePage;
use crate::card::Side;
use crate::ink::Ink;
use crate::sheet::{FOLD_DASH, Form, LINE_WEIGHT, Line, Mark, MarkKind, Sheet};
use crate::unit;

/// A face as it was planned.
pub(super) struct Face<'a> {
    pub(super) side: Side,
    pub(super) art: Art<'a>,
    pub(super) page: SourcePage,
    pub(super) shift: unit::Point,
}

/// Compares one page with its form.
pub(super) fn compare(
    document: &Document,
    id: ObjectId,
    sheet: &Sheet,
    form: &Form,
    faces: &[Face],
    info: &PressInfo,
    wrong: &mut Wrong,
) {
    let Ok(page) = document.get_dictionary(id) else { return wrong.say("the page is no dictionary") };
    boxes(document, page, sheet, form, wrong);
    let nothing = Dictionary::new();
    let resources = dict_at(document, page, b"Resources").unwrap_or(&nothing);
    let seen = match read(document, &document.get_page_content(id), resources) {
        Ok(seen) => seen,
        Err(why) => return wrong.say(why),
    };
    stations(document, &seen, sheet, form, faces, wrong);
    marks(&seen, form, wrong);
    words(&seen, sheet, form, info, wrong);
}

fn boxes(document: &Document, page: &Dictionary, sheet: &Sheet, form: &Form, wrong: &mut Wrong) {
    let (trim, bleed) = sheet.page_boxes(form);
    for (key, planned) in [("MediaBox", sheet.rect()), ("BleedBox", bleed), ("TrimBox", trim)] {
        let stated = page.get(key.as_bytes()).ok().and_then(|o| document.dereference(o).ok()).map(|(_, o)| o);
        let numbers: Vec<f64> =
            stated.and_then(|o| o.as_array().ok()).map(|a| a.iter().filter_map(number).collect()).unwrap_or_default();
        let [x0, y0, x1, y1] = *numbers.as_slice() else {
            wrong.say(format!("the {key} is missing"));
            continue;
        };
        if !same(Rect::new(x0, y0, x1, y1), rect(planned)) {
            wrong.say(format!("the {key} is not {}", planned.size().sheet_text()));
        }
    }
    if page.has(b"ArtBox") || page.has(b"Rotate") || page.has(b"UserUnit") || page.has(b"Annots") {
        wrong.say("the page has a key that a press sheet has not: ArtBox, Rotate, UserUnit or Annots");
    }
}

/// Every planned card must be drawn once, and nothing else.
fn stations(document: &Document, seen: &[Seen], sheet: &Sheet, form: &Form, faces: &[Face], wrong: &mut Wrong) {
    let drawn: Vec<(ObjectId, Affine, Option<Rect>)> = seen
        .iter()
        .filter_map(|s| match s {
            Seen::Form { id, ctm, clip } => Some((*id, *ctm, *clip)),
            _ => None,
        })
        .collect();
    if drawn.len() != form.stations.len() {
        wrong.say(format!("{} cards are planned and {} are drawn", form.stations.len(), drawn.len()));
    }
    for (station, (id, ctm, clip)) in form.stations.iter().zip(drawn) {
        let Some(face) = faces.iter().find(|f| f.side == station.face) else { continue };
        let name = format!("station {} ({})", station.number, station.face);
        if clip.is_none_or(|c| !same(c, rect(station.piece(sheet.format.bleed)))) {
            wrong.say(format!("{name} is not cut off at its bleed"));
        }
        let matrix = match leaf(document, id, ctm, face, 0) {
            Ok(matrix) => matrix,
            Err(why) => {
                wrong.say(format!("{name}: {why}"));
                continue;
            }
        };
        let trim = face.page.boxes.trim;
        let corners = [(trim.x0, trim.y0), (trim.x1, trim.y0), (trim.x0, trim.y1), (trim.x1, trim.y1)];
        let furthest = corners
            .into_iter()
            .map(|(x, y)| {
                let source = Point::new(x, y);
                let on_face = face.page.matrix * source;
                let at = unit::Point::new(unit::Length::from_pt(on_face.x), unit::Length::from_pt(on_face.y));
                let planned = station.on_form(at.moved(face.shift.x, face.shift.y));
                let found = matrix * source;
                (found.x - planned.x.to_pt()).abs().max((found.y - planned.y.to_pt()).abs())
            })
            .fold(0.0, f64::max);
        if !near(furthest, 0.0) {
            wrong.say(format!("{name} lies {} away from its place, or is turned wrongly", off(furthest)));
        }
    }
}

/// Page space of the source page to the sheet: the form's own Matrix under what it is drawn with. A form that also draws annotations
/// holds the page's form as the first thing it draws.
fn leaf(document: &Document, id: ObjectId, ctm: Affine, face: &Face, depth: usize) -> Told<Affine> {
    let form = document.get_object(id).and_then(Object::as_stream).map_err(|_| "what is drawn is no form")?;
    let numbers: Vec<f64> = match form.dict.get(b"Matrix").and_then(Object::as_array) {
        Ok(values) => values.iter().filter_map(number).collect(),
        Err(_) => vec![1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
    };
    let matrix = match *numbers.as_slice() {
        [a, b, c, d, e, f] => ctm * Affine::new([a, b, c, d, e, f]),
        _ => return Err("the form's Matrix is not six numbers".to_owned()),
    };
    if is_page(form, face) {
        return Ok(matrix);
    }
    let resources = dict_at(document, &form.dict, b"Resources");
    if let (0, false, Some(resources)) = (depth, face.page.annotations.is_empty(), resources) {
        let content = form.get_plain_content().map_err(|why| format!("the form cannot be read: {why}"))?;
        if let Some(Seen::Form { id, ctm, .. }) = read(document, &content, resources)?.first() {
            return leaf(document, *id, matrix * *ctm, face, 1);
        }
    }
    Err(format!("what is drawn is not page {} of {}", face.page.number, face.art.artwork.name()))
}

/// Whether a form's stream is that of the page: the very bytes, or the same content where several streams were joined.
fn is_page(form: &lopdf::Stream, face: &Face) -> bool {
    let source = face.art.artwork.document();
    if let [single] = *face.page.contents {
        return source.get_object(single).and_then(Object::as_stream).is_ok_and(|s| {
            s.content == form.content && s.dict.get(b"Filter").is_ok() == form.dict.get(b"Filter").is_ok()
        });
    }
    form.get_plain_content().is_ok_and(|content| content == face.art.artwork.page_content(&face.page))
}

/// Every planned mark must be there, and no other line or fill.
fn marks(seen: &[Seen], form: &Form, wrong: &mut Wrong) {
    let (mut lines, mut fills) = (0, 0);
    for mark in &form.marks {
        let there = match mark {
            Mark::Crop(line) | Mark::Centre(line) => has_line(seen, *line, &[]),
            Mark::Fold(line) => has_line(seen, *line, &[FOLD_DASH.on.to_pt(), FOLD_DASH.off.to_pt()]),
            Mark::Register { centre, arm } => {
                let arms = [(*arm, unit::Length::ZERO), (unit::Length::ZERO, *arm)];
                let cross = arms.into_iter().all(|(x, y)| {
                    has_line(seen, Line { from: centre.moved(-x, -y), to: centre.moved(x, y) }, &[])
                });
                let r = arm.half();
                let circle = rect(unit::Rect::new(centre.x - r, centre.y - r, centre.x + r, centre.y + r));
                cross && seen.iter().any(|s| matches!(s, Seen::Stroke { points, curved: true, paint, .. } if paint.is_all() && same(bounds(points), circle)))
            }
            Mark::Gripper(_) | Mark::SideGuide(_) => seen.iter().any(|s| {
                matches!(s, Seen::Fill { points, paint } if paint.is_all() && points.len() == 3 && same(bounds(points), rect(mark.bounds())))
            }),
            Mark::Patch { rect: at, ink, percent } => seen.iter().any(|s| {
                matches!(s, Seen::Fill { points, paint } if is_ink(paint, ink, f64::from(*percent) / 100.0) && same(bounds(points), rect(*at)))
            }),
            Mark::Slug { .. } => true,
        };
        match mark.kind() {
            MarkKind::Crop | MarkKind::Fold | MarkKind::Centre => lines += 1,
            MarkKind::Register => lines += 3,
            MarkKind::Gripper | MarkKind::SideGuide | MarkKind::Strip => fills += 1,
            MarkKind::Slug => {}
        }
        if !there {
            let at = mark.bounds().centre();
            wrong.say(format!(
                "{} planned at {} from the left, {} from below: not there as planned",
                mark.kind(),
                at.x,
                at.y
            ));
        }
    }
    let count = |pick: fn(&Seen) -> bool| seen.iter().filter(|s| pick(s)).count();
    let drawn = count(|s| matches!(s, Seen::Stroke { .. }));
    if drawn != lines {
        wrong.say(format!("{lines} lines of marks are planned and {drawn} are drawn"));
    }
    let filled = count(|s| matches!(s, Seen::Fill { .. }));
    if filled != fills {
        wrong.say(format!("{fills} patches and triangles are planned and {filled} are drawn"));
    }
}

fn has_line(seen: &[Seen], line: Line, dashes: &[f64]) -> bool {
    let ends = [line.from, line.to].map(|p| Point::new(p.x.to_pt(), p.y.to_pt()));
    seen.iter().any(|s| match s {
        Seen::Stroke { points, curved: false, width, dash, paint } => {
            let at_ends = points.len() == 2 && points.iter().zip(ends).all(|(a, b)| near(a.x, b.x) && near(a.y, b.y));
            let dashed = dash.len() == dashes.len() && dash.iter().zip(dashes).all(|(a, b)| near(*a, *b));
            at_ends && dashed && near(*width, LINE_WEIGHT.to_pt()) && paint.is_all()
        }
        _ => false,
    })
}

fn is_ink(paint: &Paint, ink: &Ink, tint: f64) -> bool {
    let process = |n: usize| {
        let mut values = [0.0; 4];
        if let Some(v) = values.get_mut(n) {
            *v = tint;
        }
        paint.is("DeviceCMYK", &values)
    };
    match Ink::PROCESS.iter().position(|p| p == ink) {
        Some(n) => process(n),
        None => paint.is(ink.name(), &[tint]),
    }
}

/// The slug's words, blanks aside, in black that overprints; then every ink's name in that ink.
fn words(seen: &[Seen], sheet: &Sheet, form: &Form, info: &PressInfo, wrong: &mut Wrong) {
    let room = form.marks.iter().find_map(|m| match m {
        Mark::Slug { rect: room, .. } => Some(rect(*room)),
        _ => None,
    });
    let plain = |words: &str| {
        words.chars().filter(|c| !c.is_whitespace() && !c.is_control() && !leaves_no_mark(*c)).collect::<String>()
    };
    let mut planned = String::new();
    if room.is_some() {
        planned = plain(&slug::words(sheet, form, info));
        info.plates().for_each(|ink| planned.push_str(&plain(ink.name())));
    }
    let mut found = String::new();
    for item in seen {
        let Seen::Text { words, at, overprint, paint } = item else { continue };
        found.push_str(&plain(words));
        let black = paint.is("DeviceCMYK", &[0.0, 0.0, 0.0, 1.0]);
        if !overprint || !(black || info.plates().any(|ink| is_ink(paint, ink, 1.0))) {
            wrong.say(format!("the slug's words `{words}` do not overprint, or are in no ink of the job"));
        }
        if room.is_none_or(|r| !r.inflate(super::TOLERANCE, super::TOLERANCE).contains(*at)) {
            wrong.say(format!("the slug's words `{words}` stand outside their room"));
        }
    }
    if found != planned {
        wrong.say(format!("the slug says `{found}` and should say `{planned}`"));
    }
}

fn rect(r: unit::Rect) -> Rect {
    Rect::new(r.x0.to_pt(), r.y0.to_pt(), r.x1.to_pt(), r.y1.to_pt())
}

fn same(a: Rect, b: Rect) -> bool {
    near(a.x0, b.x0) && near(a.y0, b.y0) && near(a.x1, b.x1) && near(a.y1, b.y1)
}

/// Characters that shaping leaves out, for they are there to be obeyed and not to be seen (Unicode, Default_Ignorable_Code_Point).
fn leaves_no_mark(c: char) -> bool {
    matches!(c,
        '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{115F}'..='\u{1160}' | '\u{17B4}'..='\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{3164}' | '\u{FE00}'..='\u{FE0F}'
        | '\u{FEFF}' | '\u{FFA0}' | '\u{FFF0}'..='\u{FFF8}' | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E0FFF}')
}
