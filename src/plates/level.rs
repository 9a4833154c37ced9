//! What is open while a page is listed: the page, and groups, forms, cells and masks inside it.

use std::sync::Arc;

use super::effort::Effort;
use super::layer::Area;
use super::list::{Item, List, Meets};
use super::stamps::Placing;
use crate::artwork::{Group, Pattern, SoftMask};

/// Something that is being listed.
pub(super) struct Level {
    pub(super) opened: Opened,
    pub(super) items: List,
    /// The pixels inside each clip, the outermost first.
    pub(super) clips: Vec<Area>,
    /// Where it paints anything.
    pub(super) reach: Area,
    /// What drawing its items comes to.
    pub(super) effort: Effort,
    /// The pixels that it may cover.
    pub(super) bounds: Area,
}

/// What it is.
pub(super) enum Opened {
    Page,
    /// A form, and its place where it may be a stamp.
    Form(Option<Box<Placing>>),
    Group(Group, Meets),
    Cell(Arc<Pattern>),
    Mask(Arc<SoftMask>),
    Nothing,
}

impl Level {
    /// Opens a level whose items lie in `bounds`.
    pub(super) fn new(opened: Opened, bounds: Area) -> Self {
        Self { opened, items: List::new(), clips: Vec::new(), reach: Area::NONE, effort: 0, bounds }
    }

    /// The pixels inside the clip in force.
    pub(super) fn clip(&self) -> Area {
        self.clips.last().copied().unwrap_or(self.bounds)
    }

    /// Whether it is the page, or the group that the page itself is.
    pub(super) fn is_of_page(&self) -> bool {
        match &self.opened {
            Opened::Page => true,
            Opened::Group(group, _) => group.of_page,
            _ => false,
        }
    }

    /// Whether it is listed whole, whatever of it is seen where it first stands.
    pub(super) fn is_whole(&self) -> bool {
        matches!(self.opened, Opened::Cell(_) | Opened::Form(Some(_)))
    }

    /// Adds an item that paints in an area.
    pub(super) fn add(&mut self, item: Item, effort: Effort, area: Area) {
        self.items.push(item);
        self.effort = self.effort.saturating_add(effort);
        self.reach = self.reach.around(area);
    }

    /// Adds the items of an inner level.
    pub(super) fn add_all(&mut self, items: List, effort: Effort, reach: Area) {
        self.items.extend(items);
        self.effort = self.effort.saturating_add(effort);
        self.reach = self.reach.around(reach);
    }
}
