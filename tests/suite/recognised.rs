//! A law of the house: on a page that the typesetter set, the recogniser finds the plan that the typesetter made, and the numbers of the
//! card file.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use fairfold::card::{Direction, GridPlan, RowRole};
use fairfold::fault::{Fault, Result, Source, Text};
use fairfold::grid::recognise;
use fairfold::job::{CardSource, CardWishes, Files, Prepared, prepare};
use fairfold::model::{FoldName, Syntax, starter};
use fairfold::scorecard::Scorecard;
use fairfold::unit::{Length, Rect, parse_size};
use proptest::prelude::*;

use super::program::demo;

/// Files of the demo's folder.
struct Demo;

impl Files for Demo {
    fn read(&self, name: &str) -> Result<Arc<[u8]>> {
        let bytes = fs::read(demo(name)).map_err(|e| Fault::new(Source::File(name.to_owned()), e.to_string()))?;
        Ok(bytes.into())
    }
}

fn prepared(name: &str, text: &str) -> Prepared {
    let source = CardSource::File(Text::new(name, text), Syntax::Toml);
    prepare(&source, &Demo, &CardWishes::default()).unwrap_or_else(|f| panic!("{name}: {f}"))
}

/// Rules are drawn where the plan has its edges; the reader rounds once.
const NEAR: Length = Length::units(Length::PER_PT / 50);

fn near(a: Rect, b: Rect) -> bool {
    [(a.x0, b.x0), (a.y0, b.y0), (a.x1, b.x1), (a.y1, b.y1)].into_iter().all(|(a, b)| a.near(b, NEAR))
}

fn same(name: &str, made: &GridPlan, found: &GridPlan) {
    assert_eq!((made.side, made.direction), (found.side, found.direction), "{name}");
    let roles = |plan: &GridPlan| plan.rows.iter().map(|r| r.role.clone()).collect::<Vec<RowRole>>();
    assert_eq!(roles(made), roles(found), "{name}");
    let columns = |plan: &GridPlan| plan.columns.iter().map(|c| c.role.clone()).collect::<Vec<_>>();
    assert_eq!(columns(made), columns(found), "{name}");
    assert!(near(made.bounds, found.bounds), "{name}: {:?} and {:?}", made.bounds, found.bounds);
    for cell in &made.cells {
        let other = found.cell(cell.row, cell.column).unwrap_or_else(|| panic!("{name}: {cell:?} was not found"));
        assert!(near(cell.rect, other.rect), "{name}: {cell:?} and {other:?}");
        assert_eq!(cell.text, other.text, "{name}: {cell:?}");
    }
}

fn numbers(name: &str, stated: &Scorecard, found: &Scorecard) {
    assert_eq!(stated.holes, found.holes, "{name}");
    let lengths = |card: &Scorecard| card.tees.iter().map(|t| (t.name.clone(), t.lengths.clone())).collect::<Vec<_>>();
    assert_eq!(lengths(stated), lengths(found), "{name}");
    assert_eq!(stated.par, found.par, "{name}");
    assert_eq!(stated.stroke_index, found.stroke_index, "{name}");
}

fn law(name: &str, text: &str) -> GridPlan {
    let card = prepared(name, text).card;
    let (found, read) = recognise(&card.faces).unwrap_or_else(|| panic!("{name}: no grid was found"));
    let made = card.grid.expect("the card has a grid");
    same(name, &made, &found);
    numbers(name, &card.numbers.expect("the card has numbers"), &read);
    made
}

#[test]
fn the_plan_of_every_demo_card_is_found_on_its_pages() {
    for card in ["otterby-4.5x12", "otterby-6x12", "otterby-6x17", "otterby-down"] {
        let name = format!("{card}.toml");
        let made = law(&name, &fs::read_to_string(demo(&name)).unwrap());
        assert_eq!(made.direction == Direction::Across, card != "otterby-down");
    }
}

fn kept(name: &str) -> String {
    let path: PathBuf = super::program::root().join("tests").join(name);
    fs::read_to_string(path).unwrap()
}

#[test]
fn the_plan_of_the_good_card_of_the_checks_is_found_on_its_pages() {
    law("good.toml", &kept("checks/good.toml"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]
    #[test]
    fn the_plan_of_any_starter_is_found_on_its_pages(
        tall in 9_u32..=13,
        wide in 23_u32..=34,
        fold in prop_oneof![Just(FoldName::None), Just(FoldName::Half), Just(FoldName::Letter), Just(FoldName::Accordion)],
    ) {
        let size = parse_size(&format!("{} x {} in", f64::from(tall) / 2.0, f64::from(wide) / 2.0)).unwrap();
        let text = starter("Sallow Moss", size, fold).unwrap_or_else(|f| panic!("{f}"));
        law(&format!("{tall} x {wide} {fold:?}"), &text);
    }
}
