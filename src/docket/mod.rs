//! The docket: one page that goes with the press file through the shop. It says what is printed on what, shows how the cards lie on
//! the sheet, and binds itself to the press file by its digest. It is made with `printpdf`; the press file never is.

mod leaf;
mod picture;
mod words;

use crate::fault::Result;
use crate::ink::Ink;
use crate::sheet::Sheet;
use crate::unit::Length;
use leaf::Leaf;

/// What a docket says.
#[derive(Clone, Copy, Debug)]
pub struct Docket<'a> {
    /// Name or number of the job.
    pub job: &'a str,
    /// The day, YYYY-MM-DD.
    pub day: &'a str,
    /// The file that the card came from.
    pub card: &'a str,
    /// Finished cards that are wanted.
    pub quantity: Option<u32>,
    /// The sheet.
    pub sheet: &'a Sheet,
    /// The inks of the card.
    pub inks: &'a [Ink],
    /// The print condition, by the identifier of its characterisation.
    pub condition: &'a str,
    /// SHA-256 digest of the card's pages.
    pub card_digest: &'a str,
    /// SHA-256 digest of the press file.
    pub press_digest: &'a str,
    /// Findings that were waived, each with its reason.
    pub waivers: &'a [String],
}

/// Writes the docket as a PDF of one page, 8.5 x 11 in. The same facts give the same bytes.
///
/// # Errors
/// A built-in font cannot be read.
pub fn write(docket: &Docket<'_>) -> Result<Vec<u8>> {
    let mut leaf = Leaf::new()?;
    let margin = Length::inches(1, 2);
    let mut y = Length::inches(21, 2);
    y -= Length::pt(18);
    leaf.heading(margin, y, Length::pt(19), docket.job);
    y -= Length::pt(16);
    let about = format!("Docket of {} · {} · not approved", docket.day, docket.card);
    leaf.text(margin, y, Length::pt(9), &about);
    y -= Length::pt(8);
    leaf.rule(margin, y, Length::inches(8, 1), y, Length::pt(1));

    let foot = words::foot(&mut leaf, docket, margin)?;
    let left = words::facts(&mut leaf, docket, margin, y)?;
    // The forms stand beside the facts, one under the other.
    picture::forms(&mut leaf, docket.sheet, Length::inches(17, 4), y - Length::pt(14), foot.min(left) + Length::pt(10));
    leaf.finish(docket.job, docket.day)
}
