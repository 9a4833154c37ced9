//! Reads a press file back from its bytes and compares it with the plan. The reader here shares nothing with the writer but the plan:
//! it takes the file apart with `lopdf` and follows the content of every page operator by operator.

mod file;
mod page;
mod reader;
mod seen;

use super::write::sides;
use super::{Art, PressInfo};
use crate::card::Breach;
use crate::fault::{Fault, Faults, Result, Source};
use crate::pdf::ReadBack;
use crate::sheet::Sheet;
use crate::unit::Length;

/// Places may differ by this and still be the same: 1 µm, in points.
const TOLERANCE: f64 = 72.0 / 25_400.0;

/// Compares the bytes of a press file with the sheet, the artwork and the job that it was made from: pages and their boxes, the place and
/// turn of every card to 1 µm, what is drawn there, the marks, the slug's words, inks, fonts, output intent and what PDF/X-4 asks for.
///
/// # Errors
/// Every disagreement, each naming the page and what is wrong.
pub fn verify(bytes: &[u8], sheet: &Sheet, arts: &[Art], info: &PressInfo) -> Result<()> {
    verify_read(&ReadBack::of(bytes)?, sheet, arts, info)
}

/// The same for a file that was read back.
///
/// # Errors
/// As [`verify()`].
pub fn verify_read(read: &ReadBack, sheet: &Sheet, arts: &[Art], info: &PressInfo) -> Result<()> {
    let document = read.document();
    let mut wrong = Wrong::default();
    let mut faces = Vec::new();
    for side in sides(sheet) {
        let Some(art) = arts.iter().find(|a| a.side == side) else {
            wrong.say(format!("no page was given for the {side}"));
            continue;
        };
        if let Some((page, shift)) = wrong.faults.take(super::write::page(sheet, art)) {
            faces.push(page::Face { side, art: *art, page, shift });
        }
    }
    file::compare(read, arts, info, &mut wrong);
    let pages = document.get_pages();
    if pages.len() != sheet.forms.len() {
        wrong.say(format!("{} pages are planned and {} are there", sheet.forms.len(), pages.len()));
    }
    for (form, (number, id)) in sheet.forms.iter().zip(&pages) {
        wrong.page = Some(*number);
        page::compare(document, *id, sheet, form, &faces, info, &mut wrong);
    }
    wrong.faults.or(())
}

/// Disagreements, with the page that is being read.
#[derive(Default)]
struct Wrong {
    page: Option<u32>,
    faults: Faults,
}

impl Wrong {
    fn say(&mut self, message: impl Into<String>) {
        let source = Source::Pdf { file: "the press file".to_owned(), page: self.page, object: None };
        let fault = Fault::new(source, message);
        self.faults.push(fault.hint("the file is not to be used; this is an error in fairfold, please report it"));
    }
}

impl Wrong {
    /// Notes what is against the standard that the file claims.
    fn breach(&mut self, breach: &Breach) {
        let source = Source::Pdf { file: "the press file".to_owned(), page: breach.page, object: breach.object };
        let fault = Fault::new(source, format!("{} ({})", breach.message, breach.rule));
        self.faults.push(fault.hint(format!("where the artwork brings it: {}", breach.advice)));
    }
}

/// Whether two numbers of points are the same place.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= TOLERANCE
}

/// How far off, for people.
fn off(by: f64) -> String {
    Length::from_pt(by.abs()).to_string()
}
