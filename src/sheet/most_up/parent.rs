//! Parent sheets cut down to press sheets before printing.

use super::super::Grain;
use super::{EFFORT, Lie, MostUp, Spacing, UpRequest, most_up};
use crate::fault::Result;
use crate::unit::{Length, Size};

/// The sheets that a press takes, whichever side is in the grippers.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct SheetRange {
    /// The smallest.
    pub least: Size,
    /// The largest.
    pub most: Size,
}

impl SheetRange {
    /// Whether a sheet passes, either side first.
    pub fn takes(&self, sheet: Size) -> bool {
        let sorted = |s: Size| (s.width.min(s.height), s.width.max(s.height));
        let ((short, long), (least_short, least_long)) = (sorted(sheet), sorted(self.least));
        let (most_short, most_long) = sorted(self.most);
        (least_short..=most_short).contains(&short) && (least_long..=most_long).contains(&long)
    }
}

/// A parent sheet cut into equal press sheets that all lie the same way.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct CutDown {
    /// The press sheet, its width along the parent's width.
    pub sheet: Size,
    /// Parts along the parent's width.
    pub across: i64,
    /// Parts along its height.
    pub up: i64,
}

impl CutDown {
    /// Press sheets out of a parent.
    pub const fn out(&self) -> i64 {
        self.across * self.up
    }

    /// The grain of the press sheet by its own sides, where the parent's grain runs so: cutting leaves it as it was.
    pub fn grain(&self, grain: Grain) -> Grain {
        let upright = |size: Size| size.height >= size.width;
        let parent = Size::new(self.sheet.width * self.across, self.sheet.height * self.up);
        if upright(parent) == upright(self.sheet) {
            return grain;
        }
        match grain {
            Grain::Long => Grain::Short,
            Grain::Short => Grain::Long,
        }
    }
}

/// Every way to cut a parent into equal parts that the press takes, the whole sheet first; parts that would not be whole units are
/// rounded down by less than 3 nm.
pub fn equal_parts(parent: Size, range: &SheetRange) -> Vec<CutDown> {
    let shortest = range.least.width.min(range.least.height).max(Length::units(1));
    let (across, up) = (parent.width.times(shortest), parent.height.times(shortest));
    let ways = (1..=across).flat_map(|a| (1..=up).map(move |u| (a, u)));
    let cut = |(across, up)| CutDown { sheet: Size::new(parent.width / across, parent.height / up), across, up };
    let mut cuts: Vec<CutDown> = ways.map(cut).filter(|cut| range.takes(cut.sheet)).collect();
    cuts.sort_by_key(|cut| (cut.out(), cut.across));
    cuts
}

/// The most press sheets of one size out of a parent, lying both ways where that gives more; sheets share cuts.
///
/// # Errors
/// A sheet without a size.
pub fn sheets_out_of(parent: Size, sheet: Size) -> Result<MostUp> {
    let (bleed, spacing) = (Length::ZERO, Spacing::CommonCuts);
    most_up(&UpRequest { room: parent, trim: sheet, bleed, spacing, lie: Lie::Mixed, effort: EFFORT })
}
