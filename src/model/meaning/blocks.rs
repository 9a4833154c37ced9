use kurbo::BezPath;

use super::Ground;
use crate::model::{Block, BoxBlock, Measure, RatingsBlock, RuleBlock, Spot, SymbolBlock, SymbolPart, TextBlock};
use crate::unit::{Length, Size};

/// One block; `room` is the size of its panel as the content stands on it, where that is known.
pub(super) fn look(ground: &mut Ground<'_>, path: &str, block: &Block, room: Option<Size>) {
    if let Some(at) = place_of(block) {
        place(ground, &format!("{path}.at"), at, room);
    }
    match block {
        Block::Text(text) => text_block(ground, path, text),
        Block::Rule(rule) => rule_block(ground, path, rule),
        Block::Box(ruled) => box_block(ground, path, ruled),
        Block::Symbol(symbol) => symbol_block(ground, path, symbol),
        Block::Ratings(ratings) => ratings_block(ground, path, ratings),
        Block::Picture(picture) => ground.not_blank(&format!("{path}.file"), &picture.file, "the picture's file name"),
        Block::Page(page) => {
            ground.not_blank(&format!("{path}.file"), &page.file, "the PDF's file name");
            if page.page == 0 {
                ground.fault(&format!("{path}.page"), "there is no page 0", "pages count from 1");
            }
        }
        Block::Line(line) => {
            if let Some(caption) = &line.caption {
                ground.not_blank(&format!("{path}.caption"), caption, "the caption");
            }
        }
    }
}

fn place_of(block: &Block) -> Option<&Spot> {
    match block {
        Block::Text(b) => Some(&b.at),
        Block::Box(b) => Some(&b.at),
        Block::Picture(b) => Some(&b.at),
        Block::Symbol(b) => Some(&b.at),
        Block::Line(b) => Some(&b.at),
        Block::Ratings(b) => Some(&b.at),
        Block::Page(b) => b.at.as_ref(),
        Block::Rule(_) => None,
    }
}

fn place(ground: &mut Ground<'_>, path: &str, at: &Spot, room: Option<Size>) {
    let mut flat = false;
    for (key, length) in [("width", at.width.0), ("height", at.height.0)] {
        if length <= Length::ZERO {
            flat = true;
            ground.fault(
                &format!("{path}.{key}"),
                format!("the {key} is {length}"),
                format!("the {key} must be above zero"),
            );
        }
    }
    let Some(room) = room.filter(|_| !flat && ground.sound(path)) else { return };
    let outside = at.x.0 >= room.width
        || at.y.0 >= room.height
        || at.x.0 + at.width.0 <= Length::ZERO
        || at.y.0 + at.height.0 <= Length::ZERO;
    if outside {
        let message = format!("this stands outside its panel, which is {} (height x width)", room.card_text());
        ground.fault(path, message, "`x` and `y` count from the panel's top left corner");
    }
}

fn text_block(ground: &mut Ground<'_>, path: &str, text: &TextBlock) {
    ground.not_blank(&format!("{path}.text"), &text.text, "the text");
    type_size(ground, path, text.size);
    if let Some(leading) = text.leading {
        let most = Length::pt(600);
        ground.within(&format!("{path}.leading"), leading.0, Length::pt(2), most, "the line spacing");
    }
    if let Some(tracking) = text.tracking {
        let most = Length::pt(72);
        ground.within(&format!("{path}.tracking"), tracking.0, Length::pt(-6), most, "the letter spacing");
    }
}

fn type_size(ground: &mut Ground<'_>, path: &str, size: Option<Measure>) {
    if let Some(size) = size {
        ground.within(&format!("{path}.size"), size.0, Length::pt(3), Length::pt(300), "the type size");
    }
}

fn weight(ground: &mut Ground<'_>, path: &str, weight: Option<Measure>) {
    if let Some(weight) = weight {
        ground.within(path, weight.0, Length::um(10), Length::inches(2, 1), "the weight");
    }
}

fn rule_block(ground: &mut Ground<'_>, path: &str, rule: &RuleBlock) {
    if rule.from == rule.to {
        ground.fault(path, "the rule ends where it starts", "give `to` another place than `from`");
    }
    weight(ground, &format!("{path}.weight"), rule.weight);
}

fn box_block(ground: &mut Ground<'_>, path: &str, ruled: &BoxBlock) {
    if ruled.fill.is_none() && ruled.rule.is_none() && ground.sound(path) {
        ground.fault(path, "the box has neither fill nor rule, so nothing would print", "add `fill` or `rule`");
    }
    weight(ground, &format!("{path}.rule"), ruled.rule);
    if let Some(radius) = ruled.radius {
        let most = ruled.at.width.0.min(ruled.at.height.0).half().max(Length::ZERO);
        ground.within(&format!("{path}.radius"), radius.0, Length::ZERO, most, "the radius of the corners");
    }
}

fn ratings_block(ground: &mut Ground<'_>, path: &str, ratings: &RatingsBlock) {
    type_size(ground, path, ratings.size);
    let file = ground.file;
    let rated = file.tees.iter().any(|t| t.rating.is_some() || t.slope.is_some())
        || file.combos.iter().any(|c| c.rating.is_some() || c.slope.is_some());
    if !rated && ground.sound("tees") && ground.sound("combos") {
        ground.fault(path, "there are no ratings to list", "add `rating` and `slope` to the [[tees]]");
    }
}

fn symbol_block(ground: &mut Ground<'_>, path: &str, symbol: &SymbolBlock) {
    if !symbol.view.iter().all(|v| *v > 0.0 && *v <= 1e6) {
        let hint = "give its width and height, both above zero, such as `view = [100, 100]`";
        ground.fault(&format!("{path}.view"), "the drawing's plane has no size", hint);
    }
    if symbol.parts.is_empty() {
        ground.fault(&format!("{path}.parts"), "the drawing has no parts", "");
    }
    for (n, part) in symbol.parts.iter().enumerate() {
        symbol_part(ground, &format!("{path}.parts[{n}]"), part);
    }
}

fn symbol_part(ground: &mut Ground<'_>, path: &str, part: &SymbolPart) {
    if part.fill.is_none() && part.stroke.is_none() && ground.sound(path) {
        ground.fault(path, "this part has neither fill nor stroke, so nothing would print", "add `fill` or `stroke`");
    }
    weight(ground, &format!("{path}.weight"), part.weight);
    let path = format!("{path}.path");
    let hint = "write SVG path data: M, L, H, V, C, S, Q, T, A, Z and their numbers";
    match BezPath::from_svg(&part.path) {
        Ok(outline) if outline.elements().len() < 2 => ground.fault(&path, "the path draws nothing", hint),
        Ok(outline) if !outline.is_finite() => ground.fault(&path, "the path runs out of the plane", hint),
        Ok(_) => {}
        Err(error) => ground.fault(&path, format!("the path cannot be drawn: {error}"), hint),
    }
}
