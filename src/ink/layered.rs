use super::{Colour, Ink};

/// How a painted thing meets the plates below it (graphics state `op` or `OP`, and `OPM`).
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Overprint {
    /// Every plate below is cleared where it paints: what PDF does unless told otherwise (ISO 32000-1, 8.6.7).
    KnockOut,
    /// Overprint with mode 0: the plates of its own colour space are set, others keep what they have.
    Mode0,
    /// Overprint with mode 1: as mode 0, but a DeviceCMYK tint of zero leaves its plate alone.
    Mode1,
}

impl Overprint {
    /// From the graphics state: whether `op` (fills) or `OP` (strokes) is on, and `OPM`.
    pub const fn of(on: bool, mode: u8) -> Self {
        match (on, mode) {
            (false, _) => Self::KnockOut,
            (true, 0) => Self::Mode0,
            (true, _) => Self::Mode1,
        }
    }
}

/// What ends up on the plates where opaque `top` prints over `under`, both flat (ISO 32000-1, 11.7.4.3, table 149, for the Normal
/// blend mode).
///
/// - Knock-out: `top` alone, save that colorant None never marks (8.6.6.4).
/// - DeviceCMYK set directly, overprinting: all four process plates in mode 0; in mode 1 only those whose tint is not zero.
///   Spots below stay.
/// - DeviceGray, CalGray, ICCBased: all four process plates in either mode, for mode 1 speaks of DeviceCMYK only. Spots below stay.
/// - Separation and DeviceN: their own colorants and no others, even at a tint of zero. All sets every plate.
/// - RGB and Lab, above or below, have no plates yet: nothing can be said of the plates they share, so `top` alone is returned.
///
/// Where spots remain, the look is that of both colours' looks as inks over each other; a [`Judge`](super::Judge) that knows the
/// spots does not need it.
pub fn layered(top: &Colour, under: &Colour, overprint: Overprint) -> Colour {
    if prints_nothing(top) {
        return under.clone();
    }
    if overprint == Overprint::KnockOut {
        return top.clone();
    }
    let (Some(above), Some(below)) = (stated(top), plates(under)) else { return top.clone() };
    let keeps_zeros_open = overprint == Overprint::Mode1 && matches!(top, Colour::Cmyk(_));
    let set: Vec<(Ink, f64)> = above.into_iter().filter(|(_, t)| !keeps_zeros_open || *t > 0.0).collect();
    let all = set.iter().find(|(ink, _)| *ink == Ink::All).map(|(_, t)| *t);

    let own = |ink: &Ink| set.iter().find(|(other, _)| other == ink).map(|(_, t)| *t).or(all);
    let kept: Vec<(Ink, f64)> = below.iter().filter(|(ink, _)| own(ink).is_none()).cloned().collect();

    let process = Ink::PROCESS.map(|ink| own(&ink).or_else(|| tint_of(&kept, &ink)).unwrap_or(0.0));
    let mut spots: Vec<(Ink, f64)> =
        below.iter().filter(|(ink, _)| ink.is_spot()).map(|(ink, t)| (ink.clone(), own(ink).unwrap_or(*t))).collect();
    for (ink, tint) in set.iter().filter(|(ink, _)| ink.is_spot()) {
        if !spots.iter().any(|(known, _)| known == ink) {
            spots.push((ink.clone(), *tint));
        }
    }
    spots.retain(|(_, t)| *t > 0.0);
    if spots.is_empty() {
        return Colour::Cmyk(process);
    }

    let look_below = if kept.iter().any(|(ink, _)| ink.is_spot()) {
        look(under)
    } else {
        Some(Ink::PROCESS.map(|ink| tint_of(&kept, &ink).unwrap_or(0.0)))
    };
    let look = match (look(top), look_below) {
        (Some(a), Some(b)) => Colour::Cmyk(over(a, b)),
        _ => look_of(top),
    };
    let mut tints: Vec<(Ink, f64)> = Ink::PROCESS.into_iter().zip(process).filter(|(_, t)| *t > 0.0).collect();
    tints.extend(spots);
    Colour::Inks { tints, look: Box::new(look) }
}

/// Separation None, or DeviceN of nothing else: no plate is touched, whatever the overprint says (ISO 32000-1, 8.6.6.4).
fn prints_nothing(colour: &Colour) -> bool {
    matches!(colour, Colour::Inks { tints, .. } if tints.iter().all(|(ink, _)| *ink == Ink::None))
}

/// The plates a colour sets and how much of each, zeros included. `None` for RGB and Lab.
fn stated(colour: &Colour) -> Option<Vec<(Ink, f64)>> {
    match colour {
        Colour::Gray(g) => Some(Ink::PROCESS.into_iter().zip([0.0, 0.0, 0.0, 1.0 - g]).collect()),
        Colour::Cmyk(cmyk) => Some(Ink::PROCESS.into_iter().zip(*cmyk).collect()),
        Colour::Inks { tints, .. } => Some(tints.iter().filter(|(ink, _)| *ink != Ink::None).cloned().collect()),
        Colour::Calibrated { plain, .. } => stated(plain),
        Colour::Rgb(_) | Colour::Lab(_) => None,
    }
}

/// The plates below, All spelled out over the process plates.
fn plates(colour: &Colour) -> Option<Vec<(Ink, f64)>> {
    let tints = stated(colour)?;
    let mut spelled = Vec::with_capacity(tints.len());
    for (ink, tint) in tints {
        if ink == Ink::All {
            spelled.extend(Ink::PROCESS.into_iter().map(|p| (p, tint)));
        } else {
            spelled.push((ink, tint));
        }
    }
    Some(spelled)
}

fn tint_of(tints: &[(Ink, f64)], ink: &Ink) -> Option<f64> {
    tints.iter().find(|(other, _)| other == ink).map(|(_, t)| *t)
}

/// What stands for a colour where its spots are not there, as process tints. `None` where that is RGB or Lab.
fn look(colour: &Colour) -> Option<[f64; 4]> {
    match colour {
        Colour::Gray(g) => Some([0.0, 0.0, 0.0, 1.0 - g]),
        Colour::Cmyk(cmyk) => Some(*cmyk),
        Colour::Inks { look: plain, .. } | Colour::Calibrated { plain, .. } => look(plain),
        Colour::Rgb(_) | Colour::Lab(_) => None,
    }
}

fn look_of(colour: &Colour) -> Colour {
    match colour {
        Colour::Inks { look, .. } => look.as_ref().clone(),
        other => other.clone(),
    }
}

/// Two films of process tints over each other: what neither covers stays white.
fn over(a: [f64; 4], b: [f64; 4]) -> [f64; 4] {
    let [a0, a1, a2, a3] = a;
    let [b0, b1, b2, b3] = b;
    [(a0, b0), (a1, b1), (a2, b2), (a3, b3)].map(|(x, y)| 1.0 - (1.0 - x) * (1.0 - y))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::ink::SpotInk;

    fn heron() -> SpotInk {
        SpotInk { name: Arc::from("Otterby Heron"), cmyk: [0.5, 0.2, 0.1, 0.4], lab: None }
    }

    fn separation(name: &str, tint: f64) -> Colour {
        Colour::Inks {
            tints: vec![(Ink::from_colorant(name), tint)],
            look: Box::new(Colour::Cmyk([0.0, 0.0, 0.0, tint])),
        }
    }

    const TINT: Colour = Colour::Cmyk([0.6, 0.0, 0.3, 0.1]);

    #[test]
    fn knock_out_clears_every_plate() {
        assert_eq!(layered(&Colour::BLACK, &TINT, Overprint::KnockOut), Colour::BLACK);
        assert_eq!(layered(&separation("Black", 1.0), &heron().at(1.0), Overprint::KnockOut), separation("Black", 1.0));
    }

    #[test]
    fn devicecmyk_leaves_plates_of_zero_alone_in_mode_1_only() {
        assert_eq!(layered(&Colour::BLACK, &TINT, Overprint::Mode1), Colour::Cmyk([0.6, 0.0, 0.3, 1.0]));
        assert_eq!(layered(&Colour::BLACK, &TINT, Overprint::Mode0), Colour::BLACK);
        // White overprinting: gone in mode 1, white in mode 0.
        assert_eq!(layered(&Colour::WHITE, &TINT, Overprint::Mode1), TINT);
        assert_eq!(layered(&Colour::WHITE, &TINT, Overprint::Mode0), Colour::WHITE);
    }

    #[test]
    fn mode_1_does_not_reach_gray_or_icc() {
        assert_eq!(layered(&Colour::Gray(0.0), &TINT, Overprint::Mode1), Colour::BLACK);
        let icc = Colour::Calibrated { space: Arc::from("ICCBased"), plain: Box::new(Colour::BLACK) };
        assert_eq!(layered(&icc, &TINT, Overprint::Mode1), Colour::BLACK);
    }

    #[test]
    fn process_over_a_spot_keeps_the_spot() {
        for mode in [Overprint::Mode0, Overprint::Mode1] {
            let result = layered(&Colour::BLACK, &heron().at(0.4), mode);
            let spot = Ink::Spot(Arc::from("Otterby Heron"));
            assert_eq!(result.tints().unwrap(), vec![(Ink::Black, 1.0), (spot, 0.4)]);
        }
    }

    #[test]
    fn a_separation_touches_its_own_plate_alone() {
        assert_eq!(layered(&separation("Black", 1.0), &TINT, Overprint::Mode0), Colour::Cmyk([0.6, 0.0, 0.3, 1.0]));
        // Even a tint of zero sets its plate, in either mode.
        assert_eq!(layered(&separation("Black", 0.0), &TINT, Overprint::Mode1), Colour::Cmyk([0.6, 0.0, 0.3, 0.0]));
        let result = layered(&heron().at(1.0), &TINT, Overprint::Mode0);
        assert_eq!(result.tints().unwrap().len(), 4);
        let Colour::Inks { look, .. } = result else { panic!("spots stay spots") };
        let Colour::Cmyk([c, m, y, k]) = *look else { panic!("both looks are CMYK") };
        for (found, wanted) in [(c, 0.8), (m, 0.2), (y, 0.37), (k, 0.46)] {
            assert!((found - wanted).abs() < 1e-12);
        }
    }

    #[test]
    fn the_same_spot_is_replaced_not_added() {
        let result = layered(&heron().at(0.3), &heron().at(1.0), Overprint::Mode0);
        assert_eq!(result.tints().unwrap(), heron().at(0.3).tints().unwrap());
    }

    #[test]
    fn all_sets_every_plate_and_none_sets_no_plate() {
        let below = layered(&heron().at(0.4), &TINT, Overprint::Mode0);
        let all = layered(&separation("All", 0.8), &below, Overprint::Mode0);
        assert!(all.tints().unwrap().iter().all(|(_, t)| (*t - 0.8).abs() < 1e-12));
        assert_eq!(all.tints().unwrap().len(), 5);
        for way in [Overprint::KnockOut, Overprint::Mode0, Overprint::Mode1] {
            assert_eq!(layered(&separation("None", 1.0), &TINT, way), TINT);
        }
    }
}
