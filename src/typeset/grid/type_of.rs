//! Which type each cell is set in, what room it needs, and which way it stands.

use super::Setting;
use crate::card::{ColumnRole, RowRole};
use crate::fault::Result;
use crate::model::GridSection;
use crate::typeset::lettering::{Lettering, Weight, of_grid};
use crate::typeset::plan::Laid;
use crate::unit::{Length, Turn};

/// The grid's lettering: numbers and words, at three weights.
#[derive(Clone, Copy, Debug)]
pub(super) struct Types {
    figures: [Lettering; 3],
    words: [Lettering; 3],
}

/// Numbers are 9 pt where the card does not say.
const USUAL_SIZE: Length = Length::pt(9);

impl Types {
    pub(super) fn of(section: &GridSection) -> Result<Self> {
        let (family, size) = (section.font, section.size.map_or(USUAL_SIZE, |m| m.0));
        let weights = [Weight::Light, Weight::Medium, Weight::Strong];
        let [a, b, c] = weights.map(|w| Lettering::figures(of_grid(family, w), size));
        let [d, e, f] = weights.map(|w| Lettering::text(of_grid(family, w), size));
        Ok(Self { figures: [a?, b?, c?], words: [d?, e?, f?] })
    }

    /// The lettering of a cell.
    pub(super) const fn at(&self, row: &RowRole, column: &ColumnRole) -> Lettering {
        let weight = match (row, column) {
            (RowRole::Par(_) | RowRole::ParBoth, ColumnRole::Name) => Weight::Medium,
            (RowRole::Holes | RowRole::Par(_) | RowRole::ParBoth, _)
            | (RowRole::Tee(_) | RowRole::Combo(_), ColumnRole::Half(_) | ColumnRole::Total) => Weight::Strong,
            (RowRole::Tee(_) | RowRole::Combo(_), _) | (_, ColumnRole::Name) => Weight::Medium,
            _ => Weight::Light,
        };
        let words = matches!((row, column), (_, ColumnRole::Name))
            || matches!((row, column), (RowRole::Holes, c) if !matches!(c, ColumnRole::Hole(_)));
        let [light, medium, strong] = if words { self.words } else { self.figures };
        match weight {
            Weight::Light => light,
            Weight::Medium => medium,
            Weight::Strong => strong,
        }
    }

    const fn size(&self) -> Length {
        let [light, ..] = self.figures;
        light.size
    }

    /// From the rule to a label.
    pub(super) fn indent(&self) -> Length {
        self.size().scaled(0.45)
    }

    /// From a rule to text, at the least.
    pub(super) const fn air() -> Length {
        Length::pt(1)
    }
}

/// Notes what every row and column needs at the least, so that those without a stated measure are made for their texts.
pub(super) fn measure(setting: &mut Setting<'_>) {
    let (air, indent) = (Types::air() * 2 + setting.rule(), setting.types.indent());
    let down = setting.lie.is_down();
    // Judgement: a line of type wants seven tenths of its size as air, above and below together.
    let line = setting.types.size().scaled(1.7);
    let mut across = vec![Length::ZERO; setting.columns.len()];
    let mut along_text = vec![Length::ZERO; setting.rows.len()];
    for (r, row) in setting.rows.iter().enumerate() {
        for (c, column) in setting.columns.iter().enumerate() {
            let text = setting.text(r, c);
            let role = &column.ask.role;
            let width = setting.types.at(&row.ask.role, role).width(text);
            let needs = match role {
                _ if text.is_empty() => Length::ZERO,
                ColumnRole::Name => width + indent * 2,
                _ => width + air,
            };
            let lying = down && !is_upright_by_nature(role);
            if let Some(most) = across.get_mut(c) {
                *most = (*most).max(if lying { line } else { needs });
            }
            if let Some(most) = along_text.get_mut(r).filter(|_| lying) {
                *most = (*most).max(needs);
            }
        }
    }
    let holes = setting.columns.iter().zip(&across).filter(|(c, _)| matches!(c.ask.role, ColumnRole::Hole(_)));
    let hole = holes.map(|(_, w)| *w).max().unwrap_or_default();
    for (column, needs) in setting.columns.iter_mut().zip(across) {
        column.ask.least = if matches!(column.ask.role, ColumnRole::Hole(_)) { hole } else { needs };
    }
    for (row, needs) in setting.rows.iter_mut().zip(along_text) {
        row.ask.least = needs.max(line);
    }
}

/// Columns of words, which stand upright on a grid that reads down because its lines are narrow.
const fn is_upright_by_nature(column: &ColumnRole) -> bool {
    matches!(column, ColumnRole::Name | ColumnRole::Rating)
}

/// Which way the text of each column stands in the row of hole numbers and in the others.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Stands {
    labels: Turn,
    ratings: Turn,
    heads: Turn,
    others: Turn,
}

impl Stands {
    pub(super) const fn at(&self, row: &RowRole, column: &ColumnRole) -> Turn {
        match (row, column) {
            (_, ColumnRole::Name) => self.labels,
            (RowRole::Holes, ColumnRole::Hole(_)) => self.others,
            (RowRole::Holes, _) => self.heads,
            (_, ColumnRole::Rating) => self.ratings,
            _ => self.others,
        }
    }
}

/// On a grid that reads down, words go with the numbers where all of their kind fit so; otherwise all of them stand upright on
/// the face.
pub(super) fn stands(setting: &Setting<'_>, laid: &Laid) -> Stands {
    let turn = setting.lie.turn();
    let fit = |is: &dyn Fn(&RowRole, &ColumnRole) -> bool| {
        let mut all = true;
        for (r, row) in setting.rows.iter().enumerate() {
            let room = laid.down.get(r).map(|s| s.length()).unwrap_or_default() - Types::air() * 2 - setting.rule();
            for (c, column) in setting.columns.iter().enumerate() {
                let (row, column) = (&row.ask.role, &column.ask.role);
                all &= !is(row, column) || setting.types.at(row, column).width(setting.text(r, c)) <= room;
            }
        }
        if all || !setting.lie.is_down() { turn } else { Turn::None }
    };
    Stands {
        labels: fit(&|_, c| *c == ColumnRole::Name),
        ratings: fit(&|r, c| *c == ColumnRole::Rating && *r != RowRole::Holes),
        heads: fit(&|r, c| *r == RowRole::Holes && !matches!(c, ColumnRole::Name | ColumnRole::Hole(_))),
        others: turn,
    }
}
