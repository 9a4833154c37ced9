use serde_json::{Value, json};

use super::inks::{self, Inks};
use super::{Date, GrainWord, MarksSection, Prepared, RowsWord, SheetWishes, StandardWord, StyleWord};
use crate::artwork::Artwork;
use crate::card::Side;
use crate::check::Checked;
use crate::docket::{self, Docket};
use crate::fault::{Fault, Result, Source};
use crate::ink::Condition;
use crate::pdf::{Pieces, ReadBack};
use crate::press::{self, Art, PressInfo, Stamp, Standard};
use crate::sheet::{
    self, Grain, GripperEdge, Gutters, LayoutRequest, MarkSet, Press, Rows, Sheet, SheetSize, Stock, WorkStyle,
};
use crate::unit::{Length, Rect, Size};

/// An imposed card. Its press file is not to be kept before it was proven from its own bytes.
#[derive(Debug)]
pub struct Imposed {
    /// The press file.
    pub press: Pieces,
    /// What it is held against.
    pub plan: Plan,
}

/// What a press file was made from; the bytes of the artwork are no longer held by it.
#[derive(Debug)]
pub struct Plan {
    /// The sheet.
    pub sheet: Sheet,
    /// It in a line.
    pub summary: String,
    artwork: Artwork,
    faces: Vec<(Side, u32)>,
    inks: Inks,
    condition: Condition,
    job: String,
    stamp: Stamp,
    standard: Standard,
    waivers: Vec<String>,
    card_digest: String,
    card_file: String,
    quantity: Option<u32>,
}

/// Plans the sheet and writes the press file.
///
/// # Errors
/// The sheet is not stated or takes no card, or the press file cannot be written.
pub fn impose(prepared: Prepared, checked: &Checked, wishes: &SheetWishes, date: Date) -> Result<Imposed> {
    let Prepared { card, artwork, digest, .. } = prepared;
    let standard = match wishes.standard {
        Some(StandardWord::X1a) => Standard::X1a,
        Some(StandardWord::X4) | None => Standard::X4,
    };
    press::can_be(&card, standard)?;
    let sides: Vec<Side> = card.faces.iter().map(|f| f.side).collect();
    let inks = inks::of_faces(&card.faces, &card.spots);
    let ask = LayoutRequest {
        format: &card.format,
        faces: &sides,
        sheet: size(wishes)?,
        stock: stock(wishes),
        press: margins(wishes),
        style: style(wishes, sides.len()),
        gutters: wishes.gutter.map(Gutters::all),
        rows: match wishes.rows {
            Some(RowsWord::HeadToHead) => Rows::HeadToHead,
            Some(RowsWord::HeadToFoot) | None => Rows::HeadToFoot,
        },
        turn: None,
        marks: marks(wishes.marks),
        inks: &inks.inks,
    };
    let sheet = if wishes.one_up { sheet::one_up(&ask)? } else { sheet::lay_out(&ask)? };
    let mut plan = Plan {
        summary: summary(&sheet, wishes),
        sheet,
        artwork,
        faces: card.faces.iter().map(|f| (f.side, f.page)).collect(),
        inks,
        condition: card.condition,
        job: wishes.name.clone().unwrap_or(card.title),
        standard,
        stamp: Stamp { pdf: date.pdf(), iso: date.iso(), day: date.to_string() },
        waivers: checked.waived.iter().map(|w| format!("{} ({})", w.finding.check, w.reason)).collect(),
        card_digest: digest,
        card_file: card.file,
        quantity: wishes.quantity,
    };
    let press = press::compose(&plan.sheet, &plan.arts(), &plan.info())?;
    plan.artwork.let_go();
    Ok(Imposed { press, plan })
}

impl Plan {
    /// Compares a press file that was read back with the plan.
    ///
    /// # Errors
    /// Everything that differs from the plan.
    pub fn prove(&self, read: &ReadBack) -> Result<()> {
        press::verify_read(read, &self.sheet, &self.arts(), &self.info())
    }

    /// Where every station lies, for programs: sheet, forms and trims in millimetres, with the digests of card and press file.
    pub fn stations(&self, press_digest: &str) -> Value {
        stations(&self.sheet, &self.card_digest, press_digest)
    }

    /// The page that goes with the press file of this digest through the shop, as a PDF.
    ///
    /// # Errors
    /// It cannot be written.
    pub fn docket(&self, press_digest: &str) -> Result<Vec<u8>> {
        docket::write(&Docket {
            job: &self.job,
            day: &self.stamp.day,
            card: &self.card_file,
            quantity: self.quantity,
            sheet: &self.sheet,
            inks: &self.inks.inks,
            condition: &self.condition.identifier,
            card_digest: &self.card_digest,
            press_digest,
            waivers: &self.waivers,
        })
    }

    fn arts(&self) -> Vec<Art<'_>> {
        self.faces.iter().map(|(side, page)| Art { side: *side, artwork: &self.artwork, page: *page }).collect()
    }

    fn info(&self) -> PressInfo<'_> {
        PressInfo {
            standard: self.standard,
            job: &self.job,
            date: &self.stamp,
            inks: &self.inks.inks,
            spots: &self.inks.spots,
            condition: &self.condition,
            digest: self.card_digest.get(..DIGEST_SHOWN).unwrap_or(&self.card_digest),
            approved: false,
            waivers: &self.waivers,
        }
    }
}

/// Digits of the digest on the slug line: 64 bits, enough to tell two versions of a card apart.
const DIGEST_SHOWN: usize = 16;

fn size(wishes: &SheetWishes) -> Result<Size> {
    match &wishes.size {
        _ if wishes.one_up => Ok(Size::default()),
        Some(text) => Ok(SheetSize::parse(text, Source::Option("--sheet".to_owned()))?.lying(GripperEdge::Long)),
        None => {
            let fault = Fault::new(Source::Option("--sheet".to_owned()), "the sheet is not stated");
            Err(fault
                .hint("give its size: --sheet 28x40, --sheet SRA3, --sheet \"12 x 18 in\"; or name it in a job file")
                .hint("for one card with bleed and crop marks give --one-up")
                .into())
        }
    }
}

fn stock(wishes: &SheetWishes) -> Stock {
    Stock {
        name: wishes.stock.name.clone(),
        grain: wishes.grain.map(|g| match g {
            GrainWord::Long => Grain::Long,
            GrainWord::Short => Grain::Short,
        }),
        gsm: wishes.stock.gsm,
        caliper: wishes.stock.caliper.map(|m| m.0),
        coated: wishes.stock.coated,
    }
}

fn margins(wishes: &SheetWishes) -> Press {
    let usual = Press::default();
    Press {
        gripper: wishes.gripper.unwrap_or(usual.gripper),
        tail: wishes.tail.unwrap_or(usual.tail),
        sides: wishes.sides.unwrap_or(usual.sides),
    }
}

fn style(wishes: &SheetWishes, faces: usize) -> WorkStyle {
    match wishes.style {
        Some(StyleWord::Sheetwise) => WorkStyle::Sheetwise,
        Some(StyleWord::WorkAndTurn) => WorkStyle::WorkAndTurn,
        Some(StyleWord::WorkAndTumble) => WorkStyle::WorkAndTumble,
        Some(StyleWord::Perfecting) => WorkStyle::Perfecting,
        None if faces > 1 => WorkStyle::Sheetwise,
        Some(StyleWord::OneSide) | None => WorkStyle::OneSide,
    }
}

fn marks(marks: MarksSection) -> MarkSet {
    let MarksSection { crop, fold, register, guides, strip, slug } = marks;
    MarkSet { crop, fold, register, guides, strip, slug }
}

fn summary(sheet: &Sheet, wishes: &SheetWishes) -> String {
    let up = sheet.number_up();
    let plates = if sheet.forms.len() == 1 { "one form" } else { "two forms" };
    let mut text = format!("{up} up on {}, {}, {plates}", sheet.size.sheet_text(), sheet.style);
    if let (Some(quantity), true) = (wishes.quantity, up > 0) {
        let sheets = (quantity as usize).div_ceil(up);
        text = format!("{text}; {quantity} cards from {sheets} good sheets, make-ready and running waste not counted");
    }
    text
}

/// The run in numbers: sheet, forms and the trim of every station in millimetres, with the digests of card and press file. Origin at the
/// lower left of each form, y up, its lower edge in the grippers; turns are counter-clockwise degrees.
fn stations(sheet: &Sheet, digest: &str, press_digest: &str) -> Value {
    let mm = |l: Length| l.to_mm();
    let rect = |r: Rect| json!([mm(r.x0), mm(r.y0), mm(r.x1), mm(r.y1)]);
    let forms: Vec<Value> = sheet
        .forms
        .iter()
        .map(|form| {
            let stations: Vec<Value> = form
                .stations
                .iter()
                .map(|s| {
                    json!({ "number": s.number, "face": s.face.to_string(), "trim": rect(s.trim), "turn": s.turn.degrees() })
                })
                .collect();
            json!({ "side": format!("{:?}", form.side).to_lowercase(), "stations": stations })
        })
        .collect();
    json!({
        "stations": 1,
        "unit": "mm",
        "sheet": [mm(sheet.size.width), mm(sheet.size.height)],
        "style": sheet.style.to_string(),
        "printable": rect(sheet.printable),
        "forms": forms,
        "card_digest": digest,
        "press_digest": press_digest,
        "remarks": sheet.remarks.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "caution": "Presses, guillotines and folders are run by trained operators, by the maker's instructions and local safety rules.",
    })
}
