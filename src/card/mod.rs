//! The product: a folded card with its faces, panels and grid, as every check reads it.
//!
//! Face coordinates: origin at the lower left of the trim, y up, as the finished face is looked at.
//! The outside is looked at from outside and the inside from inside, so they mirror each other through the paper.

mod claim;
mod element;
mod face;
mod facts;
mod format;
mod grid;
mod plates;
mod trace;

use crate::ink::{Condition, SpotInk};
use crate::scorecard::Scorecard;

pub use claim::Breach;
pub use element::{
    Blend, Element, Mark, Paint, PaintSpace, Painted, PathMark, PatternPaint, PictureMark, PictureSpace, Stroke,
    TextRun,
};
pub use face::{Face, FontUse, InkUse, PageBoxes, ProfileUse, Side};
pub use facts::{AnnotationUse, DeviceKind, DeviceSetting, FileFacts, GroupUse, LayerState, OutputIntent, Repair};
pub use format::{Fold, FoldKind, Format, Panel};
pub use grid::{Cell, Column, ColumnRole, Direction, GridPlan, Half, Row, RowRole};
pub use plates::{CardPlates, FacePlates, Pixels};
pub use trace::{NumberPlace, Overset, Place, Trace, Traced};

/// A card as every check reads it: what was asked for, and the faces that will print.
#[derive(Clone, Debug)]
pub struct Card {
    /// The card's title.
    pub title: String,
    /// The file it came from, as the user named it.
    pub file: String,
    /// Size, bleed, safe margin, fold.
    pub format: Format,
    /// Whether carts are used, so that a clip hides the top of the open card.
    pub carts: bool,
    /// Spot inks that the card defines, for judging how they look; empty where only the artwork's own look is known.
    pub spots: Vec<SpotInk>,
    /// The print condition it is judged for.
    pub condition: Condition,
    /// Outside and inside; one face only for a card printed on one side.
    pub faces: Vec<Face>,
    /// The grid, where one was made or recognised.
    pub grid: Option<GridPlan>,
    /// The numbers on it.
    pub numbers: Option<Scorecard>,
    /// Texts that must stand on the card word for word.
    pub required: Vec<String>,
    /// What the file that prints says of itself.
    pub facts: FileFacts,
    /// The plates of the faces, as far as they were drawn.
    pub plates: CardPlates,
    /// Text that did not fit; empty for artwork, which shows only what is there.
    pub oversets: Vec<Overset>,
    /// The way back to the card file; empty for artwork.
    pub trace: Trace,
}

impl Card {
    /// The face of a side.
    pub fn face(&self, side: Side) -> Option<&Face> {
        self.faces.iter().find(|f| f.side == side)
    }

    /// The panel of a side that holds the middle of `rect`.
    pub fn panel_at(&self, side: Side, rect: crate::unit::Rect) -> Option<Panel> {
        self.format.panels(side).into_iter().find(|p| p.rect.holds(rect.centre()))
    }

    /// A place on a face, with its panel and the way back to the card file or the PDF object.
    pub fn place(&self, side: Side, rect: crate::unit::Rect, object: Option<u32>) -> Place {
        let part = self.trace.part(side, rect);
        let source = match (part, self.face(side)) {
            (Some(part), _) => part.span.clone().into(),
            (None, Some(face)) => crate::fault::Source::Pdf { file: self.file.clone(), page: Some(face.page), object },
            (None, None) => crate::fault::Source::File(self.file.clone()),
        };
        Place {
            side: Some(side),
            panel: self.panel_at(side, rect).map(|p| p.number),
            what: part.map(|p| p.what.clone()),
            rect: Some(rect),
            source,
        }
    }
}
