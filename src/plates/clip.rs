//! Clips, one inside another.

use std::sync::Arc;

use super::layer::{Area, share};
use super::list::Shape;
use super::shape::Cover;

/// What can be painted on: an area, and how much of each pixel of it.
#[derive(Clone, Debug)]
pub(super) struct Clip {
    pub(super) area: Area,
    cover: Option<Arc<Cover>>,
}

impl Clip {
    /// All of an area.
    pub(super) fn all(area: Area) -> Self {
        Self { area, cover: None }
    }

    /// The part of it inside a shape.
    pub(super) fn narrowed(&self, shape: &Shape, offset: (f64, f64)) -> Self {
        let Some(mut cover) = shape.cover(self.area, offset) else {
            return Self { area: Area { x1: self.area.x0, ..self.area }, cover: None };
        };
        if let Some(outer) = &self.cover {
            let (area, width) = (cover.area, cover.area.width());
            for (y, own) in (area.y0..area.y1).zip(cover.amounts.chunks_mut(width.max(1))) {
                for (own, outer) in own.iter_mut().zip(outer.row(y, area.x0, area.x1)) {
                    *own = share(*own, *outer);
                }
            }
        }
        let area = cover.area;
        let whole = cover.amounts.iter().all(|a| *a == 255);
        Self { area, cover: (!whole).then(|| Arc::new(cover)) }
    }

    /// Takes the clip off a row of cover that begins at (x, y).
    pub(super) fn trim(&self, cover: &mut [u8], x: i32, y: i32) {
        let Some(own) = &self.cover else { return };
        let end = x + i32::try_from(cover.len()).unwrap_or(0);
        for (cover, own) in cover.iter_mut().zip(own.row(y, x, end)) {
            *cover = share(*cover, *own);
        }
    }
}
