//! The starter card, from its text to the checks: set, read back, and found clean.

use fairfold::check::{Checked, LimitSet, Limits, run};
use fairfold::ink::Condition;
use fairfold::model::{FoldName, starter};
use fairfold::unit::{Length, Size};

use super::check_cases::card_of;

/// Height and width in half inches.
fn halves(height: i64, width: i64) -> Size {
    Size::new(Length::inches(width, 2), Length::inches(height, 2))
}

/// What all checks say of a card file on the starter's paper.
fn checked(text: &str) -> Checked {
    let mut card = card_of(text);
    card.condition = Condition::uncoated();
    run(&card, &Limits::new(LimitSet::UncoatedOffset)).unwrap()
}

#[test]
fn the_starter_checks_clean_on_every_usual_card() {
    let mut sizes = Vec::new();
    for fold in [FoldName::None, FoldName::Half, FoldName::Letter, FoldName::Accordion, FoldName::Gate] {
        for width in [15, 18, 24, 34] {
            sizes.extend([9, 12].map(|height| (halves(height, width), fold)));
        }
    }
    sizes.push((Size::new(Length::mm(300), Length::mm(148)), FoldName::Half));
    let mut made = 0;
    let titles = ["Your Course", "St Ebba's-on-the-Wold and Lower Netherwick Links"];
    for (n, (size, fold)) in sizes.into_iter().enumerate() {
        let title = titles[(n + n / 2) % 2];
        let Ok(text) = starter(title, size, fold) else { continue };
        made += 1;
        let checked = checked(&text);
        let said: Vec<String> = checked.findings.iter().map(|f| format!("{}: {}", f.check, f.message)).collect();
        assert!(said.is_empty(), "{} {fold:?} {title}:\n{}\n{text}", size.card_text(), said.join("\n"));
        assert_eq!(checked.broken().count(), 0);
        // No carts, no combinations, and where there is no fold nothing to say of folds.
        let skipped: Vec<&str> = checked.skipped().map(|(check, _)| check.id).collect();
        let folds = skipped.iter().filter(|id| !["clip-zone", "combo-tees"].contains(id));
        assert_eq!(folds.count(), if fold == FoldName::None { 2 } else { 0 }, "{skipped:?}");
    }
    assert!(made >= 31, "{made}");
}
