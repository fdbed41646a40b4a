//! Fuzzes the whole chain: the bytes are the seed of a random design, which must hold every invariant from its text to its
//! holes; one whose bytes sum up to a multiple of 64 is drawn as well.
#![no_main]

#[path = "../../src/chains.rs"]
mod chains;
#[path = "../../src/invariants/mod.rs"]
mod invariants;
#[path = "../../src/random_design.rs"]
#[allow(dead_code, reason = "the tests use more of it")]
mod random_design;

use invariants::{Reach, hold};
use proptest::strategy::{Strategy as _, ValueTree as _};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    // A seed and not the choices themselves: the generator splits its source at each step, so that no bytes would last.
    let mut seed = [0_u8; 32];
    for (at, byte) in bytes.iter().enumerate() {
        seed[at % 32] ^= *byte;
    }
    let config = Config { failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &seed));
    let Ok(tree) = random_design::design().new_tree(&mut runner) else { return };
    let design = tree.current();
    let drawn = bytes.iter().fold(0_u8, |sum, it| sum.wrapping_add(*it)) % 64 == 0;
    if let Err(flaws) = hold(&design, if drawn { Reach::Drawn } else { Reach::Derived }) {
        panic!("{}\n{}", flaws.join("\n"), invariants::written::text(&design).unwrap_or_default());
    }
});
