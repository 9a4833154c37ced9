//! Pictures: effective resolution after all scaling, wherever the picture hangs.

use fairfold::card::{Face, Mark, PictureMark};

use super::artwork_pdf::Pdf;

fn pictures(face: &Face) -> Vec<&PictureMark> {
    face.elements.iter().filter_map(|e| if let Mark::Picture(p) = &e.mark { Some(p) } else { None }).collect()
}

/// A 300 x 300 picture and the numbers of both ways to draw it: itself, and inside a form of a quarter size.
fn parts(pdf: &mut Pdf) -> String {
    let keys = "/Type /XObject /Subtype /Image /Width 300 /Height 300 /BitsPerComponent 1 /ColorSpace /DeviceGray";
    let picture = pdf.stream(keys, vec![0; 38 * 300]);
    let inside = format!("/Resources << /XObject << /I {picture} 0 R >> >>");
    let form = pdf.stream(
        &format!("/Type /XObject /Subtype /Form /BBox [0 0 1000 1000] /Matrix [0.25 0 0 0.25 0 0] {inside}"),
        "72 0 0 72 0 0 cm /I Do",
    );
    let cell = pdf.stream(
        &format!(
            "/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 72 72] /XStep 72 /YStep 72 /Matrix [0.5 0 0 0.5 0 0] {inside}"
        ),
        "72 0 0 72 0 0 cm /I Do",
    );
    format!("/XObject << /I {picture} 0 R /F {form} 0 R >> /Pattern << /P {cell} 0 R >>")
}

fn ppi(content: &str, page: &str) -> (f64, f64) {
    let mut pdf = Pdf::new();
    let resources = parts(&mut pdf);
    pdf.page(&format!("/MediaBox [0 0 2000 2000] {page} /Resources << {resources} >>"), content);
    let face = pdf.face();
    let [picture] = pictures(&face)[..] else { panic!("not one picture") };
    let round = |v: f64| (v * 1000.0).round() / 1000.0;
    (round(picture.ppi.0), round(picture.ppi.1))
}

#[test]
fn resolution_counts_every_scaling_on_the_way() {
    // 300 samples on 72 pt are 300 ppi; at half size 600, at double size 150; turning and shearing along the other axis
    // change nothing; a form of a quarter size makes 1200, a pattern of half size 600.
    let (sin, cos) = 30_f64.to_radians().sin_cos();
    let turned = format!("{} {} {} {} 500 500 cm /I Do", 72.0 * cos, 72.0 * sin, -72.0 * sin, 72.0 * cos);
    for (content, wanted) in [
        ("72 0 0 72 0 0 cm /I Do", (300.0, 300.0)),
        ("36 0 0 36 0 0 cm /I Do", (600.0, 600.0)),
        ("144 0 0 72 0 0 cm /I Do", (150.0, 300.0)),
        (turned.as_str(), (300.0, 300.0)),
        ("72 0 72 72 0 0 cm /I Do", (300.0, 212.132)),
        ("-72 0 0 -72 72 72 cm /I Do", (300.0, 300.0)),
        ("/F Do", (1200.0, 1200.0)),
        ("2 0 0 2 0 0 cm /F Do", (600.0, 600.0)),
        ("/Pattern cs /P scn 0 0 500 500 re f", (600.0, 600.0)),
    ] {
        let found = ppi(content, "");
        assert!((found.0 - wanted.0).abs() < 0.002 && (found.1 - wanted.1).abs() < 0.002, "{content}: {found:?}");
    }
    assert!((ppi("72 0 0 72 0 0 cm /I Do", "/UserUnit 2").0 - 150.0).abs() < 0.002);
}

#[test]
fn a_picture_knows_its_corners_and_its_object() {
    let mut pdf = Pdf::new();
    let resources = parts(&mut pdf);
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << {resources} >>"), "0 50 -20 0 100 10 cm /I Do");
    let face = pdf.face();
    let picture = pictures(&face)[0];
    let corners: Vec<(f64, f64)> = picture.corners.iter().map(|p| (p.x.round(), p.y.round())).collect();
    assert_eq!(format!("{corners:?}"), "[(100.0, 10.0), (100.0, 60.0), (80.0, 60.0), (80.0, 10.0)]");
    assert_eq!((picture.object, picture.pixels), (Some(3), (300, 300)));
}

#[test]
fn a_cmyk_jpeg_is_passed_by_untouched_whatever_its_marker_says() {
    // The Adobe marker and Decode are for whoever shows the picture; the reader neither decodes nor inverts.
    for decode in ["", "/Decode [1 0 1 0 1 0 1 0]"] {
        let mut pdf = Pdf::new();
        let keys = format!(
            "/Type /XObject /Subtype /Image /Width 8 /Height 8 /BitsPerComponent 8 /ColorSpace /DeviceCMYK /Filter /DCTDecode {decode}"
        );
        let picture = pdf.stream(&keys, b"\xFF\xD8 not decoded \xFF\xD9");
        pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /XObject << /I {picture} 0 R >> >>"), "/I Do");
        let face = pdf.face();
        assert_eq!(pictures(&face)[0].space, fairfold::card::PictureSpace::Cmyk);
        assert_eq!(pictures(&face)[0].filters, ["DCTDecode"]);
    }
}

#[test]
fn a_jpeg_2000_says_itself_what_its_samples_are() {
    // ISO 15444-1, I.5.3: ihdr holds height, width, components and bits less one; colr holds method 1 and 12 for CMYK.
    let mut file =
        b"\0\0\0\x0CjP  \r\n\x87\n\0\0\0\x2Djp2h\0\0\0\x16ihdr\0\0\0\x04\0\0\0\x08\0\x04\x07\x07\0\0".to_vec();
    file.extend(b"\0\0\0\x0Fcolr\x01\0\0\0\0\0\x0C");
    let mut pdf = Pdf::new();
    let picture = pdf.stream("/Type /XObject /Subtype /Image /Width 8 /Height 4 /Filter /JPXDecode", &file);
    pdf.page(&format!("/MediaBox [0 0 200 100] /Resources << /XObject << /I {picture} 0 R >> >>"), "/I Do");
    let face = pdf.face();
    assert_eq!((pictures(&face)[0].space.clone(), pictures(&face)[0].bits), (fairfold::card::PictureSpace::Cmyk, 8));
}

#[test]
fn a_picture_with_a_soft_mask_counts_as_see_through() {
    let mut pdf = Pdf::new();
    let keys = "/Type /XObject /Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray";
    let mask = pdf.stream(keys, [128]);
    let (plain, masked) = (pdf.stream(keys, [0]), pdf.stream(&format!("{keys} /SMask {mask} 0 R"), [0]));
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << /XObject << /P {plain} 0 R /M {masked} 0 R >> >>"),
        "/P Do /M Do",
    );
    let soft: Vec<bool> = pdf.face().elements.iter().map(|e| e.blend.soft_mask).collect();
    assert_eq!(soft, [false, true]);
}
