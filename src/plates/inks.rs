//! Which planes a colour goes to, and how much of each.

use crate::artwork::{Space, State};
use crate::ink::{Colour, Condition, Ink, Separator};

/// A set of planes, by their numbers.
pub(super) type PlaneSet = u64;
/// As many planes as a set holds.
pub(super) const MOST_PLANES: usize = 64;
/// Every plane.
pub(super) const ALL: PlaneSet = PlaneSet::MAX;
/// The process planes.
pub(super) const PROCESS: PlaneSet = 0b1111;

/// The planes of a picture: the process inks first, then the spots as they are met.
#[derive(Clone, Debug)]
pub(super) struct Planes {
    inks: Vec<Ink>,
    /// The look of each spot's solid, as the artwork gives it.
    looks: Vec<Option<Colour>>,
    /// Whether an ink came for which there is no plane left.
    pub(super) too_many: bool,
}

impl Default for Planes {
    fn default() -> Self {
        Self { inks: Ink::PROCESS.to_vec(), looks: vec![None; 4], too_many: false }
    }
}

impl Planes {
    /// The inks in the order of the planes.
    pub(super) fn inks(&self) -> &[Ink] {
        &self.inks
    }

    /// The look of each plane's solid, where the artwork gives one.
    pub(super) fn looks(&self) -> &[Option<Colour>] {
        &self.looks
    }

    /// The number of an ink's plane; `None` for All and None, and where there are more inks than planes.
    pub(super) fn of(&mut self, ink: &Ink) -> Option<usize> {
        if matches!(ink, Ink::All | Ink::None) {
            return None;
        }
        if let Some(known) = self.inks.iter().position(|i| i == ink) {
            return Some(known);
        }
        if self.inks.len() >= MOST_PLANES {
            self.too_many = true;
            return None;
        }
        self.inks.push(ink.clone());
        self.looks.push(None);
        Some(self.inks.len() - 1)
    }

    /// Keeps how the solid of a spot looks, which a space of it alone tells.
    pub(super) fn note_look(&mut self, space: &Space) {
        let Space::Inks { inks, .. } = space else { return };
        let [ink @ Ink::Spot(_)] = &**inks else { return };
        let Some(plane) = self.of(ink) else { return };
        if let (Some(look @ None), Colour::Inks { look: solid, .. }) = (self.looks.get_mut(plane), space.colour(&[1.0]))
        {
            *look = Some(*solid);
        }
    }
}

/// What one colour puts on the planes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Tints {
    /// Amounts for the first planes, 255 is solid.
    pub(super) amounts: Vec<u8>,
    /// The amount for every plane behind those.
    pub(super) rest: u8,
    /// The planes that it touches; with the others it overprints.
    pub(super) touches: PlaneSet,
}

impl Tints {
    pub(super) fn at(&self, plane: usize) -> u8 {
        self.amounts.get(plane).copied().unwrap_or(self.rest)
    }
}

/// Overprint as it is set for a mark (ISO 32000-1, 8.6.7).
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Overprint {
    /// Whether it is on.
    pub(super) on: bool,
    /// The mode: 1 leaves planes alone on which a DeviceCMYK colour puts nothing.
    pub(super) mode: u8,
}

impl Overprint {
    pub(super) fn of_fill(state: &State) -> Self {
        Self { on: state.overprint_fill, mode: state.overprint_mode }
    }

    pub(super) fn of_stroke(state: &State) -> Self {
        Self { on: state.overprint_stroke, mode: state.overprint_mode }
    }

    /// As it counts for pictures and shadings, to which the mode does not apply (ISO 32000-1, 11.7.4.3, table 149).
    pub(super) fn of_samples(self) -> Self {
        Self { mode: 0, ..self }
    }
}

/// The amount of a tint from 0 to 1.
pub(super) fn amount(tint: f64) -> u8 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept to 0 to 255")]
    {
        (tint.clamp(0.0, 1.0) * 255.0).round() as u8
    }
}

/// Puts colours on planes.
#[derive(Debug)]
pub(super) struct Inker {
    pub(super) planes: Planes,
    condition: Condition,
    separation: Separation,
}

/// How far colours that are in no ink have been separated. To read the tables for it costs more than many a page, so it waits for such a colour.
#[derive(Debug)]
enum Separation {
    NotAsked,
    By(Separator),
    /// The profile has no such table: why.
    Without(String),
}

impl Inker {
    pub(super) fn new(condition: &Condition) -> Self {
        Self { planes: Planes::default(), condition: condition.clone(), separation: Separation::NotAsked }
    }

    /// Whether a colour came that is in no ink and was separated.
    pub(super) fn separated(&self) -> bool {
        matches!(self.separation, Separation::By(_))
    }

    /// Why colours that are in no ink could not be separated, where one came.
    pub(super) fn not_separated(&self) -> Option<&str> {
        if let Separation::Without(why) = &self.separation { Some(why) } else { None }
    }

    fn separator(&mut self) -> Option<&Separator> {
        if matches!(self.separation, Separation::NotAsked) {
            self.separation = match Separator::new(&self.condition) {
                Ok(separator) => Separation::By(separator),
                Err(faults) => Separation::Without(faults.to_string()),
            };
        }
        if let Separation::By(separator) = &self.separation { Some(separator) } else { None }
    }

    /// What a flat colour puts on the planes.
    pub(super) fn tints(&mut self, colour: &Colour, overprint: Overprint) -> Tints {
        match colour {
            Colour::Cmyk(cmyk) => {
                let amounts: Vec<u8> = cmyk.iter().map(|t| amount(*t)).collect();
                let mut touches = if overprint.on { PROCESS } else { ALL };
                if overprint.on && overprint.mode == 1 {
                    touches = (0..4).filter(|n| cmyk.get(*n).is_some_and(|t| *t > 0.0)).fold(0, |set, n| set | 1 << n);
                }
                Tints { amounts, rest: 0, touches }
            }
            Colour::Inks { tints, .. } => self.inks(tints, overprint),
            other => {
                let cmyk = self.process(other);
                let touches = if overprint.on { PROCESS } else { ALL };
                Tints { amounts: cmyk.iter().map(|t| amount(*t)).collect(), rest: 0, touches }
            }
        }
    }

    fn inks(&mut self, tints: &[(Ink, f64)], overprint: Overprint) -> Tints {
        let mut made = Tints { amounts: Vec::new(), rest: 0, touches: if overprint.on { 0 } else { ALL } };
        if tints.iter().all(|(ink, _)| *ink == Ink::None) {
            // It leaves no mark at all, and knocks nothing out (ISO 32000-1, 8.6.6.4).
            made.touches = 0;
            return made;
        }
        for (ink, tint) in tints {
            if *ink == Ink::All {
                made.amounts.iter_mut().for_each(|a| *a = amount(*tint));
                (made.rest, made.touches) = (amount(*tint), ALL);
            } else if let Some(plane) = self.planes.of(ink) {
                while made.amounts.len() <= plane {
                    made.amounts.push(made.rest);
                }
                if let Some(place) = made.amounts.get_mut(plane) {
                    *place = amount(*tint);
                }
                made.touches |= 1 << plane;
            }
        }
        made
    }

    /// The process tints of a colour that names none.
    fn process(&mut self, colour: &Colour) -> [f64; 4] {
        match colour {
            Colour::Gray(g) => [0.0, 0.0, 0.0, 1.0 - g],
            Colour::Cmyk(cmyk) => *cmyk,
            Colour::Calibrated { plain, .. } => self.process(plain),
            Colour::Rgb(rgb) => self.separator().map_or_else(|| complement(*rgb), |s| s.rgb(*rgb)),
            Colour::Lab(lab) => self.separator().map_or_else(|| [0.0, 0.0, 0.0, 1.0 - lab[0] / 100.0], |s| s.lab(*lab)),
            Colour::Inks { look, .. } => self.process(look),
        }
    }

    /// Samples of RGB, eight bits each, as process amounts.
    pub(super) fn rgb_samples(&mut self, rgb: &[u8]) -> Vec<u8> {
        if let Some(separator) = self.separator() {
            return separator.rgb_samples(rgb);
        }
        let (samples, _) = rgb.as_chunks::<3>();
        samples.iter().flat_map(|s| complement(s.map(|v| f64::from(v) / 255.0)).map(amount)).collect()
    }

    /// Samples of Lab as process amounts: L* from 0 to 100, a* and b* from -128 to 127.
    pub(super) fn lab_samples(&mut self, lab: &[u8]) -> Vec<u8> {
        if let Some(separator) = self.separator() {
            return separator.lab_samples(lab);
        }
        let (samples, _) = lab.as_chunks::<3>();
        samples.iter().flat_map(|[l, ..]| [0, 0, 0, 255 - l]).collect()
    }
}

/// Process tints of RGB without a profile, black wholly by generation (ISO 32000-1, 10.3.5).
fn complement([r, g, b]: [f64; 3]) -> [f64; 4] {
    let k = 1.0 - r.max(g).max(b);
    [1.0 - r - k, 1.0 - g - k, 1.0 - b - k, k]
}
