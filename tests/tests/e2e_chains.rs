//! Invariant 1 on random designs: whatever solves, closes; whatever does not, says why in words.

use std::cell::Cell;

use casewright_core::slides::settle;
use casewright_core::solve::{SolveError, solve};
use casewright_tests::{chains, random_design};
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};

#[test]
fn chains_of_random_designs_close() {
    random_design::with_room(close_chains);
}

fn close_chains() {
    let (solved, refused) = (Cell::new(0_u32), Cell::new(0_u32));
    let config = Config {
        cases: random_design::cases(200),
        failure_persistence: None,
        max_shrink_iters: 2000,
        ..Config::default()
    };
    // The same designs on every run, so that a red run can be had again.
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let outcome = runner.run(&random_design::design(), |design| {
        let design = settle(&design).design;
        match solve(&design) {
            Ok(found) => {
                solved.set(solved.get() + 1);
                let flaws = chains::flaws(&design, &found.layout);
                if flaws.is_empty() { Ok(()) } else { Err(TestCaseError::fail(flaws.join("\n"))) }
            }
            Err(SolveError::Internal(cause)) => Err(TestCaseError::fail(format!("internal error: {cause}"))),
            Err(SolveError::Faults(faults)) => {
                refused.set(refused.get() + 1);
                if faults.is_empty() { Err(TestCaseError::fail("refused without a fault")) } else { Ok(()) }
            }
            Err(SolveError::Conflicts(conflicts)) => {
                refused.set(refused.get() + 1);
                let bare =
                    conflicts.is_empty() || conflicts.iter().any(|it| it.what.is_empty() || it.entries.is_empty());
                if bare { Err(TestCaseError::fail("a conflict without words")) } else { Ok(()) }
            }
        }
    });
    if let Err(error) = outcome {
        panic!("{error}");
    }
    let (solved, refused) = (solved.get(), refused.get());
    println!("{solved} random designs solved, {refused} contradict themselves");
    // A generator whose designs hardly ever solve would prove nothing.
    assert!(solved * 10 >= (solved + refused) * 3, "only {solved} of {} solved", solved + refused);
}
