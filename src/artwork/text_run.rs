use kurbo::{Point, Rect, Vec2};

use super::state::State;
use super::surface::{Glyph, GlyphRun};
use super::used_colour::UsedColour;
use crate::card::{Painted, TextRun};
use crate::unit::{self, Length};

/// A jump of the pen of more ems than this begins a new run: the next column of a table, not the next word.
const NEW_RUN: f64 = 1.0;
/// A jump along the baseline of more ems than this reads as a space where none is set.
const READS_AS_SPACE: f64 = 0.2;
/// A jump off the baseline of more ems than this begins a new run.
const OFF_BASELINE: f64 = 0.02;

/// One run in the making.
struct Open<'r> {
    first: &'r Glyph,
    last: &'r Glyph,
    text: String,
    bounds: Option<Rect>,
}

/// The text runs of a glyph run and the boxes of their ink, split where the pen jumps. Runs of nothing but spaces are left
/// out: they paint nothing.
pub(super) fn split(run: &GlyphRun, state: &State, colours: &UsedColour) -> Vec<(TextRun, Rect)> {
    let mut found = Vec::new();
    let mut open: Option<Open> = None;
    for glyph in &run.glyphs {
        let jump = open.as_ref().map(|o| jump(o.last, glyph, run.font.vertical));
        if let Some((along, off, spacing)) = jump
            && (along + spacing > NEW_RUN || along < -NEW_RUN || off.abs() > OFF_BASELINE)
        {
            found.extend(open.take().and_then(|o| finish(o, run, state, colours)));
        }
        let unicode = if glyph.unicode.is_empty() { "\u{FFFD}" } else { &glyph.unicode };
        let ink =
            run.font.ink_box(glyph.id, glyph.advance, &glyph.unicode).map(|b| glyph.matrix.transform_rect_bbox(b));
        match &mut open {
            Some(o) => {
                let gap = jump.is_some_and(|(along, ..)| along > READS_AS_SPACE);
                if gap && !o.text.ends_with(char::is_whitespace) && !unicode.starts_with(char::is_whitespace) {
                    o.text.push(' ');
                }
                o.text.push_str(unicode);
                o.last = glyph;
                o.bounds = match (o.bounds, ink) {
                    (Some(a), Some(b)) => Some(a.union(b)),
                    (a, b) => a.or(b),
                };
            }
            None => open = Some(Open { first: glyph, last: glyph, text: unicode.to_owned(), bounds: ink }),
        }
    }
    found.extend(open.and_then(|o| finish(o, run, state, colours)));
    found
}

/// Where the next glyph stands against where the pen was, in ems along and off the baseline, and how much spacing the last
/// glyph had added.
fn jump(last: &Glyph, next: &Glyph, vertical: bool) -> (f64, f64, f64) {
    if vertical {
        return (0.0, 0.0, 0.0);
    }
    if last.matrix.determinant().abs() < 1.0e-12 {
        return (0.0, 0.0, 0.0);
    }
    let at = last.matrix.inverse() * (next.matrix * Point::ORIGIN);
    (at.x - last.step, at.y, last.step - last.advance)
}

fn finish(open: Open, run: &GlyphRun, state: &State, colours: &UsedColour) -> Option<(TextRun, Rect)> {
    if open.text.trim().is_empty() {
        return None;
    }
    let [a, b, c, d, ..] = open.first.matrix.as_coeffs();
    let along = Vec2::new(a, b);
    let up = Vec2::new(c, d);
    // The size is the height over the baseline, which a slant does not change.
    let size = if along.hypot() > 0.0 { (a * d - b * c).abs() / along.hypot() } else { up.hypot() };
    let start = open.first.matrix * Point::ORIGIN;
    let end = if run.font.vertical {
        open.last.matrix * Point::new(0.0, open.last.step)
    } else {
        open.last.matrix * Point::new(open.last.step, 0.0)
    };
    let angle = along.y.atan2(along.x).to_degrees().rem_euclid(360.0);
    let (x_height, cap_height) = run.font.heights();
    let painted = state.painted();
    let text = TextRun {
        text: open.text,
        font: run.font.name.clone(),
        size: Length::from_pt(size),
        x_height: x_height.map(|h| Length::from_pt(h * size)),
        cap_height: cap_height.map(|h| Length::from_pt(h * size)),
        bold: run.font.bold,
        origin: unit::Point::new(Length::from_pt(start.x), Length::from_pt(start.y)),
        advance: Length::from_pt(start.distance(end)),
        angle: if angle > 359.9999 { 0.0 } else { angle },
        painted,
        fill: if matches!(painted, Painted::Fill | Painted::Both) { colours.paint(&state.fill) } else { None },
        stroke: if matches!(painted, Painted::Stroke | Painted::Both) { colours.stroke(state) } else { None },
    };
    let mut bounds = open.bounds.unwrap_or_else(|| Rect::from_points(start, end));
    if text.stroke.is_some() {
        let half = state.effective_width() / 2.0;
        bounds = bounds.inflate(half, half);
    }
    bounds.is_finite().then_some((text, bounds))
}
