//! Checks of holes: rules of the trade, partners that coincide, walls against brute force.

mod brute;
mod kinds;
mod mends;
mod partners;
mod rules;
mod under_mounted;

use std::cell::RefCell;

use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::*;
use crate::assembly::tests::random::designs;
use crate::assembly::{Assembly, build};
use crate::solve::solve;

/// Assemblies of random designs, one after the other; the callback panics where one is wrong.
pub(crate) fn for_random_assemblies(cases: u32, each: impl Fn(&Assembly)) {
    let cases = std::env::var("PROPTEST_CASES").ok().and_then(|it| it.parse().ok()).unwrap_or(cases);
    let mut config = Config::with_cases(cases);
    config.failure_persistence = None;
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let built = RefCell::new(0);
    let result = runner.run(&designs(), |design| {
        if let Some(assembly) = solve(&design).ok().and_then(|solved| build(&design, &solved.layout).ok()) {
            each(&assembly);
            *built.borrow_mut() += 1;
        }
        Ok(())
    });
    if let Err(error) = result {
        panic!("{error}");
    }
    assert!(built.into_inner() > 10);
}
