use super::{Ground, blocks};
use crate::card::Side;
use crate::model::{FaceName, PanelSection, TurnName};
use crate::unit::Size;

/// `[[panel]]`: panels that exist, each described once, and their blocks.
pub(super) fn look(ground: &mut Ground<'_>) {
    let file = ground.file;
    let fold_known = ground.firm(&["card.fold", "card.panels", "card.widths"]);
    let there = file.card.panel_count();
    for (n, panel) in file.panel.iter().enumerate() {
        let path = format!("panel[{n}]");
        if let Some(number) = panel.panel.filter(|p| fold_known && !(1..=there).contains(p)) {
            let message = format!("there is no panel {number} with fold \"{}\"", file.card.fold.word());
            ground.fault(&format!("{path}.panel"), message, format!("panels run from 1 to {there}, left to right"));
        }
        let known = |p: &PanelSection| (p.face, p.panel);
        let heads = |i: usize| [format!("panel[{i}].face"), format!("panel[{i}].panel")];
        let before = file
            .panel
            .iter()
            .take(n)
            .enumerate()
            .position(|(i, b)| known(b) == known(panel) && heads(i).iter().all(|p| ground.sound(p)));
        if let Some(before) = before.filter(|_| heads(n).iter().all(|p| ground.sound(p))) {
            let line = ground.line(&format!("panel[{before}]"));
            let message = format!("this panel is already described in line {line}");
            ground.fault(&path, message, "bring the blocks together under one [[panel]]");
        }
        let room = if fold_known && ground.firm(&["card.size"]) { room(ground, panel) } else { None };
        for (b, block) in panel.block.iter().enumerate() {
            blocks::look(ground, &format!("{path}.block[{b}]"), block, room);
        }
    }
}

/// The size of a panel as its content stands on it.
fn room(ground: &Ground<'_>, panel: &PanelSection) -> Option<Size> {
    let format = ground.file.card.format();
    let side = match panel.face {
        FaceName::Outside => Side::Outside,
        FaceName::Inside => Side::Inside,
    };
    let size = match panel.panel {
        None => format.flat,
        Some(number) => format.panels(side).into_iter().find(|p| p.number == number)?.rect.size(),
    };
    let turned = matches!(panel.turn, TurnName::Left | TurnName::Right);
    Some(if turned { Size::new(size.height, size.width) } else { size })
}
