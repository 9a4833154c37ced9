//! A card built by hand, mark by mark, for tests that need to know exactly what stands where. Inches from the trim's lower
//! left corner and points for type and rules, as print shops speak.

use std::sync::Arc;

use fairfold::card::{
    Blend, Card, Cell, Column, ColumnRole, Direction, Element, Face, FileFacts, Fold, FoldKind, FontUse, Format,
    GridPlan, Half, Mark, OutputIntent, PageBoxes, Paint, Painted, PathMark, PictureMark, PictureSpace, Row, RowRole,
    Side, Stroke, TextRun, Trace,
};
use fairfold::ink::{Colour, Condition, SpotInk};
use fairfold::scorecard::Who;
use fairfold::unit::{Length, Point, Rect, Size};
use kurbo::{BezPath, Shape};

pub(super) use fairfold::card::Side::{Inside, Outside};

/// An empty card of 6 x 12 in, half fold, 1/8 in bleed and safe margin, both faces.
pub(super) fn card() -> Card {
    card_of(6.0, 12.0, FoldKind::Half)
}

/// An empty card, height x width in inches.
pub(super) fn card_of(height: f64, width: f64, kind: FoldKind) -> Card {
    let flat = Size::new(Length::from_in(width), Length::from_in(height));
    let format = Format {
        flat,
        bleed: Length::inches(1, 8),
        safe: Length::inches(1, 8),
        fold: Fold::usual(kind, flat, 3, Length::inches(1, 16)),
    };
    Card {
        title: "Otterby Common".to_owned(),
        file: "otterby.pdf".to_owned(),
        faces: vec![face(&format, Outside, 1), face(&format, Inside, 2)],
        format,
        carts: false,
        spots: Vec::new(),
        condition: Condition {
            name: "coated".to_owned(),
            identifier: "CGATS TR 006".to_owned(),
            source: "ANSI CGATS TR 006-2007".to_owned(),
            profile: Arc::from(&include_bytes!("../../src/ink/profiles/coated-tr006.icc")[..]),
            total_ink: 320.0,
        },
        grid: None,
        numbers: None,
        required: Vec::new(),
        facts: FileFacts { pages: 2, may_print: true, intents: vec![intent()], ..FileFacts::default() },
        plates: fairfold::card::CardPlates::default(),
        oversets: Vec::new(),
        trace: Trace::default(),
    }
}

fn intent() -> OutputIntent {
    OutputIntent { kind: "GTS_PDFX".to_owned(), condition: "CGATS TR 006".to_owned(), profile: Some(4) }
}

fn face(format: &Format, side: Side, page: u32) -> Face {
    let bleed = format.bleed_box();
    let boxes =
        PageBoxes { media: bleed, crop: bleed, bleed, trim: format.trim(), trim_from: "TrimBox", bleed_stated: true };
    Face::new(side, boxes, page)
}

/// A rectangle from its left, bottom, right and top in inches.
pub(super) fn rect(x0: f64, y0: f64, x1: f64, y1: f64) -> Rect {
    Rect::new(Length::from_in(x0), Length::from_in(y0), Length::from_in(x1), Length::from_in(y1))
}

/// Process tints in percent.
pub(super) fn cmyk(c: f64, m: f64, y: f64, k: f64) -> Colour {
    Colour::Cmyk([c, m, y, k].map(|v| v / 100.0))
}

/// A spot ink that looks like bracken.
pub(super) fn spot() -> SpotInk {
    SpotInk { name: "Bracken".into(), cmyk: [0.1, 0.6, 0.9, 0.2], lab: None }
}

fn outline(rect: Rect) -> BezPath {
    kurbo::Rect::new(rect.x0.to_pt(), rect.y0.to_pt(), rect.x1.to_pt(), rect.y1.to_pt()).to_path(0.01)
}

pub(super) fn blend() -> Blend {
    Blend { alpha_fill: 1.0, alpha_stroke: 1.0, ..Blend::default() }
}

/// One painted thing on a face; the last one is on top.
pub(super) fn paint(card: &mut Card, side: Side, mark: Mark, bounds: Rect) -> &mut Element {
    let face = card.faces.iter_mut().find(|f| f.side == side).unwrap();
    face.elements.push(Element { mark, bounds, blend: blend(), object: Some(7) });
    face.elements.last_mut().unwrap()
}

/// A flat fill.
pub(super) fn fill(card: &mut Card, side: Side, at: Rect, colour: Colour) -> &mut Element {
    let fill = Some(Paint::Flat(colour));
    paint(card, side, Mark::Path(PathMark { outline: outline(at), fill, even_odd: false, stroke: None }), at)
}

/// A level or upright rule of a weight in points.
pub(super) fn rule(card: &mut Card, side: Side, from: (f64, f64), to: (f64, f64), weight: f64, colour: Colour) {
    let mut line = BezPath::new();
    line.move_to((from.0 * 72.0, from.1 * 72.0));
    line.line_to((to.0 * 72.0, to.1 * 72.0));
    let width = Length::from_pt(weight);
    let bounds = rect(from.0, from.1, to.0, to.1).grown(width.half());
    let stroke = Some(Stroke { paint: Paint::Flat(colour), width, dashed: false });
    paint(card, side, Mark::Path(PathMark { outline: line, fill: None, even_odd: false, stroke }), bounds);
}

/// A level line of text in a face whose x-height is half and whose capitals are 0.7 of the size; each letter is half the size
/// wide. The origin is the start of the baseline.
pub(super) fn text(card: &mut Card, side: Side, words: &str, size: f64, at: (f64, f64), colour: Colour) {
    let width = size * 0.5 * f64::from(u32::try_from(words.chars().count()).unwrap());
    let (x, y) = (at.0 * 72.0, at.1 * 72.0);
    let pt = Length::from_pt;
    let bounds = Rect::new(pt(x), pt(y), pt(x + width), pt(y + size * 0.7));
    let run = TextRun {
        text: words.to_owned(),
        font: "ArchivoNarrow-Regular".to_owned(),
        size: pt(size),
        x_height: Some(pt(size * 0.5)),
        cap_height: Some(pt(size * 0.7)),
        bold: false,
        origin: Point::new(pt(x), pt(y)),
        advance: pt(width),
        angle: 0.0,
        painted: Painted::Fill,
        fill: Some(Paint::Flat(colour)),
        stroke: None,
    };
    paint(card, side, Mark::Text(run), bounds);
}

/// The text run that was painted last.
pub(super) fn last_run(card: &mut Card, side: Side) -> &mut TextRun {
    let face = card.faces.iter_mut().find(|f| f.side == side).unwrap();
    match &mut face.elements.last_mut().unwrap().mark {
        Mark::Text(run) => run,
        other => panic!("the last mark is no text: {other:?}"),
    }
}

/// An upright picture of so many pixels.
pub(super) fn picture(card: &mut Card, side: Side, at: Rect, pixels: (u32, u32), space: PictureSpace, bits: u8) {
    let (w, h) = (at.width().to_in(), at.height().to_in());
    let (x0, y0, x1, y1) = (at.x0.to_pt(), at.y0.to_pt(), at.x1.to_pt(), at.y1.to_pt());
    let mark = PictureMark {
        pixels,
        ppi: (f64::from(pixels.0) / w, f64::from(pixels.1) / h),
        space,
        indexed: false,
        calibrated: false,
        bits,
        filters: vec!["DCTDecode".to_owned()],
        corners: [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(kurbo::Point::from),
        object: Some(9),
    };
    paint(card, side, Mark::Picture(mark), at);
}

/// A font of a face.
pub(super) fn font<'c>(card: &'c mut Card, side: Side, name: &str, fs_type: Option<u16>) -> &'c mut FontUse {
    let face = card.faces.iter_mut().find(|f| f.side == side).unwrap();
    face.fonts.push(FontUse {
        name: name.to_owned(),
        kind: "TrueType".to_owned(),
        embedded: true,
        subset: true,
        fs_type,
        painted: true,
        hidden: false,
        dots: None,
        object: Some(11),
    });
    face.fonts.last_mut().unwrap()
}

/// A grid on the inside of a 6 x 12 in card: hole numbers, one tee, par, stroke index and `players` lines of a height in
/// inches, from `top` inches below the trim's top; a name column and the usual others. Nothing is painted.
pub(super) fn grid(card: &mut Card, top: f64, players: usize, height: f64) {
    let mut roles = vec![
        (RowRole::Holes, "Hole".to_owned()),
        (RowRole::Tee(0), "Heron".to_owned()),
        (RowRole::Par(Who::Everyone), "Par".to_owned()),
        (RowRole::StrokeIndex(Who::Everyone), "Stroke index".to_owned()),
    ];
    roles.extend((0..players).map(|n| (RowRole::Player(n), String::new())));
    let mut columns = vec![(ColumnRole::Name, 1.6)];
    columns.extend((1..=9).map(|n| (ColumnRole::Hole(n), 0.4)));
    columns.push((ColumnRole::Half(Half::Out), 0.45));
    columns.push((ColumnRole::Initials, 0.6));
    columns.extend((10..=18).map(|n| (ColumnRole::Hole(n), 0.4)));
    columns.extend([ColumnRole::Half(Half::In), ColumnRole::Total].map(|c| (c, 0.45)));

    let mut y = card.format.flat.height.to_in() - top;
    let mut rows = Vec::new();
    let left = 0.2;
    let width: f64 = columns.iter().map(|(_, w)| w).sum();
    for (role, label) in roles {
        let tall = if role.is_written() { height } else { 0.2 };
        rows.push(Row { role, label, rect: rect(left, y - tall, left + width, y) });
        y -= tall;
    }
    let top = rows[0].rect.y1.to_in();
    let mut x = left;
    let mut places = Vec::new();
    for (role, wide) in columns {
        places.push(Column { role, rect: rect(x, y, x + wide, top) });
        x += wide;
    }
    let mut cells = Vec::new();
    for (r, row) in rows.iter().enumerate() {
        for (c, column) in places.iter().enumerate() {
            let rect = Rect { x0: column.rect.x0, x1: column.rect.x1, ..row.rect };
            cells.push(Cell { row: r, column: c, rect, text: String::new() });
        }
    }
    let bounds = rect(left, y, left + width, top);
    card.grid = Some(GridPlan { side: Inside, direction: Direction::Across, bounds, rows, columns: places, cells });
}
