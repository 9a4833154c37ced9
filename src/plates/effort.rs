//! What drawing comes to, so that a page that would take minutes is refused before it is drawn.

use super::layer::Area;
use super::list::{Cell, Paint, Shape};

/// Work, about: one for a pixel that is touched on all planes.
pub(super) type Effort = u64;

/// What every item costs beside its pixels, and each element of its path.
const ITEM: Effort = 64;
const ELEMENT: Effort = 16;
/// What a pixel costs whose paint is looked up.
const SAMPLED: Effort = 6;
/// What a sample of a picture costs before it can be drawn.
const SAMPLE: Effort = 16;
/// What a colour costs that is made for a ramp or a field.
const COLOUR: Effort = 256;
/// What a pixel costs that is drawn apart and laid down, or put in place of another.
const APART: Effort = 4;

/// The pixels of an area.
pub(super) fn pixels(area: Area) -> Effort {
    area.width() as Effort * area.height() as Effort
}

/// A shape over an area of pixels.
pub(super) fn of_shape(shape: Option<&Shape>, area: Area) -> Effort {
    let elements = shape.and_then(|s| s.path.as_ref()).map_or(0, |p| p.verbs().len()) as Effort;
    ITEM + elements * ELEMENT + pixels(area)
}

/// Paint over an area; cells are those that tiles repeat.
pub(super) fn of_paint(paint: &Paint, area: Area, cells: &[Cell]) -> Effort {
    match paint {
        Paint::Flat(_) => 0,
        Paint::Picture(..) => SAMPLED * pixels(area),
        Paint::Shading(shading) => (SAMPLED * pixels(area)).saturating_add(shading.work()),
        Paint::Tiles(cell, repeated) => cells.get(*cell).map_or(0, |cell| {
            let each = if *repeated { pixels(cell.bounds()) * APART } else { cell.effort };
            let laid = APART * pixels(area);
            cell.count(area).saturating_mul(each).saturating_add(cell.effort).saturating_add(laid)
        }),
    }
}

/// A group of items that come to `inner`; with `knockout` each of them is drawn twice and put in place.
pub(super) fn of_group(inner: Effort, items: usize, knockout: bool, area: Area) -> Effort {
    let laid = APART * pixels(area);
    if knockout {
        inner.saturating_mul(2).saturating_add(laid.saturating_mul(3 * (items as Effort + 1)))
    } else {
        inner.saturating_add(laid)
    }
}

/// The samples of a picture, all components.
pub(super) fn of_samples(samples: u64) -> Effort {
    samples.saturating_mul(SAMPLE)
}

/// Colours of a ramp or a field.
pub(super) fn of_colours(count: usize) -> Effort {
    count as Effort * COLOUR
}
