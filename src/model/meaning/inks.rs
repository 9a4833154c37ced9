use std::collections::BTreeMap;

use super::{Ground, names_there};
use crate::ink::Ink;
use crate::model::InkSection;
use crate::model::colour_text::{ColourWords, colour_words};
use crate::model::reading::Formatted;

/// `[inks]`, and every colour of the file.
pub(super) fn look(ground: &mut Ground<'_>, formatted: &[Formatted]) {
    let mut plates: BTreeMap<String, (&str, &str)> = BTreeMap::new();
    for (name, ink) in &ground.file.inks {
        let path = format!("inks.{name}");
        let tinted = format!("{name} 40 %");
        let usable = |text: &str| matches!(colour_words(text), Ok(ColourWords::Ink { name: n, .. }) if n == name);
        if !usable(name) || !usable(&tinted) {
            let message = format!("an ink cannot be called \"{name}\", which already means something as a colour");
            ground.fault(&path, message, "give it a name such as \"heath\"; a tint is written where the ink is used");
        }
        tints(ground, &path, ink);
        let Some(spot) = ink.spot.as_deref() else { continue };
        let spot_path = format!("{path}.spot");
        if spot.trim().is_empty() {
            ground.fault(&spot_path, "the name of the plate is blank", "");
        } else if Ink::from_colorant(spot) != Ink::Spot(spot.into()) {
            let message = format!("a spot ink cannot be called \"{spot}\", which is a plate's name in every PDF");
            ground.fault(&spot_path, message, "use the process tints, or the name that the ink maker gives");
        }
        let plate = spot.trim().to_lowercase();
        match plates.get(&plate) {
            None => {
                plates.insert(plate, (name, spot));
            }
            Some((other, same)) => {
                let line = ground.line(&format!("inks.{other}"));
                let message = format!("the spot \"{spot}\" is \"{same}\" again, the ink \"{other}\" of line {line}");
                ground.fault(&spot_path, message, format!("use tints of \"{other}\", so that it stays one plate"));
            }
        }
    }
    for colour in formatted.iter().filter(|f| f.format == "fairfold-colour") {
        let Ok(ColourWords::Ink { name, .. }) = colour_words(&colour.text) else { continue };
        if ground.file.inks.contains_key(name) || !ground.sound("inks") && !ground.sound(&format!("inks.{name}")) {
            continue;
        }
        let names = ground.file.inks.keys().map(String::as_str).chain(["black", "white"]);
        let hint = names_there(name, names);
        ground.fault(&colour.path, format!("there is no ink \"{name}\" in [inks]"), hint);
    }
}

fn tints(ground: &mut Ground<'_>, path: &str, ink: &InkSection) {
    for (n, (tint, name)) in ink.process.iter().zip(Ink::PROCESS).enumerate() {
        if !(0.0..=100.0).contains(tint) {
            let message = format!("{} of {tint} % cannot be printed", name.name().to_lowercase());
            ground.fault(&format!("{path}.process[{n}]"), message, "tints run from 0 to 100 %");
        }
    }
    let Some([l, a, b]) = ink.lab else { return };
    if ink.spot.is_none() {
        ground.fault(
            &format!("{path}.lab"),
            "`lab` is for spot inks",
            "add the plate's name as `spot`, or take `lab` out",
        );
    }
    if !(0.0..=100.0).contains(&l) || !(-128.0..=127.0).contains(&a) || !(-128.0..=127.0).contains(&b) {
        let message = format!("Lab {l} {a} {b} is no colour on paper");
        ground.fault(&format!("{path}.lab"), message, "L runs from 0 to 100, a and b from -128 to 127");
    }
}
