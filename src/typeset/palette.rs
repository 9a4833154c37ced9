use crate::ink::{Colour, Judge, Overprint, contrast, layered};
use crate::model::{Model, TeeShown};

/// The colour of each tee's numbers on its fill: as stated, else black or bare paper, whichever reads better on the card's own paper.
/// For tees that are shown by coloured numbers it is the tee's own colour, where none is stated.
pub(super) fn numbers(model: &Model, judge: &Judge) -> Vec<Colour> {
    let number = |tee: &crate::model::TeeSection| {
        let colour = model.colour(&tee.colour);
        match (&tee.numbers, tee.shown) {
            (Some(stated), _) => model.colour(stated),
            (None, TeeShown::Numbers) => colour,
            (None, TeeShown::Fill) => readable_on(&colour, judge),
        }
    };
    model.file.tees.iter().map(number).collect()
}

/// Black, which overprints, or bare paper, which knocks out: the one of higher contrast (WCAG 2.2) as it prints.
fn readable_on(fill: &Colour, judge: &Judge) -> Colour {
    let ground = judge.lab(fill);
    let black = judge.lab(&layered(&Colour::BLACK, fill, Overprint::Mode1));
    if contrast(judge.paper(), ground) > contrast(black, ground) { Colour::WHITE } else { Colour::BLACK }
}
