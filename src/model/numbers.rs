//! From the card file's numbers to the scorecard, and from the scorecard's rows back to their lines.

use super::{ByGender, ComboSection, ComboShown, CourseSection, Each, Model, TeeSection, TotalsSection, UnitName};
use crate::card::{ColumnRole, Half, NumberPlace, RowRole, Trace};
use crate::fault::Span;
use crate::scorecard::{Combo, ForWho, PrintedTotals, Rating, Scorecard, Tee, Units, Who};

impl<T> ByGender<T> {
    /// One entry for everyone, or one for men and one for women as far as they are stated.
    pub fn entries(&self) -> Vec<(Who, &T)> {
        match self {
            Self::Everyone(value) => vec![(Who::Everyone, value)],
            Self::Each(Each { men, women }) => {
                let men = men.iter().map(|v| (Who::Men, v));
                men.chain(women.iter().map(|v| (Who::Women, v))).collect()
            }
        }
    }

    /// The value for `who`: their own, or everyone's.
    pub fn of(&self, who: Who) -> Option<&T> {
        match (self, who) {
            (Self::Everyone(value), _) => Some(value),
            (Self::Each(each), Who::Men) => each.men.as_ref(),
            (Self::Each(each), Who::Women) => each.women.as_ref(),
            (Self::Each(_), Who::Everyone) => None,
        }
    }
}

impl CourseSection {
    /// How many holes, by the first list of pars.
    pub fn holes(&self) -> usize {
        self.par.entries().first().map_or(0, |(_, par)| par.len())
    }
}

impl Model {
    /// The numbers of the scorecard, where the file has a course. Totals are those that were typed, and computed where none was.
    pub fn scorecard(&self) -> Option<Scorecard> {
        let course = self.file.course.as_ref()?;
        let units = match course.units {
            UnitName::Yards => Units::Yards,
            UnitName::Metres => Units::Metres,
        };
        let tees: Vec<Tee> = self.file.tees.iter().map(tee).collect();
        let lists = |by: &ByGender<Vec<i64>>| -> ForWho<Vec<Option<i64>>> {
            by.entries().into_iter().map(|(who, list)| (who, list.iter().copied().map(Some).collect())).collect()
        };
        let par = lists(&course.par);
        let typed = |who: Who| course.par_totals.as_ref().and_then(|t| t.of(who)).copied();
        Some(Scorecard {
            course: course.name.clone(),
            units,
            holes: course.holes(),
            combos: self.file.combos.iter().map(|c| combo(c, &tees)).collect(),
            tees,
            par_printed: par.iter().map(|(who, list)| printed(list, typed(*who))).collect(),
            par,
            stroke_index: course.stroke_index.as_ref().map(lists).unwrap_or_default(),
        })
    }

    /// The way back from the scorecard's numbers to the card file, and from every setting by its path.
    pub fn trace_numbers(&self) -> Trace {
        let settings = self.spans.iter().map(|(path, span)| (path.to_owned(), span)).collect();
        let mut trace = Trace { settings, ..Trace::default() };
        let mut note = |row: RowRole, path: &str| self.note_row(&mut trace.numbers, &row, path);
        for (n, _) in self.file.tees.iter().enumerate() {
            note(RowRole::Tee(n), &format!("tees[{n}]"));
        }
        for (n, _) in self.file.combos.iter().enumerate() {
            note(RowRole::Combo(n), &format!("combos[{n}]"));
        }
        if let Some(course) = &self.file.course {
            let paths = |by: &ByGender<Vec<i64>>, path: &str| -> Vec<(Who, String)> {
                let own = |who: Who| match who {
                    Who::Everyone => path.to_owned(),
                    Who::Men | Who::Women => format!("{path}.{who}"),
                };
                by.entries().into_iter().map(|(who, _)| (who, own(who))).collect()
            };
            for (who, path) in paths(&course.par, "course.par") {
                note(RowRole::Par(who), &path);
            }
            note(RowRole::ParBoth, "course.par");
            if let Some(index) = &course.stroke_index {
                for (who, path) in paths(index, "course.stroke_index") {
                    note(RowRole::StrokeIndex(who), &path);
                }
                note(RowRole::StrokeIndexBoth, "course.stroke_index");
            }
            if !course.pace.is_empty() {
                note(RowRole::Pace, "course.pace");
            }
        }
        trace
    }

    /// Notes where a row and each of its numbers stands; `path` is a tee, a combination or a list of numbers.
    fn note_row(&self, numbers: &mut Vec<(NumberPlace, Span)>, row: &RowRole, path: &str) {
        let Some(whole) = self.spans.get(path) else { return };
        let mut note = |column: Option<ColumnRole>, span: Span| {
            numbers.push((NumberPlace { row: row.clone(), column }, span));
        };
        note(None, whole);
        for hole in 1..=18_u8 {
            let n = usize::from(hole) - 1;
            let places = [format!("{path}[{n}]"), format!("{path}.lengths[{n}]"), format!("{path}.tees[{n}]")];
            if let Some(span) = places.iter().find_map(|p| self.spans.get(p)) {
                note(Some(ColumnRole::Hole(hole)), span);
            }
        }
        let totals = path.replace("course.par", "course.par_totals");
        let totals = if totals == path { format!("{path}.totals") } else { totals };
        let columns =
            [("out", ColumnRole::Half(Half::Out)), ("in", ColumnRole::Half(Half::In)), ("total", ColumnRole::Total)];
        for (key, column) in columns {
            if let Some(span) = self.spans.get(&format!("{totals}.{key}")) {
                note(Some(column), span);
            }
        }
        if let Some(span) = ["rating", "slope"].iter().find_map(|key| self.spans.get(&format!("{path}.{key}"))) {
            note(Some(ColumnRole::Rating), span);
        }
    }
}

fn tee(section: &TeeSection) -> Tee {
    let lengths: Vec<Option<i64>> = section.lengths.iter().copied().map(Some).collect();
    Tee {
        name: section.name.clone(),
        printed: printed(&lengths, section.totals),
        lengths,
        ratings: ratings(section.rating.as_ref(), section.slope.as_ref()),
    }
}

fn combo(section: &ComboSection, tees: &[Tee]) -> Combo {
    let own_row = section.shown == ComboShown::Row;
    let length = |(n, name): (usize, &String)| {
        tees.iter().find(|t| t.name == *name).and_then(|t| t.lengths.get(n).copied().flatten())
    };
    let lengths: Vec<Option<i64>> = section.tees.iter().enumerate().map(length).collect();
    Combo {
        name: section.name.clone(),
        tees: section.tees.clone(),
        printed: printed(&lengths, section.totals),
        lengths: if own_row { lengths } else { Vec::new() },
        ratings: ratings(section.rating.as_ref(), section.slope.as_ref()),
    }
}

/// Totals as typed, and computed where not; a nine-hole card has no In.
fn printed(list: &[Option<i64>], typed: Option<TotalsSection>) -> PrintedTotals {
    let sum = |part: Option<&[Option<i64>]>| part.and_then(|p| p.iter().copied().sum::<Option<i64>>());
    let typed = typed.unwrap_or_default();
    let inward = list.get(9..18).filter(|_| list.len() == 18);
    PrintedTotals {
        out: typed.out.or_else(|| sum(list.get(..9))),
        inward: typed.inward.or_else(|| sum(inward)),
        total: typed.total.or_else(|| sum(Some(list))),
    }
}

/// Ratings and slopes brought together: for everyone where neither differs, else for men and women as far as stated.
fn ratings(rating: Option<&ByGender<f64>>, slope: Option<&ByGender<i64>>) -> ForWho<Rating> {
    let everyone =
        matches!(rating, None | Some(ByGender::Everyone(_))) && matches!(slope, None | Some(ByGender::Everyone(_)));
    let whose: &[Who] = if everyone { &[Who::Everyone] } else { &[Who::Men, Who::Women] };
    let of = |who: Who| {
        let rating =
            Rating { course: rating.and_then(|r| r.of(who)).copied(), slope: slope.and_then(|s| s.of(who)).copied() };
        (rating.course.is_some() || rating.slope.is_some()).then_some((who, rating))
    };
    whose.iter().copied().filter_map(of).collect()
}
