use super::Side;
use crate::unit::{Length, Rect, Size};

/// The flat card: size, bleed, safe margin and how it folds.
#[derive(Clone, PartialEq, Debug)]
pub struct Format {
    /// Flat trim size (width is the long way of the usual card: 6 x 12 in is 12 in wide).
    pub flat: Size,
    /// Colour that runs past the trim on every side.
    pub bleed: Length,
    /// How far needed matter keeps from the trim.
    pub safe: Length,
    /// How it folds.
    pub fold: Fold,
}

/// The kinds of fold, all parallel and across the long way of the card.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum FoldKind {
    /// One panel.
    None,
    /// Two panels, one fold in the middle.
    Half,
    /// Three panels; one folds inside and is a little shorter.
    Letter,
    /// Any number of equal panels, folded to and fro.
    Accordion,
    /// Two half-width flaps that close over a full middle: three panels.
    Gate,
}

/// The fold and the widths of its panels.
#[derive(Clone, PartialEq, Debug)]
pub struct Fold {
    /// Its kind.
    pub kind: FoldKind,
    /// Panel widths on the inside face, left to right; they add up to the flat width.
    pub panels: Vec<Length>,
}

/// One panel of one face.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Panel {
    /// Which face.
    pub side: Side,
    /// From 1, left to right as that face is looked at.
    pub number: usize,
    /// Its place on the face.
    pub rect: Rect,
}

impl Fold {
    /// The fold of `flat` with panels of the usual widths. `count` is for [`FoldKind::Accordion`] (two at the least) and
    /// `allowance` is by how much a panel that folds inside is shorter.
    pub fn usual(kind: FoldKind, flat: Size, count: usize, allowance: Length) -> Self {
        let w = flat.width;
        let panels = match kind {
            FoldKind::None => vec![w],
            FoldKind::Half => vec![w.half(), w - w.half()],
            FoldKind::Letter => {
                // 11 in, allowance 1/16 in: 3.6875, 3.6875, 3.625 (published example): the two full panels share what the
                // shorter one leaves, and the one on the right of the inside folds in first.
                let short = (w - allowance * 2) / 3;
                let full = (w - short).half();
                let short = w - full * 2;
                vec![full, full, short]
            }
            FoldKind::Accordion => {
                let n = i64::try_from(count.max(2)).unwrap_or(2);
                let each = w / n;
                let mut panels = vec![each; count.max(2)];
                if let Some(last) = panels.last_mut() {
                    *last = w - each * (n - 1);
                }
                panels
            }
            FoldKind::Gate => {
                // The flaps meet in the middle with the allowance between them.
                let flap = (w / 2 - allowance.half()).half();
                vec![flap, w - flap * 2, flap]
            }
        };
        Self { kind, panels }
    }

    /// Where the folds run: x on the face of `side`, left to right.
    pub fn lines(&self, side: Side) -> Vec<Length> {
        let mut x = Length::ZERO;
        let mut lines = Vec::new();
        for width in self.widths(side) {
            x += width;
            lines.push(x);
        }
        lines.pop();
        lines
    }

    /// Panel widths left to right as the face of `side` is looked at.
    pub fn widths(&self, side: Side) -> Vec<Length> {
        let mut widths = self.panels.clone();
        if side == Side::Outside {
            widths.reverse();
        }
        widths
    }
}

impl Format {
    /// The trim as a rectangle in face coordinates.
    pub fn trim(&self) -> Rect {
        self.flat.at_origin()
    }

    /// Trim plus bleed.
    pub fn bleed_box(&self) -> Rect {
        self.trim().grown(self.bleed)
    }

    /// The panels of a face, left to right.
    pub fn panels(&self, side: Side) -> Vec<Panel> {
        let mut x = Length::ZERO;
        let mut panels = Vec::new();
        for (n, width) in self.fold.widths(side).into_iter().enumerate() {
            let rect = Rect::new(x, Length::ZERO, x + width, self.flat.height);
            panels.push(Panel { side, number: n + 1, rect });
            x += width;
        }
        panels
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letter_fold_of_eleven_inches_has_the_published_widths() {
        // Published example: 11 in letter fold gives 3.6875, 3.6875, 3.625 in (1/16 in shorter).
        let flat = Size::new(Length::inches(11, 1), Length::inches(17, 2));
        let fold = Fold::usual(FoldKind::Letter, flat, 3, Length::inches(1, 16));
        assert_eq!(fold.panels, [Length::inches(59, 16), Length::inches(59, 16), Length::inches(29, 8)]);
    }

    #[test]
    fn faces_mirror_each_other() {
        let flat = Size::new(Length::inches(17, 1), Length::inches(6, 1));
        let fold = Fold::usual(FoldKind::Letter, flat, 3, Length::inches(1, 16));
        let inside = fold.lines(Side::Inside);
        let mut outside: Vec<Length> = fold.lines(Side::Outside).into_iter().map(|x| flat.width - x).collect();
        outside.reverse();
        assert_eq!(inside, outside);
    }
}
