use super::{Ground, names_there};
use crate::model::{ByGender, CardFile, ComboShown, GridSection, RowName, RowSection, WhoName};
use crate::scorecard::Who;
use crate::unit::Length;

/// `[grid] rows`: each leads to something, stands once, and has only the keys that are for it.
pub(super) fn look(ground: &mut Ground<'_>, grid: &GridSection) {
    if grid.rows.is_empty() {
        ground.fault(
            "grid.rows",
            "the grid has no rows",
            "a card has \"holes\", \"tee\", \"par\", \"stroke-index\" and \"players\"",
        );
    }
    for (n, row) in grid.rows.iter().enumerate() {
        let path = format!("grid.rows[{n}]");
        keys(ground, &path, row);
        leads(ground, &path, row);
        let before = grid.rows.iter().take(n).position(|b| repeats(b, row));
        if let Some(before) = before {
            let line = ground.line(&format!("grid.rows[{before}]"));
            let message = format!("this row is already there, in line {line}");
            ground.fault(&path, message, "each row stands once; only players and free rows may come again");
        }
        if let Some(height) = row.height {
            let most = Length::inches(12, 1);
            ground.within(&format!("{path}.height"), height.0, Length::um(500), most, "the height of a row");
        }
    }
}

/// How many lines a row makes.
pub(super) fn lines(row: &RowSection, file: &CardFile) -> i64 {
    let count = match (row.row, &row.of) {
        (RowName::Players, _) => row.count.unwrap_or(4),
        (RowName::Tee, None) => file.tees.len(),
        (RowName::Combo, None) => file.combos.iter().filter(|c| c.shown == ComboShown::Row).count(),
        _ => 1,
    };
    i64::try_from(count.min(1000)).unwrap_or(1)
}

/// Keys that are for other rows.
fn keys(ground: &mut Ground<'_>, path: &str, row: &RowSection) {
    use RowName as R;
    let stray = [
        ("of", row.of.is_some(), matches!(row.row, R::Tee | R::Combo), "rows of tees and combinations"),
        ("for", row.whose.is_some(), matches!(row.row, R::Par | R::StrokeIndex), "rows of pars and stroke indexes"),
        ("count", row.count.is_some(), row.row == R::Players, "players' lines"),
        ("cells", !row.cells.is_empty(), row.row == R::Free, "free rows"),
    ];
    for (key, given, fits, meant) in stray {
        if given && !fits {
            ground.fault(&format!("{path}.{key}"), format!("`{key}` is for {meant}"), "take it out of this row");
        }
    }
    if let Some(count) = row.count.filter(|c| !(1..=40).contains(c)) {
        ground.fault(
            &format!("{path}.count"),
            format!("{count} players' lines cannot be made"),
            "there may be 1 to 40",
        );
    }
    if row.row == R::Free && row.cells.is_empty() && row.label.is_none() {
        ground.fault(path, "a free row needs `label` or `cells`", "");
    }
}

/// Whether what the row shows is there.
fn leads(ground: &mut Ground<'_>, path: &str, row: &RowSection) {
    let file = ground.file;
    match row.row {
        RowName::Tee if ground.sound("tees") => {
            named(ground, path, row, file.tees.iter().map(|t| t.name.as_str()), "tee", "[[tees]]");
        }
        RowName::Combo if ground.sound("combos") => {
            named(ground, path, row, file.combos.iter().map(|c| c.name.as_str()), "combination", "[[combos]]");
        }
        RowName::Par => {
            let par = file.course.as_ref().map(|c| &c.par).filter(|_| ground.sound("course.par"));
            whose(ground, path, row, par, "par");
        }
        RowName::StrokeIndex => {
            let Some(course) = file.course.as_ref().filter(|_| ground.sound("course.stroke_index")) else { return };
            if course.stroke_index.is_none() {
                ground.fault(path, "there is no stroke index to show", "add `stroke_index` to [course]");
            }
            whose(ground, path, row, course.stroke_index.as_ref(), "stroke index");
        }
        RowName::Pace if ground.sound("course") && file.course.as_ref().is_some_and(|c| c.pace.is_empty()) => {
            ground.fault(path, "there are no times to show", "add `pace` to [course], one time a hole");
        }
        _ => {}
    }
}

fn named<'n>(
    ground: &mut Ground<'_>,
    path: &str,
    row: &RowSection,
    names: impl Iterator<Item = &'n str> + Clone,
    what: &str,
    section: &str,
) {
    match &row.of {
        Some(of) if !names.clone().any(|n| n == of) => {
            let hint = names_there(of, names);
            ground.fault(&format!("{path}.of"), format!("there is no {what} \"{of}\""), hint);
        }
        None if names.clone().next().is_none() => {
            ground.fault(path, format!("there is no {what} to show"), format!("add {section}"));
        }
        _ => {}
    }
}

fn whose(ground: &mut Ground<'_>, path: &str, row: &RowSection, by: Option<&ByGender<Vec<i64>>>, what: &str) {
    let (Some(by), Some(whose)) = (by, row.whose) else { return };
    let wanted: &[Who] = match whose {
        WhoName::Men => &[Who::Men],
        WhoName::Women => &[Who::Women],
        WhoName::Both => &[Who::Men, Who::Women],
    };
    for who in wanted.iter().filter(|who| by.of(**who).is_none()) {
        ground.fault(
            &format!("{path}.for"),
            format!("there is no {what} for {who}"),
            format!("add `{who}` to it in [course]"),
        );
    }
}

/// Whether `later` shows again what `earlier` shows.
fn repeats(earlier: &RowSection, later: &RowSection) -> bool {
    use RowName as R;
    if earlier.row != later.row {
        return false;
    }
    match later.row {
        R::Players | R::Free => false,
        R::Holes | R::Pace => true,
        R::Tee | R::Combo => earlier.of.is_none() || later.of.is_none() || earlier.of == later.of,
        R::Par | R::StrokeIndex => {
            let both = |w: Option<WhoName>| matches!(w, None | Some(WhoName::Both));
            both(earlier.whose) || both(later.whose) || earlier.whose == later.whose
        }
    }
}
