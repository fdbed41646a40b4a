//! All invariants at once, on random designs, from the text of the file to the bytes of the pages. `CASEWRIGHT_CASES` says how
//! many; one in [`DRAWN`] is drawn as well. A design that breaks one is made as small as it can be and written to a file.

use std::cell::Cell;

use casewright_tests::invariants::{Outcome, Reach, hold, written};
use casewright_tests::random_design;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestError, TestRng, TestRunner};

/// One in so many designs is drawn.
const DRAWN: u32 = 50;

/// Where the designs begin: `CASEWRIGHT_SEED`, so that several runs can share the work.
fn rng() -> TestRng {
    match std::env::var("CASEWRIGHT_SEED").ok().and_then(|text| text.parse::<u64>().ok()) {
        Some(seed) => {
            let mut bytes = [0; 32];
            bytes[..8].copy_from_slice(&seed.to_le_bytes());
            TestRng::from_seed(RngAlgorithm::ChaCha, &bytes)
        }
        None => TestRng::deterministic_rng(RngAlgorithm::ChaCha),
    }
}

#[test]
fn random_designs_hold_every_invariant() {
    random_design::with_room(run);
}

fn run() {
    let (built, refused) = (Cell::new(0_u32), Cell::new(0_u32));
    let config = Config {
        cases: random_design::cases(1000),
        failure_persistence: None,
        max_shrink_iters: 4000,
        ..Config::default()
    };
    let mut runner = TestRunner::new_with_rng(config, rng());
    let outcome = runner.run(&random_design::design(), |design| {
        let drawn = (built.get() + refused.get()) % DRAWN == 0;
        match hold(&design, if drawn { Reach::Drawn } else { Reach::Derived }) {
            Ok(Outcome::Built) => built.set(built.get() + 1),
            Ok(Outcome::Refused) => refused.set(refused.get() + 1),
            Err(flaws) => return Err(TestCaseError::fail(flaws.join("\n"))),
        }
        Ok(())
    });
    if let Err(TestError::Fail(why, design)) = outcome {
        let file = std::env::temp_dir().join(format!("casewright-broken-invariant-{}.ron", std::process::id()));
        std::fs::write(&file, written::text(&design).unwrap()).unwrap();
        panic!("{why}\nthe smallest design that breaks it: {}", file.display());
    }
    let (built, refused) = (built.get(), refused.get());
    println!("{built} random designs hold, {refused} were refused in words");
    assert!(built * 10 >= (built + refused) * 3, "only {built} of {} built: nothing is proved", built + refused);
}
