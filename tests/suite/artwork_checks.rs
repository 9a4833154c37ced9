//! The checks on finished artwork: one page without a fault, and for each fault the same page with one change, as a layout program
//! might export it. What each change is called by outside readers stands beside it where they have a name for it.

use std::collections::BTreeSet;
use std::sync::Arc;

use fairfold::check::{Checked, Finding, LimitSet, Limits, Severity, run};
use fairfold::job::{CardSource, CardWishes, Files, Prepared, prepare};

use super::artwork_pdf::Pdf;
use super::press_files::{judged, saved, text};

struct NoFiles;

impl Files for NoFiles {
    fn read(&self, name: &str) -> fairfold::fault::Result<Arc<[u8]>> {
        panic!("{name} is not there")
    }
}

/// What a test may change of the good file.
struct Art {
    /// Before the marks of the outside.
    content: String,
    /// In the resources of the outside.
    colour_spaces: String,
    states: String,
    xobjects: String,
    fonts: String,
    /// Keys of the outside's page.
    page: String,
    /// Keys of the catalog.
    root: String,
    /// Objects from number 5 on, added before the pages.
    objects: Vec<(String, Vec<u8>)>,
    /// The inside's content.
    inside: String,
    pages: usize,
}

/// The number of the first object that a test adds: catalog and tree stand before it.
const FIRST: usize = 3;

const HERON: &str = "/Heron [/Separation /Heron /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.3 0.1 0 0.4] /N 1 >>] ";
const INTENT: &str =
    "/OutputIntents [<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (CGATS TR 006) >>] ";

impl Art {
    /// Two faces of 4.5 x 12 in with bleed, a tint over the outside and black marks on both.
    fn good() -> Self {
        Self {
            content: String::new(),
            colour_spaces: HERON.to_owned(),
            states: String::new(),
            xobjects: String::new(),
            fonts: String::new(),
            page: String::new(),
            root: INTENT.to_owned(),
            objects: Vec::new(),
            inside: "0 0 0 1 k 100 100 300 20 re f ".to_owned(),
            pages: 2,
        }
    }

    fn with(change: impl FnOnce(&mut Self)) -> Self {
        let mut art = Self::good();
        change(&mut art);
        art
    }

    fn painting(content: &str) -> Self {
        Self::with(|art| art.content = content.to_owned())
    }

    fn bytes(&self) -> Vec<u8> {
        let mut pdf = Pdf::new();
        pdf.root(&self.root);
        for (keys, data) in &self.objects {
            if data.is_empty() {
                pdf.add(keys);
            } else {
                pdf.stream(keys, data);
            }
        }
        let boxes = "/MediaBox [0 0 882 342] /TrimBox [9 9 873 333] /BleedBox [0 0 882 342]";
        let resources = format!(
            "/Resources << /ColorSpace << {} >> /ExtGState << {} >> /XObject << {} >> /Font << {} >> >>",
            self.colour_spaces, self.states, self.xobjects, self.fonts
        );
        let outside = format!("0.06 0.03 0.09 0 k 0 0 882 342 re f {} 0 0 0 1 k 500 100 300 20 re f", self.content);
        pdf.page(&format!("{boxes} {resources} {}", self.page), outside);
        for _ in 1..self.pages {
            pdf.page(boxes, &self.inside);
        }
        pdf.bytes()
    }

    fn prepared(&self) -> Prepared {
        self.prepared_as(&CardWishes::default())
    }

    fn prepared_as(&self, wishes: &CardWishes) -> Prepared {
        let source = CardSource::Artwork("art.pdf".to_owned(), self.bytes().into());
        let mut prepared = prepare(&source, &NoFiles, wishes).unwrap_or_else(|faults| panic!("{faults}"));
        prepared.draw_plates();
        prepared
    }

    fn checked(&self) -> Checked {
        run(&self.prepared().card, &Limits::new(LimitSet::CoatedOffset)).unwrap()
    }

    /// What one check found.
    fn found(&self, id: &str) -> Vec<Finding> {
        self.checked().findings.into_iter().filter(|f| f.check == id).collect()
    }

    /// The only thing that any check found: weight and words.
    #[track_caller]
    fn only(&self, id: &str, severity: Severity, words: &[&str]) {
        let checked = self.checked();
        let ids: BTreeSet<&str> = checked.findings.iter().map(|f| f.check).collect();
        assert_eq!(ids, BTreeSet::from([id]), "{:#?}", checked.findings);
        self.one(id, severity, words);
    }

    #[track_caller]
    fn one(&self, id: &str, severity: Severity, words: &[&str]) {
        super::one_check::one(&self.found(id), severity, words);
    }
}

/// A text state for what stands at 12 pt or another size; the font is a standard one that is not embedded, which is a finding of its own.
const HELVETICA: &str = "/F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> ";

fn lettered(content: &str) -> Art {
    Art::with(|art| {
        art.content = content.to_owned();
        art.fonts = HELVETICA.to_owned();
    })
}

#[test]
fn the_good_page_is_clean() {
    let checked = Art::good().checked();
    assert!(checked.findings.is_empty(), "{:#?}", checked.findings);
    assert_eq!(checked.broken().count(), 0);
    let folder = tempfile::tempdir().unwrap();
    judged("qpdf", &["--check", text(&saved(&folder, "art.pdf", &Art::good().bytes()))]);
}

#[test]
fn black_of_four_inks() {
    let said = |k: f64, other: f64| {
        lettered(&format!("{other} {other} {other} {k} k BT /F 20 Tf 40 200 Td (Heron) Tj ET")).found("rich-black")
    };
    super::one_check::one(
        &said(0.85, 0.66),
        Severity::Warning,
        &["text is black of 4 inks, C 66 M 66 Y 66 K 85, and 283 % in all", "at most 280 %"],
    );
    assert!(said(0.85, 0.64).is_empty() && said(0.84, 0.8).is_empty());
    let line =
        |width: f64| Art::painting(&format!("0.7 0.7 0.7 1 K {width} w 20 250 m 90 250 l S")).found("rich-black").len();
    assert_eq!((line(1.0), line(2.0)), (1, 0));
}

#[test]
fn fonts_that_are_drawings_or_are_not_there() {
    let bare = lettered("0 0 0 1 k BT /F 20 Tf 40 200 Td (Heron) Tj ET");
    bare.one("fonts-embedded", Severity::Error, &["Helvetica shows text", "not in the file"]);
    let folder = tempfile::tempdir().unwrap();
    let listed = judged("pdffonts", &[text(&saved(&folder, "art.pdf", &bare.bytes()))]);
    assert!(listed.contains("Helvetica") && listed.lines().nth(2).unwrap().contains(" no  no  no "), "{listed}");
    for (quiet, words) in [
        ("BT /F 20 Tf 40 200 Td ( ) Tj ET", "shows nothing"),
        ("BT 3 Tr /F 20 Tf 40 200 Td (Heron) Tj ET", "sets invisible text only"),
        ("", "shows nothing"),
    ] {
        lettered(quiet).only("fonts-embedded", Severity::Note, &[words]);
    }
    let drawn = Art::with(|art| {
        art.objects = vec![(String::new(), b"1000 0 d0 0 0 500 700 re f".to_vec())];
        art.fonts = format!(
            "/F << /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar 72 /LastChar 72 \
             /Widths [1000] /CharProcs << /H {FIRST} 0 R >> /Encoding << /Type /Encoding /Differences [72 /H] >> /Resources << >> >>"
        );
        art.content = "0 0 0 1 k BT /F 30 Tf 40 200 Td (H) Tj ET".to_owned();
    });
    drawn.one("type-3-text", Severity::Warning, &["Type 3", "OpenType"]);
}

#[test]
fn pictures_with_far_too_many_pixels() {
    let picture = |side: u32, points: f64, bits: u32| {
        Art::with(|art| {
            let keys = format!("/Type /XObject /Subtype /Image /Width {side} /Height {side} /BitsPerComponent {bits} /ColorSpace /DeviceGray /Filter /RunLengthDecode");
            art.objects = vec![(keys, vec![128])];
            art.xobjects = format!("/P {FIRST} 0 R");
            art.content = format!("q {points} 0 0 {points} 20 20 cm /P Do Q");
        })
        .found("picture-oversized")
    };
    // 1200 px on 144 pt are 600 ppi.
    assert!(picture(1200, 144.0, 8).is_empty());
    super::one_check::one(
        &picture(1200, 143.0, 8),
        Severity::Note,
        &["604 ppi", "at most 600 ppi", "596 px in width are 300 ppi"],
    );
    assert!(picture(900, 20.0, 8).is_empty(), "a small picture weighs nothing");
    assert!(picture(2400, 72.0, 1).is_empty() && picture(2400, 71.0, 1).len() == 1);
}

#[test]
fn curves_groups_and_see_through_marks() {
    let curve = Art::with(|art| {
        art.states = "/G << /TR << /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >> >>".to_owned();
        art.content = "q /G gs 0.2 0 0 0 k 20 20 30 30 re f Q".to_owned();
    });
    curve.only("transfer-curves", Severity::Error, &["transfer function changes the tints"]);
    let identity = Art::with(|art| {
        art.states = "/G << /TR /Identity >>".to_owned();
        art.content = "/G gs 0.2 0 0 0 k 20 20 30 30 re f".to_owned();
    });
    assert!(identity.checked().findings.is_empty());

    let blending = |space: &str| {
        Art::with(|art| {
            art.states = "/G << /BM /Multiply /ca 0.5 >>".to_owned();
            art.content = "q /G gs 0.2 0 0 0 k 20 20 30 30 re f Q".to_owned();
            art.page = format!("/Group << /S /Transparency {space} >>");
        })
    };
    blending("/CS /DeviceCMYK").only(
        "transparency",
        Severity::Note,
        &["the outside uses transparency: blend mode Multiply, see-through marks"],
    );
    let rgb = blending("/CS /DeviceRGB").found("transparency");
    assert!(rgb.iter().any(|f| f.severity == Severity::Warning && f.message.contains("blends in RGB")), "{rgb:#?}");
    // A group in which nothing blends changes nothing.
    assert!(
        Art::with(|art| art.page = "/Group << /S /Transparency /CS /DeviceRGB >>".to_owned())
            .checked()
            .findings
            .is_empty()
    );

    let grouped = |keys: &str| {
        Art::with(|art| {
            let form = format!(
                "/Type /XObject /Subtype /Form /BBox [0 0 300 300] /Group << /S /Transparency /CS /DeviceCMYK {keys} >> /Resources << /ExtGState << /G << /op true /OPM 1 >> >> >>"
            );
            art.objects = vec![(form, b"/G gs 0 0 0 1 k 20 20 30 30 re f".to_vec())];
            art.xobjects = format!("/X {FIRST} 0 R");
            art.content = "/X Do".to_owned();
        })
    };
    grouped("/I true").only(
        "transparency",
        Severity::Warning,
        &["in black overprints inside an isolated group, where it knocks out"],
    );
    assert!(grouped("").checked().findings.is_empty());
}

#[test]
fn pages_and_their_boxes() {
    Art::with(|art| art.pages = 1).only("page-count", Severity::Note, &["prints on one side"]);
    let more = Art::with(|art| art.pages = 3);
    let wishes = CardWishes { outside: Some(1), inside: Some(2), ..CardWishes::default() };
    let card = more.prepared_as(&wishes).card;
    let said = super::one_check::found("page-count", &card);
    super::one_check::one(&said, Severity::Note, &["3 pages, of which 2 print"]);

    let turned = Art::with(|art| art.page = "/Rotate 180".to_owned());
    turned.one("page-boxes", Severity::Warning, &["turned by 180 degrees"]);
    let scaled = Art::with(|art| art.page = "/UserUnit 2".to_owned());
    scaled.one("page-boxes", Severity::Warning, &["units of 2 points"]);
    scaled.one(
        "page-sizes",
        Severity::Warning,
        &["the outside is 9 x 24 in", "the inside is 4.5 x 12 in", "by 12 in (304.8 mm) in width"],
    );
    Art::with(|art| art.page = "/CropBox [5 5 877 337]".to_owned()).only(
        "page-boxes",
        Severity::Note,
        &["only a part of its medium"],
    );
    Art::with(|art| art.inside = String::new()).only(
        "empty-page",
        Severity::Warning,
        &["nothing is painted on the inside, page 2"],
    );
    // Only outside the trim is as good as nothing.
    Art::with(|art| art.inside = "0 0 0 1 k 0 0 4 4 re f".to_owned()).only(
        "empty-page",
        Severity::Warning,
        &["inside, page 2"],
    );
}

#[test]
fn layers_and_their_states() {
    let layered = |config: &str, usage: &str| {
        Art::with(|art| {
            art.objects = vec![(format!("<< /Type /OCG /Name (Guides) {usage} >>"), Vec::new())];
            art.root += &format!("/OCProperties << /OCGs [{FIRST} 0 R] /D << /Name (D) {config} >> >>");
        })
    };
    assert!(layered("", "").checked().findings.is_empty());
    let off = format!("/OFF [{FIRST} 0 R]");
    layered(&off, "").only("layers-off", Severity::Note, &["layer \"Guides\" is switched off"]);
    let applied = |event: &str| format!("/AS [<< /Event /{event} /Category [/{event}] /OCGs [{FIRST} 0 R] >>]");
    layered(&applied("Print"), "/Usage << /Print << /PrintState /OFF >> >>").only(
        "layers-off",
        Severity::Warning,
        &["shows on the screen and does not print"],
    );
    layered(&applied("View"), "/Usage << /View << /ViewState /OFF >> >>").only(
        "layers-off",
        Severity::Warning,
        &["prints and does not show"],
    );
}

#[test]
fn annotations_and_fields() {
    let with = |keys: &str, form: &str| {
        Art::with(|art| {
            art.objects = vec![
                ("/Type /XObject /Subtype /Form /BBox [0 0 40 20]".to_owned(), b"0 0 0 1 k 0 0 40 20 re f".to_vec()),
                (format!("<< /Type /Annot /Rect [100 200 140 220] {keys} >>"), Vec::new()),
            ];
            art.page = format!("/Annots [{} 0 R]", FIRST + 1);
            art.root += form;
        })
    };
    let look = format!("/AP << /N {FIRST} 0 R >>");
    with(&format!("/Subtype /Stamp /F 4 {look}"), "").only(
        "annotations",
        Severity::Note,
        &["Stamp annotation prints", "drawn into the press file"],
    );
    with("/Subtype /Stamp /F 4", "").only("annotations", Severity::Error, &["set to print and has no look"]);
    with(&format!("/Subtype /Stamp /F 0 {look}"), "").only("annotations", Severity::Note, &["does not print"]);
    with(&format!("/Subtype /Stamp /F 6 {look}"), "").only("annotations", Severity::Note, &["does not print"]);
    for quiet in ["/Subtype /Link /F 4 /Border [0 0 0]", "/Subtype /Popup /F 4"] {
        assert!(with(quiet, "").checked().findings.is_empty(), "{quiet}");
    }
    let field = format!("/AcroForm << /Fields [{} 0 R] /NeedAppearances true >>", FIRST + 1);
    let empty = "/Subtype /Widget /FT /Tx /T (Name) /F 4";
    with(&format!("{empty} /V (Marker)"), &field).one("annotations", Severity::Error, &["a text and no look"]);
    with(&format!("{empty} /V (Marker) {look}"), &field).one(
        "annotations",
        Severity::Error,
        &["its look may be stale"],
    );
    assert!(with(empty, &field).found("annotations").is_empty());
    with(empty, &field).one("active-content", Severity::Note, &["a form with fields"]);
}

#[test]
fn scripts_files_intents_and_claims() {
    let script = "/OpenAction << /S /JavaScript /JS (app.beep\\(\\)) >> ";
    Art::with(|art| art.root += script).only("active-content", Severity::Warning, &["JavaScript"]);
    Art::with(|art| art.root += "/Names << /EmbeddedFiles << /Names [] >> >> ").only(
        "active-content",
        Severity::Note,
        &["other files are embedded"],
    );

    Art::with(|art| art.root.clear()).only(
        "output-intent",
        Severity::Note,
        &["names no print condition", "CGATS TR 006"],
    );
    let other = INTENT.replace("CGATS TR 006", "FOGRA29");
    Art::with(|art| art.root = other).only(
        "output-intent",
        Severity::Warning,
        &["prepared for FOGRA29", "printed for CGATS TR 006"],
    );
    let rgb = Art::with(|art| {
        art.objects = vec![("/N 3".to_owned(), b"profile".to_vec())];
        art.root = INTENT.replace(">>]", &format!("/DestOutputProfile {FIRST} 0 R >>]"));
    });
    rgb.only("output-intent", Severity::Warning, &["3 colours, not of four inks"]);

    let claiming = |version: &str, change: &str| {
        Art::with(|art| {
            let xmp = format!(
                "<x:xmpmeta xmlns:x='adobe:ns:meta/'><pdfxid:GTS_PDFXVersion>{version}</pdfxid:GTS_PDFXVersion></x:xmpmeta>"
            );
            art.objects = vec![("/Type /Metadata /Subtype /XML".to_owned(), xmp.into_bytes())];
            art.root += &format!("/Metadata {FIRST} 0 R ");
            art.content = change.to_owned();
            art.states = "/G << /ca 0.5 >>".to_owned();
        })
    };
    for (version, change) in
        [("PDF/X-4", ""), ("PDF/X-1a:2003", ""), ("PDF/X-4", "q /G gs 0.2 0 0 0 k 20 20 30 30 re f Q")]
    {
        assert!(claiming(version, change).found("standard-claim").is_empty(), "{version}");
    }
    claiming("PDF/X-1a:2003", "q /G gs 0.2 0 0 0 k 20 20 30 30 re f Q").one(
        "standard-claim",
        Severity::Warning,
        &["claims PDF/X-1a:2003, and has transparency"],
    );
    claiming("PDF/X-3:2003", "q /G gs 0.2 0 0 0 k 20 20 30 30 re f Q").one(
        "standard-claim",
        Severity::Warning,
        &["has transparency"],
    );
    claiming("PDF/X-1a:2003", "1 0 0 rg 20 20 30 30 re f").one(
        "standard-claim",
        Severity::Warning,
        &["colours other than gray, CMYK and spots"],
    );
    let mut bare = claiming("PDF/X-4", "");
    bare.root = bare.root.replace(INTENT, "");
    bare.one("standard-claim", Severity::Warning, &["no output intent of PDF/X"]);
}

#[test]
fn locked_and_damaged_files() {
    let folder = tempfile::tempdir().unwrap();
    let plain = saved(&folder, "plain.pdf", &Art::good().bytes());
    let locked = |options: &[&str]| {
        let out = folder.path().join("locked.pdf");
        let run = [&["--encrypt", "", "owner", "256"], options, &["--", text(&plain), text(&out)]].concat();
        judged("qpdf", &run);
        let source = CardSource::Artwork("art.pdf".to_owned(), std::fs::read(&out).unwrap().into());
        let card = prepare(&source, &NoFiles, &CardWishes::default()).unwrap().card;
        super::one_check::found("encrypted", &card)
    };
    super::one_check::one(&locked(&[]), Severity::Note, &["is encrypted", "may be printed"]);
    for print in ["--print=none", "--print=low"] {
        super::one_check::one(&locked(&[print]), Severity::Error, &["does not allow printing at full quality"]);
    }
    assert!(Art::good().found("encrypted").is_empty());

    let mut cut = Art::good().bytes();
    let at = cut.windows(9).rposition(|w| w == b"startxref").unwrap();
    cut.truncate(at);
    let source = CardSource::Artwork("art.pdf".to_owned(), cut.into());
    let card = prepare(&source, &NoFiles, &CardWishes::default()).unwrap().card;
    let mended = super::one_check::found("mended", &card);
    super::one_check::one(
        &mended,
        Severity::Warning,
        &["cross-reference table is damaged", "export the artwork again"],
    );
    let lost = Art::with(|art| {
        art.xobjects = "/X 99 0 R".to_owned();
        art.content = "/X Do".to_owned();
    });
    assert!(
        lost.found("mended").iter().any(|f| f.severity == Severity::Error && f.message.contains("99")),
        "{:#?}",
        lost.found("mended")
    );
}

#[test]
fn what_is_meant_for_one_machine_or_stands_for_another_picture() {
    let state = |keys: &str| {
        Art::with(|art| {
            art.states = format!("/G << {keys} >>");
            art.content = "/G gs 0.2 0 0 0 k 20 20 30 30 re f".to_owned();
        })
    };
    let screen = "<< /Type /Halftone /HalftoneType 1 /Frequency 60 /Angle 45 /SpotFunction /Round >>";
    state(&format!("/HT {screen}")).only("device-settings", Severity::Warning, &["halftone screen is set"]);
    assert!(state("/HT /Default /BG2 /Default").checked().findings.is_empty());
    let curve = "<< /FunctionType 2 /Domain [0 1] /N 1 >>";
    state(&format!("/UCR {curve}")).only("device-settings", Severity::Note, &["under-colour removal"]);
    let drawn = |keys: &str, data: &[u8]| {
        Art::with(|art| {
            art.objects = vec![(format!("/Type /XObject {keys}"), data.to_vec())];
            art.xobjects = format!("/X {FIRST} 0 R");
            art.content = "q 40 0 0 40 20 20 cm /X Do Q".to_owned();
        })
    };
    let form = "/Subtype /Form /BBox [0 0 1 1]";
    let square = b"0.2 0 0 0 k 0 0 1 1 re f";
    drawn(&format!("{form} /OPI << /2.0 << /F (heath.tif) >> >>"), square).only(
        "device-settings",
        Severity::Error,
        &["only stands for another (OPI)"],
    );
    drawn(&format!("{form} /Ref << /F (other.pdf) /Page 0 >>"), square).only(
        "device-settings",
        Severity::Warning,
        &["page of another file"],
    );
    drawn("/Subtype /PS", b"0 setgray").one(
        "device-settings",
        Severity::Warning,
        &["PostScript XObject draws nothing"],
    );
    assert!(drawn(form, square).checked().findings.is_empty());
}
