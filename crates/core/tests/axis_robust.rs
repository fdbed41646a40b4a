//! Any input gives an answer or an error; the same input the same answer; a dragged divider moves without jumps.

#![allow(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test fails when it meets an internal error, and prints its figures"
)]

mod axis_support;

use axis_support::{Dice, Taste, case, cases};
use casewright_core::Length;
use casewright_core::axis::{
    AxisError, AxisProblem, Face, Fault, MustKind, Span, VarId, WishKind, conflicts, play_of, solve, why,
};

fn wild_length(dice: &mut Dice) -> Length {
    Length::from_nm(match dice.int(0, 9) {
        0 => i64::MAX,
        1 => i64::MIN,
        2 => Length::LIMIT.nm(),
        3 => -Length::LIMIT.nm(),
        4 => dice.bits() as i64,
        _ => dice.int(-2_000_000_000, 2_000_000_000),
    })
}

fn wild_face(dice: &mut Dice, vars: usize) -> Face {
    let offset = if dice.chance(0.3) { wild_length(dice) } else { Length::from_mm(dice.int(-50, 50)) };
    let var = match dice.int(0, 9) {
        0 => Some(VarId(dice.bits() as usize)),
        1 | 2 => None,
        _ if vars > 0 => Some(VarId(dice.int(0, vars as i64 - 1) as usize)),
        _ => None,
    };
    Face { var, offset }
}

fn wild_number(dice: &mut Dice) -> f64 {
    let numbers = [f64::NAN, f64::INFINITY, -1.0, -0.0, 1e308, 5e-324, 0.0, 1.0, 1e-9, 3.0, 1.0, 1.0, 2.0];
    dice.pick(&numbers)
}

/// Without respect for anything: few such problems are valid.
fn wild(seed: u64) -> AxisProblem {
    let mut dice = Dice(seed);
    let step = if dice.chance(0.1) { wild_length(&mut dice) } else { Length::from_um(500) };
    let mut problem = AxisProblem::new(step);
    problem.vars = dice.int(0, 6) as usize;
    let vars = problem.vars;
    // In most problems the wild ones are rare, so that some get past the check of the data.
    let calm = dice.chance(0.8);
    let face = |dice: &mut Dice| {
        if calm && vars > 0 {
            Face {
                var: (!dice.chance(0.2)).then(|| VarId(dice.int(0, vars as i64 - 1) as usize)),
                offset: Length::from_mm(dice.int(-900, 900)),
            }
        } else {
            wild_face(dice, vars)
        }
    };
    for label in 0..dice.int(0, 10) as usize {
        let a = Span::between(face(&mut dice), face(&mut dice));
        let b = Span::between(face(&mut dice), face(&mut dice));
        let length = if calm { Length::from_nm(dice.int(-900_000_000, 900_000_000)) } else { wild_length(&mut dice) };
        let kind = match dice.int(0, 4) {
            0 => MustKind::AtLeast(a, length),
            1 => MustKind::AtMost(a, length),
            2 => MustKind::Exactly(a, length),
            3 => MustKind::Equal(a, b),
            _ => MustKind::InLine(a.lo, b.hi),
        };
        problem.must(kind, label, dice.chance(0.7));
        let kind = match dice.int(0, 2) {
            0 => WishKind::Size { span: a, target: length },
            1 => WishKind::Proportion { a, share_a: wild_number(&mut dice).abs(), b, share_b: 1.0 },
            _ => WishKind::Position { face: a.hi, position: length },
        };
        let weight = if calm { dice.unit() } else { wild_number(&mut dice) };
        problem.wish(kind, weight, label);
    }
    problem
}

#[test]
fn any_input_gives_an_answer_or_an_error() {
    let (mut solved, mut conflicting, mut invalid) = (0, 0, 0);
    for seed in 0..cases(1500) {
        let problem = wild(seed);
        let mut dice = Dice(seed);
        let span = Span::between(wild_face(&mut dice, problem.vars), wild_face(&mut dice, problem.vars));
        drop(play_of(&problem, span));
        match solve(&problem) {
            Ok(solution) => {
                solved += 1;
                drop(why(&problem, &solution, span));
                assert_eq!(solve(&problem).as_ref(), Ok(&solution), "seed {seed}: not the same again");
            }
            Err(AxisError::Infeasible(found)) => {
                conflicting += 1;
                assert_eq!(conflicts(&problem), Ok(found), "seed {seed}: not the same again");
            }
            Err(AxisError::Invalid(faults)) => {
                invalid += 1;
                assert!(!faults.is_empty());
            }
            Err(error) => panic!("seed {seed}: {error} {error:?}"),
        }
    }
    println!("{solved} solved, {conflicting} conflicting, {invalid} invalid");
    assert!(solved > 100 && conflicting > 100 && invalid > 100);
}

#[test]
fn every_fault_is_listed() {
    let mut problem = AxisProblem::new(Length::ZERO);
    let face = Face::at(VarId(3));
    problem.must(MustKind::InLine(face, Face::fixed(Length::from_mm(200_000))), 0, true);
    problem.wish(WishKind::Position { face: Face::fixed(Length::ZERO), position: Length::ZERO }, f64::NAN, 0);
    let Err(AxisError::Invalid(faults)) = solve(&problem) else { panic!("faults not seen") };
    assert_eq!(faults.len(), 4, "{faults:?}");
    assert!(matches!(faults[0], Fault::BadStep(_)));
    assert!(matches!(faults[1], Fault::UnknownVar { var: VarId(3), vars: 0, .. }));
    assert!(matches!(faults[2], Fault::OutOfRange { .. }));
    assert!(matches!(faults[3], Fault::BadNumber { .. }));
}

#[test]
fn empty_problems_and_unknowns_without_any_demand() {
    let mut problem = AxisProblem::new(Length::from_mm(1));
    assert_eq!(solve(&problem).unwrap().positions, []);
    problem.vars = 3;
    assert_eq!(solve(&problem).unwrap().positions, [Length::ZERO; 3]);
}

/// A divider is dragged in small steps by a wish of great weight: nothing jumps, and every
/// must holds all along.
#[test]
fn dragging() {
    let mut dragged = 0;
    for seed in 0..cases(25) {
        let mut problem = case(seed + 70_000, Taste { ties: 1, tightness: 0.4, ..Taste::default() }).problem;
        let Ok(mut before) = solve(&problem) else { continue };
        let start = before.positions[0];
        let drag = WishKind::Position { face: Face::at(VarId(0)), position: start };
        let drag = problem.wish(drag, 100.0, 0);
        before = solve(&problem).unwrap();
        let stride = Length::from_um(700);
        for step in 1..40 {
            let position = start + stride * step;
            problem.wishes[drag.0].kind = WishKind::Position { face: Face::at(VarId(0)), position };
            let after = solve(&problem).unwrap();
            for (new, old) in after.raw_mm.iter().zip(&before.raw_mm) {
                // A weak wish against a strong one may act as a lever, but not without bound.
                assert!((new - old).abs() < 60.0 * stride.mm(), "seed {seed}: jumps from {old} to {new}");
            }
            before = after;
        }
        dragged += 1;
    }
    assert!(dragged > 5);
}

/// Three bays of one width in 1000 mm, one of them at least 400 mm: no chain of musts is too long by itself, only the ties make it so.
#[test]
fn the_play_of_what_ties_contradict_is_a_conflict() {
    let mm = Length::from_mm;
    let mut problem = AxisProblem::new(mm(1));
    let (low, high) = (Face::at(problem.add_var()), Face::at(problem.add_var()));
    let bays =
        [Span::between(Face::fixed(mm(0)), low), Span::between(low, high), Span::between(high, Face::fixed(mm(1000)))];
    problem.must(MustKind::Equal(bays[0], bays[1]), 0, true);
    problem.must(MustKind::Equal(bays[1], bays[2]), 1, true);
    assert_eq!(play_of(&problem, bays[2]).unwrap().most.unwrap().size, Length::from_nm(333_333_333));
    problem.must(MustKind::AtLeast(bays[0], mm(400)), 2, true);
    let Err(AxisError::Infeasible(found)) = play_of(&problem, bays[2]) else { panic!("it has no play") };
    assert_eq!(Ok(found), conflicts(&problem));
}
