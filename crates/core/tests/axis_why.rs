//! What decides a size, against solving again with a changed bound; how far it could go, against an independent linear solver.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test fails when it meets an internal error, and prints its figures"
)]

mod axis_support;

use axis_support::{Dice, Taste, case, cases, oracle};
use casewright_core::Length;
use casewright_core::axis::{
    AxisError, AxisProblem, Decider, Face, MustKind, Solution, Span, VarId, WishKind, broken, solve, why,
};

/// The change of a bound for the differences: 2 micrometres.
const NUDGE: Length = Length::from_um(2);

/// The problem with one bound or target a little larger or smaller; none where there is no number to change.
fn nudged(problem: &AxisProblem, decider: Decider, nudge: Length) -> Option<AxisProblem> {
    let mut changed = problem.clone();
    match decider {
        Decider::Must(must) => {
            let kind = &mut changed.musts[must.0].kind;
            *kind = match *kind {
                MustKind::AtLeast(span, length) => MustKind::AtLeast(span, length + nudge),
                MustKind::AtMost(span, length) => MustKind::AtMost(span, length + nudge),
                MustKind::Exactly(span, length) => MustKind::Exactly(span, length + nudge),
                MustKind::Equal(a, b) => MustKind::Equal(a, b.plus(nudge)),
                MustKind::InLine(..) => return None,
            };
        }
        Decider::Wish(wish) => {
            let kind = &mut changed.wishes[wish.0].kind;
            *kind = match *kind {
                WishKind::Size { span, target } => WishKind::Size { span, target: target + nudge },
                WishKind::Position { face, position } => WishKind::Position { face, position: position + nudge },
                WishKind::Proportion { .. } => return None,
            };
        }
        Decider::Rest(_) => return None,
    }
    Some(changed)
}

fn raw(solution: &Solution, span: Span) -> f64 {
    let face = |face: Face| face.var.map_or(0.0, |var: VarId| solution.raw_mm[var.0]) + face.offset.mm();
    face(span.hi) - face(span.lo) + span.constant.mm()
}

/// The solution; none where musts conflict.
fn solved(seed: u64, problem: &AxisProblem) -> Option<Solution> {
    match solve(problem) {
        Ok(solution) => Some(solution),
        Err(AxisError::Infeasible(_)) => None,
        Err(error) => panic!("seed {seed}: {error}"),
    }
}

/// Compares effects with one-sided differences; gives the number that could be compared.
fn check(seed: u64, taste: Taste) -> usize {
    let case = case(seed, taste);
    let Some(solution) = solved(seed, &case.problem) else { return 0 };
    let span = Dice(seed).pick(&case.bays);
    let found = why(&case.problem, &solution, span).unwrap();
    assert_eq!(found.size, solution.size(span));
    let mut compared = 0;
    for (decider, effect) in &found.deciders {
        let presses = |solution: &Solution| solution.duals.iter().map(|dual| *dual != 0.0).collect::<Vec<_>>();
        let difference = |nudge: Length| {
            let again = solve(&nudged(&case.problem, *decider, nudge)?).ok()?;
            if presses(&again) != presses(&solution) {
                return None;
            }
            Some((raw(&again, span) - raw(&solution, span)) / nudge.mm())
        };
        let (Some(up), Some(down)) = (difference(NUDGE), difference(-NUDGE)) else { continue };
        if (up - down).abs() > 1e-3 {
            // A corner: other musts bind on one side.
            continue;
        }
        assert!((up - effect).abs() < 2e-3, "seed {seed}: {decider:?} has the effect {up}, not {effect}");
        compared += 1;
    }
    compared
}

fn run(taste: Taste) {
    let count = cases(60);
    let compared: usize = (0..count).map(|seed| check(seed + 90_000, taste)).sum();
    println!("{compared} effects compared in {count} problems");
    assert!(compared as u64 > count, "only {compared} effects compared");
}

#[test]
fn effects() {
    run(Taste { ties: 0, tightness: 0.6, ..Taste::default() });
}

#[test]
fn effects_through_ties() {
    run(Taste { ties: 2, tightness: 0.3, ..Taste::default() });
}

/// The musts that stop a size really stop it: without them it goes further, with them alone it does not.
fn check_play(seed: u64, taste: Taste) -> usize {
    let case = case(seed, taste);
    let Some(solution) = solved(seed, &case.problem) else { return 0 };
    let span = Dice(seed + 1).pick(&case.bays);
    let play = why(&case.problem, &solution, span).unwrap().play;
    let mut compared = 0;
    for (reach, sign) in [(&play.least, 1.0), (&play.most, -1.0)] {
        let Ok(expected) = oracle::smallest(&case.problem, span, sign) else { continue };
        let found = reach.as_ref().map(|reach| reach.size.mm());
        match (found, expected) {
            (Some(found), Some(expected)) => {
                assert!((found - expected).abs() < 2e-6, "seed {seed}: {found}, not {expected}");
                compared += 1;
            }
            (None, None) => {}
            (found, expected) => panic!("seed {seed}: {found:?}, not {expected:?}"),
        }
        let size = solution.size(span).mm();
        let inside = found.is_none_or(|found| sign * (size - found) >= -2.0 * case.problem.step.mm());
        assert!(inside, "seed {seed}: {size} is outside of the play");
    }
    compared
}

#[test]
fn play_by_shortest_paths() {
    let taste = Taste { ties: 0, ..Taste::default() };
    let compared: usize = (0..cases(200)).map(|seed| check_play(seed + 20_000, taste)).sum();
    assert!(compared > 200);
}

#[test]
fn play_through_ties() {
    let taste = Taste { ties: 3, tightness: 0.3, ..Taste::default() };
    let compared: usize = (0..cases(200)).map(|seed| check_play(seed + 30_000, taste)).sum();
    assert!(compared > 50);
}

/// Two bays in 1000 mm with an 18 mm divider: the left one at least 700 mm, both wishing for equal parts.
#[test]
fn a_least_size_decides() {
    let mm = Length::from_mm;
    let mut problem = AxisProblem::new(Length::from_um(500));
    let divider = Face::at(problem.add_var());
    let left = Span::between(Face::fixed(mm(0)), divider);
    let right = Span::between(divider.plus(mm(18)), Face::fixed(mm(1000)));
    problem.must(MustKind::AtLeast(right, mm(0)), 0, false);
    let least = problem.must(MustKind::AtLeast(left, mm(700)), 1, true);
    problem.wish(WishKind::Proportion { a: left, share_a: 1.0, b: right, share_b: 1.0 }, 1.0, 2);
    let solution = solve(&problem).unwrap();
    assert_eq!(broken(&problem, &solution.positions), []);
    let found = why(&problem, &solution, right).unwrap();
    assert_eq!(found.size, mm(282));
    assert_eq!(found.deciders.len(), 1);
    let (decider, effect) = found.deciders[0];
    assert_eq!(decider, Decider::Must(least));
    assert!((effect + 1.0).abs() < 1e-9);
    let most = found.play.most.unwrap();
    assert_eq!((most.size, most.stopped_by), (mm(282), vec![least]));
    assert_eq!(found.play.least.unwrap().size, mm(0));
}
