//! Artwork, jobs and outside judges that the tests of the press file share.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, LazyLock};

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::{Fold, FoldKind, Format, Side};
use fairfold::fault::Source;
use fairfold::ink::{Condition, Ink, SpotInk};
use fairfold::press::{Art, PressInfo, Stamp, Standard, write};
use fairfold::sheet::{GripperEdge, LayoutRequest, MarkSet, Press, Rows, Sheet, SheetSize, Stock, WorkStyle};
use fairfold::unit::{Length, Rect, parse_size};
use lopdf::{Dictionary, Document, Object, Stream, dictionary};

/// Runs a judge and gives what it printed; one that is missing or not content fails the test.
pub(super) fn judged(program: &str, arguments: &[&str]) -> String {
    let done = Command::new(program).args(arguments).output();
    let done =
        done.unwrap_or_else(|why| panic!("{program} is needed for this test ({why}); run tests/all.sh to install it"));
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    let told = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(done.status.success(), "{program} {arguments:?}: {said}{told}");
    said
}

/// A file of these bytes in a folder that goes with the test.
pub(super) fn saved(folder: &tempfile::TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

pub(super) fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// A PDF of pages, each a content stream over the same resources, with a trim and a bleed.
pub(super) fn pdf(pages: &[&str], trim: [f32; 4], bleed: f32, resources: Dictionary) -> Document {
    let mut document = Document::with_version("1.6");
    let tree = document.new_object_id();
    let resources = document.add_object(resources);
    let mut kids = Vec::new();
    let numbers = |r: [f32; 4]| Object::Array(r.iter().map(|v| Object::Real(*v)).collect());
    let bled = [trim[0] - bleed, trim[1] - bleed, trim[2] + bleed, trim[3] + bleed];
    for content in pages {
        let contents = document.add_object(Stream::new(Dictionary::new(), content.as_bytes().to_vec()));
        let page = dictionary! {
            "Type" => "Page", "Parent" => tree, "Resources" => resources, "Contents" => contents,
            "MediaBox" => numbers([bled[0] - 20.0, bled[1] - 20.0, bled[2] + 20.0, bled[3] + 20.0]),
            "BleedBox" => numbers(bled), "TrimBox" => numbers(trim),
        };
        kids.push(Object::Reference(document.add_object(page)));
    }
    let count = i64::try_from(kids.len()).unwrap();
    document.set_object(tree, dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => count });
    let catalog = document.add_object(dictionary! { "Type" => "Catalog", "Pages" => tree });
    document.trailer.set("Root", catalog);
    document
}

pub(super) fn bytes(mut document: Document) -> Vec<u8> {
    let mut out = Vec::new();
    document.save_to(&mut out).unwrap();
    out
}

pub(super) fn opened(bytes: &[u8]) -> Artwork {
    Artwork::open(bytes, "otterby.pdf", &OpenOptions::default()).unwrap()
}

/// A card of 3 x 5 in, folded in half, with 1/8 in of bleed. Outside: a square in the upper left corner, inside: one in the upper right,
/// which is behind it on paper. The trim does not begin at the origin.
pub(super) fn marked_card() -> Vec<u8> {
    let outside = "0.2 0 0 0 k 1 11 378 234 re f 0 0 0 1 k 20 186 40 30 re f";
    let inside = "0 0 0.2 0 k 1 11 378 234 re f 0 0 0 1 k 320 186 40 30 re f";
    bytes(pdf(&[outside, inside], [10.0, 20.0, 370.0, 236.0], 9.0, Dictionary::new()))
}

pub(super) fn small_card() -> Format {
    let flat = parse_size("3 x 5 in").unwrap();
    let fold = Fold::usual(FoldKind::Half, flat, 2, Length::ZERO);
    Format { flat, bleed: Length::inches(1, 8), safe: Length::inches(1, 8), fold }
}

pub(super) const BOTH: [Side; 2] = [Side::Outside, Side::Inside];

pub(super) fn heron() -> SpotInk {
    SpotInk { name: Arc::from("Otterby Heron"), cmyk: [0.3, 0.1, 0.0, 0.4], lab: None }
}

pub(super) fn inks() -> Vec<Ink> {
    let mut inks = Ink::PROCESS.to_vec();
    inks.push(Ink::from_colorant("Otterby Heron"));
    inks
}

pub(super) fn request<'a>(format: &'a Format, sheet: &str, style: WorkStyle, inks: &'a [Ink]) -> LayoutRequest<'a> {
    LayoutRequest {
        format,
        faces: if style == WorkStyle::OneSide { &BOTH[..1] } else { &BOTH },
        sheet: SheetSize::parse(sheet, Source::Nowhere).unwrap().lying(GripperEdge::Width),
        stock: Stock::default(),
        press: Press::default(),
        style,
        gutters: None,
        rows: Rows::HeadToFoot,
        turn: None,
        marks: MarkSet::ALL,
        inks,
    }
}

pub(super) static CONDITION: LazyLock<Condition> = LazyLock::new(|| Condition {
    name: "coated".to_owned(),
    identifier: "CGATS TR 006".to_owned(),
    source: "ANSI CGATS TR 006-2007".to_owned(),
    profile: Arc::from(include_bytes!("../../src/ink/profiles/coated-tr006.icc").as_slice()),
    total_ink: 300.0,
});

pub(super) static DATE: LazyLock<Stamp> = LazyLock::new(|| Stamp {
    pdf: "D:20270115000000Z".to_owned(),
    iso: "2027-01-15T00:00:00Z".to_owned(),
    day: "2027-01-15".to_owned(),
});

pub(super) fn info<'a>(inks: &'a [Ink], spots: &'a [SpotInk]) -> PressInfo<'a> {
    PressInfo {
        standard: Standard::X4,
        job: "Otterby Common & Mere",
        date: &DATE,
        inks,
        spots,
        condition: &CONDITION,
        digest: "5f0c2a9b7e11",
        approved: false,
        waivers: &[],
    }
}

pub(super) fn arts(artwork: &Artwork) -> [Art<'_>; 2] {
    [Art { side: Side::Outside, artwork, page: 1 }, Art { side: Side::Inside, artwork, page: 2 }]
}

/// A press file of the marked card.
pub(super) fn pressed(sheet: &Sheet) -> Vec<u8> {
    let artwork = opened(&marked_card());
    let (inks, spots) = (inks(), [heron()]);
    write(sheet, &arts(&artwork), &info(&inks, &spots)).unwrap()
}

/// A greyscale picture: width, height, and one byte a pixel, row by row from the top, 0 black.
pub(super) struct Picture {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) pixels: Vec<u8>,
}

impl Picture {
    /// Reads a PGM file (`P5`, 8 bits).
    pub(super) fn pgm(bytes: &[u8]) -> Self {
        let mut words = Vec::new();
        let mut at = 0;
        while words.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
            words.push(std::str::from_utf8(&bytes[at..end]).unwrap());
            at = end + 1;
        }
        assert_eq!((words[0], words[3]), ("P5", "255"));
        Self { width: words[1].parse().unwrap(), height: words[2].parse().unwrap(), pixels: bytes[at..].to_vec() }
    }

    pub(super) fn at(&self, x: usize, y: usize) -> u8 {
        self.pixels[y * self.width + x]
    }

    /// Where pixels are darker than `level`, x to the right and y down.
    pub(super) fn dark(&self, level: u8) -> Vec<(usize, usize)> {
        (0..self.pixels.len()).filter(|n| self.pixels[*n] < level).map(|n| (n % self.width, n / self.width)).collect()
    }
}

/// A page as poppler draws it in grey.
pub(super) fn drawn(file: &Path, page: usize, ppi: u32) -> Picture {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("page");
    let (page, ppi) = (page.to_string(), ppi.to_string());
    judged("pdftoppm", &["-gray", "-singlefile", "-r", &ppi, "-f", &page, "-l", &page, text(file), text(&out)]);
    Picture::pgm(&std::fs::read(out.with_extension("pgm")).unwrap())
}

/// A rectangle of the plan in inches: left, bottom, right, top.
pub(super) fn inches(rect: Rect) -> [f64; 4] {
    [rect.x0, rect.y0, rect.x1, rect.y1].map(Length::to_in)
}
