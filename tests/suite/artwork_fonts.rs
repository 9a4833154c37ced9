//! Fonts: embedded or not, painted or only named, and what is measured from their programs.

use fairfold::card::{Face, FontUse, Painted};
use fairfold::unit::Length;

use super::artwork_pdf::{HELVETICA, Pdf, one_page, texts};

const GROTESQUE: &[u8] = include_bytes!("../../fonts-open/archivo-narrow/ArchivoNarrow_400Regular.ttf");

fn font<'f>(face: &'f Face, name: &str) -> &'f FontUse {
    face.fonts.iter().find(|f| f.name == name).unwrap_or_else(|| panic!("no {name} in {:?}", face.fonts))
}

#[test]
fn a_font_that_is_not_embedded_counts_as_painted_only_where_ink_shows() {
    for (content, painted) in [
        ("BT /F1 10 Tf (text) Tj ET", true),
        ("BT /F1 10 Tf ( ) Tj ET", false),
        ("BT /F1 10 Tf 3 Tr (text) Tj ET", false),
        ("", false),
    ] {
        let face = one_page(HELVETICA, content).face();
        let font = font(&face, "Helvetica");
        assert_eq!((font.painted, font.embedded, font.subset), (painted, false, false), "{content}");
    }
}

#[test]
fn invisible_text_is_an_element_of_its_own_kind() {
    let face = one_page(HELVETICA, "BT /F1 10 Tf 3 Tr (under a scan) Tj 1 Tr (outline) Tj 2 Tr (both) Tj ET").face();
    let painted: Vec<Painted> = texts(&face).iter().map(|t| t.painted).collect();
    assert_eq!(painted, [Painted::Invisible, Painted::Stroke, Painted::Both]);
    assert!(texts(&face)[0].fill.is_none() && texts(&face)[1].stroke.is_some() && texts(&face)[2].fill.is_some());
}

#[test]
fn a_font_only_in_an_annotations_appearance_is_listed() {
    let mut pdf = Pdf::new();
    let stamp = pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 40 10] /Resources << {HELVETICA} >>"),
        "BT /F1 8 Tf 1 1 Td (proof) Tj ET",
    );
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] \
             /Annots [<< /Type /Annot /Subtype /Stamp /F 4 /Rect [50 50 130 70] /AP << /N {stamp} 0 R >> >>]"
        ),
        "",
    );
    let face = pdf.face();
    assert!(font(&face, "Helvetica").painted);
    // The appearance is 40 x 10 and the annotation 80 x 20: text is twice its size.
    assert_eq!(texts(&face)[0].size, Length::pt(16));
}

/// A descriptor around an embedded TrueType program.
fn embedded(pdf: &mut Pdf) -> usize {
    let program = pdf.stream(&format!("/Length1 {}", GROTESQUE.len()), GROTESQUE);
    pdf.add(format!(
        "<< /Type /FontDescriptor /FontName /OTTERB+ArchivoNarrow-Regular /Flags 32 /FontBBox [-200 -250 1200 1000] \
         /Ascent 900 /Descent -250 /CapHeight 650 /StemV 80 /ItalicAngle 0 /FontFile2 {program} 0 R >>"
    ))
}

#[test]
fn an_embedded_truetype_font_is_measured_by_its_own_outlines() {
    let face = ttf_parser::Face::parse(GROTESQUE, 0).unwrap();
    let per_em = f64::from(face.units_per_em());
    let mut pdf = Pdf::new();
    let descriptor = embedded(&mut pdf);
    let width = |c: char| f64::from(face.glyph_hor_advance(face.glyph_index(c).unwrap()).unwrap()) / per_em * 1000.0;
    let widths: Vec<String> = (32..127_u8).map(|c| width(char::from(c)).to_string()).collect();
    let font_object = pdf.add(format!(
        "<< /Type /Font /Subtype /TrueType /BaseFont /OTTERB+ArchivoNarrow-Regular /FirstChar 32 /LastChar 126 \
         /Widths [{}] /Encoding /WinAnsiEncoding /FontDescriptor {descriptor} 0 R >>",
        widths.join(" ")
    ));
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /Font << /F1 {font_object} 0 R >> >>"),
        "BT /F1 12 Tf 20 30 Td (Heron) Tj ET",
    );
    let page = pdf.face();
    let run = texts(&page)[0];
    let font = font(&page, "ArchivoNarrow-Regular");
    assert_eq!((font.embedded, font.subset, font.kind.as_str()), (true, true, "TrueType"));
    // The outside judge is ttf-parser: box of x and H, fsType, box of the ink.
    let top = |c| f64::from(face.glyph_bounding_box(face.glyph_index(c).unwrap()).unwrap().y_max) / per_em * 12.0;
    assert!((run.x_height.unwrap().to_pt() - top('x')).abs() < 1e-4);
    assert!((run.cap_height.unwrap().to_pt() - top('H')).abs() < 1e-4);
    let os2 = face.raw_face().table(ttf_parser::Tag::from_bytes(b"OS/2")).unwrap();
    assert_eq!(font.fs_type, Some(u16::from_be_bytes([os2[8], os2[9]])));
    let first = face.glyph_bounding_box(face.glyph_index('H').unwrap()).unwrap();
    let bounds = page.elements[0].bounds;
    assert!((bounds.x0.to_pt() - (20.0 + f64::from(first.x_min) / per_em * 12.0)).abs() < 1e-3);
    let advance: f64 = "Heron".chars().map(width).sum::<f64>() / 1000.0 * 12.0;
    assert!((run.advance.to_pt() - advance).abs() < 1e-3);
}

#[test]
fn a_composite_font_is_read_by_its_identity_cmap_and_to_unicode() {
    let face = ttf_parser::Face::parse(GROTESQUE, 0).unwrap();
    let mut pdf = Pdf::new();
    let descriptor = embedded(&mut pdf);
    let letters: Vec<(char, u16)> = "Bracken x".chars().map(|c| (c, face.glyph_index(c).unwrap().0)).collect();
    let chars: Vec<String> = letters.iter().map(|(c, g)| format!("<{g:04X}> <{:04X}>", *c as u32)).collect();
    let cmap = pdf.stream(
        "",
        format!(
            "/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /Adobe-Identity-UCS def /CMapType 2 def\n\
             1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n{} beginbfchar\n{}\nendbfchar\nendcmap end end",
            chars.len(),
            chars.join("\n")
        ),
    );
    let widths: Vec<String> = letters
        .iter()
        .map(|(_, g)| {
            let w = f64::from(face.glyph_hor_advance(ttf_parser::GlyphId(*g)).unwrap()) * 1000.0;
            format!("{g} [{}]", w / f64::from(face.units_per_em()))
        })
        .collect();
    let descendant = pdf.add(format!(
        "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /OTTERB+ArchivoNarrow-Regular /CIDToGIDMap /Identity /DW 1000 \
         /W [{}] /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor {descriptor} 0 R >>",
        widths.join(" ")
    ));
    let font_object = pdf.add(format!(
        "<< /Type /Font /Subtype /Type0 /BaseFont /OTTERB+ArchivoNarrow-Regular /Encoding /Identity-H \
         /DescendantFonts [{descendant} 0 R] /ToUnicode {cmap} 0 R >>"
    ));
    let codes: String = letters.iter().take(7).map(|(_, g)| format!("{g:04X}")).collect::<Vec<_>>().concat();
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /Font << /F1 {font_object} 0 R >> >>"),
        format!("BT /F1 12 Tf 20 30 Td <{codes}> Tj ET"),
    );
    let page = pdf.face();
    let run = texts(&page)[0];
    assert_eq!(run.text, "Bracken");
    let x = face.glyph_bounding_box(face.glyph_index('x').unwrap()).unwrap().y_max;
    let wanted = f64::from(x) / f64::from(face.units_per_em()) * 12.0;
    assert!((run.x_height.unwrap().to_pt() - wanted).abs() < 1e-4);
    assert_eq!(font(&page, "ArchivoNarrow-Regular").kind, "Type0");
}

#[test]
fn bold_is_told_by_name_flags_or_weight() {
    let mut pdf = Pdf::new();
    let plain = "/Type /FontDescriptor /FontName /Otterby /Flags 32";
    let fonts: Vec<usize> = [
        ("Otterby-Bold", format!("<< {plain} >>")),
        ("Otterby-Book", "<< /Type /FontDescriptor /FontName /Otterby /Flags 262176 >>".to_owned()),
        ("Otterby-Book", format!("<< {plain} /FontWeight 700 >>")),
        ("Otterby-Book", format!("<< {plain} /FontWeight 400 >>")),
    ]
    .iter()
    .map(|(name, descriptor)| {
        pdf.add(format!(
            "<< /Type /Font /Subtype /Type1 /BaseFont /{name} /FirstChar 97 /LastChar 97 /Widths [500] /FontDescriptor {descriptor} >>"
        ))
    })
    .collect();
    let names: Vec<String> = fonts.iter().enumerate().map(|(n, f)| format!("/F{n} {f} 0 R")).collect();
    let content: Vec<String> = (0..4).map(|n| format!("/F{n} 10 Tf (a) Tj")).collect();
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /Font << {} >> >>", names.join(" ")),
        format!("BT {} ET", content.join(" ")),
    );
    let bold: Vec<bool> = texts(&pdf.face()).iter().map(|t| t.bold).collect();
    assert_eq!(bold, [true, true, true, false]);
}

#[test]
fn differences_and_their_names_say_what_is_written() {
    let mut pdf = Pdf::new();
    let font = pdf.add(
        "<< /Type /Font /Subtype /Type1 /BaseFont /Times-Roman \
         /Encoding << /BaseEncoding /WinAnsiEncoding /Differences [1 /f_f_i /uni2020 200 /bullet] >> >>",
    );
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /Font << /F1 {font} 0 R >> >>"),
        "BT /F1 10 Tf (\\001\\002\\310\\200) Tj ET",
    );
    assert_eq!(texts(&pdf.face())[0].text, "ffi\u{2020}\u{2022}\u{20AC}");
}
