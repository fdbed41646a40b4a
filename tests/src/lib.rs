//! Helpers shared by the tests that cross crates.

pub mod chains;
pub mod display;
pub mod file_format;
pub mod fuzzed;
pub mod invariants;
pub mod program;
pub mod random_design;
pub mod sheets;
pub mod sound_plan;
