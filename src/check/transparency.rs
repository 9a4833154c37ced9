//! # What it checks
//!
//! Which kinds of transparency each face uses: blend modes, soft masks, marks that are partly see-through. Found as
//! warnings are groups that blend in RGB or another space than the inks of the press, and black that overprints
//! inside an isolated group, where it knocks out.
//!
//! # Why it matters
//!
//! Colours that blend in RGB come out of the press differently from the screen, and spots are lost in them. In an
//! isolated group overprint has nothing to print over: black that should overprint leaves white edges.
//!
//! # What to do
//!
//! Set the document's blend space to CMYK, and take black text out of effects. PDF/X-1a allows no transparency at
//! all.
//!
//! # Source of the limit
//!
//! ISO 32000-1, 11.4.5 and 11.7.4; Ghent Workgroup 2022 specification: transparency groups in DeviceCMYK.

use std::collections::BTreeSet;

use super::frame::{Coat, named, page_place};
use super::{Check, Context, Finding, Outcome, Severity};
use crate::card::Face;
use crate::ink::Overprint;

pub(super) const CHECK: Check = Check {
    id: "transparency",
    title: "Transparency and where it blends",
    severity: Severity::Note,
    bounds: &[],
    doc: include_str!("transparency.rs"),
    run,
};

fn run(cx: &Context<'_>) -> Outcome {
    let mut found: Vec<Finding> = cx.card.faces.iter().flat_map(|face| judge(cx, face)).collect();
    let apart = |coat: &Coat<'_>| coat.element.blend.isolated && coat.overprint() != Overprint::KnockOut;
    for coat in cx.coats().filter(apart) {
        let Some(colour) = coat.paint.flat().filter(|c| c.is_black_only()) else { continue };
        let message = format!(
            "{} in {} overprints inside an isolated group, where it knocks out",
            coat.shape.words(),
            named(colour)
        );
        let advice = "take it out of the effect, or let the group not be isolated";
        found.push(CHECK.finding(coat.place(cx.card), message, advice).at(Severity::Warning));
    }
    Outcome::from(found)
}

fn judge(cx: &Context<'_>, face: &Face) -> Vec<Finding> {
    let mut kinds: BTreeSet<String> = BTreeSet::new();
    for element in &face.elements {
        let blend = &element.blend;
        kinds.extend(blend.mode.iter().map(|mode| format!("blend mode {mode}")));
        if blend.soft_mask {
            kinds.insert("soft masks".to_owned());
        }
        if blend.alpha_fill < 1.0 || blend.alpha_stroke < 1.0 {
            kinds.insert("see-through marks".to_owned());
        }
    }
    let mut found = Vec::new();
    if !kinds.is_empty() {
        let list: Vec<String> = kinds.into_iter().collect();
        let message = format!("the {} uses transparency: {}", face.side, list.join(", "));
        found.push(CHECK.finding(page_place(cx.card, face), message, "look at it on a proof that shows overprint"));
    }
    let blending = face.elements.iter().any(|e| e.blend.sees_through());
    let spaces: BTreeSet<&str> =
        face.groups.iter().filter_map(|g| g.space.as_deref()).filter(|s| *s != "CMYK").collect();
    for space in spaces.into_iter().filter(|_| blending) {
        let message = format!("a group on the {} blends in {space}, not in the inks of the press", face.side);
        let advice = "set the document's blend space to CMYK and export again";
        found.push(CHECK.finding(page_place(cx.card, face), message, advice).at(Severity::Warning));
    }
    found
}
