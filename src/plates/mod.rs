//! Plates: one plane an ink, as a press would print the page or the sheet.
//!
//! A page is listed once by the surface in `record`, with every place in pixels and every colour already put on planes (`inks`, `picture`,
//! `shading`). Bands of it are then drawn over all cores (`draw`): coverage of paths from `shape`, clips by coverage, paint laid on the planes
//! it touches, groups, masks and pattern cells drawn apart. Overprint is as ISO 32000-1, 11.7.4 has it: a colour touches planes, and what it
//! does not touch is left as it was. What is not drawn as it should be is named in [`Plates::not_drawn`].

mod apart;
mod blend;
mod clip;
mod coverage;
mod draw;
mod effort;
mod files;
mod inked;
mod inks;
mod layer;
mod level;
mod list;
mod look;
mod mesh;
mod paints;
mod picture;
mod record;
mod shading;
mod shape;
mod stamps;
mod veil;

use kurbo::{Affine, Rect};
use rayon::prelude::*;

pub use coverage::Coverage;
pub use files::{PlateFiles, files};
pub use look::{Look, Reduced};

use crate::artwork::Artwork;
use crate::fault::{Fault, Result, Source};
use crate::ink::{Colour, Condition, Ink};
use clip::Clip;
use draw::Pen;
use effort::Effort;
use inks::Inker;
use layer::{Area, Layer};
use list::Scene;
use record::{Listed, Recorder};

/// A page or sheet, ready to be drawn plate by plate.
#[derive(Debug)]
pub struct Plates {
    width: usize,
    height: usize,
    ppi: f64,
    scene: Scene,
    inks: Vec<Ink>,
    looks: Vec<Option<Colour>>,
    not_drawn: Vec<String>,
    separated: bool,
}

/// Some rows of all planes, 255 is solid.
#[derive(Clone, Debug)]
pub struct Band {
    /// The first row, from the top.
    pub first: usize,
    /// How many rows.
    pub rows: usize,
    /// Pixels in a row.
    pub width: usize,
    /// For each ink, its rows one after another.
    pub planes: Vec<Vec<u8>>,
}

/// Pixels of all planes that one band holds, about.
const BAND: usize = 1 << 22;
/// Pixels each way at the most: 60 in at 1200 ppi.
const MOST_PIXELS: f64 = 72_000.0;

/// How much memory and time drawing may take.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Means {
    /// For a look at a page on the way: pictures of up to 128 MiB of samples in all, and about a second.
    Frugal,
    /// For plates that were asked for: pictures of up to 1 GiB in all, and some minutes.
    Ample,
}

impl Means {
    /// Bytes that the samples of pictures may take.
    const fn samples(self) -> usize {
        match self {
            Self::Frugal => 128 << 20,
            Self::Ample => 1 << 30,
        }
    }

    /// What drawing may come to. A full card of two million pixels may be covered a thousand times on the way.
    const fn effort(self) -> Effort {
        match self {
            Self::Frugal => 2_000_000_000,
            Self::Ample => 200_000_000_000,
        }
    }

    const fn advice(self) -> &'static str {
        match self {
            Self::Frugal => "`fairfold plates` takes its time and may draw it",
            Self::Ample => {
                "draw it with fewer pixels an inch; or make it simpler: fewer clips, masks and patterns inside one another"
            }
        }
    }
}

impl Plates {
    /// Lists a page, from 1, of artwork. `area` is what to draw, in face points; `ppi` pixels an inch.
    ///
    /// # Errors
    /// The page cannot be read, or would have more pixels than any plate.
    pub fn of_page(
        artwork: &Artwork,
        page: u32,
        area: Rect,
        ppi: f64,
        condition: &Condition,
        means: Means,
    ) -> Result<Self> {
        let scale = ppi / 72.0;
        // Sizes that are whole pixels but for rounding stay so.
        let side = |points: f64| (points * scale - 1.0e-3).ceil().max(1.0);
        let (width, height) = (side(area.width()), side(area.height()));
        if !(width <= MOST_PIXELS && height <= MOST_PIXELS) {
            let source = Source::Pdf { file: artwork.name().to_owned(), page: Some(page), object: None };
            let message = format!(
                "the page has {width:.0} x {height:.0} pixels at {ppi} ppi, more than {MOST_PIXELS:.0} each way"
            );
            return Err(Fault::new(source, message).hint("draw it with fewer pixels an inch").into());
        }
        #[expect(clippy::cast_possible_truncation, reason = "at most 72 000")]
        let bounds = Area { x0: 0, y0: 0, x1: width as i32, y1: height as i32 };
        let to_pixels = Affine::new([scale, 0.0, 0.0, -scale, -area.x0 * scale, area.y1 * scale]);
        let mut recorder = Recorder::new(to_pixels, bounds, Inker::new(condition), means.samples(), means.effort());
        artwork.draw(page, &mut recorder)?;
        let Listed { scene, inker, not_drawn, too_much } = recorder.finish();
        if too_much {
            let source = Source::Pdf { file: artwork.name().to_owned(), page: Some(page), object: None };
            let fault = Fault::new(source, "drawing the plates of this page takes more work than is done for one");
            return Err(fault.hint(means.advice()).into());
        }
        Ok(Self {
            width: bounds.width(),
            height: bounds.height(),
            ppi,
            scene,
            inks: inker.planes.inks().to_vec(),
            looks: inker.planes.looks().to_vec(),
            not_drawn: not_drawn.into_iter().collect(),
            separated: inker.separated(),
        })
    }

    /// Pixels in a row, and rows.
    pub fn size(&self) -> (usize, usize) {
        (self.width, self.height)
    }

    /// Pixels an inch.
    pub fn ppi(&self) -> f64 {
        self.ppi
    }

    /// The inks in the order of the planes: the process inks, then spots as they were met.
    pub fn inks(&self) -> &[Ink] {
        &self.inks
    }

    /// How the solid of each plane looks where the artwork tells.
    pub fn looks(&self) -> &[Option<Colour>] {
        &self.looks
    }

    /// What is not drawn as it should be, in words.
    pub fn not_drawn(&self) -> &[String] {
        &self.not_drawn
    }

    /// Whether colours that are in no ink were separated by the profile of the condition.
    pub fn separated(&self) -> bool {
        self.separated
    }

    /// How many rows every band but the last has.
    pub fn band_rows(&self) -> usize {
        (BAND / (self.width * self.inks.len()).max(1)).clamp(16, 1024).min(self.height)
    }

    /// Draws the bands over all cores and gives them in order, from the top.
    ///
    /// # Errors
    /// Whatever `each` says; drawing stops there.
    pub fn draw(&self, each: &mut dyn FnMut(Band) -> Result<()>) -> Result<()> {
        let rows = self.band_rows();
        let starts: Vec<usize> = (0..self.height).step_by(rows).collect();
        let stamps = apart::stamps(&self.scene, self.inks.len());
        for some in starts.chunks(rayon::current_num_threads().max(1) * 2) {
            let drawn: Vec<Band> =
                some.par_iter().map(|first| self.band(*first, rows.min(self.height - first), &stamps)).collect();
            drawn.into_iter().try_for_each(&mut *each)?;
        }
        Ok(())
    }

    fn band(&self, first: usize, rows: usize, stamps: &[Option<Layer>]) -> Band {
        let whole = |n: usize| i32::try_from(n).unwrap_or(i32::MAX);
        let area = Area { x0: 0, y0: whole(first), x1: whole(self.width), y1: whole(first + rows) };
        let mut layer = Layer::new(area, self.inks.len(), self.scene.blends);
        Pen::new(&self.scene, self.inks.len(), stamps, area).draw(&self.scene.list, &mut layer, &Clip::all(area));
        layer.on_paper();
        Band { first, rows, width: self.width, planes: layer.planes }
    }
}
