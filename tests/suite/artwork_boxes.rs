//! Page boxes, Rotate, UserUnit and the page tree: the troubles of real files, one test each.

use fairfold::card::Side;
use fairfold::unit::Length;

use super::artwork_pdf::{Pdf, bounds, one_page, remarks};

/// An L-shaped mark in the lower left corner of the trim, 10 pt long, 2 pt wide, and nothing else.
const CORNER: &str = "10 20 10 2 re f";

fn rotated(rotate: &str) -> String {
    let mut pdf = Pdf::new();
    pdf.page(&format!("/MediaBox [10 20 185 92] {rotate}"), CORNER);
    bounds(&pdf.face().elements[0])
}

#[test]
fn a_rotated_page_turns_clockwise_about_its_own_box() {
    // ISO 32000-1, table 30: Rotate turns clockwise. The page is 175 x 72 pt; a mark along its lower edge from the lower
    // left corner lies at the upper left, along the left edge, after a quarter turn.
    assert_eq!(rotated(""), "0 0 10 2");
    assert_eq!(rotated("/Rotate 90"), "0 165 2 175");
    assert_eq!(rotated("/Rotate 180"), "165 70 175 72");
    assert_eq!(rotated("/Rotate 270"), "70 0 72 10");
}

#[test]
fn turns_are_taken_modulo_a_full_turn_and_the_nearest_one_wins() {
    let mut pdf = Pdf::new();
    pdf.tree("/Rotate 180 /MediaBox [0 0 200 100]");
    for rotate in ["/Rotate 0", "/Rotate -90", "/Rotate 450", "/Rotate 45", ""] {
        pdf.page(rotate, "");
    }
    let artwork = pdf.open();
    let turn = |n| artwork.source_page(n).map(|p| p.boxes.rotate);
    assert_eq!(turn(1), Ok(0));
    assert_eq!(turn(2), Ok(270));
    assert_eq!(turn(3), Ok(90));
    assert!(turn(4).unwrap_err().to_string().contains("quarter turn"));
    assert_eq!(turn(5), Ok(180));
}

#[test]
fn sizes_are_differences_of_sorted_corners() {
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [36 45 607.5 765] /CropBox [50 60 550 700] /TrimBox [70 80 530 680]", "299 379 2 2 re f");
    pdf.page("/MediaBox [612 792 0 0] /CropBox [0 792 612 0] /TrimBox [600 780 12 12]", "");
    let artwork = pdf.open();
    let first = artwork.face(1, Side::Outside).unwrap();
    assert_eq!(first.boxes.trim.width(), Length::pt(460));
    assert_eq!(first.boxes.trim.height(), Length::pt(600));
    assert_eq!(first.boxes.trim.origin(), fairfold::unit::Point::default());
    assert_eq!(bounds(&first.elements[0]), "229 299 231 301");
    assert_eq!(first.boxes.media.x0, Length::pt(-34));
    let second = artwork.face(2, Side::Inside).unwrap();
    assert_eq!(second.boxes.trim.width(), Length::pt(588));
    assert_eq!(second.boxes.media.y0, Length::pt(-12));
}

#[test]
fn a_trim_past_the_medium_is_cut_with_a_word_and_one_outside_is_a_fault() {
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [0 0 200 100] /TrimBox [-5 -5 150 90]", "");
    pdf.page("/MediaBox [0 0 200 100] /TrimBox [300 0 400 100]", "");
    pdf.page("/MediaBox [0 0 200 100] /TrimBox [10 10 190 90] /BleedBox [300 0 400 100]", "");
    let artwork = pdf.open();
    assert_eq!(artwork.face(1, Side::Outside).unwrap().boxes.trim.width(), Length::pt(150));
    assert!(remarks(&artwork).contains("the TrimBox reaches past the MediaBox"));
    assert!(artwork.face(2, Side::Outside).unwrap_err().to_string().contains("the TrimBox lies wholly outside"));
    let third = artwork.face(3, Side::Outside).unwrap();
    assert!(!third.boxes.bleed_stated);
    assert!(remarks(&artwork).contains("the BleedBox lies wholly outside"));
}

#[test]
fn fractions_of_a_point_survive() {
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [0 0 31.304373 243.78]", "");
    pdf.page("/MediaBox [0 0 595.2756 841.8898]", "");
    let artwork = pdf.open();
    let first = artwork.face(1, Side::Outside).unwrap().boxes.trim;
    assert!((first.width().to_pt() - 31.304_373).abs() < 1e-5);
    assert!((first.height().to_pt() - 243.78).abs() < 1e-5);
    // A4 is 210 x 297 mm (ISO 216).
    let second = artwork.face(2, Side::Outside).unwrap().boxes.trim;
    assert!((second.width().to_mm() - 210.0).abs() < 1e-4 && (second.height().to_mm() - 297.0).abs() < 1e-4);
}

#[test]
fn a_user_unit_scales_boxes_strokes_and_pictures_alike() {
    let image = "/XObject << /I %I 0 R >>";
    let mut sizes = Vec::new();
    for (unit, side, cm) in [(1.0, [612.0, 792.0], 72.0), (72.0, [8.5, 11.0], 1.0), (0.75, [816.0, 1056.0], 96.0)] {
        let mut pdf = Pdf::new();
        let data = "/Type /XObject /Subtype /Image /Width 300 /Height 300 /BitsPerComponent 1 /ColorSpace /DeviceGray";
        let picture = pdf.stream(data, vec![0; 38 * 300]);
        let resources = image.replace("%I", &picture.to_string());
        pdf.page(
            &format!("/MediaBox [0 0 {} {}] /UserUnit {unit} /Resources << {resources} >>", side[0], side[1]),
            format!("q {cm} 0 0 {cm} 0 0 cm /I Do Q {} w 0 0 m {cm} {cm} l S", cm / 72.0),
        );
        let face = pdf.face();
        let fairfold::card::Mark::Picture(picture) = &face.elements[0].mark else { panic!("no picture") };
        assert!((picture.ppi.0 - 300.0).abs() < 1e-9, "{:?}", picture.ppi);
        let fairfold::card::Mark::Path(path) = &face.elements[1].mark else { panic!("no path") };
        assert_eq!(path.stroke.as_ref().unwrap().width, Length::pt(1));
        sizes.push(face.boxes.trim.size());
    }
    assert!(sizes.iter().all(|s| *s == sizes[0]));
    assert_eq!(sizes[0].width, Length::inches(17, 2));
}

#[test]
fn the_trim_comes_from_the_nearest_stated_box() {
    for (boxes, from) in [
        ("/TrimBox [9 9 191 91] /ArtBox [20 20 80 80]", "TrimBox"),
        ("/ArtBox [20 20 80 80] /CropBox [5 5 195 95]", "ArtBox"),
        ("/CropBox [5 5 195 95]", "CropBox"),
        ("", "MediaBox"),
    ] {
        let mut pdf = Pdf::new();
        pdf.page(&format!("/MediaBox [0 0 200 100] {boxes}"), "");
        assert_eq!(pdf.face().boxes.trim_from, from);
    }
}

#[test]
fn a_medium_far_larger_than_the_visible_page_is_told() {
    let mut pdf = Pdf::new();
    pdf.page("/MediaBox [0 0 1000 1000] /CropBox [200 300 400 500]", "200 300 10 10 re f");
    let artwork = pdf.open();
    let face = artwork.face(1, Side::Outside).unwrap();
    assert_eq!(bounds(&face.elements[0]), "0 0 10 10");
    assert!(remarks(&artwork).contains("far larger"));
}

#[test]
fn the_four_inheritable_values_come_down_the_tree() {
    let mut pdf = Pdf::new();
    pdf.tree(
        "/MediaBox [0 0 200 100] /Resources << /ColorSpace << /Heath [/Separation /Heath /DeviceCMYK 4 0 R] >> >>",
    );
    let contents = pdf.stream("", "/Heath cs 1 scn 0 0 20 10 re f");
    let tint = pdf.add("<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.6 0 0.8 0.2] /N 1 >>");
    assert_eq!((contents, tint), (3, 4));
    let page = pdf.reserve();
    let middle = pdf.add(format!("<< /Type /Pages /Parent 2 0 R /Rotate 90 /Kids [{page} 0 R] /Count 1 >>"));
    pdf.set(page, format!("<< /Type /Page /Parent {middle} 0 R /Contents {contents} 0 R >>"));
    pdf.set(2, format!("<< /Type /Pages /Kids [{middle} 0 R] /Count 1 /MediaBox [0 0 200 100] /Resources << /ColorSpace << /Heath [/Separation /Heath /DeviceCMYK 4 0 R] >> >> >>"));
    let face = pdf.face();
    assert_eq!(bounds(&face.elements[0]), "0 180 10 200");
    assert_eq!(face.inks[0].ink, fairfold::ink::Ink::from_colorant("Heath"));
}

#[test]
fn a_page_tree_that_bites_its_own_tail_ends() {
    let mut pdf = Pdf::new();
    let a = pdf.reserve();
    let b = pdf.add(format!("<< /Type /Pages /Kids [{a} 0 R 2 0 R] /Count 1 >>"));
    let page = pdf.add("<< /Type /Page /MediaBox [0 0 200 100] >>");
    pdf.set(a, format!("<< /Type /Pages /Kids [{a} 0 R {b} 0 R {page} 0 R] /Count 1 >>"));
    pdf.set(2, format!("<< /Type /Pages /Kids [{a} 0 R] /Count 1 >>"));
    let artwork = pdf.open();
    assert_eq!(artwork.page_count(), 1);
    assert!(remarks(&artwork).contains("names this node twice"));
}

#[test]
fn a_page_without_a_media_box_is_what_viewers_take_it_for() {
    let mut pdf = Pdf::new();
    pdf.page("", "");
    let artwork = pdf.open();
    let trim = artwork.face(1, Side::Outside).unwrap().boxes.trim;
    assert_eq!((trim.width(), trim.height()), (Length::inches(17, 2), Length::inches(11, 1)));
    assert!(remarks(&artwork).contains("no MediaBox"));
}

#[test]
fn asking_for_a_page_that_is_not_there_is_a_fault() {
    let artwork = one_page("", "").open();
    assert!(artwork.face(3, Side::Outside).unwrap_err().to_string().contains("no page 3"));
    assert!(artwork.face(0, Side::Outside).is_err());
}
