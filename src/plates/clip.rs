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
        let Some(cover) = shape.cover(self.area, offset) else {
            return Self { area: Area { x1: self.area.x0, ..self.area }, cover: None };
        };
        let cover = match &self.cover {
            Some(outer) => cover.shared(outer),
            None => cover,
        };
        Self { area: cover.area, cover: (!cover.is_full()).then(|| Arc::new(cover)) }
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
