//! Any bytes as artwork whose first page is drawn plate by plate.
#![no_main]
#![allow(dead_code, reason = "each target uses one of the bodies")]

#[path = "../bodies.rs"]
mod bodies;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| bodies::plates(bytes));
