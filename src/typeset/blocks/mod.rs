//! What stands on the panels: fills, and blocks one by one.

mod art;
mod drawn;
mod line;
mod picture;
mod ratings;
mod text;

use super::Assets;
use super::artworks::Artworks;
use super::frame::Frame;
use super::page::{Page, Spot};
use super::pictures::Pictures;
use crate::card::{Format, Side};
use crate::fault::{Faults, Result, Span};
use crate::model::{self, Block, FaceName, Model, PanelSection, TurnName};
use crate::unit::{Length, Rect, Sides, Turn};

/// The files that blocks lay on the card, each read once.
#[derive(Debug)]
pub(super) struct Files {
    pub(super) pictures: Pictures,
    pub(super) artworks: Artworks,
}

/// Where a block is set, and all it may ask.
struct Bed<'a> {
    model: &'a Model,
    format: &'a Format,
    /// The block's place, turned like its panel.
    frame: Frame,
    panel: Option<usize>,
    /// Its path in the card file.
    path: &'a str,
    span: Span,
    what: &'a str,
}

impl Bed<'_> {
    fn overset(&self, page: &mut Page, text: &str, room: Length, needs: Length, in_height: bool) {
        let spot = Spot { rect: self.frame.panel, panel: self.panel, what: self.what, span: &self.span };
        page.overset(&spot, text, room, needs, in_height);
    }

    fn at(&self, key: &str) -> Span {
        self.model.span(&format!("{}.{key}", self.path))
    }

    /// The place with every edge that lies on the trim moved out to the bleed.
    fn bled(&self) -> Rect {
        out_to_bleed(self.frame.panel, self.format)
    }
}

fn out_to_bleed(rect: Rect, format: &Format) -> Rect {
    // Places on the card are often written in rounded decimals.
    let tolerance = Length::um(20);
    let trim = format.trim();
    let by = |edge: Length, trim: Length| if edge.near(trim, tolerance) { format.bleed } else { Length::ZERO };
    rect.grown_by(Sides {
        top: by(rect.y1, trim.y1),
        right: by(rect.x1, trim.x1),
        bottom: by(rect.y0, trim.y0),
        left: by(rect.x0, trim.x0),
    })
}

const fn side(face: FaceName) -> Side {
    match face {
        FaceName::Outside => Side::Outside,
        FaceName::Inside => Side::Inside,
    }
}

const fn turn(turn: TurnName) -> Turn {
    match turn {
        TurnName::None => Turn::None,
        TurnName::Left => Turn::Left,
        TurnName::Half => Turn::Half,
        TurnName::Right => Turn::Right,
    }
}

/// The panel of a section on its face; the whole face where it names none.
fn panel_rect(section: &PanelSection, format: &Format) -> Rect {
    let panels = format.panels(side(section.face));
    let named = section.panel.and_then(|n| panels.into_iter().find(|p| p.number == n));
    named.map_or_else(|| format.trim(), |p| p.rect)
}

/// Sets everything that stands on the panels of a page's face: all fills first, then the blocks, each in the file's order.
pub(super) fn set(page: &mut Page, model: &Model, assets: &Assets, files: &mut Files) -> Result<()> {
    let format = model.format();
    let face = page.side;
    let here = |section: &PanelSection| side(section.face) == face;
    for (n, section) in model.file.panel.iter().enumerate().filter(|(_, s)| here(s)) {
        let rect = panel_rect(section, &format);
        if let Some(fill) = &section.fill {
            let span = model.span(&format!("panel[{n}].fill"));
            let bled = out_to_bleed(rect, &format);
            page.trace(bled, "panel fill", &span);
            page.block(bled, &model.colour(fill));
        }
    }
    let mut faults = Faults::new();
    for (n, section) in model.file.panel.iter().enumerate().filter(|(_, s)| here(s)) {
        let panel = Frame::new(panel_rect(section, &format), turn(section.turn));
        for (b, block) in section.block.iter().enumerate() {
            let path = format!("panel[{n}].block[{b}]");
            let place = spot(block).map_or(panel.panel, |at| at_rect(panel, at));
            let what = what(block);
            let bed = Bed {
                model,
                format: &format,
                frame: panel.inner(place),
                panel: section.panel,
                span: model.span(&path),
                path: &path,
                what: &what,
            };
            page.set_from(&bed.span);
            let set = match block {
                Block::Text(text) => text::set(page, &bed, text),
                Block::Rule(rule) => {
                    drawn::rule(page, &bed, panel, rule);
                    Ok(())
                }
                Block::Box(ruled) => {
                    drawn::ruled_box(page, &bed, ruled);
                    Ok(())
                }
                Block::Picture(picture) => picture::set(page, &bed, picture, assets, &mut files.pictures),
                Block::Symbol(symbol) => drawn::symbol(page, &bed, symbol),
                Block::Line(line) => line::set(page, &bed, line),
                Block::Ratings(ratings) => ratings::set(page, &bed, ratings),
                Block::Page(block) => art::set(page, &bed, block, assets, &mut files.artworks),
            };
            page.trace(traced(block, &bed, panel), what.as_str(), &bed.span);
            faults.take(set);
        }
    }
    faults.or(())
}

/// What a block covers on the face.
fn traced(block: &Block, bed: &Bed<'_>, panel: Frame) -> Rect {
    match block {
        Block::Rule(rule) => drawn::rule_rect(bed, panel, rule),
        Block::Picture(picture) if picture.bleed => bed.bled(),
        Block::Box(ruled) if ruled.bleed => bed.bled(),
        Block::Page(_) => bed.bled(),
        _ => bed.frame.panel,
    }
}

fn at_rect(panel: Frame, at: &model::Spot) -> Rect {
    panel.rect(at.x.0, at.y.0, crate::unit::Size::new(at.width.0, at.height.0))
}

const fn spot(block: &Block) -> Option<&model::Spot> {
    match block {
        Block::Text(b) => Some(&b.at),
        Block::Rule(_) => None,
        Block::Box(b) => Some(&b.at),
        Block::Picture(b) => Some(&b.at),
        Block::Symbol(b) => Some(&b.at),
        Block::Line(b) => Some(&b.at),
        Block::Ratings(b) => Some(&b.at),
        Block::Page(b) => b.at.as_ref(),
    }
}

/// A block in words, as findings name it.
fn what(block: &Block) -> String {
    let begins = |text: &str| {
        let words: Vec<&str> = text.split_whitespace().collect();
        let begin = words.get(..4).filter(|_| words.len() > 5).map(|w| format!("{}…", w.join(" ")));
        begin.unwrap_or_else(|| words.join(" "))
    };
    match block {
        Block::Text(b) => {
            let kind = match b.kind {
                model::TextKind::Heading => "heading",
                model::TextKind::Paragraph => "paragraph",
                model::TextKind::List => "list",
                model::TextKind::Liability => "liability note",
            };
            format!("{kind} \"{}\"", begins(&b.text))
        }
        Block::Rule(_) => "rule".to_owned(),
        Block::Box(_) => "box".to_owned(),
        Block::Picture(b) => b.caption.clone().unwrap_or_else(|| format!("picture {}", b.file)),
        Block::Symbol(b) => b.caption.clone().unwrap_or_else(|| "symbol".to_owned()),
        Block::Line(b) => format!("{} line", line::caption(b).to_lowercase()).trim_start().to_owned(),
        Block::Ratings(_) => "table of ratings".to_owned(),
        Block::Page(b) => format!("page {} of {}", b.page, b.file),
    }
}
