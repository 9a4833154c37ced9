use super::lattice::Lattice;
use super::view::{Seen, View};
use crate::card::{Cell, Column, ColumnRole, GridPlan, Half, Row, RowRole, Side};
use crate::scorecard::Who;
use crate::unit::Length;

/// Least height of a row that people write in; lower empty rows are only spacing.
const WRITABLE: Length = Length::inches(3, 20);

/// Gives every row and column its role.
pub(super) fn plan(side: Side, view: View, lattice: &Lattice) -> Option<GridPlan> {
    let heads = lattice.texts.get(lattice.head)?;
    let columns = column_roles(heads);
    let holes = columns.iter().filter(|c| matches!(c, ColumnRole::Hole(_))).count();
    if holes != 9 && holes != 18 {
        return None;
    }
    let mut seen = RowsSeen { tees: Vec::new(), combos: 0, players: 0 };
    let roles: Vec<(RowRole, String)> = lattice
        .texts
        .iter()
        .zip(&lattice.rows)
        .enumerate()
        .map(|(n, (texts, (v0, v1)))| {
            let label = label(texts, &columns);
            let role = if n == lattice.head { RowRole::Holes } else { seen.role(&label, texts, &columns, *v1 - *v0) };
            (role, label)
        })
        .collect();
    let known = roles.iter().filter(|(role, _)| !matches!(role, RowRole::Free(_) | RowRole::Holes)).count();
    if known == 0 {
        return None;
    }

    let (u0, u1) = (lattice.columns.first()?.0, lattice.columns.last()?.1);
    let (v0, v1) = (lattice.rows.first()?.0, lattice.rows.last()?.1);
    let rect = |u0, v0, u1, v1| view.face(Seen { u0, v0, u1, v1 });
    let mut cells = Vec::new();
    for (row, ((top, bottom), texts)) in lattice.rows.iter().zip(&lattice.texts).enumerate() {
        for (column, ((left, right), text)) in lattice.columns.iter().zip(texts).enumerate() {
            cells.push(Cell { row, column, rect: rect(*left, *top, *right, *bottom), text: text.clone() });
        }
    }
    let rows = roles.into_iter().zip(&lattice.rows);
    let cols = columns.into_iter().zip(&lattice.columns);
    Some(GridPlan {
        side,
        direction: view.direction(),
        bounds: rect(u0, v0, u1, v1),
        rows: rows.map(|((role, label), (a, b))| Row { role, label, rect: rect(u0, *a, u1, *b) }).collect(),
        columns: cols.map(|(role, (a, b))| Column { role, rect: rect(*a, v0, *b, v1) }).collect(),
        cells,
    })
}

/// Roles of the columns by what stands in the row of hole numbers.
fn column_roles(heads: &[String]) -> Vec<ColumnRole> {
    let mut roles: Vec<ColumnRole> = Vec::new();
    for head in heads {
        let word = head.trim().trim_end_matches('.').to_lowercase();
        let before_holes = !roles.iter().any(|r| matches!(r, ColumnRole::Hole(_)));
        let hole = word.parse::<u8>().ok().filter(|n| (1..=18).contains(n));
        let role = match (hole, word.as_str()) {
            (Some(n), _) => ColumnRole::Hole(n),
            (_, "out" | "front") => ColumnRole::Half(Half::Out),
            (_, "in" | "back") => ColumnRole::Half(Half::In),
            (_, "total" | "tot") => ColumnRole::Total,
            (_, "hcp" | "handicap" | "hdcp") => ColumnRole::Handicap,
            (_, "net" | "nett") => ColumnRole::Net,
            (_, "initials" | "init" | "player") => ColumnRole::Initials,
            (_, "member" | "member no" | "no") => ColumnRole::Member,
            (_, "rating" | "rating/slope" | "slope" | "cr/sr") => ColumnRole::Rating,
            _ if roles.is_empty() => ColumnRole::Name,
            (_, "") if !before_holes && !roles.contains(&ColumnRole::Initials) => ColumnRole::Initials,
            _ => ColumnRole::Free(head.clone()),
        };
        roles.push(role);
    }
    roles
}

fn label(texts: &[String], columns: &[ColumnRole]) -> String {
    let name = columns.iter().position(|c| *c == ColumnRole::Name);
    name.and_then(|n| texts.get(n)).cloned().unwrap_or_default()
}

/// What stands in the hole columns, hole by hole.
pub(super) fn of_holes<'a>(texts: &'a [String], columns: &[ColumnRole]) -> Vec<&'a str> {
    let mut found: Vec<(u8, &str)> = columns
        .iter()
        .zip(texts)
        .filter_map(|(role, text)| match role {
            ColumnRole::Hole(n) => Some((*n, text.as_str())),
            _ => None,
        })
        .collect();
    found.sort_by_key(|(n, _)| *n);
    found.into_iter().map(|(_, text)| text).collect()
}

/// The whole numbers in a cell: one, or two parted by a slash.
pub(super) fn whole(text: &str) -> Vec<i64> {
    text.split('/').filter_map(|part| part.trim().replace([',', ' '], "").parse().ok()).collect()
}

/// What was found in the rows above, which later ones count on from.
struct RowsSeen {
    tees: Vec<Vec<Option<i64>>>,
    combos: usize,
    players: usize,
}

impl RowsSeen {
    fn role(&mut self, label: &str, texts: &[String], columns: &[ColumnRole], height: Length) -> RowRole {
        let cells = of_holes(texts, columns);
        let words: Vec<String> =
            label.to_lowercase().split(|c: char| !c.is_alphanumeric()).map(str::to_owned).collect();
        let says = |any: &[&str]| any.iter().any(|w| words.iter().any(|x| x == w));
        if cells.iter().all(|c| c.is_empty()) {
            if height < WRITABLE || says(&["par", "handicap", "index"]) {
                return RowRole::Free(label.to_owned());
            }
            self.players += 1;
            return RowRole::Player(self.players - 1);
        }
        let numbers: Vec<Vec<i64>> = cells.iter().map(|c| whole(c)).collect();
        let share = |test: &dyn Fn(i64) -> bool| {
            numbers.iter().filter(|n| !n.is_empty() && n.iter().all(|v| test(*v))).count() * 3 > cells.len() * 2
        };
        let slashed = numbers.iter().any(|n| n.len() == 2);
        let who = match (says(&["men", "gents", "gentlemen"]), says(&["women", "ladies"])) {
            (true, false) => Who::Men,
            (false, true) => Who::Women,
            _ => Who::Everyone,
        };
        let distinct = numbers.iter().flatten().collect::<std::collections::BTreeSet<_>>().len();
        if cells.iter().filter(|c| c.contains(':')).count() * 2 > cells.len() {
            RowRole::Pace
        } else if says(&["par"]) || (share(&|v| (3..=6).contains(&v)) && distinct <= 4) {
            if slashed { RowRole::ParBoth } else { RowRole::Par(who) }
        } else if share(&|v| (1..=18).contains(&v))
            && (says(&["index", "stroke", "handicap", "hcp", "si"]) || distinct >= 8)
        {
            if slashed { RowRole::StrokeIndexBoth } else { RowRole::StrokeIndex(who) }
        } else if share(&|v| (40..=760).contains(&v)) {
            self.lengths(numbers.iter().map(|n| n.first().copied()).collect())
        } else {
            RowRole::Free(label.to_owned())
        }
    }

    /// A row of lengths: a combination where each hole repeats one of the tees above and no single tee gives them all.
    fn lengths(&mut self, lengths: Vec<Option<i64>>) -> RowRole {
        let same = |tee: &Vec<Option<i64>>, n: usize| {
            tee.get(n).is_some_and(|v| v.is_some() && *v == lengths.get(n).copied().flatten())
        };
        let every = (0..lengths.len()).all(|n| self.tees.iter().any(|tee| same(tee, n)));
        let single = self.tees.iter().any(|tee| (0..lengths.len()).all(|n| same(tee, n)));
        if every && !single && self.tees.len() >= 2 {
            self.combos += 1;
            return RowRole::Combo(self.combos - 1);
        }
        self.tees.push(lengths);
        RowRole::Tee(self.tees.len() - 1)
    }
}
