//! # What it checks
//!
//! The contrast of every text against what lies under it, as both look on the paper of the print condition: inks and
//! paper go through its ICC profile to Lab and from there to luminance. A tee's yardage against its fill is the case
//! that matters. Type of 18 pt and more, or bold type of 14 pt and more, has a lower limit. Text over pictures,
//! patterns, blends and transparent things has no one ground and is told as not judged, with the count.
//!
//! # Why it matters
//!
//! A scorecard is read in sun and rain by people of all ages. Yellow figures on white paper, or black ones on a deep
//! green, look lively on a screen and are gone on the course.
//!
//! # What to do
//!
//! Darken the ink or lighten the ground; or set the figures in black, or as bare paper, on a fill of the tee's colour.
//!
//! # Source of the limit
//!
//! WCAG 2.2, 1.4.3 Contrast (Minimum), W3C: 4.5 : 1, and 3 : 1 for type of 18 pt and more or bold type of 14 pt and
//! more; the ratio is (L1 + 0.05) / (L2 + 0.05) of relative luminances.

use super::frame::SeenText;
use super::ground::{Ground, grounds};
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::Painted;
use crate::ink::{Colour, Overprint, contrast, layered};
use crate::unit::{Length, Limit, Quantity};

pub(super) const CHECK: Check = Check {
    id: "text-contrast",
    title: "Text that does not stand out from its ground",
    severity: Severity::Error,
    bounds: &[RATIO, LARGE],
    doc: include_str!("text_contrast.rs"),
    run,
};

const WCAG: &str = "WCAG 2.2, 1.4.3 (W3C)";
const RATIO: Bound = Bound::same("text-contrast.ratio", "contrast of text", Quantity::Ratio(4.5), WCAG);
const LARGE: Bound = Bound::same(
    "text-contrast.large",
    "contrast of type of 18 pt and more, or bold and of 14 pt and more",
    Quantity::Ratio(3.0),
    WCAG,
);

fn run(cx: &Context<'_>) -> Outcome {
    let mut found = Vec::new();
    for text in cx.texts() {
        match judge(cx, &text) {
            Judged::Reads => {}
            Judged::Fails(finding) => found.push(*finding),
            Judged::Unclear(why) => {
                let message = format!("text over {why} was not judged");
                let advice = "look at it on the proof";
                found.push(CHECK.finding(text.place(cx.card), message, advice).at(Severity::Note));
            }
        }
    }
    Outcome::from(found)
}

enum Judged {
    Reads,
    Fails(Box<Finding>),
    Unclear(&'static str),
}

/// The worst of the grounds under a text.
fn judge(cx: &Context<'_>, text: &SeenText<'_>) -> Judged {
    let Some(ink) = ink_of(text) else { return Judged::Unclear("something transparent or with a pattern of its own") };
    let blend = &text.element.blend;
    let over = if text.run.painted == Painted::Stroke { blend.overprint_stroke } else { blend.overprint_fill };
    let overprint = Overprint::of(over, blend.overprint_mode);
    let mut worst: Option<(f64, Colour, Colour)> = None;
    let mut unclear = None;
    for ground in grounds(text.face, text.index, text.element.bounds) {
        match ground {
            Ground::Unclear(why) => unclear = Some(why),
            Ground::Flat(under) => {
                let top = layered(ink, &under, overprint);
                let ratio = contrast(cx.judge.lab(&top), cx.judge.lab(&under));
                if worst.as_ref().is_none_or(|(least, ..)| ratio < *least) {
                    worst = Some((ratio, top, under));
                }
            }
        }
    }
    let large = text.run.size >= Length::pt(18) || text.run.bold && text.run.size >= Length::pt(14);
    let limit = Limit::AtLeast(cx.limit(if large { &LARGE } else { &RATIO }));
    // A ground that fails is told even where another one is unclear.
    match (worst, unclear) {
        (Some((ratio, top, under)), why) => match (limit.broken_by(Quantity::Ratio(ratio)), why) {
            (Some(reading), _) => {
                let message = format!(
                    "text in {} on {} reads {}; {}",
                    named(&top),
                    named(&under),
                    reading.measured(),
                    reading.limit()
                );
                let advice = advice(cx, &under);
                Judged::Fails(Box::new(CHECK.finding(text.place(cx.card), message, advice).with(reading)))
            }
            (None, Some(why)) => Judged::Unclear(why),
            (None, None) => Judged::Reads,
        },
        (None, why) => Judged::Unclear(why.unwrap_or("nothing that could be seen")),
    }
}

/// The one colour of a text; `None` where it has several, a pattern, or lets its ground through.
fn ink_of<'a>(text: &SeenText<'a>) -> Option<&'a Colour> {
    let blend = &text.element.blend;
    let alpha = if text.run.painted == Painted::Stroke { blend.alpha_stroke } else { blend.alpha_fill };
    if blend.mode.is_some() || blend.soft_mask || alpha < 1.0 {
        return None;
    }
    // Letters both filled and stroked are read by their fill.
    text.paints().next()?.flat()
}

fn named(colour: &Colour) -> String {
    if colour.is_paper() { "bare paper".to_owned() } else { colour.to_string() }
}

/// What black and bare paper would read on the same ground.
fn advice(cx: &Context<'_>, under: &Colour) -> String {
    let ground = cx.judge.lab(under);
    let black = contrast(cx.judge.lab(&Colour::BLACK), ground);
    let paper = contrast(cx.judge.paper(), ground);
    let (best, ratio) = if black >= paper { ("black", black) } else { ("bare paper", paper) };
    let ratio = Quantity::Ratio(ratio);
    if under.is_paper() {
        format!("darken the ink, or set the text in black on a fill of that colour (black on paper reads {ratio})")
    } else {
        format!("set it in {best}, which reads {ratio} on this ground, or change the ground")
    }
}
