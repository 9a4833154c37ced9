//! Headings, paragraphs, lists and the liability note.

use super::Bed;
use crate::fault::Result;
use crate::font::{OpenFont, ShapedLine};
use crate::ink::Colour;
use crate::model::{AlignName, StandName, TextBlock, TextKind};
use crate::typeset::lettering::{Lettering, named};
use crate::typeset::page::Page;
use crate::unit::Length;

/// Family and size that go with a kind of text, where the card file states none.
const fn usual(kind: TextKind) -> (OpenFont, Length) {
    match kind {
        TextKind::Heading => (OpenFont::SerifSemibold, Length::pt(16)),
        TextKind::Paragraph | TextKind::List => (OpenFont::Narrow, Length::pt(9)),
        TextKind::Liability => (OpenFont::Narrow, Length::units(Length::PER_PT * 15 / 2)),
    }
}

const BULLET: &str = "•";

/// A line and where it stands under the first baseline.
struct Set {
    line: ShapedLine,
    down: Length,
    indent: Length,
    bullet: bool,
}

/// Sets a text block.
pub(super) fn set(page: &mut Page, bed: &Bed<'_>, block: &TextBlock) -> Result<()> {
    let (font, size) = usual(block.kind);
    let font = block.font.map_or(font, named);
    let mut lettering = Lettering::text(font, block.size.map_or(size, |m| m.0))?;
    if let Some(tracking) = block.tracking {
        lettering.shaping = lettering.shaping.tracked(tracking.0);
    }
    let leading = block.leading.map_or_else(|| lettering.size.scaled(1.2), |m| m.0);
    let colour = block.colour.as_ref().map_or(Colour::BLACK, |c| bed.model.colour(c));
    let place = bed.frame.size();
    let lines = lines(block, &lettering, leading, place.width);
    let Some(last) = lines.last().map(|l| l.down) else { return Ok(()) };

    // Capitals of the first line touch the top of the place, descenders of the last one its bottom; in the middle, the space over the
    // capitals equals that under the last baseline.
    let (cap, depth) = (lettering.cap(), lettering.depth());
    let first = match block.stand {
        StandName::Top => cap,
        StandName::Middle => (place.height + cap - last).half(),
        StandName::Bottom => place.height - depth - last,
    };
    let needs = cap + last + depth;
    if needs > place.height {
        bed.overset(page, &block.text, place.height, needs, true);
    }
    for set in lines {
        let width = set.line.width();
        let room = place.width - set.indent;
        if width > room {
            bed.overset(page, &set.line.text, room, width, false);
        }
        let x = set.indent
            + match block.align {
                AlignName::Left => Length::ZERO,
                AlignName::Centre => (room - width).half(),
                AlignName::Right => room - width,
            };
        let y = first + set.down;
        if set.bullet {
            page.text(lettering.line(BULLET), bed.frame.point(x - set.indent, y), bed.frame.turn, &colour);
        }
        page.text(set.line, bed.frame.point(x, y), bed.frame.turn, &colour);
    }
    Ok(())
}

fn lines(block: &TextBlock, lettering: &Lettering, leading: Length, width: Length) -> Vec<Set> {
    let is_list = block.kind == TextKind::List;
    // Judgement: half a line parts paragraphs, a quarter parts the items of a list.
    let gap = if is_list { leading / 4 } else { leading.half() };
    let indent = if is_list { lettering.width(BULLET) + lettering.size.scaled(0.35) } else { Length::ZERO };
    let mut found: Vec<Set> = Vec::new();
    for text in pieces(block) {
        let start = found.last().map_or(Length::ZERO, |l| l.down + leading + gap);
        let mut down = start;
        for (n, line) in lettering.lines(&text, width - indent).into_iter().enumerate() {
            found.push(Set { line, down, indent, bullet: is_list && n == 0 });
            down += leading;
        }
    }
    found
}

/// Items of a list, or paragraphs. In running text a single line end is a blank; in a heading it stays.
fn pieces(block: &TextBlock) -> Vec<String> {
    let text = block.text.trim();
    let keep = |piece: String| Some(piece).filter(|p| !p.is_empty());
    match block.kind {
        TextKind::List => text.lines().filter_map(|l| keep(l.trim().to_owned())).collect(),
        TextKind::Heading => vec![text.lines().map(str::trim).collect::<Vec<_>>().join("\n")],
        TextKind::Paragraph | TextKind::Liability => {
            let mut found = vec![String::new()];
            for line in text.lines().map(str::trim) {
                match found.last_mut() {
                    Some(last) if !line.is_empty() => {
                        if !last.is_empty() {
                            last.push(' ');
                        }
                        last.push_str(line);
                    }
                    _ => found.push(String::new()),
                }
            }
            found.into_iter().filter_map(keep).collect()
        }
    }
}

/// Words under or beside other things, set on one line from `x`, with the baseline `y` below the top.
pub(super) fn line(
    page: &mut Page,
    bed: &Bed<'_>,
    text: &str,
    lettering: &Lettering,
    at: (Length, Length),
    colour: &Colour,
) {
    let (x, y) = at;
    let line = lettering.line(text);
    let room = bed.frame.size().width - x;
    if line.width() > room {
        bed.overset(page, text, room, line.width(), false);
    }
    page.text(line, bed.frame.point(x, y), bed.frame.turn, colour);
}
