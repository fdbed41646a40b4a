//! Fuzzes `fuzzed::design`.
#![no_main]

#[path = "../../src/fuzzed.rs"]
#[allow(dead_code, reason = "each target calls one of them")]
mod fuzzed;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzzed::design(bytes));
