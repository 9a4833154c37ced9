//! What the fuzz targets do with the bytes that they are given; a test of the suite does the same with mutated files.

use std::sync::Arc;

use fairfold::artwork::{Artwork, OpenOptions};
use fairfold::card::Side;
use fairfold::check::{LimitSet, Limits, run};
use fairfold::fault::Result;
use fairfold::ink::Condition;
use fairfold::job::{CardSource, CardWishes, Date, Files, SheetWishes, impose, prepare};
use fairfold::pdf::ReadBack;
use fairfold::plates::{Means, Plates};

struct NoFiles;

impl Files for NoFiles {
    fn read(&self, name: &str) -> Result<Arc<[u8]>> {
        panic!("artwork names no file, and {name} was asked for")
    }
}

/// Any bytes as an artwork PDF: opened, listed and checked. Whatever they are, the answer is a card or a fault.
pub(crate) fn file(bytes: &[u8]) {
    let source = CardSource::Artwork("art.pdf".to_owned(), bytes.into());
    if let Ok(mut prepared) = prepare(&source, &NoFiles, &CardWishes::default()) {
        prepared.draw_plates();
        let _ = run(&prepared.card, &Limits::default());
    }
}

const OBJECTS: [&str; 6] = [
    "<< /Type /Catalog /Pages 2 0 R >>",
    "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
    "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 100] /Contents 7 0 R /Resources 4 0 R >>",
    "<< /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> /XObject << /X 5 0 R /P 6 0 R >> /ColorSpace << /S \
     [/Separation /Heron /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.3 0.1 0 0.4] /N 1 >>] /I [/Indexed /DeviceRGB 1 \
     <FF000000FF00>] /L [/Lab << /WhitePoint [0.96 1 0.82] >>] >> /ExtGState << /G << /ca 0.5 /BM /Multiply /op true /OPM 1 >> >> /Pattern << /T \
     5 0 R >> /Shading << /A << /ShadingType 2 /ColorSpace /DeviceGray /Coords [0 0 1 1] /Function << /FunctionType 2 /Domain [0 1] /N 1 >> >> >> >>",
    "<< /Type /XObject /Subtype /Form /BBox [0 0 50 50] /Resources 4 0 R /PatternType 1 /PaintType 1 /TilingType 1 /XStep 9 /YStep 9 /Length 32 \
     >>\nstream\n/X Do 0 0 9 9 re f /P Do q 2 w S\nendstream",
    "<< /Type /XObject /Subtype /Image /Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray /Length 4 >>\nstream\nabcd\nendstream",
];

/// Any bytes as the content of a small page with a font, a form, a picture and a few spaces to name.
pub(crate) fn content(content: &[u8]) {
    let mut file = b"%PDF-1.6\n".to_vec();
    for (n, body) in OBJECTS.iter().enumerate() {
        file.extend(format!("{} 0 obj\n{body}\nendobj\n", n + 1).bytes());
    }
    file.extend(format!("7 0 obj\n<< /Length {} >>\nstream\n", content.len()).bytes());
    file.extend(content);
    file.extend(b"\nendstream\nendobj\ntrailer << /Root 1 0 R >>\n");
    if let Ok(artwork) = Artwork::open(&file, "art.pdf", &OpenOptions::default()) {
        let _ = artwork.face(1, Side::Outside);
    }
}

/// Pixels that a page is drawn with.
const PIXELS: f64 = 250_000.0;

/// Any bytes as artwork whose first page is drawn plate by plate.
pub(crate) fn plates(bytes: &[u8]) {
    let Ok(artwork) = Artwork::open(bytes, "art.pdf", &OpenOptions::default()) else { return };
    let Ok(area) = artwork.page_area(1) else { return };
    let ppi = (PIXELS / area.area().max(1.0)).sqrt().min(4.0) * 72.0;
    let Ok(plates) = Plates::of_page(&artwork, 1, area, ppi, &Condition::coated(), Means::Frugal) else { return };
    let (width, height) = plates.size();
    let mut rows = 0;
    let drawn = plates.draw(&mut |band| {
        rows += band.rows;
        Ok(())
    });
    assert!(drawn.is_ok() && rows == height && width > 0, "{rows} rows of {height} were drawn");
}

/// Any bytes as artwork that goes on a press sheet: what is written must read back as planned.
pub(crate) fn place(bytes: &[u8]) {
    let source = CardSource::Artwork("art.pdf".to_owned(), bytes.into());
    let Ok(prepared) = prepare(&source, &NoFiles, &CardWishes::default()) else { return };
    let Ok(checked) = run(&prepared.card, &Limits::new(LimitSet::Digital)) else { return };
    let wishes = SheetWishes { name: Some("O".to_owned()), one_up: true, ..SheetWishes::default() };
    let Some(date) = Date::from_epoch(1_799_971_200) else { return };
    let Ok(imposed) = impose(prepared, &checked, &wishes, date) else { return };
    let written = imposed.press.into_bytes();
    if let Err(faults) = ReadBack::of(&written).and_then(|read| imposed.plan.prove(&read)) {
        panic!("a press file was written that is not as planned: {faults}");
    }
}
