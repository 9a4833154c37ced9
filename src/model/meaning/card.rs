use super::Ground;
use crate::model::reading::nearest;
use crate::model::{CardSection, FoldName};
use crate::unit::Length;

/// The largest sheet in use, 28 x 40 in: its two sides.
const SHEET: (Length, Length) = (Length::inches(28, 1), Length::inches(40, 1));

/// `[card]`: title, size, fold, panel widths, margins, condition.
pub(super) fn look(ground: &mut Ground<'_>) {
    let card = &ground.file.card;
    ground.not_blank("card.title", &card.title, "the title");
    size(ground, card);
    if ground.sound("card.fold") {
        panels(ground, card);
        widths(ground, card);
    }
    if let Some(bleed) = card.bleed {
        ground.within("card.bleed", bleed.0, Length::ZERO, Length::inches(1, 1), "the bleed");
    }
    if let Some(safe) = card.safe {
        ground.within("card.safe", safe.0, Length::ZERO, Length::inches(2, 1), "the safe margin");
    }
    condition(ground, card);
    for (n, text) in card.required.iter().enumerate() {
        ground.not_blank(&format!("card.required[{n}]"), text, "a text that the card must carry");
    }
}

fn size(ground: &mut Ground<'_>, card: &CardSection) {
    let flat = card.size.0;
    let (short, long) = (flat.width.min(flat.height), flat.width.max(flat.height));
    if short > SHEET.0 || long > SHEET.1 {
        let message = format!("a card of {} is larger than any sheet", flat.card_text());
        ground.fault("card.size", message, "the largest sheet is 28 x 40 in (711.2 x 1016 mm); is the unit right?");
    } else if short < Length::inches(1, 1) {
        let message = format!("a card of {} is too small to hold", flat.card_text());
        ground.fault("card.size", message, "both sides are 1 in (25.4 mm) or more; is the unit right?");
    }
}

fn panels(ground: &mut Ground<'_>, card: &CardSection) {
    match (card.fold, card.panels) {
        (FoldName::Accordion, None) if card.widths.is_none() => {
            ground.fault(
                "card.fold",
                "an accordion fold needs `panels`, the number of its panels",
                "such as `panels = 4`",
            );
        }
        (FoldName::Accordion, Some(n)) if !(2..=CardSection::MOST_PANELS).contains(&n) => {
            let message = format!("an accordion of {n} panels cannot be folded");
            ground.fault("card.panels", message, format!("it has 2 to {}", CardSection::MOST_PANELS));
        }
        (fold, Some(n)) if fold != FoldName::Accordion && n != card.panel_count() => {
            let message = format!("a card with fold \"{}\" has {}, not {n}", fold.word(), count(card.panel_count()));
            ground.fault("card.panels", message, "take `panels` out; it is for accordion folds");
        }
        _ => {}
    }
}

fn widths(ground: &mut Ground<'_>, card: &CardSection) {
    let Some(widths) = card.widths.as_deref() else { return };
    if !ground.firm(&["card.widths", "card.panels"]) {
        return;
    }
    if widths.len() != card.panel_count() {
        let message = format!("`widths` has {} and the fold makes {}", widths.len(), count(card.panel_count()));
        return ground.fault("card.widths", message, "give one width for each panel of the inside, left to right");
    }
    for (n, width) in widths.iter().enumerate() {
        if width.0 <= Length::ZERO {
            let message = format!("panel {} has no width", n + 1);
            ground.fault(&format!("card.widths[{n}]"), message, "");
        }
    }
    let sum: Length = widths.iter().map(|w| w.0).sum();
    let flat = card.size.0.width;
    if !sum.near(flat, Length::um(10)) && ground.firm(&["card.size"]) {
        let (gap, word) = if sum > flat { (sum - flat, "too much") } else { (flat - sum, "missing") };
        let message = format!("the panels add up to {sum}, and the card is {flat} wide: {gap} {word}");
        ground.fault(
            "card.widths",
            message,
            "a panel that folds inside is usually 1/32 in shorter, and the others share it",
        );
    }
}

fn condition(ground: &mut Ground<'_>, card: &CardSection) {
    let name = card.condition.as_str();
    let profile = name.rsplit('.').next().is_some_and(|e| ["icc", "icm"].contains(&e.to_lowercase().as_str()));
    if matches!(name, "coated" | "uncoated") || (profile && name.len() > 4) {
        return;
    }
    let near = nearest(name, ["coated", "uncoated"]).map(|n| format!("the nearest is \"{n}\"; ")).unwrap_or_default();
    let hint =
        format!("{near}write \"coated\", \"uncoated\", or the path of a CMYK output profile ending in .icc or .icm");
    ground.fault("card.condition", format!("\"{name}\" is no print condition"), hint);
}

fn count(panels: usize) -> String {
    if panels == 1 { "1 panel".to_owned() } else { format!("{panels} panels") }
}
