//! The real positions before rounding agree with an independent quadratic solver to a millionth of a millimetre, and the
//! question whether there is a solution with an independent linear one. That one also bounds how much better the wishes
//! could be met, in every problem, whether the quadratic solver has an answer to it or not.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test fails when it meets an internal error, and prints its figures"
)]

mod axis_support;

use axis_support::{Taste, case, cases, oracle};
use casewright_core::axis::{AxisError, AxisProblem, MustKind, Solution, solve};

/// The conditions of Karush, Kuhn and Tucker on the problem as it stands, by its own duals: forces balance, bounds only push,
/// and only where they are touched. A convex problem has no better answer then.
fn check_balance(seed: u64, problem: &AxisProblem, solution: &Solution) {
    let residuals = oracle::residuals(problem, &solution.anchors);
    let heaviest = residuals.iter().map(|residual| residual.2).fold(1e-300, f64::max);
    let mut force = vec![0.0; problem.vars];
    for (terms, constant, weight) in &residuals {
        let value: f64 = constant + terms.iter().zip(&solution.raw_mm).map(|(term, at)| term * at).sum::<f64>();
        force.iter_mut().zip(terms).for_each(|(force, term)| *force += weight * value * term);
    }
    for (row, (must, dual)) in oracle::rows(problem).iter().zip(problem.musts.iter().zip(&solution.duals)) {
        let multiplier = if matches!(must.kind, MustKind::AtLeast(..)) { -dual } else { *dual };
        let slack: f64 = row.most - row.terms.iter().zip(&solution.raw_mm).map(|(term, at)| term * at).sum::<f64>();
        force.iter_mut().zip(&row.terms).for_each(|(force, term)| *force += multiplier * term);
        if !row.equal {
            assert!(multiplier / heaviest > -1e-7, "seed {seed}: must {} pulls by {multiplier}", row.must);
            let idle = multiplier == 0.0 || slack < 1e-6;
            assert!(idle, "seed {seed}: must {} pushes by {multiplier} with {slack} mm to spare", row.must);
        }
    }
    for (var, force) in force.iter().enumerate() {
        assert!((force / heaviest).abs() < 1e-7, "seed {seed}: {force} is left on position {var}");
    }
}

/// What became of a random problem.
#[derive(PartialEq)]
enum Outcome {
    Agreed,
    Conflict,
    /// The other solver found nothing, or nothing that proves itself.
    OtherFailed,
}

fn check(seed: u64, taste: Taste, tolerance_mm: f64) -> Outcome {
    let problem = case(seed, taste).problem;
    let relaxation = oracle::total_relaxation(&problem, |_| true, |_| true);
    match solve(&problem) {
        Ok(solution) => {
            if let Ok(relaxation) = relaxation {
                assert!(relaxation < 1e-6, "seed {seed}: solved, but must give way by {relaxation} mm");
            }
            // Where there is hardly room, the simplex solver may see none; then nothing is proved here.
            if let Ok(gap) = oracle::gap(&problem, &solution.anchors, &solution.raw_mm) {
                assert!(gap < 1e-9, "seed {seed}: the wishes could be met better by {gap}");
            }
            check_balance(seed, &problem, &solution);
            let Some(expected) = oracle::minimiser(&problem, &solution.anchors) else { return Outcome::OtherFailed };
            for (var, (found, expected)) in solution.raw_mm.iter().zip(&expected).enumerate() {
                let off = (found - expected).abs();
                assert!(off <= tolerance_mm, "seed {seed}: position {var} is {found}, not {expected}: {off} mm off");
            }
            Outcome::Agreed
        }
        Err(AxisError::Infeasible(_)) => {
            if let Ok(relaxation) = relaxation {
                assert!(relaxation > 1e-7, "seed {seed}: called a conflict, but nothing must give way");
            }
            Outcome::Conflict
        }
        Err(error) => {
            assert!(error.to_string().is_empty(), "seed {seed}: {error}");
            Outcome::Conflict
        }
    }
}

fn run(taste: Taste, tolerance_mm: f64) {
    let count = cases(250);
    let outcomes: Vec<Outcome> = (0..count).map(|seed| check(seed + 10_000, taste, tolerance_mm)).collect();
    let many = |kind: Outcome| outcomes.iter().filter(|outcome| **outcome == kind).count();
    let (agreed, conflict, failed) = (many(Outcome::Agreed), many(Outcome::Conflict), many(Outcome::OtherFailed));
    println!(
        "within {tolerance_mm} mm: {agreed} agree, {conflict} conflict, {failed} not answered by the other solver"
    );
    assert!(agreed as u64 * 4 > count, "only {agreed} of {count} compared");
    assert!(failed as u64 * 2 <= count, "the other solver failed on {failed} of {count}");
}

#[test]
fn shares_and_sizes() {
    run(Taste { ties: 0, tightness: 0.5, ..Taste::default() }, 1e-6);
}

#[test]
fn tight() {
    run(Taste { ties: 0, tightness: 0.8, dividers: 5, ..Taste::default() }, 1e-6);
}

#[test]
fn ties() {
    run(Taste { ties: 3, tightness: 0.3, ..Taste::default() }, 1e-6);
}

#[test]
fn loose_unknowns() {
    run(Taste { ties: 1, wishes: 0.5, tightness: 0.4, ..Taste::default() }, 1e-6);
}

#[test]
fn weights_over_six_decades() {
    // A double holds sixteen digits: six go to the weights, four to the millimetres before the point.
    run(Taste { ties: 1, wishes: 0.8, tightness: 0.4, decades: 3.0, ..Taste::default() }, 1e-5);
}
