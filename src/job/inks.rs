use std::collections::BTreeMap;
use std::sync::Arc;

use crate::card::Face;
use crate::ink::{Colour, Ink, SpotInk};

/// The inks of a job, process inks first and spots by name, and how its spots are defined.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Inks {
    /// Every ink that makes a plate.
    pub inks: Vec<Ink>,
    /// The spots among them.
    pub spots: Vec<SpotInk>,
}

/// What stands for the solid of a spot whose space does not tell it in process inks: a gray of half tone, so that it is seen.
const UNKNOWN: [f64; 4] = [0.0, 0.0, 0.0, 0.5];

/// The inks that all faces use. A spot that the card file does not define keeps the process alternate of its own tint transform.
pub(super) fn of_faces(faces: &[Face], defined: &[SpotInk]) -> Inks {
    let mut used: BTreeMap<&Ink, Option<[f64; 4]>> = BTreeMap::new();
    for ink in faces.iter().flat_map(|f| &f.inks).filter(|i| !matches!(i.ink, Ink::All | Ink::None)) {
        let solid = used.entry(&ink.ink).or_default();
        *solid = solid.or_else(|| ink.solid.as_ref().and_then(Colour::process));
    }
    let spots = used.iter().filter_map(|(ink, solid)| match ink {
        Ink::Spot(name) => Some(defined.iter().find(|spot| spot.name == *name).cloned().unwrap_or_else(|| SpotInk {
            name: Arc::clone(name),
            cmyk: solid.unwrap_or(UNKNOWN),
            lab: None,
        })),
        _ => None,
    });
    Inks { spots: spots.collect(), inks: used.keys().map(|ink| (*ink).clone()).collect() }
}
