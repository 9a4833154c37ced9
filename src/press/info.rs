use super::Standard;
use crate::artwork::Artwork;
use crate::card::Side;
use crate::ink::{Condition, Ink, SpotInk};

/// The page that prints as a face.
#[derive(Clone, Copy, Debug)]
pub struct Art<'a> {
    /// The face.
    pub side: Side,
    /// The file.
    pub artwork: &'a Artwork,
    /// The page in it, from 1.
    pub page: u32,
}

/// The moment a job is dated with, in the three ways it is written. It is given, never taken from a clock.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stamp {
    /// As a PDF date (ISO 32000-1, 7.9.4): `D:20270115000000Z`.
    pub pdf: String,
    /// As in XMP: `2027-01-15T00:00:00Z`.
    pub iso: String,
    /// For people: `2027-01-15`.
    pub day: String,
}

/// What a press file says about itself.
#[derive(Clone, Debug)]
pub struct PressInfo<'a> {
    /// What the file keeps.
    pub standard: Standard,
    /// Name or number of the job.
    pub job: &'a str,
    /// The date.
    pub date: &'a Stamp,
    /// Every ink of the job, in the order of the strip.
    pub inks: &'a [Ink],
    /// The spot inks among them, with their process alternates.
    pub spots: &'a [SpotInk],
    /// The print condition, for the output intent.
    pub condition: &'a Condition,
    /// Digest of what was approved or is to be approved.
    pub digest: &'a str,
    /// Whether it was approved.
    pub approved: bool,
    /// Findings that were waived, each with its reason.
    pub waivers: &'a [String],
}

impl PressInfo<'_> {
    /// The inks that make plates.
    pub(super) fn plates(&self) -> impl Iterator<Item = &Ink> {
        self.inks.iter().filter(|ink| !matches!(ink, Ink::All | Ink::None))
    }
}
