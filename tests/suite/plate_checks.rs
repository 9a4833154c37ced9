//! What checks see on the plates alone: ink laid on ink, what clips leave of a bleed, pictures and blends under figures and boxes.

use fairfold::check::Severity;
use fairfold::ink::Condition;

use super::artwork_pdf::Pdf;
use super::one_check::one;
use super::one_fault::{found_on, page};
use super::press_files::{saved, text};
use super::program::fairfold;

/// A page of 300 x 200 pt, trim and all, with these resources.
fn sheet(resources: &str, content: &str) -> Pdf {
    let mut pdf = Pdf::new();
    pdf.page(
        &format!("/MediaBox [0 0 318 218] /TrimBox [9 9 309 209] /BleedBox [0 0 318 218] /Resources << {resources} >>"),
        content,
    );
    pdf
}

#[test]
fn total_ink_is_what_lies_on_the_paper() {
    // The limit on coated stock: Ghent Workgroup 2022, 320 % in the mean over a 15 mm square (42.5 pt).
    assert!((Condition::coated().total_ink - 320.0).abs() < 1.0e-9);
    let dark = "0.9 0.9 0.8 0.8 k";
    one(
        &found_on("total-ink", &page(&format!("{dark} 110 10 80 80 re f"))),
        Severity::Warning,
        &[
            "340 %",
            "square of 0.5906 in (15 mm)",
            "Cyan 90 %, Magenta 90 %, Yellow 80 %, Black 80 %",
            "at most 320 %",
            "take 20 % out",
        ],
    );
    // Just at the limit, and the same colour where a knock-out leaves none of it.
    assert!(found_on("total-ink", &page("0.8 0.8 0.8 0.8 k 110 10 80 80 re f")).is_empty());
    assert!(found_on("total-ink", &page(&format!("{dark} 110 10 80 80 re f 0 0 0 1 k 110 10 80 80 re f"))).is_empty());
    // Two colours of which each is allowed, one printed over the other: only the plates know the sum.
    let over = "/Off gs 0.8 0.8 0.4 0 k 110 10 80 80 re f /M1 gs /Heath cs 1 scn 120 20 60 60 re f 0 0 0 0.9 k 120 20 60 60 re f";
    one(&found_on("total-ink", &page(over)), Severity::Warning, &["390 %", "Otterby Heath 100 %"]);
    // A small spot of too much ink is told too; a hairline's is not.
    one(
        &found_on("total-ink", &page(&format!("{dark} 120 20 6 6 re f"))),
        Severity::Warning,
        &["340 %", "square of 0.0394 in (1 mm)"],
    );
    assert!(found_on("total-ink", &page(&format!("{dark} 120 20 60 0.5 re f"))).is_empty());
}

#[test]
fn a_bleed_that_a_clip_takes_away_is_missed() {
    let fill = "0.6 0.2 0.4 0 k 0 0 318 218 re f";
    assert!(found_on("bleed", &sheet("", fill)).is_empty());
    one(
        &found_on("bleed", &sheet("", &format!("0 0 318 218 re 0 50 9 100 re W* n {fill}"))),
        Severity::Error,
        // 100 of 72 to the inch, to a pixel of 1/150 in.
        &[
            "at the left",
            "runs 0 in (0 mm) past it",
            "a length of up to 1.38",
            "at least 0.125 in",
            "extend what is printed there by 0.125 in",
        ],
    );
    // Half of it is there: 4.5 of 9 pt.
    one(
        &found_on("bleed", &sheet("", &format!("0 0 318 218 re 0 50 4.5 100 re W* n {fill}"))),
        Severity::Error,
        &["at the left", "runs 0.06 in (1.52 mm) past it", "extend what is printed there by 0.065 in"],
    );
    // A fill that fades out towards the edge leaves no white sliver where it has faded.
    let blend = "/Shading << /S << /ShadingType 2 /ColorSpace /DeviceCMYK /Coords [0 0 318 0] /Extend [true true] /Function << /FunctionType 2 \
                 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.6 0 0 0] /N 1 >> >> >>";
    assert!(found_on("bleed", &sheet(blend, "/S sh")).is_empty());
}

#[test]
fn text_and_boxes_over_a_picture_are_judged_by_the_plates() {
    let set = |tone: u8, font: &str| {
        let mut pdf = Pdf::new();
        let keys = "/Type /XObject /Subtype /Image /Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray";
        let picture = pdf.stream(keys, [tone, tone.saturating_add(8)]);
        let glyph = pdf.stream("", "600 0 0 0 600 700 d1 250 0 100 700 re f");
        let drawn = format!(
            "<< /Type /Font /Subtype /Type3 /FontBBox [0 0 600 700] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 49 /LastChar 49 /Widths [600] \
             /Encoding << /Differences [49 /one] >> /CharProcs << /one {glyph} 0 R >> /Resources << >> >>"
        );
        let font = if font == "drawn" { drawn } else { font.to_owned() };
        pdf.page(
            &format!(
                "/MediaBox [0 0 318 218] /TrimBox [9 9 309 209] /Resources << /Font << /F1 {font} >> /XObject << /P {picture} 0 R >> >>"
            ),
            "q 318 0 0 218 0 0 cm /P Do Q 0 0 0 1 k BT /F1 9 Tf 60 100 Td (111) Tj ET",
        );
        pdf
    };
    // Black on nearly white reads well; black on a dark gray does not (the paper's own white and black: CGATS TR 006).
    assert!(found_on("text-contrast", &set(240, "drawn")).is_empty());
    one(
        &found_on("text-contrast", &set(60, "drawn")),
        Severity::Error,
        &["over a picture reads", "where it reads worst", "at least 4.5 : 1", "lighten the ground under it from L*"],
    );
    // With a font that is not there the plates lack something, and the check says that it did not judge.
    let bare = "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>";
    one(&found_on("text-contrast", &set(60, bare)), Severity::Note, &["a picture", "not judged"]);
}

/// Machado, Oliveira and Fernandes (2009), severity 1: linear sRGB as protan sight has it.
const PROTAN: [[f64; 3]; 3] =
    [[0.152_286, 1.052_583, -0.204_868], [0.114_503, 0.786_281, 0.099_216], [-0.003_882, -0.048_116, 1.051_998]];

/// The picture for protan sight is the usual one taken through the published matrix, pixel by pixel.
#[test]
fn a_page_as_other_sights_see_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut pdf = Pdf::new();
    let colours = ["0 1 1 0 k", "1 0 1 0 k", "0.3 0.2 0.6 0.1 k", "0 0 0 0.5 k"];
    let fill = |(k, x): (&&str, u32)| format!("{k} {x} 0 50 100 re f ");
    let fills = colours.iter().zip([0, 50, 100, 150]).map(fill).collect::<Vec<_>>().concat();
    pdf.page("/MediaBox [0 0 200 100]", fills);
    let file = saved(&folder, "colours.pdf", &pdf.bytes());
    let out = folder.path().join("out");
    let drawn = fairfold(&["plates", text(&file), "--ppi", "72", "--sights", "--out", text(&out)]);
    assert!(drawn.status.success(), "{}", String::from_utf8_lossy(&drawn.stderr));
    let picture = |name: &str| image::open(out.join(format!("colours-1-{name}.png"))).unwrap().into_rgb8();
    let (plain, protan) = (picture("together"), picture("together-protan"));
    assert!(out.join("colours-1-together-deutan.png").exists());
    for x in [25, 75, 125, 175] {
        let linear = plain.get_pixel(x, 50).0.map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        });
        let wanted = PROTAN.map(|row| {
            let v: f64 = row.iter().zip(linear).map(|(m, v)| m * v).sum();
            255.0 * if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 }
        });
        for (seen, wanted) in protan.get_pixel(x, 50).0.into_iter().zip(wanted) {
            // Inks that sRGB does not hold are clipped in the plain picture, which the matrix then cannot undo.
            let near = (f64::from(seen) - wanted.clamp(0.0, 255.0)).abs();
            assert!(near <= 12.0, "at {x}: {seen} where the matrix gives {wanted:.0}");
        }
    }
    assert_ne!(plain.get_pixel(25, 50), protan.get_pixel(25, 50));
}
