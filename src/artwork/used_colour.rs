use std::collections::BTreeMap;
use std::sync::Arc;

use lopdf::ObjectId;

use super::space::Space;
use super::state::{PaintSource, State};
use super::surface::{Pattern, PatternKind};
use crate::card::{InkUse, Paint, PaintSpace, PatternPaint, ProfileUse, Stroke};
use crate::ink::{Colour, Ink};
use crate::unit::Length;

/// The inks and profiles that a page's paint names, and the spaces that its pattern cells paint with.
#[derive(Debug, Default)]
pub(super) struct UsedColour {
    inks: Vec<InkUse>,
    profiles: Vec<ProfileUse>,
    /// By the object of the cell.
    tiled: BTreeMap<ObjectId, Vec<PaintSpace>>,
    /// The cells that are being shown, one inside the other.
    cells: Vec<Option<ObjectId>>,
}

impl UsedColour {
    /// The inks by name and the profiles by object.
    pub(super) fn finish(mut self) -> (Vec<InkUse>, Vec<ProfileUse>) {
        self.inks.sort_by(|a, b| a.ink.cmp(&b.ink));
        self.profiles.sort();
        (self.inks, self.profiles)
    }

    /// The cell of a tiling pattern begins.
    pub(super) fn begin_cell(&mut self, object: Option<ObjectId>) {
        self.cells.push(object);
    }

    /// The cell ends.
    pub(super) fn end_cell(&mut self) {
        self.cells.pop();
    }

    /// Notes a paint: the colorants that its space names, and the plates that its colour reaches.
    pub(super) fn note_paint(&mut self, paint: &PaintSource, space: &Arc<Space>) {
        match paint {
            PaintSource::Flat(colour) => self.note_colour(colour, space),
            PaintSource::Pattern(pattern) => match &pattern.kind {
                PatternKind::Shading(shading) => self.note_space(&shading.space),
                PatternKind::Tiling { colour: Some(colour), .. } => self.note_colour(colour, space),
                PatternKind::Tiling { .. } => self.note_cell(pattern),
            },
            PaintSource::Nothing => {}
        }
    }

    /// A cell inside another is shown once only, and what it paints with is the outer one's too.
    fn note_cell(&mut self, pattern: &Pattern) {
        let inner = pattern.object.and_then(|id| self.tiled.get(&id)).cloned().unwrap_or_default();
        for space in &inner {
            self.note_in_cells(space);
        }
    }

    fn note_in_cells(&mut self, paint: &PaintSpace) {
        for cell in self.cells.iter().flatten() {
            let known = self.tiled.entry(*cell).or_default();
            if !known.contains(paint) {
                known.push(paint.clone());
            }
        }
    }

    fn note_colour(&mut self, colour: &Colour, space: &Arc<Space>) {
        self.note_space(space);
        for (ink, _) in colour.tints().unwrap_or_default() {
            if !self.inks.iter().any(|known| known.ink == ink) {
                self.inks.push(InkUse { ink, solid: None });
            }
        }
    }

    /// Notes a space that something paints with.
    pub(super) fn note_space(&mut self, space: &Space) {
        if let Space::Pattern(under) = space {
            if let Some(under) = under {
                self.note_space(under);
            }
            return;
        }
        if !self.cells.is_empty() {
            self.note_in_cells(&space.as_paint());
        }
        self.note_inside(space);
    }

    /// Notes the inks and profiles of a space and of the spaces inside it.
    fn note_inside(&mut self, space: &Space) {
        match space {
            Space::Inks { inks, alternate, .. } => {
                self.note_inks(inks, space);
                self.note_inside(alternate);
            }
            Space::Indexed { base, .. } | Space::Pattern(Some(base)) => self.note_inside(base),
            Space::Calibrated { profile: Some(profile), .. } if !self.profiles.contains(profile) => {
                self.profiles.push(profile.clone());
            }
            _ => {}
        }
    }

    fn note_inks(&mut self, inks: &[Ink], space: &Space) {
        for (at, ink) in inks.iter().enumerate().filter(|(_, ink)| **ink != Ink::None) {
            let mut solid = vec![0.0; inks.len()];
            if let Some(tint) = solid.get_mut(at) {
                *tint = 1.0;
            }
            let look = match space.colour(&solid) {
                Colour::Inks { look, .. } => Some(*look),
                _ => None,
            };
            let entry = InkUse { ink: ink.clone(), solid: look };
            if !self.inks.contains(&entry) {
                self.inks.retain(|known| known.ink != entry.ink || known.solid.is_some());
                self.inks.push(entry);
            }
        }
    }

    /// A paint as an element states it.
    pub(super) fn paint(&self, source: &PaintSource) -> Option<Paint> {
        match source {
            PaintSource::Flat(colour) => Some(Paint::Flat(colour.clone())),
            PaintSource::Pattern(pattern) => Some(Paint::Pattern(self.pattern(pattern))),
            PaintSource::Nothing => None,
        }
    }

    fn pattern(&self, pattern: &Pattern) -> PatternPaint {
        let (kind, spaces) = match &pattern.kind {
            PatternKind::Tiling { colour: Some(colour), .. } => ("tiling", vec![PaintSpace::of(colour)]),
            PatternKind::Tiling { .. } => {
                ("tiling", pattern.object.and_then(|id| self.tiled.get(&id)).cloned().unwrap_or_default())
            }
            PatternKind::Shading(shading) => {
                let kind = match shading.kind {
                    1 => "function shading",
                    2 => "axial shading",
                    3 => "radial shading",
                    4 | 5 => "triangle mesh",
                    _ => "patch mesh",
                };
                (kind, vec![shading.space.as_paint()])
            }
        };
        PatternPaint { kind: kind.to_owned(), spaces }
    }

    /// The stroke of the state as an element states it.
    pub(super) fn stroke(&self, state: &State) -> Option<Stroke> {
        self.paint(&state.stroke).map(|paint| Stroke {
            paint,
            width: Length::from_pt(state.effective_width()),
            dashed: !state.dash.lengths.is_empty(),
        })
    }
}
