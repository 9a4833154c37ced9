use std::fmt::Write as _;
use std::sync::Arc;

use sha2::{Digest as _, Sha256};

use super::{CardWishes, ConditionWish, Files, FoldWish};
use crate::artwork::{Artwork, OpenOptions};
use crate::card::{Card, CardPlates, Face, FileFacts, Fold, FoldKind, Format, Side, Trace};
use crate::check::{self, Checked, LimitSet, Limits};
use crate::fault::{Fault, Faults, Result, Source, Text};
use crate::grid;
use crate::ink::Condition;
use crate::model::{self, FoldName, Model, Syntax};
use crate::typeset::{self, Assets};
use crate::unit::{Length, Size};

/// What a card comes from.
#[derive(Clone, Debug)]
pub enum CardSource {
    /// A card file.
    File(Arc<Text>, Syntax),
    /// A finished artwork PDF: its name and bytes.
    Artwork(String, Arc<[u8]>),
}

/// A card whose pages stand as they will print, read and ready to be checked and imposed.
#[derive(Debug)]
pub struct Prepared {
    /// What every check reads.
    pub card: Card,
    /// The PDF whose pages will print.
    pub pages: Arc<[u8]>,
    /// The same, opened.
    pub artwork: Artwork,
    /// Their SHA-256 digest, in hexadecimal digits.
    pub digest: String,
}

/// The SHA-256 digest of bytes, which may come in pieces, in hexadecimal digits.
pub fn digest<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> String {
    let digest = pieces.into_iter().fold(Sha256::new(), Sha256::chain_update);
    digest.finalize().iter().fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// Opens a file that prints, and takes its digest meanwhile.
fn open(bytes: &Arc<[u8]>, name: &str, options: &OpenOptions) -> Result<(Artwork, String)> {
    std::thread::scope(|scope| {
        let digest = scope.spawn(|| digest([bytes.as_ref()]));
        let artwork = Artwork::open_shared(bytes, name, options)?;
        let lost = |_| Fault::new(Source::File(name.to_owned()), "its digest cannot be taken");
        Ok((artwork, digest.join().map_err(lost)?))
    })
}

/// Bleed and safe margin where artwork does not say: 1/8 in (common practice).
const EIGHTH: Length = Length::inches(1, 8);

/// By how much a panel that folds inside is shorter: 1/32 in for most papers (published and practice).
const ALLOWANCE: Length = Length::inches(1, 32);

/// Sets or opens the pages of a card and reads them.
///
/// # Errors
/// Every fault of the card file, of the files it names, or of the PDF.
pub fn prepare(source: &CardSource, files: &dyn Files, wishes: &CardWishes) -> Result<Prepared> {
    match source {
        CardSource::File(text, syntax) => from_file(text, *syntax, files, wishes),
        CardSource::Artwork(name, bytes) => from_artwork(name, bytes, wishes),
    }
}

fn from_file(text: &Arc<Text>, syntax: Syntax, files: &dyn Files, wishes: &CardWishes) -> Result<Prepared> {
    let own = CardWishes { password: None, ..wishes.clone() };
    if own.is_any() {
        let options = "--size, --fold, --bleed, --safe, --condition, --carts, --outside, --inside".to_owned();
        let fault = Fault::new(Source::Option(options), "are for artwork PDFs");
        return Err(fault.hint(format!("{} says these itself, under [card]", text.name)).into());
    }
    let model = model::read(text, syntax)?;
    let mut faults = Faults::new();
    let mut assets = Assets::new();
    for (name, span) in model.external_files() {
        if let Some(bytes) = faults.take(files.read(&name).map_err(|f| f.moved_to(&span))) {
            assets.insert(name, bytes);
        }
    }
    let condition = faults.take(of_card(&model, &assets));
    let (Some(condition), true) = (condition, faults.is_empty()) else { return Err(faults) };

    let opening = OpenOptions { password: wishes.password.clone(), ..OpenOptions::default() };
    let set = typeset::typeset(&model, &assets, &condition, &opening)?;
    let pages: Arc<[u8]> = set.pdf.into();
    let (artwork, digest) = open(&pages, &text.name, &OpenOptions::default())?;
    let faces = faces(&artwork, &CardWishes::default())?;
    // A grid that came as artwork is found like any other.
    let (found, read) = set.grid.is_none().then(|| grid::recognise(&faces)).flatten().unzip();
    let card = Card {
        title: model.file.card.title.clone(),
        file: text.name.clone(),
        format: model.format(),
        carts: model.file.card.carts,
        condition,
        faces,
        grid: set.grid.or(found),
        numbers: model.scorecard().or(read),
        required: model.file.card.required.clone(),
        spots: model.spots(),
        facts: FileFacts { set_here: true, ..artwork.facts() },
        plates: CardPlates::default(),
        oversets: set.oversets,
        trace: set.trace,
    };
    Ok(Prepared { card, pages, artwork, digest })
}

fn of_card(model: &Model, assets: &Assets) -> Result<Condition> {
    let name = &model.file.card.condition;
    let wish = match assets.get(name) {
        Some(profile) => ConditionWish::Profile(name.clone(), Arc::clone(profile)),
        None => ConditionWish::Named(name.clone()),
    };
    condition(&wish).map_err(|faults| faults.moved_to(&model.span("card.condition")))
}

/// The print condition of a wish.
///
/// # Errors
/// There is none of that name, or its profile is of no use.
pub fn condition(wish: &ConditionWish) -> Result<Condition> {
    match wish {
        ConditionWish::Named(name) if name == "coated" => Ok(Condition::coated()),
        ConditionWish::Named(name) if name == "uncoated" => Ok(Condition::uncoated()),
        ConditionWish::Named(name) => {
            let fault = Fault::new(Source::Nowhere, format!("there is no print condition `{name}`"));
            Err(fault.hint("write coated, uncoated, or the file of a CMYK output profile").into())
        }
        ConditionWish::Profile(name, bytes) => Condition::from_profile(name, Arc::clone(bytes)),
    }
}

fn from_artwork(name: &str, bytes: &Arc<[u8]>, wishes: &CardWishes) -> Result<Prepared> {
    let options = OpenOptions { password: wishes.password.clone(), ..OpenOptions::default() };
    let (artwork, digest) = open(bytes, name, &options)?;
    let faces = faces(&artwork, wishes)?;
    let first = faces.first().map(|f| f.boxes.trim.size()).unwrap_or_default();
    let flat = wishes.size.unwrap_or(first);
    let (bleed, safe) = (wishes.bleed.unwrap_or(EIGHTH), wishes.safe.unwrap_or(EIGHTH));
    let format = Format { flat, bleed, safe, fold: fold(wishes.fold, flat) };
    let condition = wishes.condition.as_ref().map_or_else(|| Ok(Condition::coated()), condition)?;
    let (grid, numbers) = grid::recognise(&faces).unzip();
    let card = Card {
        title: name.to_owned(),
        file: name.to_owned(),
        format,
        carts: wishes.carts,
        condition,
        faces,
        grid,
        numbers,
        required: wishes.required.clone(),
        spots: Vec::new(),
        facts: artwork.facts(),
        plates: CardPlates::default(),
        oversets: Vec::new(),
        trace: Trace::default(),
    };
    Ok(Prepared { card, pages: Arc::clone(bytes), artwork, digest })
}

fn fold(wish: Option<FoldWish>, flat: Size) -> Fold {
    let FoldWish { kind, panels } = wish.unwrap_or(FoldWish { kind: FoldName::Half, panels: None });
    let kind = match kind {
        FoldName::None => FoldKind::None,
        FoldName::Half => FoldKind::Half,
        FoldName::Letter => FoldKind::Letter,
        FoldName::Accordion => FoldKind::Accordion,
        FoldName::Gate => FoldKind::Gate,
    };
    Fold::usual(kind, flat, panels.unwrap_or(2), ALLOWANCE)
}

/// The pages that were asked for; else the first page is the outside and the second the inside.
fn faces(artwork: &Artwork, wishes: &CardWishes) -> Result<Vec<Face>> {
    let count = artwork.page_count();
    let asked = wishes.outside.is_some() || wishes.inside.is_some();
    let sides = if asked {
        [(wishes.outside, Side::Outside), (wishes.inside, Side::Inside)]
    } else {
        [(Some(1), Side::Outside), (Some(2).filter(|_| count > 1), Side::Inside)]
    };
    if !asked && count > 2 {
        let fault = Fault::new(
            Source::File(artwork.name().to_owned()),
            format!("has {count} pages, and a card has one or two faces"),
        );
        return Err(fault
            .hint("export the outside as page 1 and the inside as page 2")
            .hint("or say which pages they are: --outside 1 --inside 2, or under [artwork] in a job file")
            .into());
    }
    let mut faults = Faults::new();
    let mut faces = Vec::new();
    for (page, side) in sides.into_iter().filter_map(|(page, side)| Some((page?, side))) {
        faces.extend(faults.take(artwork.face(page, side)));
    }
    faults.or(faces)
}

/// Holds a card against limits.
///
/// # Errors
/// The checks cannot run at all, such as with a profile that does not convert.
pub fn check(prepared: &Prepared, limits: &Limits) -> Result<Checked> {
    check::run(&prepared.card, limits)
}

/// The set of limits that fits a print condition where nothing else is asked for.
pub fn usual_set(condition: &Condition) -> LimitSet {
    if condition.name == "uncoated" { LimitSet::UncoatedOffset } else { LimitSet::CoatedOffset }
}
