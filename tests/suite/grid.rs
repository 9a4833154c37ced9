//! The recogniser finds the rows, columns and numbers of grids drawn by hand in several manners.

use fairfold::card::{
    Blend, ColumnRole, Direction, Element, Face, Half, Mark, PageBoxes, Paint, Painted, PathMark, RowRole, Side,
    Stroke, TextRun,
};
use fairfold::grid::recognise;
use fairfold::ink::Colour;
use fairfold::scorecard::Who;
use fairfold::unit::{Length, Point, Rect, Size};
use kurbo::{BezPath, Shape as _};
use proptest::prelude::*;

/// How the lines of a grid are drawn.
#[derive(Clone, Copy, PartialEq, Debug)]
enum Drawn {
    /// A stroked line for each edge.
    Rules,
    /// A stroked box for each cell.
    Boxes,
    /// A thin filled rectangle for each edge.
    Slivers,
}

/// A grid on a face of 12 x 6 in, in points from the top left: columns from `left`, a gap after column `fold`.
struct Sketch {
    rows: Vec<(f64, Vec<String>)>,
    widths: Vec<f64>,
    fold: Option<usize>,
    drawn: Drawn,
    direction: Direction,
}

const FLAT: (f64, f64) = (864.0, 432.0);

impl Sketch {
    fn rect(&self, u0: f64, v0: f64, u1: f64, v1: f64) -> kurbo::Rect {
        match self.direction {
            Direction::Across => kurbo::Rect::new(u0, FLAT.1 - v1, u1, FLAT.1 - v0),
            Direction::Down { top_at_left: true } => kurbo::Rect::new(u0, v0, u1, v1),
            Direction::Down { top_at_left: false } => {
                kurbo::Rect::new(FLAT.0 - u1, FLAT.1 - v1, FLAT.0 - u0, FLAT.1 - v0)
            }
        }
    }

    fn columns(&self) -> Vec<(f64, f64)> {
        let mut u = 20.0;
        let mut columns = Vec::new();
        for (n, width) in self.widths.iter().enumerate() {
            columns.push((u, u + width));
            u += width + if self.fold == Some(n) { 18.0 } else { 0.0 };
        }
        columns
    }

    fn face(&self) -> Face {
        let mut elements = Vec::new();
        let mut v = 40.0;
        for (height, texts) in &self.rows {
            for ((u0, u1), text) in self.columns().into_iter().zip(texts) {
                self.cell(&mut elements, self.rect(u0, v, u1, v + height));
                if !text.is_empty() {
                    let (mu, mv) = (f64::midpoint(u0, u1), v + height / 2.0);
                    let half = 2.0 * text.len() as f64;
                    elements.push(self.text(text, self.rect(mu - half, mv - 3.0, mu + half, mv + 3.0)));
                }
            }
            v += height;
        }
        let trim = Size::new(Length::from_pt(FLAT.0), Length::from_pt(FLAT.1)).at_origin();
        let boxes = PageBoxes { media: trim, crop: trim, bleed: trim, trim, trim_from: "TrimBox", bleed_stated: true };
        Face { elements, ..Face::new(Side::Inside, boxes, 2) }
    }

    fn cell(&self, elements: &mut Vec<Element>, r: kurbo::Rect) {
        let edges = [
            kurbo::Rect::new(r.x0, r.y0, r.x1, r.y0),
            kurbo::Rect::new(r.x0, r.y1, r.x1, r.y1),
            kurbo::Rect::new(r.x0, r.y0, r.x0, r.y1),
            kurbo::Rect::new(r.x1, r.y0, r.x1, r.y1),
        ];
        match self.drawn {
            Drawn::Boxes => elements.push(path(r.to_path(0.1), false)),
            Drawn::Rules => elements.extend(edges.map(|e| {
                let mut line = BezPath::new();
                line.move_to((e.x0, e.y0));
                line.line_to((e.x1, e.y1));
                path(line, false)
            })),
            Drawn::Slivers => elements.extend(edges.map(|e| path(e.inflate(0.25, 0.25).to_path(0.1), true))),
        }
    }

    fn text(&self, text: &str, r: kurbo::Rect) -> Element {
        let angle = match self.direction {
            Direction::Across => 0.0,
            Direction::Down { top_at_left: true } => 90.0,
            Direction::Down { top_at_left: false } => 270.0,
        };
        let run = TextRun {
            text: text.to_owned(),
            font: "Hand".to_owned(),
            size: Length::pt(8),
            x_height: None,
            cap_height: None,
            bold: false,
            origin: Point::default(),
            advance: Length::pt(10),
            angle,
            painted: Painted::Fill,
            fill: Some(Paint::Flat(Colour::BLACK)),
            stroke: None,
        };
        Element { mark: Mark::Text(run), bounds: bounds(r), blend: Blend::default(), object: None }
    }
}

fn bounds(r: kurbo::Rect) -> Rect {
    let pt = Length::from_pt;
    Rect::new(pt(r.x0), pt(r.y0), pt(r.x1), pt(r.y1))
}

fn path(outline: BezPath, filled: bool) -> Element {
    let paint = Paint::Flat(Colour::BLACK);
    let stroke = Stroke { paint: paint.clone(), width: Length::from_pt(0.5), dashed: false };
    let bounds = bounds(outline.bounding_box());
    let mark =
        PathMark { outline, fill: filled.then_some(paint), even_odd: false, stroke: (!filled).then_some(stroke) };
    Element { mark: Mark::Path(mark), bounds, blend: Blend::default(), object: None }
}

fn row(label: &str, holes: &[&str], out: &str, inward: &str, total: &str) -> Vec<String> {
    let mut texts = vec![label.to_owned()];
    texts.extend(holes[..9].iter().map(|t| (*t).to_owned()));
    texts.push(out.to_owned());
    texts.extend(holes[9..].iter().map(|t| (*t).to_owned()));
    texts.extend([inward.to_owned(), total.to_owned()]);
    texts
}

const PARS: [&str; 18] = ["4", "5", "4", "3", "4", "4/5", "3", "5", "4", "4", "4", "3", "5", "4", "4", "4", "3", "5"];
const INDEX: [&str; 18] =
    ["9", "13", "3", "15", "7", "1", "17", "11", "5", "6", "12", "16", "10", "2", "14", "4", "18", "8"];

/// Eighteen holes: two tees, a combination of them, par with a slash, stroke index, pace, three players.
fn eighteen(drawn: Drawn, direction: Direction) -> Sketch {
    let heads: Vec<String> = (1..=18).map(|n| n.to_string()).collect();
    let long: Vec<String> = (0..18).map(|n| (300 + n * 11).to_string()).collect();
    let short: Vec<String> = (0..18).map(|n| (260 + n * 9).to_string()).collect();
    let mixed: Vec<String> = (0..18).map(|n| if n % 2 == 0 { long[n].clone() } else { short[n].clone() }).collect();
    let pace: Vec<String> = (0..18).map(|n| format!("{}:{:02}", (n + 1) * 14 / 60, (n + 1) * 14 % 60)).collect();
    let texts = |v: &'_ [String]| v.to_vec();
    let strs = |v: &[String]| v.iter().map(String::as_str).map(str::to_owned).collect::<Vec<_>>();
    let line = |label: &str, v: &[String], out: &str, inward: &str, total: &str| {
        let v = strs(v);
        row(label, &v.iter().map(String::as_str).collect::<Vec<_>>(), out, inward, total)
    };
    let empty = vec![String::new(); 18];
    let mut rows = vec![
        (18.0, line("Hole", &texts(&heads), "Out", "In", "Total")),
        (16.0, line("Teal 70.1/121", &long, "3096", "3987", "7083")),
        (16.0, line("Plum", &short, "2664", "3393", "6,057")),
        (16.0, line("Teal + Plum", &mixed, "2880", "3690", "6570")),
        (16.0, row("Par", &PARS, "36/37", "36", "72/73")),
        (16.0, row("Stroke index men", &INDEX, "", "", "")),
        (14.0, line("Pace", &pace, "", "", "")),
    ];
    rows.extend((0..3).map(|_| (28.0, line("", &empty, "", "", ""))));
    let mut widths = vec![90.0];
    widths.extend([34.0; 9]);
    widths.push(38.0);
    widths.extend([34.0; 9]);
    widths.extend([38.0, 40.0]);
    Sketch { rows, widths, fold: Some(10), drawn, direction }
}

const DIRECTIONS: [Direction; 3] =
    [Direction::Across, Direction::Down { top_at_left: true }, Direction::Down { top_at_left: false }];

#[test]
fn rows_columns_and_numbers_are_found_however_the_grid_is_drawn_and_read() {
    for drawn in [Drawn::Rules, Drawn::Boxes, Drawn::Slivers] {
        for direction in DIRECTIONS {
            let sketch = eighteen(drawn, direction);
            let (plan, card) = recognise(&[sketch.face()]).unwrap_or_else(|| panic!("{drawn:?} {direction:?}"));
            assert_eq!(plan.direction, direction);
            let roles: Vec<RowRole> = plan.rows.iter().map(|r| r.role.clone()).collect();
            let wanted = [
                RowRole::Holes,
                RowRole::Tee(0),
                RowRole::Tee(1),
                RowRole::Combo(0),
                RowRole::ParBoth,
                RowRole::StrokeIndex(Who::Men),
                RowRole::Pace,
                RowRole::Player(0),
                RowRole::Player(1),
                RowRole::Player(2),
            ];
            assert_eq!(roles, wanted, "{drawn:?} {direction:?}");
            assert_eq!(plan.columns.len(), 22);
            assert_eq!(plan.columns[10].role, ColumnRole::Half(Half::Out));
            assert_eq!(plan.columns[11].role, ColumnRole::Hole(10));

            assert_eq!((card.holes, card.tees.len(), card.combos.len()), (18, 2, 1));
            assert_eq!((card.tees[0].name.as_str(), card.tees[0].lengths[6]), ("Teal", Some(366)));
            let rating = card.tees[0].ratings[0].1;
            assert_eq!((rating.course, rating.slope), (Some(70.1), Some(121)));
            assert_eq!(card.tees[1].printed.total, Some(6057));
            assert_eq!(card.combos[0].tees[..2], ["Teal".to_owned(), "Plum".to_owned()]);
            assert_eq!((card.par[0].1[5], card.par[1].1[5]), (Some(4), Some(5)));
            assert_eq!((card.par_printed[1].out, card.par_printed[1].inward), (Some(37), Some(36)));
            assert_eq!(card.stroke_index[0].1[13], Some(2));
        }
    }
}

#[test]
fn cells_stand_where_they_were_drawn() {
    for direction in DIRECTIONS {
        let sketch = eighteen(Drawn::Rules, direction);
        let (plan, _) = recognise(&[sketch.face()]).unwrap();
        let cell = plan.cell(1, 11).unwrap();
        let (u0, u1) = sketch.columns()[11];
        assert_eq!(cell.text, "399");
        let wanted = bounds(sketch.rect(u0, 58.0, u1, 74.0));
        for (a, b) in
            [(cell.rect.x0, wanted.x0), (cell.rect.y0, wanted.y0), (cell.rect.x1, wanted.x1), (cell.rect.y1, wanted.y1)]
        {
            assert!(a.near(b, Length::from_pt(0.1)), "{direction:?}: {:?} and {wanted:?}", cell.rect);
        }
    }
}

#[test]
fn a_page_of_text_and_boxes_is_no_grid() {
    let mut sketch = eighteen(Drawn::Rules, Direction::Across);
    sketch.rows[0].1[5] = "five".to_owned();
    assert!(recognise(&[sketch.face()]).is_none());
    assert!(recognise(&[]).is_none());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn any_widths_and_heights_are_found_again(
        widths in proptest::collection::vec(22.0_f64..38.0, 22),
        heights in proptest::collection::vec(13.0_f64..30.0, 10),
        gap in any::<bool>(),
        across in any::<bool>(),
    ) {
        let direction = if across { Direction::Across } else { Direction::Down { top_at_left: true } };
        let mut sketch = eighteen(Drawn::Boxes, direction);
        sketch.widths = widths;
        sketch.fold = gap.then_some(10);
        for ((height, _), wanted) in sketch.rows.iter_mut().zip(&heights) {
            *height = *wanted;
        }
        let (plan, _) = recognise(&[sketch.face()]).expect("the grid is there");
        prop_assert_eq!(plan.rows.len(), 10);
        prop_assert_eq!(plan.columns.len(), 22);
        for (found, drawn) in plan.columns.iter().zip(sketch.columns()) {
            let wide = found.rect.width();
            prop_assert!(wide.near(Length::from_pt(drawn.1 - drawn.0), Length::from_pt(0.1)));
        }
    }
}
