//! Every must holds exactly after rounding, and every chain closes, on random problems with nasty numbers.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test fails when it meets an internal error, and prints its figures"
)]

mod axis_support;

use axis_support::{Case, Taste, case, cases};
use casewright_core::Length;
use casewright_core::axis::{AxisError, broken, solve};

/// Checks one problem; says whether it had a solution.
fn check(seed: u64, taste: Taste) -> bool {
    let Case { problem, width, rows, .. } = case(seed, taste);
    let solution = match solve(&problem) {
        Ok(solution) => solution,
        Err(AxisError::Infeasible(conflicts)) => {
            assert!(!conflicts.is_empty(), "seed {seed}: a conflict without entries");
            return false;
        }
        Err(error) => panic!("seed {seed}: {error} {error:?}"),
    };
    assert_eq!(broken(&problem, &solution.positions), [], "seed {seed}: broken musts");
    for row in rows {
        let sum: Length = row.iter().map(|span| solution.size(*span)).sum();
        assert_eq!(sum, width, "seed {seed}: the row does not close");
    }
    for (position, raw) in solution.positions.iter().zip(&solution.raw_mm) {
        let moved = (position.mm() - raw).abs();
        assert!(moved < 40.0 * problem.step.mm(), "seed {seed}: rounding moved a face by {moved} mm");
    }
    if taste.on_lattice {
        for position in &solution.positions {
            assert_eq!(*position, position.rounded_to(problem.step), "seed {seed}: off the lattice");
        }
    }
    true
}

fn run(taste: Taste, usual: u64, least_solved: f64) {
    let count = cases(usual);
    let solved = (0..count).filter(|seed| check(*seed, taste)).count();
    assert!(solved as f64 >= least_solved * count as f64, "only {solved} of {count} problems had a solution");
}

#[test]
fn without_ties() {
    run(Taste { ties: 0, ..Taste::default() }, 400, 0.4);
}

#[test]
fn tight_without_ties() {
    run(Taste { ties: 0, tightness: 0.9, ..Taste::default() }, 200, 0.3);
}

#[test]
fn with_ties() {
    run(Taste { ties: 3, tightness: 0.4, ..Taste::default() }, 200, 0.3);
}

#[test]
fn many_ties_and_wild_weights() {
    run(Taste { ties: 6, tightness: 0.2, decades: 5.0, wishes: 0.6, ..Taste::default() }, 200, 0.05);
}

#[test]
fn few_wishes() {
    run(Taste { ties: 1, wishes: 0.2, ..Taste::default() }, 200, 0.2);
}

#[test]
fn on_the_lattice_where_every_length_is() {
    let taste = Taste { on_lattice: true, tightness: 0.4, ..Taste::default() };
    run(Taste { ties: 0, ..taste }, 200, 0.4);
    run(Taste { ties: 3, ..taste }, 200, 0.2);
}
