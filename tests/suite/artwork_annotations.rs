//! Annotations: what prints, what does not, and what is told.

use fairfold::card::Side;

use super::artwork_pdf::{Pdf, bounds, one_page, remarks};

const SQUARE: &str = "/Type /XObject /Subtype /Form /BBox [0 0 10 10]";

/// A page with these annotations, `%A` standing for an appearance that fills its box.
fn page(annotations: &str) -> Pdf {
    let mut pdf = Pdf::new();
    let appearance = pdf.stream(SQUARE, "0 0 10 10 re f");
    let annotations = annotations.replace("%A", &format!("/AP << /N {appearance} 0 R >>"));
    pdf.page(&format!("/MediaBox [0 0 200 100] /Annots [{annotations}]"), "");
    pdf
}

fn drawn(pdf: &Pdf) -> Vec<String> {
    pdf.face().elements.iter().map(bounds).collect()
}

#[test]
fn print_decides_and_hidden_forbids_and_no_view_still_prints() {
    // ISO 32000-1, table 165: Hidden is 2, Print 4, NoView 32.
    let annotation = |n: u32, flags: u32| {
        let (left, right) = (n * 20, n * 20 + 10);
        format!("<< /Type /Annot /Subtype /Square /F {flags} /Rect [{left} 0 {right} 10] %A >> ")
    };
    let all: String = [0, 4, 6, 36].iter().zip(0..).map(|(f, n)| annotation(n, *f)).collect::<Vec<_>>().concat();
    assert_eq!(drawn(&page(&all)), ["20 0 30 10", "60 0 70 10"]);
}

#[test]
fn stamps_and_fields_print_links_and_popups_do_not_and_what_has_no_appearance_is_told() {
    let pdf = page(
        "<< /Type /Annot /Subtype /Stamp /F 4 /Rect [0 0 10 10] %A >> \
         << /Type /Annot /Subtype /Link /F 4 /Rect [20 0 30 10] /Border [0 0 1] >> \
         << /Type /Annot /Subtype /FreeText /F 4 /Rect [40 0 50 10] /DA (/Helv 8 Tf) /Contents (set in the office) >> \
         << /Type /Annot /Subtype /Popup /F 4 /Rect [60 0 70 10] %A >> \
         << /Type /Annot /Subtype /Widget /FT /Sig /F 4 /Rect [80 0 90 10] %A >>",
    );
    let artwork = pdf.open();
    assert_eq!(drawn(&pdf), ["0 0 10 10", "80 0 90 10"]);
    let page = artwork.source_page(1).unwrap();
    let kinds: Vec<&str> = page.annotations.iter().map(|a| a.subtype.as_str()).collect();
    assert_eq!(kinds, ["Stamp", "Widget"]);
    assert_eq!(artwork.remarks().len(), 1);
    assert!(remarks(&artwork).contains("the FreeText annotation is set to print but has no appearance"));
}

#[test]
fn an_appearance_is_moved_and_scaled_into_its_rectangle() {
    // ISO 32000-1, 12.5.5: the box 0 0 10 10 turned by a quarter is -10 0 0 10, and goes into 100 20 140 30.
    let mut pdf = Pdf::new();
    let appearance = pdf.stream(&format!("{SQUARE} /Matrix [0 1 -1 0 0 0]"), "0 0 5 10 re f");
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] /Annots [<< /Type /Annot /Subtype /Stamp /F 4 /Rect [140 30 100 20] /AP << /N {appearance} 0 R >> >>]"
        ),
        "",
    );
    // The lower half of the turned box is its left half before: y from 0 to 5.
    assert_eq!(drawn(&pdf), ["100 20 140 25"]);
}

#[test]
fn a_state_chooses_among_appearances() {
    let mut pdf = Pdf::new();
    let on = pdf.stream(SQUARE, "0 0 10 10 re f");
    let off = pdf.stream(SQUARE, "");
    let button = |state: &str, x: u32| {
        format!(
            "<< /Type /Annot /Subtype /Widget /FT /Btn /F 4 /Rect [{x} 0 {} 10] {state} /AP << /N << /On {on} 0 R /Off {off} 0 R >> >> >>",
            x + 10
        )
    };
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] /Annots [{} {} {}]",
            button("/AS /On", 0),
            button("/AS /Off", 20),
            button("", 40)
        ),
        "",
    );
    assert_eq!(drawn(&pdf), ["0 0 10 10"]);
}

#[test]
fn a_field_whose_value_is_not_drawn_is_told() {
    let mut pdf = Pdf::new();
    let empty = pdf.stream(SQUARE, "/Tx BMC EMC");
    let field = "/Type /Annot /Subtype /Widget /FT /Tx /V (Heron) /F 4 /Rect [0 0 10 10]";
    let annotations = pdf.add(format!("[<< {field} /AP << /N {empty} 0 R >> >> << {field} >>]"));
    pdf.root("/AcroForm << /Fields [] /NeedAppearances true >>");
    pdf.page(&format!("/MediaBox [0 0 200 100] /Annots {annotations} 0 R"), "");
    let artwork = pdf.open();
    assert!(artwork.face(1, Side::Outside).unwrap().elements.is_empty());
    let told = remarks(&artwork);
    assert!(told.contains("may be stale") && told.contains("has a value but no appearance"), "{told}");
}

#[test]
fn a_widget_that_names_another_page_still_belongs_to_the_page_that_lists_it() {
    let mut pdf = Pdf::new();
    let appearance = pdf.stream("/BBox [0 0 10 10]", "0 0 10 10 re f");
    let other = pdf.page("/MediaBox [0 0 200 100]", "");
    pdf.page(
        &format!(
            "/MediaBox [0 0 200 100] /Annots [<< /Type /Annot /Subtype /Widget /FT /Tx /F 4 /P {other} 0 R /Rect [0 0 10 10] \
             /AP << /N {appearance} 0 R >> >>]"
        ),
        "",
    );
    let artwork = pdf.open();
    assert_eq!(artwork.face(1, Side::Outside).unwrap().elements.len(), 0);
    assert_eq!(artwork.face(2, Side::Inside).unwrap().elements.len(), 1);
}

#[test]
fn an_annotation_turns_with_its_page_and_hides_with_its_layer() {
    let mut pdf = Pdf::new();
    let off = pdf.add("<< /Type /OCG /Name (notes) >>");
    pdf.root(&format!("/OCProperties << /OCGs [{off} 0 R] /D << /OFF [{off} 0 R] >> >>"));
    let appearance = pdf.stream(SQUARE, "0 0 10 10 re f");
    let stamp = |more: &str| {
        format!("<< /Type /Annot /Subtype /Stamp /F 4 /Rect [0 0 10 10] /AP << /N {appearance} 0 R >> {more} >>")
    };
    let annotations = format!("{} {}", stamp(""), stamp(&format!("/OC {off} 0 R")));
    pdf.page(&format!("/MediaBox [0 0 200 100] /Rotate 90 /Annots [{annotations}]"), "");
    assert_eq!(drawn(&pdf), ["0 190 10 200"]);
}

#[test]
fn a_page_without_annotations_says_nothing() {
    assert!(one_page("", "").open().source_page(1).unwrap().annotations.is_empty());
}
