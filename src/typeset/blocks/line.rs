//! Lines to sign or date on.

use super::{Bed, text};
use crate::fault::Result;
use crate::font::OpenFont;
use crate::ink::Colour;
use crate::model::{LineBlock, LinePurpose};
use crate::typeset::lettering::Lettering;
use crate::typeset::page::Page;
use crate::unit::Length;

/// Captions are 7 pt: one-ink text of 5 to 6 pt is the least in practice.
const CAPTION: Length = Length::pt(7);
const WEIGHT: Length = Length::units(Length::PER_PT / 2);

/// What stands under the line.
pub(super) fn caption(block: &LineBlock) -> &str {
    match (&block.caption, block.purpose) {
        (Some(caption), _) => caption,
        (None, LinePurpose::Signature) => "Signature",
        (None, LinePurpose::Date) => "Date",
        (None, LinePurpose::Other) => "",
    }
}

/// Sets the caption on the floor of the place, the line over it, and leaves what is over the line to write in.
pub(super) fn set(page: &mut Page, bed: &Bed<'_>, block: &LineBlock) -> Result<()> {
    let colour = block.colour.as_ref().map_or(Colour::BLACK, |c| bed.model.colour(c));
    let size = bed.frame.size();
    let lettering = Lettering::text(OpenFont::Narrow, CAPTION)?;
    let words = caption(block);
    let mut y = size.height - WEIGHT.half();
    if !words.is_empty() {
        let baseline = size.height - lettering.depth().half();
        text::line(page, bed, words, &lettering, (Length::ZERO, baseline), &colour);
        y = baseline - lettering.cap() - CAPTION.scaled(0.4);
        if y < Length::ZERO {
            bed.overset(page, words, size.height, size.height - y, true);
        }
    }
    page.rule(bed.frame.point(Length::ZERO, y), bed.frame.point(size.width, y), WEIGHT, &colour);
    Ok(())
}
