//! Columns over panels: where the grid breaks at the folds, and how wide each column is.

use super::lie::Stretch;
use super::share::{Wish, hold_back, share, unit};
use crate::card::{ColumnRole, Half};
use crate::unit::Length;

/// A column as it is asked for.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct ColumnAsk {
    pub(crate) role: ColumnRole,
    /// What stands over it in the row of hole numbers.
    pub(crate) heading: String,
    /// Its width, where it is stated.
    pub(crate) width: Option<Length>,
    /// What its texts need.
    pub(crate) least: Length,
    /// Index in the card file's list of columns.
    pub(crate) section: usize,
}

/// A usual hole's width; only its proportion to the panels counts.
const HOLE: Length = Length::pt(27);

impl ColumnAsk {
    /// Width against that of a hole. Judgement: names want room to write, totals three digits with ease.
    const fn weight(&self) -> f64 {
        match self.role {
            ColumnRole::Name => 3.2,
            ColumnRole::Member => 1.5,
            ColumnRole::Rating => 2.0,
            ColumnRole::Hole(_) => 1.0,
            ColumnRole::Half(_) | ColumnRole::Handicap | ColumnRole::Net => 1.15,
            ColumnRole::Initials | ColumnRole::Free(_) => 1.3,
            ColumnRole::Total => 1.25,
        }
    }

    fn wish(&self) -> Wish {
        Wish {
            stated: self.width,
            weight: self.weight(),
            least: self.least,
            takes_more: matches!(
                self.role,
                ColumnRole::Name | ColumnRole::Member | ColumnRole::Initials | ColumnRole::Free(_)
            ),
        }
    }

    fn natural(&self) -> Length {
        self.width.unwrap_or_else(|| HOLE.scaled(self.weight()).max(self.least))
    }
}

/// How much a break between two columns hurts; a break after a half's total does not.
const fn break_cost(left: &ColumnRole, right: &ColumnRole) -> f64 {
    match (left, right) {
        (ColumnRole::Half(Half::Out), _) => 0.0,
        (ColumnRole::Hole(9), ColumnRole::Hole(10) | ColumnRole::Initials) => 0.1,
        (ColumnRole::Half(Half::In), _) => 0.3,
        (ColumnRole::Hole(_), _) => 2.0,
        (ColumnRole::Initials, _) => 1.5,
        _ => 0.5,
    }
}

/// How badly columns of a natural width fill a panel.
fn fill_cost(natural: Length, room: Length) -> f64 {
    if room <= Length::ZERO {
        return 1e6;
    }
    let off = (natural.to_pt().max(1.0) / room.to_pt()).ln();
    // Tight is worse than loose.
    if off > 0.0 { off * off * 4.0 } else { off * off }
}

/// How many columns stand on each panel: the grouping in order that fills the panels best and breaks where it hurts least.
/// `None` where there are fewer columns than panels.
pub(super) fn grouped(columns: &[ColumnAsk], rooms: &[Length]) -> Option<Vec<usize>> {
    best(columns, rooms).map(|(_, groups)| groups)
}

fn best(columns: &[ColumnAsk], rooms: &[Length]) -> Option<(f64, Vec<usize>)> {
    let (room, others) = rooms.split_first()?;
    if others.is_empty() {
        let natural: Length = columns.iter().map(ColumnAsk::natural).sum();
        return (!columns.is_empty()).then(|| (fill_cost(natural, *room), vec![columns.len()]));
    }
    let mut found: Option<(f64, Vec<usize>)> = None;
    for n in 1..columns.len() {
        let (here, rest) = columns.split_at(n);
        let (Some(last), Some(next)) = (here.last(), rest.first()) else { continue };
        let Some((cost, mut groups)) = best(rest, others) else { continue };
        let natural: Length = here.iter().map(ColumnAsk::natural).sum();
        let cost = cost + fill_cost(natural, *room) + break_cost(&last.role, &next.role);
        if found.as_ref().is_none_or(|(least, _)| cost < *least) {
            groups.insert(0, n);
            found = Some((cost, groups));
        }
    }
    found
}

/// The columns' stretches, panel by panel. Holes are equally wide on every panel that has a column to take up the
/// difference.
pub(super) fn stretches(columns: &[ColumnAsk], groups: &[usize], panels: &[Stretch]) -> Vec<Vec<Stretch>> {
    let mut parts: Vec<(Vec<Wish>, Stretch)> = Vec::new();
    let mut rest = columns;
    for (count, panel) in groups.iter().zip(panels) {
        let (here, after) = rest.split_at((*count).min(rest.len()));
        rest = after;
        parts.push((here.iter().map(ColumnAsk::wish).collect(), *panel));
    }
    for (wishes, panel) in &mut parts {
        hold_back(wishes, panel.length());
    }
    let units: Vec<Length> = parts.iter().map(|(wishes, panel)| unit(wishes, panel.length())).collect();
    let each = units.iter().copied().filter(|u| *u > Length::ZERO).min().unwrap_or_default();
    parts
        .iter()
        .map(|(wishes, panel)| {
            let mut at = panel.from;
            let widths = share(wishes, panel.length(), each);
            let step = |width: &Length| {
                let from = at;
                at += *width;
                Stretch::new(from, at)
            };
            widths.iter().map(step).collect()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn usual() -> Vec<ColumnAsk> {
        let mut roles = vec![ColumnRole::Name];
        roles.extend((1..=9).map(ColumnRole::Hole));
        roles.extend([ColumnRole::Half(Half::Out), ColumnRole::Initials]);
        roles.extend((10..=18).map(ColumnRole::Hole));
        roles.extend([ColumnRole::Half(Half::In), ColumnRole::Total, ColumnRole::Handicap, ColumnRole::Net]);
        let ask = |role| ColumnAsk { role, heading: String::new(), width: None, least: Length::ZERO, section: 0 };
        roles.into_iter().map(ask).collect()
    }

    #[test]
    fn two_panels_break_after_out() {
        let room = Length::from_in(5.66);
        assert_eq!(grouped(&usual(), &[room, room]), Some(vec![11, 14]));
    }

    #[test]
    fn three_panels_break_after_out_and_in() {
        let room = Length::from_in(5.4);
        assert_eq!(grouped(&usual(), &[room, room, room]), Some(vec![11, 11, 3]));
    }

    #[test]
    fn holes_are_equally_wide_on_both_panels_and_names_take_the_rest() {
        let columns = usual();
        let panels = [Stretch::new(Length::pt(10), Length::pt(410)), Stretch::new(Length::pt(430), Length::pt(830))];
        let laid = stretches(&columns, &[11, 14], &panels);
        let widths = |n: usize| laid[n].iter().map(|s| s.length()).collect::<Vec<_>>();
        assert_eq!(widths(0)[1], widths(1)[1]);
        assert!(widths(0)[0] > widths(0)[1] * 4);
        for (part, panel) in laid.iter().zip(&panels) {
            assert_eq!(part[0].from, panel.from);
            assert_eq!(part.last().unwrap().to, panel.to);
        }
    }
}
