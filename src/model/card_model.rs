use std::collections::BTreeMap;
use std::sync::Arc;

use super::colour_text::ColourWords;
use super::reading::{Draft, Spans, Syntax, draft, in_order};
use super::{Block, CardFile, CardSection, ColourText, ColumnName, ColumnSection, FoldName, InkSection, meaning};
use crate::card::{Fold, FoldKind, Format};
use crate::fault::{Fault, Result, Span, Text};
use crate::ink::{Colour, SpotInk};
use crate::unit::Length;

/// A card file that was read without fault: every name in it leads somewhere and every number makes sense.
#[derive(Clone, Debug)]
pub struct Model {
    /// The file as it was read.
    pub text: Arc<Text>,
    /// What it says.
    pub file: CardFile,
    /// Where it says so.
    pub spans: Spans,
}

/// Reads a card file.
///
/// # Errors
/// All faults of the file in one run, in its order: syntax, unknown keys and words (each with the nearest), values of the wrong kind,
/// bad units, wrong counts, names that lead nowhere, and what cannot be made.
pub fn read(text: &Arc<Text>, syntax: Syntax) -> Result<Model> {
    let Draft { value, spans, formatted, unsound, mut faults } = draft::<CardFile>(text, syntax);
    let Some(mut file) = value else { return Err(in_order(faults)) };
    faults.extend(meaning::faults(&file, &spans, &unsound, &formatted));
    if !faults.is_empty() {
        return Err(in_order(faults));
    }
    let nine = file.course.as_ref().is_some_and(|c| c.holes() == 9);
    if let Some(grid) = file.grid.as_mut().filter(|_| nine && spans.get("grid.columns").is_none()) {
        // The usual columns of a nine-hole card have no second nine.
        let second = |c: &ColumnSection| matches!(c.name(), ColumnName::SecondNine | ColumnName::In);
        grid.columns.retain(|c| !second(c));
    }
    Ok(Model { text: Arc::clone(text), file, spans })
}

impl Model {
    /// Size, bleed, safe margin and fold, with the usual panel widths where the file states none.
    pub fn format(&self) -> Format {
        self.file.card.format()
    }

    /// A colour of the card file in its own inks.
    pub fn colour(&self, text: &ColourText) -> Colour {
        // Reading has looked up every colour of the file; one made elsewhere that names no ink prints as black.
        resolve(text, &self.file.inks).unwrap_or(Colour::BLACK)
    }

    /// The spot inks of `[inks]`, by name; each plate once.
    pub fn spots(&self) -> Vec<SpotInk> {
        let mut spots: Vec<SpotInk> = Vec::new();
        for spot in self.file.inks.values().filter_map(InkSection::spot_ink) {
            if spots.iter().all(|s| s.name != spot.name) {
                spots.push(spot);
            }
        }
        spots
    }

    /// The files that the card file names (pictures, pages of artwork, the profile of its condition), as it writes them, each with its
    /// place; in the order of the file, a file named twice twice.
    pub fn external_files(&self) -> Vec<(String, Span)> {
        let mut files = Vec::new();
        if !matches!(self.file.card.condition.as_str(), "coated" | "uncoated") {
            files.push((self.file.card.condition.clone(), self.spans.at("card.condition")));
        }
        for (p, panel) in self.file.panel.iter().enumerate() {
            for (b, block) in panel.block.iter().enumerate() {
                let name = match block {
                    Block::Picture(picture) => &picture.file,
                    Block::Page(page) => &page.file,
                    _ => continue,
                };
                files.push((name.clone(), self.spans.at(&format!("panel[{p}].block[{b}].file"))));
            }
        }
        files.sort_by_key(|(_, span)| span.range.start);
        files
    }

    /// Where the value of `path` stands, such as `tees[2].lengths[6]`; the nearest part around it that the file states otherwise.
    pub fn span(&self, path: &str) -> Span {
        self.spans.at(path)
    }
}

/// A colour text as a colour, where its ink is known.
pub(super) fn resolve(text: &ColourText, inks: &BTreeMap<String, InkSection>) -> Option<Colour> {
    Some(match text.words().ok()? {
        ColourWords::White => Colour::WHITE,
        ColourWords::Black(tint) => Colour::Cmyk([0.0, 0.0, 0.0, tint]),
        ColourWords::Process(tints) => Colour::Cmyk(tints),
        ColourWords::Ink { name, tint } => {
            let ink = inks.get(name)?;
            match ink.spot_ink() {
                Some(spot) => spot.at(tint),
                None => Colour::Cmyk(ink.process.map(|v| v / 100.0 * tint)),
            }
        }
    })
}

impl InkSection {
    /// This ink as a spot, where it is one.
    pub fn spot_ink(&self) -> Option<SpotInk> {
        let name = Arc::from(self.spot.as_deref()?);
        Some(SpotInk { name, cmyk: self.process.map(|v| v / 100.0), lab: self.lab })
    }
}

impl FoldName {
    /// The fold's kind.
    pub const fn kind(self) -> FoldKind {
        match self {
            Self::None => FoldKind::None,
            Self::Half => FoldKind::Half,
            Self::Letter => FoldKind::Letter,
            Self::Accordion => FoldKind::Accordion,
            Self::Gate => FoldKind::Gate,
        }
    }

    /// The word in the card file.
    pub const fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Half => "half",
            Self::Letter => "letter",
            Self::Accordion => "accordion",
            Self::Gate => "gate",
        }
    }
}

impl ColumnSection {
    /// What the column holds.
    pub const fn name(&self) -> ColumnName {
        match self {
            Self::Plain(name) => *name,
            Self::Full(full) => full.column,
        }
    }
}

impl CardSection {
    /// A panel that folds inside is shorter by this much: 1/32 in for most papers (figure of the trade, published for letter folds).
    pub const ALLOWANCE: Length = Length::inches(1, 32);
    /// Bleed and safe margin where the file states none: 1/8 in (common practice).
    pub const EIGHTH: Length = Length::inches(1, 8);

    /// The most panels that an accordion has (judgement).
    pub const MOST_PANELS: usize = 12;

    /// How many panels each face has.
    pub fn panel_count(&self) -> usize {
        match self.fold {
            FoldName::None => 1,
            FoldName::Half => 2,
            FoldName::Letter | FoldName::Gate => 3,
            FoldName::Accordion => {
                self.panels.or(self.widths.as_ref().map(Vec::len)).unwrap_or(2).clamp(2, Self::MOST_PANELS)
            }
        }
    }

    /// Size, bleed, safe margin and fold. Stated panel widths hold, the last one taking what rounding leaves.
    pub fn format(&self) -> Format {
        let flat = self.size.0;
        let mut fold = Fold::usual(self.fold.kind(), flat, self.panel_count(), Self::ALLOWANCE);
        if let Some(widths) = &self.widths {
            fold.panels = widths.iter().map(|w| w.0).collect();
            if let Some(last) = fold.panels.pop() {
                let others: Length = fold.panels.iter().copied().sum();
                let rest = flat.width - others;
                fold.panels.push(if rest.near(last, Length::um(10)) { rest } else { last });
            }
        }
        let measure = |m: Option<super::Measure>| m.map_or(Self::EIGHTH, |m| m.0);
        Format { flat, bleed: measure(self.bleed), safe: measure(self.safe), fold }
    }
}

/// A fault that reading has at `path`.
pub(super) fn fault_at(spans: &Spans, path: &str, message: impl Into<String>) -> Fault {
    Fault::new(spans.at(path), message)
}
