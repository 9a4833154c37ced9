//! Pages that this house writes itself come back through the reader as they were meant.

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::{Face, Mark, Paint, PictureSpace, Side};
use fairfold::font::{OpenFont, ShapedLine, Shaping};
use fairfold::ink::{Colour, Ink, SpotInk};
use fairfold::pdf::{Boxes, Content, Document, ImageData, ImageSpace, ImageXObject, Overprint, Saving};
use fairfold::unit::{Length, Point, Rect, Size};
use lopdf::Dictionary;

use super::artwork_pdf::{paths, texts};

const HEATH: [f64; 4] = [0.6, 0.0, 0.8, 0.2];

fn pt(x: i64, y: i64) -> Point {
    Point::new(Length::pt(x), Length::pt(y))
}

/// A 6 x 12 in face with an eighth of bleed: a spot panel, a hairline, two lines of text, a picture and a register mark.
fn written() -> (Face, Vec<ShapedLine>) {
    let mut document = Document::new();
    let heath = SpotInk { name: "Otterby Heath".into(), cmyk: HEATH, lab: None };
    document.define_spot(&heath).unwrap();
    let picture = document
        .add_image(&ImageXObject {
            width: 60,
            height: 30,
            bits: 8,
            space: ImageSpace::Cmyk,
            data: ImageData::Samples(vec![0; 60 * 30 * 4]),
            soft_mask: None,
        })
        .unwrap();
    let lines = vec![
        OpenFont::Serif.shape("Otterby Common", Length::pt(24), Shaping::TEXT).unwrap(),
        OpenFont::NarrowBold.shape("412 385 11", Length::units(1_000_000), Shaping::FIGURES).unwrap(),
    ];
    let mut page = Content::new();
    let bleed = Length::inches(1, 8);
    let trim = Size::new(Length::inches(12, 1), Length::inches(6, 1)).at_origin();
    page.fill_colour(&mut document, &heath.at(0.4)).unwrap().rect(trim.grown(bleed)).fill();
    page.stroke_colour(&mut document, &Colour::BLACK).unwrap().line_width(Length::units(31_750));
    page.move_to(pt(36, 100)).line_to(pt(400, 100)).stroke();
    page.overprint(&mut document, Overprint::OnNonZero).fill_colour(&mut document, &Colour::BLACK).unwrap();
    page.text(&mut document, &lines[0], pt(36, 300)).unwrap();
    page.text(&mut document, &lines[1], pt(36, 200)).unwrap();
    page.picture(picture, Rect::at(pt(500, 100), Size::new(Length::pt(144), Length::pt(72))));
    let boxes = Boxes::trimmed(trim, trim.grown(bleed));
    document.add_page(&boxes, page, &Dictionary::new()).unwrap();
    let bytes = document.save(&Saving::default()).unwrap();
    let artwork = Artwork::open(&bytes, "otterby.pdf", &OpenOptions::default()).unwrap_or_else(|f| panic!("{f}"));
    assert!(artwork.remarks().is_empty());
    (artwork.face(1, Side::Outside).unwrap_or_else(|f| panic!("{f}")), lines)
}

#[test]
fn boxes_come_back_to_the_unit() {
    let (face, _) = written();
    assert_eq!(face.boxes.trim, Size::new(Length::inches(12, 1), Length::inches(6, 1)).at_origin());
    assert_eq!(face.boxes.bleed, face.boxes.trim.grown(Length::inches(1, 8)));
    assert_eq!((face.boxes.trim_from, face.boxes.bleed_stated), ("TrimBox", true));
    assert_eq!(face.elements[0].bounds, face.boxes.bleed);
}

#[test]
fn text_comes_back_with_its_words_place_and_measures() {
    let (face, lines) = written();
    let runs = texts(&face);
    assert_eq!(runs.len(), 2, "{runs:?}");
    for ((run, line), (origin, which)) in
        runs.iter().zip(&lines).zip([(pt(36, 300), OpenFont::Serif), (pt(36, 200), OpenFont::NarrowBold)])
    {
        let font = which.font().unwrap();
        let near = |a: Length, b: Length| (a - b).to_pt().abs() < 0.001;
        assert_eq!(run.text, line.text);
        assert!(near(run.size, line.size), "{run:?}");
        assert!(near(run.origin.x, origin.x) && near(run.origin.y, origin.y), "{run:?}");
        assert!((run.advance - line.width()).to_pt().abs() < 0.01, "{} {}", run.advance.to_pt(), line.width().to_pt());
        assert_eq!(run.painted, fairfold::card::Painted::Fill);
        assert_eq!(run.fill, Some(Paint::Flat(Colour::BLACK)));
        assert!(run.font.starts_with(font.name()), "{} {}", run.font, font.name());
        assert_eq!(run.bold, which == OpenFont::NarrowBold);
    }
    // The serif's x-height is that of its letter m or r, as the font's own table states it.
    let stated = OpenFont::Serif.font().unwrap().x_height(Length::pt(24));
    if let Some(measured) = runs[0].x_height {
        assert!((measured - stated).to_pt().abs() < 0.5, "{} {}", measured.to_pt(), stated.to_pt());
    }
    let black: Vec<_> = face.elements.iter().filter(|e| matches!(e.mark, Mark::Text(_))).collect();
    assert!(black.iter().all(|e| e.blend.overprint_fill && e.blend.overprint_mode == 1));
    assert!(face.fonts.iter().all(|f| f.embedded && f.subset && f.painted && f.kind == "Type0"), "{:?}", face.fonts);
}

#[test]
fn colours_lines_and_pictures_come_back_in_their_own_inks() {
    let (face, _) = written();
    let paths = paths(&face);
    let Some(Colour::Inks { tints, look }) = paths[0].fill.as_ref().and_then(Paint::flat) else { panic!("no spot") };
    assert_eq!((tints[0].0.name(), tints.len()), ("Otterby Heath", 1));
    assert!((tints[0].1 - 0.4).abs() < 1e-6);
    let Colour::Cmyk(look) = **look else { panic!("no CMYK look") };
    assert!(look.iter().zip(HEATH).all(|(a, b)| (a - b * 0.4).abs() < 1e-6));
    assert_eq!(paths[1].stroke.as_ref().unwrap().width, Length::units(31_750));
    assert_eq!(face.elements[1].bounds.height(), Length::units(31_750));
    assert!(face.inks.iter().any(|u| u.ink == Ink::from_colorant("Otterby Heath") && u.solid.is_some()));
    assert!(face.inks.iter().any(|u| u.ink == Ink::Black));
    let pictures: Vec<_> =
        face.elements.iter().filter_map(|e| if let Mark::Picture(p) = &e.mark { Some(p) } else { None }).collect();
    assert_eq!((pictures[0].pixels, pictures[0].space.clone()), ((60, 30), PictureSpace::Cmyk));
    assert!((pictures[0].ppi.0 - 30.0).abs() < 1e-9 && (pictures[0].ppi.1 - 30.0).abs() < 1e-9);
}
