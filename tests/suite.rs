//! Tests of the main job and of the house, judged from outside wherever there is an outside.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may fail by panicking and reads files"
)]
#![allow(clippy::format_push_string, clippy::assigning_clones, reason = "tests put small files together from texts")]

mod suite {
    mod artwork_annotations;
    mod artwork_boxes;
    mod artwork_checks;
    mod artwork_colour;
    mod artwork_content;
    mod artwork_files;
    mod artwork_fonts;
    mod artwork_job;
    mod artwork_judges;
    mod artwork_own_pages;
    mod artwork_pdf;
    mod artwork_pictures;
    mod card_file;
    mod check_cases;
    mod claims;
    mod colour;
    mod cut_plan;
    mod demo;
    mod demo_art;
    mod docket;
    mod fold_list;
    mod gang_judge;
    mod gang_runs;
    mod grid;
    mod hand_card;
    mod heavy;
    mod hostile;
    mod ink_checks;
    mod layers;
    mod limits_file;
    mod mutated;
    mod number_up;
    mod numbers;
    mod one_check;
    mod one_fault;
    mod overprint_checks;
    mod page_block;
    mod plate_checks;
    mod plates;
    mod press;
    mod press_files;
    mod press_placing;
    mod print_checks;
    mod program;
    mod recognised;
    mod reports;
    mod room_checks;
    mod row_economy;
    mod sheet;
    mod spot_checks;
    mod starter;
    mod text_contrast;
    mod type_setting;
    mod typeset;
    mod x1a;
}
