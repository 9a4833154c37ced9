use super::lines::{SAME, edges};
use super::view::{Seen, View};
use crate::card::{Face, Mark, Painted};
use crate::unit::Length;

/// A piece of text as a view sees it.
#[derive(Clone, Debug)]
pub(super) struct Word {
    pub(super) text: String,
    pub(super) at: Seen,
}

/// Rows, columns and what stands in their cells.
#[derive(Debug)]
pub(super) struct Lattice {
    /// Left and right of each column.
    pub(super) columns: Vec<(Length, Length)>,
    /// Top and bottom of each row.
    pub(super) rows: Vec<(Length, Length)>,
    /// Which row holds the hole numbers.
    pub(super) head: usize,
    /// The text of each cell, row by row.
    pub(super) texts: Vec<Vec<String>>,
}

/// No column or row of a grid that people read is narrower.
const NARROWEST: Length = Length::pt(6);

/// The face's visible text in the direction of the view; labels of a grid that reads down may also stand upright on the flat face.
pub(super) fn words(face: &Face, view: View) -> Vec<Word> {
    let runs = face.elements.iter().filter_map(|element| match &element.mark {
        Mark::Text(run) if run.painted != Painted::Invisible && !run.text.trim().is_empty() => Some((element, run)),
        _ => None,
    });
    let turned = |angle: f64| ((angle - view.angle() + 540.0) % 360.0 - 180.0).abs();
    runs.filter(|(_, run)| turned(run.angle) < 1.0 || (view != View::Across && turned(run.angle) < 91.0))
        .map(|(element, run)| Word { text: run.text.trim().to_owned(), at: view.see(element.bounds) })
        .collect()
}

/// The lattice around the row of hole numbers.
pub(super) fn find(face: &Face, view: View, words: &[Word]) -> Option<Lattice> {
    let edges = edges(face, view);
    let holes = hole_numbers(words)?;
    let (first, last) = (holes.first()?, holes.last()?);
    let (_, head_v) = first.at.middle();
    let (first_u, _) = first.at.middle();
    let (last_u, _) = last.at.middle();

    let walls = merged(edges.across.iter().filter(|(_, v0, v1)| *v0 <= head_v && head_v <= *v1).map(|(u, ..)| *u));
    let covered = |u0: Length, u1: Length, v: Length| {
        edges.along.iter().any(|(at, a, b)| at.near(v, SAME) && *a <= u0 + SAME && *b >= u1 - SAME)
    };
    let column = walls.windows(2).find_map(|w| match w {
        [a, b] if *a < first_u && first_u < *b => Some((*a, *b)),
        _ => None,
    })?;
    // Rows: every edge that runs across the whole column of hole 1, in one unbroken stack around the head. Shorter ones are marks at
    // numbers, such as rings.
    let floors = merged(
        edges.along.iter().filter(|(_, u0, u1)| *u0 <= column.0 + SAME && *u1 >= column.1 - SAME).map(|(v, ..)| *v),
    );
    let walled = |v0: Length, v1: Length| {
        let middle = v0 + (v1 - v0).half();
        [column.0, column.1]
            .into_iter()
            .all(|wall| edges.across.iter().any(|(u, a, b)| u.near(wall, SAME) && *a <= middle && middle <= *b))
    };
    let (mut rows, mut head) = (Vec::new(), None);
    for w in floors.windows(2) {
        let [v0, v1] = w else { continue };
        if *v1 - *v0 < NARROWEST || !walled(*v0, *v1) {
            if head.is_some() {
                break;
            }
            rows.clear();
            continue;
        }
        if *v0 <= head_v && head_v <= *v1 {
            head = Some(rows.len());
        }
        rows.push((*v0, *v1));
    }
    let head = head?;
    let (top, bottom) = *rows.get(head)?;
    // Columns: between two walls, with a floor or a ceiling over the whole width; a gap at a fold has neither.
    let columns: Vec<(Length, Length)> = walls
        .windows(2)
        .filter_map(|w| match w {
            [a, b] if *b - *a >= NARROWEST && (covered(*a, *b, top) || covered(*a, *b, bottom)) => Some((*a, *b)),
            _ => None,
        })
        .collect();
    let holds = |u: Length| columns.iter().any(|(a, b)| *a < u && u < *b);
    if rows.len() < 2 || !holds(first_u) || !holds(last_u) || columns.len() < 9 {
        return None;
    }
    let texts = rows
        .iter()
        .map(|(v0, v1)| {
            columns.iter().map(|(u0, u1)| text(words, Seen { u0: *u0, v0: *v0, u1: *u1, v1: *v1 })).collect()
        })
        .collect();
    Some(Lattice { columns, rows, head, texts })
}

/// The words 1 to 9 in a line, each right of the one before.
fn hole_numbers(words: &[Word]) -> Option<Vec<&Word>> {
    words.iter().filter(|w| w.text == "1").find_map(|one| {
        let (_, v) = one.at.middle();
        let reach = one.at.v1 - one.at.v0;
        let mut line = vec![one];
        for number in 2..=9_u8 {
            let wanted = number.to_string();
            let after = line.last()?.at.u1;
            let next = words.iter().filter(|w| w.text == wanted && w.at.u0 > after && w.at.middle().1.near(v, reach));
            line.push(next.min_by_key(|w| w.at.u0)?);
        }
        Some(line)
    })
}

/// Edges in order, those that lie together taken as one in their middle.
fn merged(edges: impl Iterator<Item = Length>) -> Vec<Length> {
    let mut edges: Vec<Length> = edges.collect();
    edges.sort_unstable();
    let mut groups: Vec<(Length, Length)> = Vec::new();
    for edge in edges {
        match groups.last_mut() {
            Some((_, last)) if edge - *last <= SAME => *last = edge,
            _ => groups.push((edge, edge)),
        }
    }
    groups.into_iter().map(|(first, last)| first + (last - first).half()).collect()
}

/// What stands in a cell, in reading order.
fn text(words: &[Word], cell: Seen) -> String {
    let mut inside: Vec<&Word> = words.iter().filter(|w| cell.holds(w.at.middle())).collect();
    inside.sort_by_key(|w| (w.at.middle().1.get() / Length::pt(4).get(), w.at.u0));
    inside.iter().map(|w| w.text.as_str()).collect::<Vec<_>>().join(" ")
}
