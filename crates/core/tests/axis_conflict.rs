//! Conflicts are minimal, their excess is right, and every mend solves and is the smallest: against an independent linear solver.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test fails when it meets an internal error, and prints its figures"
)]

mod axis_support;

use axis_support::{Taste, case, cases, oracle};
use casewright_core::Length;
use casewright_core::axis::{AxisError, AxisProblem, Change, Conflict, Mend, MustKind, broken, solve};

/// Below this a relaxation is no relaxation, in millimetres.
const NOTHING: f64 = 1e-6;

fn relaxation(problem: &AxisProblem, set: &[usize]) -> f64 {
    oracle::total_relaxation(problem, |must| set.contains(&must), |_| true).unwrap()
}

fn bounded(problem: &AxisProblem, must: usize) -> bool {
    !matches!(problem.musts[must].kind, MustKind::Equal(..) | MustKind::InLine(..))
}

fn check_minimal(seed: u64, problem: &AxisProblem, conflict: &Conflict) {
    let set: Vec<usize> = conflict.musts.iter().map(|must| must.0).collect();
    assert!(relaxation(problem, &set) > NOTHING / 10.0, "seed {seed}: {set:?} can hold together");
    for without in &set {
        let rest: Vec<usize> = set.iter().copied().filter(|must| must != without).collect();
        let left = relaxation(problem, &rest);
        assert!(left < NOTHING, "seed {seed}: {set:?} still conflicts by {left} mm without {without}");
    }
    if set.iter().any(|must| bounded(problem, *must)) {
        let total =
            oracle::total_relaxation(problem, |must| set.contains(&must), |must| bounded(problem, must)).unwrap();
        let off = (conflict.excess.mm() - total).abs();
        assert!(off < 3e-6, "seed {seed}: {set:?} fails by {total} mm, not {:?}", conflict.excess);
    }
}

/// The problem without the musts of the other conflicts, which a mend sets aside.
fn alone(problem: &AxisProblem, conflicts: &[Conflict], index: usize) -> AxisProblem {
    let mut alone = problem.clone();
    for (_, other) in conflicts.iter().enumerate().filter(|(other, _)| *other != index) {
        for must in &other.musts {
            let give_up = Mend { must: *must, change: Change::GiveUp, solves_all: false };
            alone = give_up.applied(&alone);
        }
    }
    alone
}

fn check_mend(seed: u64, problem: &AxisProblem, mend: &Mend) {
    let mended = mend.applied(problem);
    let solution = solve(&mended).unwrap_or_else(|error| panic!("seed {seed}: {mend:?} does not solve: {error}"));
    assert_eq!(broken(&mended, &solution.positions), [], "seed {seed}: {mend:?}");
    let Change::Bound(length) = mend.change else { return };
    assert!(problem.musts[mend.must.0].relaxable, "seed {seed}: {mend:?} changes what may not be changed");
    // A hundredth of a millimetre less, where the change is larger than that, must not be enough.
    let old = match problem.musts[mend.must.0].kind {
        MustKind::AtLeast(_, old) | MustKind::AtMost(_, old) | MustKind::Exactly(_, old) => old,
        _ => panic!("seed {seed}: a bound for a must without one"),
    };
    let back = Length::from_um(10);
    if (length - old).abs() <= back {
        return;
    }
    let nearer = if length > old { length - back } else { length + back };
    let less = Mend { change: Change::Bound(nearer), ..*mend }.applied(problem);
    let left = oracle::total_relaxation(&less, |_| true, |_| true).unwrap();
    assert!(left > NOTHING, "seed {seed}: {nearer:?} would do, {mend:?} goes too far from {old:?}");
}

/// Checks a problem; gives the number of conflicts and mends.
fn check(seed: u64, taste: Taste) -> (usize, usize) {
    let problem = case(seed, taste).problem;
    let conflicts = match solve(&problem) {
        Ok(_) => return (0, 0),
        Err(AxisError::Infeasible(conflicts)) => conflicts,
        Err(error) => panic!("seed {seed}: {error}"),
    };
    for (index, conflict) in conflicts.iter().enumerate() {
        check_minimal(seed, &problem, conflict);
        let alone = alone(&problem, &conflicts, index);
        for mend in &conflict.mends {
            assert_eq!(mend.solves_all, conflicts.len() == 1);
            check_mend(seed, &alone, mend);
        }
    }
    let disjoint: usize = conflicts.iter().map(|conflict| conflict.musts.len()).sum();
    let mut all: Vec<_> = conflicts.iter().flat_map(|conflict| &conflict.musts).collect();
    all.sort();
    all.dedup();
    assert_eq!(all.len(), disjoint, "seed {seed}: conflicts share musts");
    (conflicts.len(), conflicts.iter().map(|conflict| conflict.mends.len()).sum())
}

fn run(taste: Taste, least_conflicts: f64) {
    let count = cases(120);
    let (mut conflicts, mut mends) = (0, 0);
    for seed in 0..count {
        let (here, mended) = check(seed + 50_000, taste);
        conflicts += here;
        mends += mended;
    }
    println!("{conflicts} conflicts, {mends} mends in {count} problems");
    assert!(conflicts as f64 > least_conflicts * count as f64, "only {conflicts} conflicts in {count} problems");
    assert!(mends >= conflicts, "only {mends} mends for {conflicts} conflicts");
}

#[test]
fn too_much_in_a_row() {
    run(Taste { ties: 0, least: 0.9, tightness: 1.3, ..Taste::default() }, 0.5);
}

#[test]
fn through_ties() {
    run(Taste { ties: 4, least: 0.4, tightness: 0.6, dividers: 6, ..Taste::default() }, 0.3);
}
