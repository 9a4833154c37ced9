//! suite
