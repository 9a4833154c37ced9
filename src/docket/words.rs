use super::{Docket, Leaf};
use crate::card::Side;
use crate::fault::Result;
use crate::ink::Ink;
use crate::sheet::{Form, FormSide, Grain, Sheet, WorkStyle};
use crate::unit::Length;

const SIZE: Length = Length::pt(9);
const LEADING: Length = Length::pt(12);
/// Where the values stand behind their words.
const INDENT: Length = Length::pt(62);
/// How far facts reach to the right, where the pictures begin.
const REACH: Length = Length::inches(4, 1);

/// Writes the facts of the job down the left; gives where they end.
pub(super) fn facts(leaf: &mut Leaf, docket: &Docket<'_>, x: Length, top: Length) -> Result<Length> {
    let sheet = docket.sheet;
    let mut rows = vec![
        ("Card", card(sheet)),
        ("Stock", stock(sheet)),
        ("Sheet", format!("{}, {}", sheet.size.sheet_text(), sheet.style)),
        ("Cards", cards(docket)),
        ("Plates", plates(docket)),
        ("Condition", docket.condition.to_owned()),
        ("Passes", passes(sheet)),
        ("Back-up", back_up(sheet).to_owned()),
        ("Fold", folds(sheet)),
        ("Score", score(sheet).to_owned()),
        ("Marks", "crop marks at the trims and dashed fold marks outside them; centre and register crosses; gripper edge and side guide as arrows; strip with a solid and a 50 % patch of every ink; slug".to_owned()),
    ];
    rows.extend(sheet.remarks.iter().map(|remark| ("Look out", remark.to_string())));
    rows.extend(docket.waivers.iter().map(|waiver| ("Waived", waiver.clone())));
    let mut y = top - Length::pt(6);
    for (word, text) in rows.iter().filter(|(_, text)| !text.is_empty()) {
        y -= Length::pt(3);
        for (n, line) in Leaf::broken(text, SIZE, REACH - x - INDENT)?.iter().enumerate() {
            y -= LEADING;
            if n == 0 {
                leaf.heading(x, y, SIZE, word);
            }
            leaf.text(x + INDENT, y, SIZE, line);
        }
    }
    Ok(y)
}

/// Writes digests and cautions at the foot; gives where they begin.
pub(super) fn foot(leaf: &mut Leaf, docket: &Docket<'_>, x: Length) -> Result<Length> {
    let small = Length::pt(8);
    let caution = "Presses, guillotines and folders hurt people: trained operators run them by the maker's instructions and the local safety \
                   rules, with guards in place. Check the first sheet for size, back-up, fold and inks before the run.";
    let mut lines = vec![
        format!("Press file, SHA-256: {}", docket.press_digest),
        format!("Card pages, SHA-256: {}", docket.card_digest),
        "A press file with another digest is not the one of this docket.".to_owned(),
    ];
    lines.extend(Leaf::broken(caution, small, Length::inches(15, 2))?);
    let mut y = Length::inches(1, 2);
    for line in lines.iter().rev() {
        leaf.text(x, y, small, line);
        y += Length::pt(11);
    }
    leaf.rule(x, y, Length::inches(8, 1), y, Length::units(Length::PER_PT / 2));
    Ok(y)
}

fn card(sheet: &Sheet) -> String {
    let format = &sheet.format;
    format!("{} flat, bleed {}", format.flat.card_text(), format.bleed)
}

fn stock(sheet: &Sheet) -> String {
    let stock = &sheet.stock;
    let mut words: Vec<String> = stock.name.iter().cloned().collect();
    words.extend(stock.gsm.map(|gsm| format!("{gsm} g/m²")));
    words.extend(stock.caliper.map(|caliper| caliper.to_string()));
    words.extend(stock.coated.map(|coated| if coated { "coated" } else { "uncoated" }.to_owned()));
    words.push(match stock.grain {
        Some(Grain::Long) => "grain long".to_owned(),
        Some(Grain::Short) => "grain short".to_owned(),
        None => "grain not stated".to_owned(),
    });
    words.join(", ")
}

fn cards(docket: &Docket<'_>) -> String {
    let up = docket.sheet.number_up();
    match docket.quantity {
        Some(quantity) if up > 0 => {
            let sheets = (quantity as usize).div_ceil(up);
            format!("{quantity} wanted, {up} up: {sheets} good sheets, make-ready and running waste not counted")
        }
        _ => format!("{up} up"),
    }
}

fn plates(docket: &Docket<'_>) -> String {
    let inks: Vec<&str> =
        docket.inks.iter().filter(|ink| !matches!(ink, Ink::All | Ink::None)).map(Ink::name).collect();
    let sets = docket.sheet.forms.len();
    format!(
        "{} ({} {} of {}: {})",
        inks.len() * sets,
        sets,
        if sets == 1 { "set" } else { "sets" },
        inks.len(),
        inks.join(", ")
    )
}

fn passes(sheet: &Sheet) -> String {
    let form = |form: &Form| match form.side {
        FormSide::Front => "front",
        FormSide::Back => "back",
        FormSide::Both => "one form for both sides",
    };
    let forms: Vec<&str> = sheet.forms.iter().map(form).collect();
    forms.join(", then ")
}

/// How the second side comes on (published glossaries of the trade).
const fn back_up(sheet: &Sheet) -> &'static str {
    match sheet.style {
        WorkStyle::Sheetwise => "turn the pile over its side: same gripper edge, side guide changes sides",
        WorkStyle::WorkAndTurn => {
            "turn the pile over its side, same plates: same gripper edge, side guide changes sides"
        }
        WorkStyle::WorkAndTumble => {
            "tumble the pile over its gripper edge, same plates: the other long edge goes into the grippers"
        }
        WorkStyle::Perfecting => "both sides in one pass: the sheet changes its gripper edge in the press",
        WorkStyle::OneSide => "",
    }
}

fn folds(sheet: &Sheet) -> String {
    let widths: Vec<String> = sheet.format.fold.widths(Side::Inside).iter().map(ToString::to_string).collect();
    if widths.len() < 2 { "none".to_owned() } else { format!("inside, left to right: {}", widths.join(" | ")) }
}

fn score(sheet: &Sheet) -> &'static str {
    if sheet.format.fold.widths(Side::Inside).len() < 2 {
        return "";
    }
    match sheet.stock.wants_score() {
        // The remark on the stock says it.
        Some(true) => "",
        Some(false) => "no score needed at this weight",
        None => "weight and thickness are not stated: try a fold first",
    }
}
