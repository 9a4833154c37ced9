//! The limits file: what it changes, and all its faults in one run.

use fairfold::check::{LimitSet, Limits, Outcome, Override, Severity, run};
use fairfold::fault::Text;
use fairfold::ink::Colour;
use fairfold::unit::{Length, Quantity};

use super::hand_card::{Inside, Outside, card, text};

fn read(text: &str) -> Result<Limits, String> {
    Limits::read(&Text::new("limits.toml", text), LimitSet::default()).map_err(|f| f.to_string())
}

#[test]
fn the_set_and_the_severities_are_taken() {
    let limits = read("set = \"digital\"\n[severity]\nwaiver-unused = \"error\"\n").unwrap();
    assert_eq!(limits.set, LimitSet::Digital);
    assert_eq!(limits.severity("waiver-unused"), Some(Override::Weighs(Severity::Error)));
}

#[test]
fn all_faults_are_told_at_once_with_line_and_nearest_name() {
    let faults = read(
        "sett = \"digital\"\nset = \"newsprint\"\n[severity]\nwaiver-unusd = \"error\"\n\
         [[waive]]\ncheck = \"text-size\"\n[[waive]]\nreason = \"agreed with the club\"\n",
    )
    .unwrap_err();
    for want in [
        "limits.toml:1:1: unknown key `sett`",
        "the nearest is `set`",
        "limits.toml:2:7: this is not a built-in set of limits",
        "coated-offset, uncoated-offset, digital",
        "limits.toml:4:1: there is no check `waiver-unusd`",
        "the nearest is `waiver-unused`",
        "limits.toml:5:1: this waiver gives no reason",
        "limits.toml:7:1: this waiver names no check",
    ] {
        assert!(faults.contains(want), "missing: {want}\nin:\n{faults}");
    }
}

#[test]
fn limits_change_in_the_unit_of_their_kind() {
    let limits = read(
        "[limits.text-size]\none-ink = \"6.5 pt\"\n\
         [limits.tint-under-writing]\ntint = \"20 %\"\n\
         [limits.picture-resolution]\ntones = 299\n\
         [limits.writing-height]\neasy = \"7.1 mm\"\n",
    )
    .unwrap();
    let value = |name: &str| limits.values.get(name).copied().unwrap();
    assert_eq!(value("text-size.one-ink"), Quantity::Points(Length::from_pt(6.5)));
    assert_eq!(value("tint-under-writing.tint"), Quantity::Percent(20.0));
    assert_eq!(value("picture-resolution.tones"), Quantity::Ppi(299.0));
    assert_eq!(value("writing-height.easy"), Quantity::Length(Length::um(7100)));
}

#[test]
fn values_of_the_wrong_kind_and_unknown_limits_say_what_to_write() {
    let faults = read(
        "[limits.text-size]\none-ink = 6\none-inc = \"6 pt\"\n\
         [limits.tint-under-writing]\ntint = \"light\"\n\
         [limits.overset]\nroom = 1\n\
         [limits]\n",
    )
    .unwrap_err();
    for want in [
        "limits.toml:2:11: this is not a value for `text-size.one-ink`",
        "\"6 pt\"",
        "limits.toml:3:1: unknown key `one-inc`",
        "the nearest is `one-ink`",
        "limits.toml:5:8: this is not a value for `tint-under-writing.tint`",
        "limits.toml:7:1: the check `overset` has no limits",
    ] {
        assert!(faults.contains(want), "missing: {want}\nin:\n{faults}");
    }
}

#[test]
fn a_waiver_takes_out_what_it_names_and_nothing_else() {
    let mut card = card();
    text(&mut card, Inside, "385", 4.5, (3.0, 3.0), Colour::BLACK);
    text(&mut card, Outside, "385", 4.5, (3.0, 3.0), Colour::BLACK);
    let limits = read(
        "[[waive]]\ncheck = \"text-size\"\nplace = \"inside, panel 1\"\ncontains = \"one ink\"\nreason = \"proofed on the press\"\n",
    )
    .unwrap();
    let checked = run(&card, &limits).unwrap();
    let sizes: Vec<_> = checked.findings.iter().filter(|f| f.check == "text-size").collect();
    assert_eq!(sizes.len(), 1);
    assert_eq!(sizes[0].place.side, Some(Outside));
    assert_eq!(checked.waived.len(), 1);
    assert_eq!(checked.waived[0].finding.place.side, Some(Inside));
    assert_eq!(checked.waived[0].reason, "proofed on the press");
    assert!(checked.findings.iter().all(|f| f.check != "waiver-unused"));
}

#[test]
fn what_a_waiver_leaves_behind_cannot_be_waived() {
    let faults = read("[[waive]]\ncheck = \"waiver-unused\"\nreason = \"never mind\"\n").unwrap_err();
    assert!(faults.contains("limits.toml:1:1: `waiver-unused` cannot be waived"), "{faults}");
}

#[test]
fn bad_toml_is_a_fault_with_its_line() {
    let faults = read("set = \"digital\"\n[limits\n").unwrap_err();
    assert!(faults.contains("limits.toml:2:"), "{faults}");
}

#[test]
fn a_waiver_that_covers_nothing_is_a_finding_and_a_check_turned_off_is_said() {
    let waiver = "[[waive]]\ncheck = \"text-size\"\nreason = \"agreed with the club\"\n";
    let checked = run(&card(), &read(waiver).unwrap()).unwrap();
    let found: Vec<_> = checked.findings.iter().filter(|f| f.check == "waiver-unused").collect();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].place.source.to_string(), "limits.toml:1:1");
    assert!(found[0].message.contains("agreed with the club"));

    let off = "[severity]\nwaiver-unused = \"off\"\n";
    let checked = run(&card(), &read(&format!("{off}{waiver}")).unwrap()).unwrap();
    let last = checked.results.last().unwrap();
    assert!(matches!(&last.1, Outcome::Skipped(why) if why.contains("limits file")));
}
