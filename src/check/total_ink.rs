//! # What it checks
//!
//! The sum of all inks on the plates, spots included, as overprint and transparency leave it: the mean over a square of 15 mm, and over a
//! spot of 1 mm, each where it is highest on its face.
//!
//! # Why it matters
//!
//! Where more ink lies than the paper takes up, it stays wet: the next sheet takes it off, folds crack and mark, and the pile sticks. A
//! small spot of much ink sets off; a large one stops the press.
//!
//! # What to do
//!
//! Separate pictures again with a profile of the print condition, which keeps its limit; build dark flat colours from more black and less
//! of the three others; let spots knock out what lies below.
//!
//! # Source of the limit
//!
//! The print condition's own limit: on coated stock 320 %, the mean over a 15 mm square above which the Ghent Workgroup 2022 specification
//! warns for sheetfed offset; on uncoated stock 280 %, about 260 to 280 being common practice. That the limit also holds for a spot of
//! 1 mm is judgement.

use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::{FacePlates, Pixels};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "total-ink",
    title: "More ink than the paper takes",
    severity: Severity::Warning,
    bounds: &[],
    doc: include_str!("total_ink.rs"),
    run,
};

/// The square of the Ghent Workgroup.
const SQUARE: Length = Length::mm(15);
/// A spot that sets off.
const SPOT: Length = Length::mm(1);

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    let mut left_out = None;
    for face in &cx.card.faces {
        // Too much ink is too much though more should lie there.
        let plates = match cx.card.plates.of(face.side) {
            Ok(plates) => plates,
            Err(why) => {
                left_out = Some(why);
                continue;
            }
        };
        left_out = left_out.or(cx.card.plates.whole(face.side).err());
        let sums = Sums::of(plates);
        let square = judge(cx, plates, &sums, SQUARE);
        let spot = if square.is_some() { None } else { judge(cx, plates, &sums, SPOT) };
        found.extend(square.or(spot));
    }
    match left_out {
        Some(why) if found.is_empty() => Outcome::skipped(why),
        _ => Outcome::from(found),
    }
}

/// The place of most ink over squares of a side, where that is too much.
fn judge(cx: &Context<'_>, plates: &FacePlates, sums: &Sums, side: Length) -> Option<Finding> {
    let (mean, at) = sums.most(plates, side)?;
    let limit = Limit::AtMost(Quantity::Percent(cx.card.condition.total_ink));
    // Plates hold tints to 0.4 %: whole percents are what can be told of four inks and more.
    let mean = mean.round();
    let reading = limit.broken_by(Quantity::Percent(mean))?;
    let place = cx.card.place(plates.side, plates.rect(at), None);
    let inks = strongest(plates, at);
    let (measured, allowed) = (reading.measured(), reading.limit());
    let message =
        format!("all inks together come to {measured} in the mean over a square of {side} ({inks}); {allowed}");
    let less = mean - cx.card.condition.total_ink;
    let advice = format!(
        "take {less:.0} % out of it: more black and less of the others, or a separation by the condition's profile"
    );
    Some(CHECK.finding(place, message, advice).with(reading))
}

/// The inks at a place and how much of each, in the mean.
fn strongest(plates: &FacePlates, at: Pixels) -> String {
    let count = at.each().count().max(1) as f64;
    let mean = |plane: &Vec<u8>| {
        at.each().filter_map(|(x, y)| plane.get(y * plates.size.0 + x)).map(|v| f64::from(*v)).sum::<f64>()
            / count
            / 2.55
    };
    let each = plates.planes.iter().map(|(ink, plane)| (ink, mean(plane))).filter(|(_, mean)| *mean >= 0.5);
    each.map(|(ink, mean)| format!("{ink} {mean:.0} %")).collect::<Vec<_>>().join(", ")
}

/// Running sums of total ink, so that the mean of any square costs four reads.
struct Sums {
    width: usize,
    sums: Vec<f64>,
}

impl Sums {
    fn of(plates: &FacePlates) -> Self {
        let (w, h) = plates.size;
        let totals = plates.totals();
        let mut sums = vec![0.0; (w + 1) * (h + 1)];
        for (y, row) in totals.chunks_exact(w.max(1)).enumerate() {
            let mut line = 0.0;
            for (x, total) in row.iter().enumerate() {
                line += f64::from(*total);
                let above = sums.get(y * (w + 1) + x + 1).copied().unwrap_or(0.0);
                if let Some(place) = sums.get_mut((y + 1) * (w + 1) + x + 1) {
                    *place = above + line;
                }
            }
        }
        Self { width: w + 1, sums }
    }

    /// The highest mean over squares, and the first square that has it.
    fn most(&self, plates: &FacePlates, side: Length) -> Option<(f64, Pixels)> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few pixels")]
        let n = (side.to_in() * plates.ppi).round().max(1.0) as usize;
        let (w, h) = plates.size;
        let (across, down) = (n.min(w), n.min(h));
        let at = |x: usize, y: usize| self.sums.get(y * self.width + x).copied().unwrap_or(0.0);
        let mut most: Option<(f64, Pixels)> = None;
        for y in 0..=h.checked_sub(down)? {
            for x in 0..=w.checked_sub(across)? {
                let sum = at(x + across, y + down) - at(x, y + down) - at(x + across, y) + at(x, y);
                let mean = sum / (across * down) as f64;
                if most.is_none_or(|(known, _)| mean > known + 1.0e-6) {
                    most = Some((mean, Pixels { across: (x, x + across), down: (y, y + down) }));
                }
            }
        }
        most
    }
}
