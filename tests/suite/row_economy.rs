//! Row economy: what each merged or moved row would give every player's line, to the hundredth of a millimetre; and
//! where the number checks point, on the face and in the card file.

use fairfold::card::{Card, Cell, Column, ColumnRole, Direction, GridPlan, Half, Row, RowRole};
use fairfold::check::{Finding, Outcome, Severity};
use fairfold::fault::Text;
use fairfold::model::{Syntax, read};
use fairfold::scorecard::{Scorecard, Who};
use fairfold::unit::Length;

use super::check_cases::{card_of, good};
use super::hand_card::{Inside, rect};
use super::numbers::{changed, found, one, otterby, outcome, with};

/// A grid of rows 0.2 in high over player lines of 0.25 in: names, eighteen holes with their totals, and a rating
/// column where asked.
fn grid(roles: &[RowRole], players: usize, rating: bool, direction: Direction) -> GridPlan {
    let mut columns = vec![(ColumnRole::Name, 1.6)];
    if rating {
        columns.push((ColumnRole::Rating, 0.63));
    }
    columns.extend((1..=9).map(|n| (ColumnRole::Hole(n), 0.36)));
    columns.push((ColumnRole::Half(Half::Out), 0.4));
    columns.extend((10..=18).map(|n| (ColumnRole::Hole(n), 0.36)));
    columns.extend([ColumnRole::Half(Half::In), ColumnRole::Total].map(|c| (c, 0.4)));
    let written = (0..players).map(RowRole::Player);
    let mut y = 5.4;
    let rows: Vec<Row> = roles
        .iter()
        .cloned()
        .chain(written)
        .map(|role| {
            let high = if role.is_written() { 0.25 } else { 0.2 };
            y -= high;
            Row { role, label: String::new(), rect: rect(0.2, y, 11.8, y + high) }
        })
        .collect();
    let mut x = 0.2;
    let columns: Vec<Column> = columns
        .into_iter()
        .map(|(role, wide)| {
            x += wide;
            Column { role, rect: rect(x - wide, y, x, 5.4) }
        })
        .collect();
    let meet = |(r, row): (usize, &Row)| -> Vec<Cell> {
        let band = row.rect;
        let cell = |(c, column): (usize, &Column)| {
            let rect = fairfold::unit::Rect { x0: column.rect.x0, x1: column.rect.x1, ..band };
            Cell { row: r, column: c, rect, text: String::new() }
        };
        columns.iter().enumerate().map(cell).collect()
    };
    let cells = rows.iter().enumerate().flat_map(meet).collect();
    GridPlan { side: Inside, direction, bounds: rect(0.2, y, 11.8, 5.4), rows, columns, cells }
}

fn economy(numbers: Scorecard, grid: GridPlan) -> Vec<Finding> {
    found("row-economy", &Card { grid: Some(grid), ..with(numbers) })
}

#[test]
fn row_economy_says_what_each_row_would_give_every_player() {
    use RowRole::{Combo, Holes, Par, ParBoth, StrokeIndex, StrokeIndexBoth, Tee};
    let across = Direction::Across;
    let tees = [Holes, Tee(0), Tee(1)];
    let rows = |more: &[RowRole]| grid(&[&tees[..], more].concat(), 8, false, across);
    assert!(economy(otterby(), rows(&[ParBoth, StrokeIndexBoth])).is_empty());

    // 0.2 in shared by 8 lines is 0.025 in; 0.2 × 25.4 / 8 = 0.635 mm.
    let gain = ["0.2 in (5.08 mm)", "0.025 in (0.64 mm) more in height to each of the 8 player lines"];
    let pars = economy(otterby(), rows(&[Par(Who::Men), Par(Who::Women), StrokeIndexBoth]));
    one(&pars, Severity::Note, &gain);
    one(&pars, Severity::Note, &["rows of pars differ on hole 6 only", "slash on hole 6"]);
    let mut equal = otterby();
    equal.par[1].1 = equal.par[0].1.clone();
    one(&economy(equal, rows(&[Par(Who::Men), Par(Who::Women)])), Severity::Note, &["pars are equal", gain[1]]);

    // Six differing stroke indexes are few, seven are not (judgement).
    let both = || rows(&[ParBoth, StrokeIndex(Who::Men), StrokeIndex(Who::Women)]);
    one(&economy(otterby(), both()), Severity::Note, &["stroke indexes are equal", gain[1]]);
    let mut six = otterby();
    six.stroke_index[1].1[..6].rotate_left(1);
    one(&economy(six, both()), Severity::Note, &["differ on holes 1, 2, 3, 4, 5 and 6 only", gain[1]]);
    let mut seven = otterby();
    seven.stroke_index[1].1[..7].rotate_left(1);
    assert!(economy(seven, both()).is_empty());

    // A combination on its own row; nothing where one of its tees has no row to carry the marks.
    let combo = economy(otterby(), rows(&[Combo(0), ParBoth]));
    one(&combo, Severity::Note, &["\"Heron + Wren\" repeats", "circle", gain[1]]);
    assert!(economy(otterby(), grid(&[Holes, Tee(0), Combo(0), ParBoth], 8, false, across)).is_empty());

    // Four players gain twice as much each.
    let four = grid(&[&tees[..], &[Combo(0)]].concat(), 4, false, across);
    one(&economy(otterby(), four), Severity::Note, &["0.05 in (1.27 mm) more in height to each of the 4 player lines"]);
    assert!(matches!(
        outcome("row-economy", &Card { grid: Some(grid(&tees, 0, false, across)), ..with(otterby()) }),
        Outcome::Skipped(why) if why.contains("player lines")
    ));
}

#[test]
fn row_economy_on_ratings_and_on_grids_that_read_down() {
    use RowRole::{Combo, Holes, ParBoth, Tee};
    // 0.63 in shared by nine holes on the left panel is 0.07 in; 1.78 mm.
    let rated = grid(&[Holes, Tee(0), Tee(1), ParBoth], 8, true, Direction::Across);
    one(
        &economy(otterby(), rated),
        Severity::Note,
        &["column of 0.63 in", "0.07 in (1.78 mm) more for each of the 9 holes", "no height"],
    );
    let mut free = grid(&[Holes, Tee(0), Tee(1), RowRole::Free("Slope".into())], 8, false, Direction::Across);
    free.rows[3].label = "Slope".into();
    one(&economy(otterby(), free), Severity::Note, &["ratings take a row", "0.025 in (0.64 mm)"]);
    let down = grid(&[Holes, Tee(0), Tee(1), Combo(0)], 8, false, Direction::Down { top_at_left: true });
    one(
        &economy(otterby(), down),
        Severity::Note,
        &["0.025 in (0.64 mm) more in width to each of the 8 players' columns"],
    );
}

#[test]
fn findings_point_at_the_cell_and_at_the_line() {
    let mut card = changed(|n| n.tees[1].lengths[6] = Some(165));
    card.grid = Some(grid(&[RowRole::Holes, RowRole::Tee(0), RowRole::Tee(1)], 8, false, Direction::Across));
    let order = found("tee-order", &card);
    let place = &order[0].place;
    assert_eq!(place.words(), "inside, panel 1, row \"Heron\", hole 7");
    // The seventh hole: names 1.6 in wide from 0.2 in, six holes of 0.36 in; the second row of 0.2 in below 5.4 in.
    let cell = place.rect.unwrap();
    let (x, y) = (cell.x0.to_in(), cell.y1.to_in());
    assert!((x - 3.96).abs() < 1e-6 && (y - 5.2).abs() < 1e-6, "{x} {y}");

    let toml = "[card]\ntitle = \"Otterby Common\"\nsize = \"6 x 12 in\"\n\n[course]\nname = \"Otterby Common\"\n\
                par = [4, 5, 4, 3, 4, 4, 3, 5, 4]\nstroke_index = [5, 7, 2, 8, 4, 1, 9, 6, 9]\n\n[[tees]]\nname = \"Heron\"\n\
                colour = \"black\"\nlengths = [392, 521, 418, 187, 371, 446, 164, 548, 405]\ntotals = { out = 3442 }\n";
    let model = read(&Text::new("otterby.toml", toml), Syntax::Toml).unwrap_or_else(|f| panic!("{f}"));
    let card = Card { numbers: model.scorecard(), trace: model.trace_numbers(), ..super::hand_card::card() };
    let line = |id: &str| found(id, &card)[0].place.source.to_string();
    assert_eq!(line("totals"), "otterby.toml:14:18");
    assert_eq!(line("stroke-index"), "otterby.toml:8:41");
}

/// Takes the advice: the card is set once with the row and once without, and every player's line must have grown by what the note
/// said, to the thousandth of a point that the typesetter shares rooms by.
#[test]
fn a_row_taken_out_gives_what_was_said() {
    let tees = "{ row = \"tee\", height = \"0.22 in\" },";
    let down = |text: String| text.replace("panels = [1, 2]\n", "panels = [1, 2]\ndirection = \"down\"\n");
    let with_row =
        good().replace(tees, &format!("{tees} {{ row = \"combo\", of = \"Moorland\", height = \"0.22 in\" }},"));
    for (before, after, way) in [(with_row.clone(), good(), "in height"), (down(with_row), down(good()), "in width")] {
        let before = card_of(&before);
        let notes = found("row-economy", &before);
        let players = |card: &Card| -> Vec<Length> {
            let grid = card.grid.as_ref().unwrap();
            grid.rows.iter().filter(|r| r.role.is_written()).map(|r| r.rect.height()).collect()
        };
        let (less, more) = (players(&before), players(&card_of(&after)));
        assert_eq!((less.len(), more.len()), (8, 8));
        // 0.22 in shared by 8.
        let said = Length::inches(22, 800);
        one(&notes, Severity::Note, &[&format!("there is {said} more {way}")]);
        for (less, more) in less.into_iter().zip(more) {
            assert!((more - less).near(said, Length::from_pt(0.002)), "{less} grew to {more}, not by {said}");
        }
    }
}
