//! Pages of artwork with one fault each, beside a clean one, and the plates that Ghostscript makes of them.

use std::collections::BTreeMap;
use std::sync::Arc;

use fairfold::card::Card;
use fairfold::check::{CHECKS, Finding, Limits, Outcome, run_one};
use fairfold::fault::Result;
use fairfold::job::{CardSource, CardWishes, Files, FoldWish, prepare};
use fairfold::model::FoldName;
use serde_json::Value;

use super::artwork_pdf::Pdf;
use super::press_files::{saved, text};
use super::program::{judge, said};

struct NoFiles;

impl Files for NoFiles {
    fn read(&self, name: &str) -> Result<Arc<[u8]>> {
        panic!("artwork names {name}")
    }
}

/// The pages of a PDF as a card without a fold.
pub(super) fn card_of(pdf: &Pdf) -> Card {
    let fold = Some(FoldWish { kind: FoldName::None, panels: None });
    let wishes = CardWishes { fold, ..CardWishes::default() };
    let source = CardSource::Artwork("otterby.pdf".to_owned(), pdf.bytes().into());
    let mut prepared = prepare(&source, &NoFiles, &wishes).unwrap_or_else(|faults| panic!("{faults}"));
    prepared.draw_plates();
    prepared.card
}

/// What one check finds on a PDF.
pub(super) fn found_on(id: &str, pdf: &Pdf) -> Vec<Finding> {
    let check = CHECKS.iter().find(|c| c.id == id).unwrap();
    match run_one(check, &card_of(pdf), &Limits::default()).unwrap() {
        Outcome::Clean => Vec::new(),
        Outcome::Found(found) => found,
        other => panic!("{id} did not run: {other:?}"),
    }
}

/// A font, a spot, the ink Black, registration, and overprint off, in mode 0 and in mode 1, as every page here may use them.
const RESOURCES: &str = "\
    /Font << /F1 << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> \
    /ExtGState << /Off << /OP false /op false /OPM 0 >> /M0 << /OP true /op true /OPM 0 >> /M1 << /OP true /op true /OPM 1 >> >> \
    /ColorSpace << \
    /Heath [/Separation /Otterby#20Heath /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.7 0.4 0.8 0.4] /N 1 >>] \
    /K [/Separation /Black /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 1] /N 1 >>] \
    /Cut [/Separation /CutContour /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 0 0] /N 1 >>] \
    /None [/Separation /None /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 0] /N 1 >>] \
    /All [/Separation /All /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [1 1 1 1] /N 1 >>] >>";

/// A page of 200 x 100 pt with a cyan tint on its left half and bare paper on its right.
pub(super) fn page(content: &str) -> Pdf {
    let mut pdf = Pdf::new();
    pdf.page(
        &format!("/MediaBox [0 0 200 100] /Resources << {RESOURCES} >>"),
        format!("0.4 0 0 0 k 0 0 100 100 re f\n{content}"),
    );
    pdf
}

/// What a good page does: black type that overprints in mode 1, white type that knocks out, a spot, rules of half a point.
pub(super) const CLEAN: &str = "\
    /M1 gs 0 0 0 1 k BT /F1 8 Tf 10 60 Td (385) Tj ET 0 0 0 1 K 0.5 w 10 50 m 90 50 l S \
    /Off gs 0 0 0 0 k BT /F1 10 Tf 10 20 Td (412) Tj ET /Heath cs 1 scn 110 10 80 30 re f \
    0 0 0 1 k BT /F1 8 Tf 110 60 Td (356) Tj ET 0 0 0 1 k BT /F1 24 Tf 10 70 Td (4) Tj ET";

/// The tint of each plate at some spots of the first page (points from the lower left), as Ghostscript separates it.
pub(super) fn plates(pdf: &Pdf, spots: &[(f64, f64)]) -> BTreeMap<String, Vec<f64>> {
    let folder = tempfile::tempdir().unwrap();
    let (file, out) = (saved(&folder, "page.pdf", &pdf.bytes()), folder.path().join("plate.tif"));
    let output = format!("-sOutputFile={}", text(&out));
    let done =
        judge("gs", &["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiffsep", "-r144", &output, text(&file)]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let program = "
import glob, json, os, sys
from PIL import Image
folder, spots = sys.argv[1], json.loads(sys.argv[2])
found = {}
for name in glob.glob(os.path.join(glob.escape(folder), 'plate(*).tif')):
    picture = Image.open(name).convert('L')
    at = lambda x, y: 1 - picture.getpixel((round(x * 2), picture.height - 1 - round(y * 2))) / 255
    found[os.path.basename(name)[6:-5]] = [at(x, y) for x, y in spots]
print(json.dumps(found))
";
    let told = said("python3", &["-c", program, text(folder.path()), &serde_json::to_string(spots).unwrap()]);
    let read: BTreeMap<String, Value> = serde_json::from_str(&told).unwrap();
    let tints = |v: Value| v.as_array().unwrap().iter().map(|t| t.as_f64().unwrap()).collect();
    read.into_iter().map(|(name, v)| (name, tints(v))).collect()
}
