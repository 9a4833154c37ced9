use std::sync::Arc;

use kurbo::Affine;
use lopdf::ObjectId;

use super::font::Font;
use super::space::Space;
use super::surface::Pattern;
use crate::card::{Blend, Painted};
use crate::ink::Colour;

/// What a fill or stroke lays down.
#[derive(Clone, PartialEq, Debug)]
pub enum PaintSource {
    /// One colour all over.
    Flat(Colour),
    /// A pattern.
    Pattern(Arc<Pattern>),
    /// Nothing: a pattern that is not there.
    Nothing,
}

/// A dash pattern in user space; no lengths means a solid line.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Dash {
    /// Lengths of dashes and gaps in turn.
    pub lengths: Vec<f64>,
    /// Where in the pattern the line starts.
    pub phase: f64,
}

/// A soft mask that is in force.
#[derive(Clone, PartialEq, Debug)]
pub struct SoftMask {
    /// The group that makes the mask.
    pub group: Option<ObjectId>,
    /// Whether its luminosity counts, else its alpha.
    pub luminosity: bool,
    /// What a transfer function makes of each of 256 values, where it has one.
    pub curve: Option<Arc<[u8]>>,
    /// The colour that lies under the group where luminosity counts; black where none is stated.
    pub backdrop: Option<Colour>,
    /// Form space of the group to face points, as it was when the mask was set.
    pub matrix: Affine,
}

/// The graphics state that a [`super::Surface`] needs to paint (ISO 32000-1, 8.4).
#[derive(Clone, PartialEq, Debug)]
#[expect(clippy::struct_excessive_bools, reason = "the standard has these switches")]
pub struct State {
    /// The object whose content stream is being read.
    pub object: Option<u32>,
    /// User space to face points.
    pub ctm: Affine,
    /// What fills lay down.
    pub fill: PaintSource,
    /// What strokes lay down.
    pub stroke: PaintSource,
    /// The space of the fill.
    pub fill_space: Arc<Space>,
    /// The space of the stroke.
    pub stroke_space: Arc<Space>,
    /// Line width in user space.
    pub line_width: f64,
    /// Line cap: 0 butt, 1 round, 2 square.
    pub cap: u8,
    /// Line join: 0 mitre, 1 round, 2 bevel.
    pub join: u8,
    /// Mitre limit.
    pub mitre: f64,
    /// Dash pattern.
    pub dash: Arc<Dash>,
    /// Constant alpha of fills.
    pub alpha_fill: f64,
    /// Constant alpha of strokes.
    pub alpha_stroke: f64,
    /// Blend mode; `None` is Normal.
    pub blend: Option<Arc<str>>,
    /// The soft mask in force.
    pub soft_mask: Option<Arc<SoftMask>>,
    /// Whether fills overprint.
    pub overprint_fill: bool,
    /// Whether strokes overprint.
    pub overprint_stroke: bool,
    /// Overprint mode, 0 or 1.
    pub overprint_mode: u8,
    /// Whether a transfer function other than the default is set.
    pub transfer: bool,
    /// Whether glyphs of one text object knock each other out.
    pub text_knockout: bool,
    /// The text state.
    pub text: TextState,
}

/// The text state (ISO 32000-1, 9.3).
#[derive(Clone, PartialEq, Debug)]
pub struct TextState {
    /// Added after every glyph, in text space.
    pub character_space: f64,
    /// Added after every single-byte code 32, in text space.
    pub word_space: f64,
    /// Horizontal scaling, 1 is none.
    pub scale: f64,
    /// Distance of baselines.
    pub leading: f64,
    /// The font.
    pub font: Option<Arc<Font>>,
    /// The size in text space.
    pub size: f64,
    /// Rendering mode, 0 to 7.
    pub mode: u8,
    /// Distance above the baseline.
    pub rise: f64,
}

impl State {
    /// The state at the start of a page whose space leads to face points by `ctm`.
    pub(super) fn new(ctm: Affine) -> Self {
        let black = PaintSource::Flat(Colour::Gray(0.0));
        let gray = Arc::new(Space::Gray);
        Self {
            object: None,
            ctm,
            fill: black.clone(),
            stroke: black,
            fill_space: Arc::clone(&gray),
            stroke_space: gray,
            line_width: 1.0,
            cap: 0,
            join: 0,
            mitre: 10.0,
            dash: Arc::default(),
            alpha_fill: 1.0,
            alpha_stroke: 1.0,
            blend: None,
            soft_mask: None,
            overprint_fill: false,
            overprint_stroke: false,
            overprint_mode: 0,
            transfer: false,
            text_knockout: true,
            text: TextState {
                character_space: 0.0,
                word_space: 0.0,
                scale: 1.0,
                leading: 0.0,
                font: None,
                size: 0.0,
                mode: 0,
                rise: 0.0,
            },
        }
    }

    /// How a mark made now meets what lies below it.
    pub fn blending(&self) -> Blend {
        Blend {
            overprint_fill: self.overprint_fill,
            overprint_stroke: self.overprint_stroke,
            overprint_mode: self.overprint_mode,
            alpha_fill: self.alpha_fill,
            alpha_stroke: self.alpha_stroke,
            mode: self.blend.as_deref().map(str::to_owned),
            soft_mask: self.soft_mask.is_some(),
            isolated: false,
            transfer: self.transfer,
        }
    }

    /// How glyphs are painted now.
    pub fn painted(&self) -> Painted {
        match self.text.mode {
            0 | 4 => Painted::Fill,
            1 | 5 => Painted::Stroke,
            2 | 6 => Painted::Both,
            _ => Painted::Invisible,
        }
    }

    /// The pen of strokes, in user space.
    pub fn pen(&self) -> kurbo::Stroke {
        let lengths = &self.dash.lengths;
        // A pattern of an odd number of lengths runs twice, dashes and gaps changing places (ISO 32000-1, 8.4.3.6).
        let lengths = if lengths.len() % 2 == 1 { [lengths.as_slice(), lengths].concat() } else { lengths.clone() };
        kurbo::Stroke::new(self.line_width.abs())
            .with_caps(match self.cap {
                1 => kurbo::Cap::Round,
                2 => kurbo::Cap::Square,
                _ => kurbo::Cap::Butt,
            })
            .with_join(match self.join {
                1 => kurbo::Join::Round,
                2 => kurbo::Join::Bevel,
                _ => kurbo::Join::Miter,
            })
            .with_miter_limit(if self.mitre.is_finite() { self.mitre.max(1.0) } else { 10.0 })
            .with_dashes(self.dash.phase, lengths)
    }

    /// Line width on the face in points; the smaller one where the scaling differs by direction.
    pub fn effective_width(&self) -> f64 {
        self.line_width.abs() * scales(self.ctm).1
    }
}

/// The larger and the smaller scale of a matrix (its singular values).
pub(crate) fn scales(matrix: Affine) -> (f64, f64) {
    let [a, b, c, d, ..] = matrix.as_coeffs();
    let (even, odd) = ((a + d).hypot(b - c), (a - d).hypot(b + c));
    (f64::midpoint(even, odd), (even - odd).abs() / 2.0)
}
