use super::{FoldLine, FoldList, FoldWay};

impl FoldList {
    /// The list as the bindery reads it: the panels, a line a fold in the order of folding, and the score. Print
    /// [`super::super::CAUTION`] beside it.
    pub fn words(&self) -> Vec<String> {
        let widths: Vec<String> = self.panels.iter().map(ToString::to_string).collect();
        let mut lines = vec![format!("Panels, inside up, left to right: {}.", widths.join(" | "))];
        if self.folds.is_empty() {
            lines.push("No fold.".to_owned());
        }
        let mut folds: Vec<&FoldLine> = self.folds.iter().collect();
        folds.sort_by_key(|fold| fold.step);
        for fold in folds {
            let way = match fold.way {
                FoldWay::Inwards => "inwards, inside to inside",
                FoldWay::Outwards => "outwards, outside to outside",
            };
            lines.push(format!("Fold {}: {} from the left, {way}.", fold.step, fold.from_left));
        }
        lines.extend(self.score.as_ref().map(|score| format!("Score: {score}.")));
        lines
    }
}
