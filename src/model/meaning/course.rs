use super::Ground;
use crate::model::{ByGender, ComboSection, CourseSection, TeeSection};

/// `[course]`, `[[tees]]` and `[[combos]]`: how many holes there are, everywhere alike, and names that stand once.
pub(super) fn look(ground: &mut Ground<'_>) {
    let file = ground.file;
    let holes = file.course.as_ref().and_then(|course| course_section(ground, course));
    if file.course.is_none() && ground.sound("course") {
        if !file.tees.is_empty() {
            ground.fault("tees[0]", "tees need [course] with its pars", "add [course] with `name` and `par`");
        }
        if !file.combos.is_empty() {
            ground.fault("combos[0]", "combinations need [course] with its pars", "add [course] with `name` and `par`");
        }
    }
    for (n, tee) in file.tees.iter().enumerate() {
        tee_section(ground, n, tee, holes);
    }
    for (n, combo) in file.combos.iter().enumerate() {
        combo_section(ground, n, combo, holes);
    }
}

/// Looks at the course; gives the number of holes, where it is known.
fn course_section(ground: &mut Ground<'_>, course: &CourseSection) -> Option<usize> {
    ground.not_blank("course.name", &course.name, "the name of the course");
    stated(ground, "course.par", &course.par, "par");
    let lists = lists("course.par", &course.par);
    let holes = lists.iter().find(|(path, _)| ground.sound(path)).map(|(_, list)| list.len());
    if let (Some(holes), Some((path, _))) = (holes, lists.first())
        && holes != 9
        && holes != 18
    {
        ground.fault(path, format!("there are {holes} pars"), "a card has 9 holes or 18");
    }
    let holes = holes.filter(|h| [9, 18].contains(h));
    for (path, list) in &lists {
        counted(ground, path, list.len(), holes, "pars");
        for (n, par) in list.iter().enumerate().filter(|(_, par)| !(1..=9).contains(*par)) {
            let message = format!("par {par} on hole {} is no par", n + 1);
            ground.fault(&format!("{path}[{n}]"), message, "pars run from 3 to 6 on nearly every course");
        }
    }
    if let Some(index) = &course.stroke_index {
        stated(ground, "course.stroke_index", index, "stroke index");
        for (path, list) in self::lists("course.stroke_index", index) {
            counted(ground, &path, list.len(), holes, "stroke indexes");
            for (n, index) in list.iter().enumerate().filter(|(_, index)| !(1..=99).contains(*index)) {
                let message = format!("stroke index {index} on hole {} is none", n + 1);
                ground.fault(&format!("{path}[{n}]"), message, "stroke indexes run from 1 to the number of holes");
            }
        }
    }
    if let Some(totals) = &course.par_totals {
        stated(ground, "course.par_totals", totals, "totals of the pars");
    }
    for (n, hole) in course.signature.iter().enumerate() {
        let path = format!("course.signature[{n}]");
        if let Some(holes) = holes
            && !(1..=holes).contains(&usize::from(*hole))
        {
            ground.fault(&path, format!("there is no hole {hole}"), format!("holes run from 1 to {holes}"));
        } else if course.signature.iter().take(n).any(|h| h == hole) {
            ground.fault(&path, format!("hole {hole} is named twice"), "");
        }
    }
    if !course.pace.is_empty() {
        counted(ground, "course.pace", course.pace.len(), holes, "times");
    }
    for (n, time) in course.pace.iter().enumerate().filter(|(_, time)| !is_time(time)) {
        let message = format!("\"{time}\" is no time of play");
        ground.fault(
            &format!("course.pace[{n}]"),
            message,
            "write hours and minutes since the start, such as \"1:05\"",
        );
    }
    holes
}

fn tee_section(ground: &mut Ground<'_>, n: usize, tee: &TeeSection, holes: Option<usize>) {
    let path = format!("tees[{n}]");
    ground.not_blank(&format!("{path}.name"), &tee.name, "the name of a tee");
    let before = ground.file.tees.iter().take(n).position(|t| same(&t.name, &tee.name));
    if let Some(before) = before {
        let line = ground.line(&format!("tees[{before}].name"));
        let message = format!("the tee \"{}\" is already there, in line {line}", tee.name);
        ground.fault(&format!("{path}.name"), message, "each tee has a name of its own");
    }
    let lengths = format!("{path}.lengths");
    counted(ground, &lengths, tee.lengths.len(), holes, "lengths");
    for (hole, length) in tee.lengths.iter().enumerate().filter(|(_, length)| !(1..=1999).contains(*length)) {
        let message = format!("hole {} of \"{}\" cannot be {length} long", hole + 1, tee.name);
        ground.fault(&format!("{lengths}[{hole}]"), message, "lengths run from 1 to 1999 in the course's unit");
    }
    rated(ground, &path, tee.rating.as_ref(), tee.slope.as_ref());
}

fn combo_section(ground: &mut Ground<'_>, n: usize, combo: &ComboSection, holes: Option<usize>) {
    let path = format!("combos[{n}]");
    ground.not_blank(&format!("{path}.name"), &combo.name, "the name of a combination");
    let before = ground.file.combos.iter().take(n).position(|c| same(&c.name, &combo.name));
    if let Some(before) = before {
        let line = ground.line(&format!("combos[{before}].name"));
        let message = format!("the combination \"{}\" is already there, in line {line}", combo.name);
        ground.fault(&format!("{path}.name"), message, "each combination has a name of its own");
    }
    counted(ground, &format!("{path}.tees"), combo.tees.len(), holes, "tees");
    rated(ground, &path, combo.rating.as_ref(), combo.slope.as_ref());
}

fn same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// The lists of a value by gender with their paths.
fn lists<'a>(path: &str, by: &'a ByGender<Vec<i64>>) -> Vec<(String, &'a [i64])> {
    let own = |who: crate::scorecard::Who| match by {
        ByGender::Everyone(_) => path.to_owned(),
        ByGender::Each(_) => format!("{path}.{who}"),
    };
    by.entries().into_iter().map(|(who, list)| (own(who), list.as_slice())).collect()
}

/// A fault where neither men nor women have a value.
fn stated<T>(ground: &mut Ground<'_>, path: &str, by: &ByGender<T>, what: &str) {
    if by.entries().is_empty() {
        let hint = "give `men`, `women` or both, or one value for everyone";
        ground.fault(path, format!("the {what} is for nobody"), hint);
    }
}

/// A fault where a list does not have one value a hole.
fn counted(ground: &mut Ground<'_>, path: &str, count: usize, holes: Option<usize>, what: &str) {
    let Some(holes) = holes.filter(|h| *h != count) else { return };
    let off = if count < holes { format!("{} missing", holes - count) } else { format!("{} too many", count - holes) };
    let message = format!("there are {count} {what} for {holes} holes: {off}");
    ground.fault(path, message, "count them against the pars");
}

fn rated(ground: &mut Ground<'_>, path: &str, rating: Option<&ByGender<f64>>, slope: Option<&ByGender<i64>>) {
    if let Some(rating) = rating {
        let path = format!("{path}.rating");
        stated(ground, &path, rating, "Course Rating");
        for (_, value) in rating.entries().into_iter().filter(|(_, v)| !(1.0..200.0).contains(*v)) {
            ground.fault(&path, format!("{value} is no Course Rating"), "it is near par, with one decimal");
        }
    }
    if let Some(slope) = slope {
        let path = format!("{path}.slope");
        stated(ground, &path, slope, "Slope Rating");
        for (_, value) in slope.entries().into_iter().filter(|(_, v)| !(1..=999).contains(*v)) {
            ground.fault(&path, format!("{value} is no Slope Rating"), "it runs from 55 to 155");
        }
    }
}

/// Hours and minutes, such as `0:14` or `4:05`.
fn is_time(text: &str) -> bool {
    let Some((hours, minutes)) = text.split_once(':') else { return false };
    let digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    digits(hours) && digits(minutes) && hours.len() <= 2 && minutes.len() == 2 && minutes < "60"
}
