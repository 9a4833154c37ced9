//! # What it checks
//!
//! The contrast of every text against what lies under it, as both look on the paper of the print condition: inks and
//! paper go through its ICC profile to Lab and from there to luminance. A tee's yardage against its fill is the case
//! that matters. Type of 18 pt and more, or bold type of 14 pt and more, has a lower limit. Text over pictures,
//! patterns, blends and transparent things is held against what lies around it on the plates, the worst tenth left aside;
//! where there are no plates it is told as not judged, with the count.
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

use std::collections::BTreeMap;

use super::frame::{SeenText, named};
use super::ground::Ground;
use super::{Bound, Check, Context, Finding, Outcome, Severity};
use crate::card::Painted;
use crate::ink::{Colour, Lab, Overprint, contrast, delta_e2000, layered};
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
    for ground in cx.grounds(text.face.side, text.index, text.element.bounds) {
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
                let how = if top == *ink { "" } else { " overprinting" };
                let (over, below) = (named(ink), named(&under));
                let message =
                    format!("text in {over}{how} on {below} reads {}; {}", reading.measured(), reading.limit());
                let advice = advice(cx, ink, &under, limit);
                Judged::Fails(Box::new(CHECK.finding(text.place(cx.card), message, advice).with(reading)))
            }
            (None, Some(why)) => on_plates(cx, text, ink, why, limit),
            (None, None) => Judged::Reads,
        },
        (None, Some(why)) => on_plates(cx, text, ink, why, limit),
        (None, None) => Judged::Unclear("nothing that could be seen"),
    }
}

/// How far around a text its ground is looked at on the plates, and what of it next to the letters is left out.
const AROUND: [Length; 2] = [Length::um(700), Length::um(200)];
/// What lies nearer than this to a text's own colour is the text, or another one of its kind.
const OWN: f64 = 10.0;

/// Contrast with what lies around the text on the plates: the ground that nine tenths of it do not fall below.
fn on_plates(cx: &Context<'_>, text: &SeenText<'_>, ink: &Colour, what: &'static str, limit: Limit) -> Judged {
    let Some(plates) = cx.plates(text.face.side) else { return Judged::Unclear(what) };
    let [far, near] = AROUND;
    let bounds = text.element.bounds;
    let (outer, inner) = (plates.inside(bounds.grown(far)), plates.inside(bounds.grown(near)));
    let within = |(x, y): (usize, usize)| {
        (inner.across.0..inner.across.1).contains(&x) && (inner.down.0..inner.down.1).contains(&y)
    };
    let looks = plates.planes.iter().zip(&plates.looks).filter_map(|((ink, _), look)| Some((ink, look.as_ref()?)));
    let judge = cx.judge.clone().with_looks(looks);
    let own = judge.lab(ink);
    let mut known: BTreeMap<Vec<u8>, Option<(f64, Lab)>> = BTreeMap::new();
    let mut grounds: Vec<(f64, Lab)> = Vec::new();
    for (x, y) in outer.each().filter(|at| !within(*at)) {
        let amounts = plates.amounts(x, y);
        let ratio = *known.entry(amounts).or_insert_with_key(|amounts| {
            let ground = judge.lab(&plates.colour(amounts));
            (delta_e2000(own, ground) >= OWN).then(|| (contrast(own, ground), ground))
        });
        grounds.extend(ratio);
    }
    grounds.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some((worst, ground)) = grounds.get(grounds.len() / 10).copied() else { return Judged::Unclear(what) };
    let Some(reading) = limit.broken_by(Quantity::Ratio(worst)) else { return Judged::Reads };
    let (measured, allowed) = (reading.measured(), reading.limit());
    let message = format!("text in {} over {what} reads {measured} where it reads worst; {allowed}", named(ink));
    let paper = judge.paper().l;
    let far = |l: f64| limit.broken_by(Quantity::Ratio(contrast(own, Lab { l, ..ground }))).is_none();
    let steps = (1..=100).map(f64::from).flat_map(|step| [ground.l + step, ground.l - step]);
    let advice = match steps.filter(|l| (0.0..=paper).contains(l)).find(|l| far(*l)) {
        Some(l) => {
            let (how, from) = (if l > ground.l { "lighten" } else { "darken" }, ground.l);
            format!("{how} the ground under it from L* {from:.0} to L* {l:.0}, or set the text on a flat fill")
        }
        None => {
            format!("no ground suits this ink (L* {:.0}): set the text darker or lighter, or on a flat fill", own.l)
        }
    };
    Judged::Fails(Box::new(CHECK.finding(text.place(cx.card), message, advice).with(reading)))
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

/// What would read well enough: black or bare paper on this ground, or black on a lighter one.
fn advice(cx: &Context<'_>, ink: &Colour, under: &Colour, limit: Limit) -> String {
    let reads = |over: &Colour, below: &Colour| Quantity::Ratio(contrast(cx.judge.lab(over), cx.judge.lab(below)));
    let enough = |ratio: &Quantity| limit.broken_by(*ratio).is_none();
    let (black, paper) = (reads(&Colour::BLACK, under), reads(&Colour::WHITE, under));
    if under.is_paper() {
        let on_fill = Some(reads(&Colour::BLACK, ink)).filter(enough);
        let fill = on_fill.map(|ratio| format!("; black on a fill of the text's colour reads {ratio}"));
        return format!("darken the ink, or set it in black, which reads {black} here{}", fill.unwrap_or_default());
    }
    let (best, ratio) = if black.value() >= paper.value() { ("black", black) } else { ("bare paper", paper) };
    if enough(&ratio) {
        return format!("set it in {best}, which reads {ratio} on this ground");
    }
    if best == "bare paper" {
        let darker = (1..20).map(|n| n * 5).find_map(|more| {
            let ratio = reads(&Colour::WHITE, &blackened(under, f64::from(more) / 100.0)?);
            enough(&ratio).then(|| format!("give the ground {more} % more black, on which bare paper reads {ratio}"))
        });
        return darker.unwrap_or_else(|| format!("darken the ground: even bare paper reads only {ratio} on it"));
    }
    let lighter = (1..20).rev().map(|n| n * 5).find_map(|share| {
        let ratio = reads(&Colour::BLACK, &thinned(under, f64::from(share) / 100.0)?);
        enough(&ratio).then(|| format!("lighten the ground to {share} % of its tints, on which black reads {ratio}"))
    });
    lighter.unwrap_or_else(|| format!("lighten the ground: even black reads only {ratio} on it"))
}

/// A colour with all its tints at a share of what they are; `None` where it has none of its own.
fn thinned(colour: &Colour, share: f64) -> Option<Colour> {
    Some(match colour {
        Colour::Gray(g) => Colour::Gray(1.0 - (1.0 - g) * share),
        Colour::Cmyk(cmyk) => Colour::Cmyk(cmyk.map(|v| v * share)),
        Colour::Inks { tints, look } => Colour::Inks {
            tints: tints.iter().map(|(ink, tint)| (ink.clone(), tint * share)).collect(),
            look: Box::new(thinned(look, share)?),
        },
        Colour::Calibrated { plain, .. } => thinned(plain, share)?,
        Colour::Rgb(_) | Colour::Lab(_) => return None,
    })
}

/// Process tints with that much more black; `None` where that is too much, or where the colour has no black of its own.
fn blackened(colour: &Colour, more: f64) -> Option<Colour> {
    match colour {
        Colour::Cmyk([c, m, y, k]) if k + more <= 1.0 => Some(Colour::Cmyk([*c, *m, *y, k + more])),
        _ => None,
    }
}
