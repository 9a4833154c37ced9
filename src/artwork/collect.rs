use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use kurbo::{BezPath, Point, Rect};

use lopdf::ObjectId;

use super::boxes::rounded;
use super::extent::{self, shared};
use super::font::Font;
use super::image::Image;
use super::state::{PaintSource, SoftMask, State};
use super::surface::{Form, GlyphRun, Group, Pattern, Shading, Surface, Winding};
use super::text_run;
use super::used_colour::UsedColour;
use crate::card::{Blend, Element, FontUse, GroupUse, InkUse, Mark, Painted, PathMark, PictureMark, ProfileUse};

/// The surface that lists what is painted.
#[derive(Debug, Default)]
pub(super) struct Collector {
    elements: Vec<Element>,
    clips: Vec<Rect>,
    groups: Vec<Blend>,
    /// For each open group, whether marks in it are apart from what lies below.
    apart: Vec<bool>,
    group_uses: BTreeSet<GroupUse>,
    fonts: BTreeMap<(String, Option<u32>), FontUse>,
    colours: UsedColour,
    /// Inside pattern cells, masks and uncoloured glyphs nothing is an element of its own.
    within: usize,
    /// The Type 3 font that was shown last, whose glyphs are drawn next.
    drawn_font: Option<(String, Option<u32>)>,
    /// For each open glyph, whether it counts as `within`.
    glyphs: Vec<bool>,
    /// The pictures in pattern cells, by the cell's object; they print wherever the pattern does.
    tiled: BTreeMap<ObjectId, Vec<PictureMark>>,
    /// The pattern cells that are being shown.
    cells: Vec<ObjectId>,
    /// How many elements are kept, and whether there were more.
    most: usize,
    overfull: bool,
}

/// What the collector saw on a page.
#[derive(Debug)]
pub(super) struct Collected {
    pub(super) elements: Vec<Element>,
    pub(super) fonts: Vec<FontUse>,
    pub(super) inks: Vec<InkUse>,
    pub(super) groups: Vec<GroupUse>,
    pub(super) profiles: Vec<ProfileUse>,
}

/// The clip that lets nothing through.
const NOWHERE: Rect = Rect::new(f64::MAX, f64::MAX, f64::MAX, f64::MAX);

impl Collector {
    /// Starts with the clip that everything is kept to, in face points.
    pub(super) fn new(clip: Rect, most: usize) -> Self {
        Self { clips: vec![clip], most, ..Self::default() }
    }

    /// Whether there were more elements than may be kept.
    pub(super) fn overfull(&self) -> bool {
        self.overfull
    }

    /// Names a font that stands in the resources, whether it is painted or not.
    pub(super) fn list_font(&mut self, font: &Font) {
        self.note_font(font, false, false);
    }

    /// Everything that was seen.
    pub(super) fn finish(self) -> Collected {
        let (inks, profiles) = self.colours.finish();
        Collected {
            elements: self.elements,
            fonts: self.fonts.into_values().collect(),
            inks,
            groups: self.group_uses.into_iter().collect(),
            profiles,
        }
    }

    fn note_font(&mut self, font: &Font, painted: bool, hidden: bool) {
        let entry = self.fonts.entry(key_of(font)).or_insert_with(|| font.as_use(false));
        entry.painted |= painted;
        entry.hidden |= hidden;
    }

    fn clip(&self) -> Rect {
        self.clips.last().copied().unwrap_or_default()
    }

    /// Adds an element whose ink fills `bounds`, where any of it lies inside the clip.
    pub(super) fn add(&mut self, mark: Mark, bounds: Rect, state: &State) {
        if self.within > 0 {
            return;
        }
        let Some(bounds) = shared(bounds, self.clip()) else { return };
        if self.elements.len() >= self.most {
            self.overfull = true;
            return;
        }
        let mut blend = state.blending();
        blend.isolated = self.apart.iter().any(|apart| *apart);
        for group in &self.groups {
            blend.alpha_fill *= group.alpha_fill;
            blend.alpha_stroke *= group.alpha_fill;
            blend.soft_mask |= group.soft_mask;
            blend.mode = blend.mode.or_else(|| group.mode.clone());
        }
        self.elements.push(Element { mark, bounds: rounded(bounds), blend, object: state.object });
    }

    fn add_path(&mut self, path: &BezPath, fill: Option<Winding>, stroke: bool, state: &State) {
        let outline = state.ctm * path.clone();
        let filled = fill.and_then(|_| extent::of_fill(&outline));
        let stroked = if stroke { extent::of_stroke(path, state) } else { None };
        if filled.is_some() {
            self.colours.note_paint(&state.fill, &state.fill_space);
        }
        if stroked.is_some() {
            self.colours.note_paint(&state.stroke, &state.stroke_space);
        }
        let bounds = match (filled, stroked) {
            (Some(a), Some(b)) => a.union(b),
            (Some(a), None) | (None, Some(a)) => a,
            (None, None) => return,
        };
        let mark = PathMark {
            outline,
            fill: filled.and_then(|_| self.colours.paint(&state.fill)),
            even_odd: fill == Some(Winding::EvenOdd),
            stroke: stroked.and_then(|_| self.colours.stroke(state)),
        };
        if mark.fill.is_some() || mark.stroke.is_some() {
            self.add(Mark::Path(mark), bounds, state);
        }
        for (used, source) in [(filled, &state.fill), (stroked, &state.stroke)] {
            if let (Some(area), PaintSource::Pattern(pattern)) = (used, source) {
                let pictures = pattern.object.and_then(|id| self.tiled.get(&id)).cloned().unwrap_or_default();
                for picture in pictures {
                    self.add(Mark::Picture(picture), area, state);
                }
            }
        }
    }
}

/// What tells the fonts of a page apart.
fn key_of(font: &Font) -> (String, Option<u32>) {
    (font.name.clone(), font.object.map(|o| o.0))
}

impl Surface for Collector {
    fn fill(&mut self, path: &BezPath, winding: Winding, state: &State) {
        self.add_path(path, Some(winding), false, state);
    }

    fn stroke(&mut self, path: &BezPath, state: &State) {
        self.add_path(path, None, true, state);
    }

    fn fill_and_stroke(&mut self, path: &BezPath, winding: Winding, state: &State) {
        self.add_path(path, Some(winding), true, state);
    }

    fn push_clip(&mut self, path: &BezPath, _: Winding) {
        let clip = extent::of_fill(path).and_then(|b| shared(b, self.clip())).unwrap_or(NOWHERE);
        self.clips.push(clip);
    }

    fn pop_clip(&mut self) {
        if self.clips.len() > 1 {
            self.clips.pop();
        }
    }

    fn glyphs(&mut self, run: &GlyphRun, state: &State) {
        let visible = run.glyphs.iter().any(|g| g.unicode.is_empty() || !g.unicode.trim().is_empty());
        let painted = state.painted();
        self.note_font(&run.font, visible && painted != Painted::Invisible, visible && painted == Painted::Invisible);
        self.drawn_font = run.font.type3.as_ref().map(|_| key_of(&run.font));
        if !visible {
            return;
        }
        if matches!(painted, Painted::Fill | Painted::Both) {
            self.colours.note_paint(&state.fill, &state.fill_space);
        }
        if matches!(painted, Painted::Stroke | Painted::Both) {
            self.colours.note_paint(&state.stroke, &state.stroke_space);
        }
        for (text, bounds) in text_run::split(run, state, &self.colours) {
            self.add(Mark::Text(text), bounds, state);
        }
    }

    fn image(&mut self, image: &Image, state: &State) {
        if image.stencil {
            self.colours.note_paint(&state.fill, &state.fill_space);
        } else if let Some(space) = &image.space {
            self.colours.note_space(space);
        }
        let corner = |x, y| state.ctm * Point::new(x, y);
        let corners = [corner(0.0, 0.0), corner(1.0, 0.0), corner(1.0, 1.0), corner(0.0, 1.0)];
        let (space, indexed, calibrated) = image.picture_space();
        let mark = PictureMark {
            pixels: image.pixels,
            ppi: image.ppi(state.ctm),
            space,
            indexed,
            calibrated,
            bits: image.bits,
            filters: image.filters.clone(),
            corners,
            object: image.object.map(|id| id.0),
        };
        if let (Some(font), true) = (&self.drawn_font, !self.glyphs.is_empty())
            && let Some(font) = self.fonts.get_mut(font)
        {
            let dots = mark.ppi.0.min(mark.ppi.1);
            font.dots = Some(font.dots.map_or(dots, |least| least.min(dots)));
        }
        if let Some(cell) = self.cells.last() {
            self.tiled.entry(*cell).or_default().push(mark.clone());
        }
        let count = self.elements.len();
        self.add(Mark::Picture(mark), state.ctm.transform_rect_bbox(Rect::new(0.0, 0.0, 1.0, 1.0)), state);
        if let Some(element) = self.elements.get_mut(count) {
            element.blend.soft_mask |= image.has_soft_mask();
        }
    }

    fn shade(&mut self, shading: &Arc<Shading>, state: &State) {
        self.colours.note_space(&shading.space);
        let clip = self.clip();
        let bounds = shading.bbox.and_then(|b| shared(state.ctm.transform_rect_bbox(b), clip)).unwrap_or(clip);
        self.add(Mark::Shading(shading.space.as_paint()), bounds, state);
    }

    fn begin_form(&mut self, _: &Form, _: &State) {}

    fn end_form(&mut self) {}

    fn begin_group(&mut self, group: &Group, state: &State) {
        self.groups.push(state.blending());
        self.apart.push(group.isolated && !group.of_page);
        self.group_uses.insert(GroupUse {
            of_page: group.of_page,
            isolated: group.isolated,
            knockout: group.knockout,
            space: group.space.as_deref().map(|space| space.family().to_owned()),
            object: state.object,
        });
    }

    fn end_group(&mut self) {
        self.groups.pop();
        self.apart.pop();
    }

    fn begin_pattern(&mut self, pattern: &Arc<Pattern>) {
        self.within += 1;
        self.cells.extend(pattern.object);
        self.colours.begin_cell(pattern.object);
        self.clips.push(pattern.matrix.transform_rect_bbox(Rect::new(-1.0e6, -1.0e6, 1.0e6, 1.0e6)));
    }

    fn end_pattern(&mut self) {
        self.within -= 1;
        self.cells.pop();
        self.colours.end_cell();
        self.pop_clip();
    }

    fn begin_mask(&mut self, _: &Arc<SoftMask>) {
        self.within += 1;
    }

    fn end_mask(&mut self) {
        self.within -= 1;
    }

    fn begin_glyph(&mut self, coloured: bool) {
        self.glyphs.push(!coloured);
        self.within += usize::from(!coloured);
    }

    fn end_glyph(&mut self) {
        self.within -= usize::from(self.glyphs.pop().unwrap_or(false));
    }
}
