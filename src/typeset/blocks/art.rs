//! Pages of artwork PDFs on their places.

use kurbo::Affine;

use super::Bed;
use crate::fault::{Fault, Result};
use crate::model::PageBlock;
use crate::typeset::Assets;
use crate::typeset::artworks::Artworks;
use crate::typeset::page::{Drawn, Page};
use crate::unit::Length;

/// A page whose trim differs from its place by more than this does not belong there: 0.5 mm. What is less is centred.
const OFF_SIZE: Length = Length::um(500);

/// Lays a page on its place without scaling: its trim on the place, turned like the panel. Where the place ends at the card's
/// trim the page's own bleed runs on; elsewhere it is cut at the place.
pub(super) fn set(
    page: &mut Page,
    bed: &Bed<'_>,
    block: &PageBlock,
    assets: &Assets,
    artworks: &mut Artworks,
) -> Result<()> {
    let artwork = artworks.get(&block.file, assets, &bed.at("file"))?;
    let count = artwork.page_count();
    if block.page > count {
        let message = format!("{} has no page {}", block.file, block.page);
        let hint = if count == 1 { "it has one page".to_owned() } else { format!("its pages are 1 to {count}") };
        return Err(Fault::new(bed.at("page"), message).hint(hint).into());
    }
    let source = artwork.source_page(block.page).map_err(|f| f.moved_to(&bed.at("file")))?;
    let (trim, place) = (source.boxes.on_face().trim.size(), bed.frame.size());
    let (dx, dy) = (place.width - trim.width, place.height - trim.height);
    if dx.abs() > OFF_SIZE || dy.abs() > OFF_SIZE {
        let message = format!(
            "page {} of {} is {} and its place is {}",
            block.page,
            block.file,
            trim.card_text(),
            place.card_text()
        );
        return Err(Fault::new(bed.span.clone(), message)
            .hint("pages are laid without scaling: export the page at the size of its place, or give it another place")
            .into());
    }
    let centred = Affine::translate((dx.half().to_pt(), dy.half().to_pt()));
    let matrix = (bed.frame.affine() * centred).as_coeffs();
    page.drawn.push(Drawn::Art { artwork, number: block.page, matrix, clip: bed.bled() });
    Ok(())
}
