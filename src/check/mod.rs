//! The checks: everything that is held against a card before it may go on a press sheet.
//!
//! One file in this folder is one check; its header says what it checks, why, what to do and where the limit comes
//! from, and `explain` prints that text. Each check declares its own limits beside its code ([`Bound`]). To add a
//! check: write the file, add its `mod` line and one line to [`CHECKS`]; a test compares the list with the folder.
//! `frame` holds what all checks share and runs them, `ground` what lies under a mark, `plates` which inks there are,
//! `numbers` where a number of the scorecard stands, `limits` the sets, the limits file and the waivers.

mod frame;
mod ground;
mod limits;
mod numbers;
mod plates;

mod active_content;
mod annotations;
mod black_knock_out;
mod bleed;
mod calibrated_colour;
mod clip_zone;
mod colour_space;
mod combo_tees;
mod device_settings;
mod down_reading;
mod empty_page;
mod encrypted;
mod flat_size;
mod fold_margin;
mod font_rights;
mod fonts_embedded;
mod gray_overprint;
mod icc_profile;
mod layers_off;
mod mended;
mod output_intent;
mod overset;
mod page_boxes;
mod page_count;
mod page_sizes;
mod panel_widths;
mod par_length;
mod par_row;
mod picture_oversized;
mod picture_resolution;
mod plate_count;
mod ratings;
mod registration_colour;
mod required_text;
mod rich_black;
mod row_economy;
mod rule_weight;
mod safe_margin;
mod spot_names;
mod standard_claim;
mod stroke_allocation;
mod stroke_index;
mod technical_inks;
mod tee_colours;
mod tee_order;
mod text_contrast;
mod text_size;
mod tint_under_writing;
mod total_ink;
mod totals;
mod transfer_curves;
mod transparency;
mod type_3_text;
mod waiver_unused;
mod white_overprint;
mod writing_height;
mod writing_width;

pub use frame::{Check, Checked, Context, Explained, Finding, Outcome, Severity, Waived, explain, list, run, run_one};
pub use limits::{Bound, LimitSet, Limits, Override, Waiver};

/// All checks in the order in which they run and are listed. `waiver-unused` stands last: it looks at what the
/// others found.
pub const CHECKS: &[Check] = &[
    // The print.
    text_size::CHECK,
    text_contrast::CHECK,
    tee_colours::CHECK,
    rule_weight::CHECK,
    writing_height::CHECK,
    writing_width::CHECK,
    tint_under_writing::CHECK,
    clip_zone::CHECK,
    bleed::CHECK,
    safe_margin::CHECK,
    fold_margin::CHECK,
    panel_widths::CHECK,
    flat_size::CHECK,
    down_reading::CHECK,
    picture_resolution::CHECK,
    picture_oversized::CHECK,
    overset::CHECK,
    required_text::CHECK,
    fonts_embedded::CHECK,
    font_rights::CHECK,
    type_3_text::CHECK,
    // The inks.
    colour_space::CHECK,
    calibrated_colour::CHECK,
    icc_profile::CHECK,
    registration_colour::CHECK,
    spot_names::CHECK,
    technical_inks::CHECK,
    plate_count::CHECK,
    total_ink::CHECK,
    white_overprint::CHECK,
    black_knock_out::CHECK,
    gray_overprint::CHECK,
    rich_black::CHECK,
    transparency::CHECK,
    transfer_curves::CHECK,
    device_settings::CHECK,
    // The file.
    page_count::CHECK,
    page_sizes::CHECK,
    page_boxes::CHECK,
    empty_page::CHECK,
    layers_off::CHECK,
    annotations::CHECK,
    active_content::CHECK,
    output_intent::CHECK,
    standard_claim::CHECK,
    encrypted::CHECK,
    mended::CHECK,
    // The numbers.
    totals::CHECK,
    par_row::CHECK,
    stroke_index::CHECK,
    stroke_allocation::CHECK,
    ratings::CHECK,
    tee_order::CHECK,
    par_length::CHECK,
    combo_tees::CHECK,
    row_economy::CHECK,
    // The record.
    waiver_unused::CHECK,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_and_the_folder_agree() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/check");
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .filter_map(|name| name.strip_suffix(".rs").map(|stem| stem.replace('_', "-")))
            .filter(|stem| stem != "mod")
            .collect();
        files.sort();
        let mut listed: Vec<String> = CHECKS.iter().map(|c| c.id.to_owned()).collect();
        listed.sort();
        assert_eq!(listed, files, "every file in src/check is a check and is listed once in CHECKS");
        assert_eq!(CHECKS.last().unwrap().id, "waiver-unused");
    }

    #[test]
    fn every_header_has_the_four_sections_and_every_limit_its_source() {
        for check in CHECKS {
            let text = explain(check.id).unwrap();
            let heads: Vec<&str> = text.sections.iter().map(|(head, _)| *head).collect();
            assert_eq!(
                heads,
                ["What it checks", "Why it matters", "What to do", "Source of the limit"],
                "{}",
                check.id
            );
            assert!(text.sections.iter().all(|(_, body)| body.len() > 10), "{}", check.id);
            for bound in check.bounds {
                let of = bound.name.split_once('.').map(|(id, _)| id);
                assert_eq!(of, Some(check.id), "the limit {} is named after its check", bound.name);
                assert!(!bound.source.is_empty() && !bound.what.is_empty(), "{}", bound.name);
            }
        }
    }
}
