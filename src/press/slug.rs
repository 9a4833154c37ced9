use super::{PressInfo, fault};
use crate::fault::{Fault, Result, Source};
use crate::font::{OpenFont, ShapedLine, Shaping, shape, wrap};
use crate::ink::Ink;
use crate::sheet::{Form, FormSide, Sheet};
use crate::unit::{Length, Point, Rect, Turn};

/// The font of the slug line.
const FONT: OpenFont = OpenFont::Narrow;
/// Sizes that are tried, the largest first; below 5 pt it cannot be read at the press (common practice).
const SIZES: [Length; 3] = [Length::pt(7), Length::pt(6), Length::pt(5)];

/// What the slug line of a form says, without the inks.
pub(super) fn words(sheet: &Sheet, form: &Form, info: &PressInfo) -> String {
    let side = match form.side {
        FormSide::Front => "front",
        FormSide::Back => "back",
        FormSide::Both => "front and back",
    };
    let faces: Vec<String> = {
        let mut faces: Vec<String> = Vec::new();
        for station in &form.stations {
            let face = station.face.to_string();
            if !faces.contains(&face) {
                faces.push(face);
            }
        }
        faces
    };
    let mut parts = vec![
        info.job.to_owned(),
        format!("{side} ({})", faces.join(", ")),
        if sheet.one_up { "1 up".to_owned() } else { format!("{}, {} up", sheet.style, sheet.number_up()) },
        info.date.day.clone(),
        format!("digest {}", info.digest),
    ];
    parts.push(if info.approved { "approved" } else { "not approved" }.to_owned());
    if !info.waivers.is_empty() {
        parts.push(format!("waived: {}", info.waivers.join("; ")));
    }
    parts.join(" · ")
}

/// A line of the slug as it lies on the form.
pub(super) struct SlugLine {
    /// The words.
    pub(super) line: ShapedLine,
    /// The start of the baseline.
    pub(super) at: Point,
    /// The direction of the baseline.
    pub(super) turn: Turn,
    /// The ink; black overprints.
    pub(super) ink: Ink,
}

/// Sets the words in black and after them the name of every ink in that ink, so that each plate tells itself, in the room that the plan
/// left.
///
/// # Errors
/// The words do not fit at the smallest size: by how much.
pub(super) fn fit(words: &str, inks: &[Ink], room: Rect, turn: Turn) -> Result<Vec<SlugLine>> {
    let font = FONT.font()?;
    // The words are set on a room that lies level, and the whole is turned afterwards.
    let level = room.size().turned(turn.back());
    let mut missing = Length::ZERO;
    for size in SIZES {
        let lines = wrap(font, words, size, Shaping::TEXT, level.width);
        let names: Vec<ShapedLine> = inks.iter().map(|ink| shape(font, ink.name(), size, Shaping::TEXT)).collect();
        let leading = font.ascent(size) + font.descent(size);
        let placed = set(lines, names, inks, size.half(), level.width);
        let Some(last) = placed.iter().map(|p| p.row).max() else { return Ok(Vec::new()) };
        let height = leading * (last + 1);
        let wide = placed.iter().map(|p| p.x + p.line.width()).max().unwrap_or_default();
        missing = (wide - level.width).max(height - level.height);
        if missing <= Length::ZERO {
            let top = level.height - font.ascent(size);
            return Ok(placed.into_iter().map(|p| p.on_form(top, leading, room, turn)).collect());
        }
    }
    let message = format!("the slug line does not fit its room at 5 pt: {missing} more is needed");
    let fault = Fault::new(Source::Nowhere, message);
    Err(fault.hint("shorten the job's name or the reasons of the waivers, or take a larger sheet").into())
}

/// A piece of the slug on a row of the level room.
struct Placed {
    line: ShapedLine,
    row: i64,
    x: Length,
    ink: Ink,
}

impl Placed {
    fn on_form(self, top: Length, leading: Length, room: Rect, turn: Turn) -> SlugLine {
        let level = room.size().turned(turn.back());
        let at = turn.apply(Point::new(self.x, top - leading * self.row), level).moved(room.x0, room.y0);
        SlugLine { line: self.line, at, turn, ink: self.ink }
    }
}

/// Words first, then the inks one after the other, going on to the next row where one is full.
fn set(lines: Vec<ShapedLine>, names: Vec<ShapedLine>, inks: &[Ink], gap: Length, width: Length) -> Vec<Placed> {
    let mut placed = Vec::new();
    let (mut row, mut x) = (0, Length::ZERO);
    for (n, line) in lines.into_iter().enumerate() {
        row = i64::try_from(n).unwrap_or(0);
        x = line.width() + gap * 2;
        placed.push(Placed { line, row, x: Length::ZERO, ink: Ink::Black });
    }
    for (line, ink) in names.into_iter().zip(inks) {
        if x + line.width() > width && x > Length::ZERO {
            row += 1;
            x = Length::ZERO;
        }
        let next = x + line.width() + gap;
        placed.push(Placed { line, row, x, ink: ink.clone() });
        x = next;
    }
    placed
}

/// Characters that the slug's font has no glyph for.
///
/// # Errors
/// Names them.
pub(super) fn check_characters(words: &str) -> Result<()> {
    let missing = FONT.font()?.missing(words);
    if missing.is_empty() {
        return Ok(());
    }
    let list = missing.iter().map(|c| format!("`{c}`")).collect::<Vec<_>>().join(", ");
    Err(fault(format!("the slug line has characters that its font cannot show: {list}")))
}
