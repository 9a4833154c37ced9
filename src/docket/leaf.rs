use printpdf::{
    Color, FontId, Greyscale, Line, LineDashPattern, LinePoint, Mm, Op, PaintMode, ParsedFont, PdfDocument,
    PdfFontHandle, PdfPage, PdfSaveOptions, Point, Polygon, PolygonRing, Pt, TextItem, WindingOrder,
};

use crate::fault::{Fault, Result, Source};
use crate::font::{OpenFont, Shaping};
use crate::pdf::{self, Saving};
use crate::unit::{Length, Rect};

/// A page of 8.5 x 11 in that is drawn on from its lower left corner.
pub(super) struct Leaf {
    document: PdfDocument,
    ops: Vec<Op>,
}

/// The faces of a docket: text, and what stands out.
const FACES: [(OpenFont, &str); 2] = [(OpenFont::Condensed, "Text"), (OpenFont::CondensedBold, "Bold")];

/// A number of the page; `printpdf` counts in f32 points, far finer than any docket is read.
#[expect(clippy::cast_possible_truncation, reason = "points of a page fit")]
fn pt(length: Length) -> Pt {
    Pt(length.to_pt() as f32)
}

fn point(x: Length, y: Length) -> Point {
    Point { x: pt(x), y: pt(y) }
}

fn gray(share: f32) -> Color {
    Color::Greyscale(Greyscale::new(share, None))
}

impl Leaf {
    pub(super) fn new() -> Result<Self> {
        let mut document = PdfDocument::new("docket");
        for (face, name) in FACES {
            let mut warnings = Vec::new();
            let font = ParsedFont::from_bytes(face.program(), 0, &mut warnings).ok_or_else(|| {
                Fault::new(Source::Nowhere, format!("the built-in font {} cannot be set in a docket", face.word()))
            })?;
            // Its own names are drawn at random; these are the same each time.
            let drawn = document.add_font(&font);
            if let Some(font) = document.resources.fonts.map.remove(&drawn) {
                document.resources.fonts.map.insert(FontId(name.to_owned()), font);
            }
        }
        Ok(Self { document, ops: Vec::new() })
    }

    pub(super) fn text(&mut self, x: Length, y: Length, size: Length, text: &str) {
        self.set("Text", x, y, size, text);
    }

    pub(super) fn heading(&mut self, x: Length, y: Length, size: Length, text: &str) {
        self.set("Bold", x, y, size, text);
    }

    fn set(&mut self, face: &str, x: Length, y: Length, size: Length, text: &str) {
        self.ops.extend([
            Op::StartTextSection,
            Op::SetFillColor { col: gray(0.0) },
            Op::SetTextCursor { pos: point(x, y) },
            Op::SetFont { font: PdfFontHandle::External(FontId(face.to_owned())), size: pt(size) },
            Op::ShowText { items: vec![TextItem::Text(text.to_owned())] },
            Op::EndTextSection,
        ]);
    }

    pub(super) fn rule(&mut self, x0: Length, y0: Length, x1: Length, y1: Length, weight: Length) {
        let points = [(x0, y0), (x1, y1)].map(|(x, y)| LinePoint { p: point(x, y), bezier: false }).to_vec();
        self.ops.extend([
            Op::SetOutlineColor { col: gray(0.0) },
            Op::SetOutlineThickness { pt: pt(weight) },
            Op::DrawLine { line: Line { points, is_closed: false } },
        ]);
    }

    /// A rule of dashes 2 pt long.
    pub(super) fn dashed(&mut self, x0: Length, y0: Length, x1: Length, y1: Length, weight: Length) {
        let solid = LineDashPattern::default();
        let dash = LineDashPattern { offset: 0.0, pattern: [2.0, 2.0].into_iter().collect() };
        self.ops.push(Op::SetLineDashPattern { dash });
        self.rule(x0, y0, x1, y1, weight);
        self.ops.push(Op::SetLineDashPattern { dash: solid });
    }

    /// A box with a rule around it, filled with a share of white from 0, black, to 1.
    pub(super) fn frame(&mut self, rect: Rect, weight: Length, fill: Option<f32>) {
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        let points = corners.map(|(x, y)| LinePoint { p: point(x, y), bezier: false }).to_vec();
        let mode = if fill.is_some() { PaintMode::FillStroke } else { PaintMode::Stroke };
        self.ops.extend([
            Op::SetFillColor { col: gray(fill.unwrap_or(1.0)) },
            Op::SetOutlineColor { col: gray(0.0) },
            Op::SetOutlineThickness { pt: pt(weight) },
            Op::DrawPolygon {
                polygon: Polygon { rings: vec![PolygonRing { points }], mode, winding_order: WindingOrder::NonZero },
            },
        ]);
    }

    /// Text broken into lines of this width.
    pub(super) fn broken(text: &str, size: Length, width: Length) -> Result<Vec<String>> {
        let mut lines: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            let longer = match lines.last() {
                Some(line) => format!("{line} {word}"),
                None => word.to_owned(),
            };
            let fits = OpenFont::Condensed.shape(&longer, size, Shaping::TEXT)?.width() <= width;
            match lines.last_mut() {
                Some(line) if fits => *line = longer,
                _ => lines.push(word.to_owned()),
            }
        }
        Ok(lines)
    }

    /// The bytes of the page. `printpdf` gives every file names and dates of its own; they are taken out, so that equal dockets are
    /// equal bytes.
    pub(super) fn finish(mut self, title: &str, day: &str) -> Result<Vec<u8>> {
        let wrong = |what: String| Fault::new(Source::Nowhere, format!("the docket cannot be written: {what}"));
        self.document.pages = vec![PdfPage::new(Mm(215.9), Mm(279.4), self.ops)];
        let written = self.document.save(&PdfSaveOptions::default(), &mut Vec::new());
        let mut objects = lopdf::Document::load_mem(&written).map_err(|e| wrong(e.to_string()))?;
        objects.trailer.remove(b"Info");
        objects.trailer.remove(b"ID");
        objects.catalog_mut().map_err(|e| wrong(e.to_string()))?.remove(b"Metadata");
        objects.prune_objects();
        objects.renumber_objects();
        let stamp = format!("D:{}000000Z", day.replace('-', ""));
        let saving = Saving::default().text("Title", format!("Docket: {title}")).text("CreationDate", stamp);
        Ok(pdf::save(objects, &saving, &[])?.into_bytes())
    }
}
