//! The axis solver beside the raw call of the numeric library on the same matrices, at 12, 60, 300 and 1000 unknowns.
//!
//! `cargo bench -p casewright-core --bench axis`. The figures are in docs/solver.md.
#![allow(clippy::expect_used, reason = "a benchmark of a problem without a solution measures nothing")]

use casewright_core::Length;
use casewright_core::axis::{AxisProblem, Face, LibraryCall, MustKind, Span, WishKind, solve, why};
use divan::{Bencher, black_box};

const SIZES: [usize; 4] = [12, 60, 300, 1000];

fn main() {
    divan::main();
}

/// A row of bays between two walls: least sizes for every second one, shares between neighbours, preferred sizes, a tie
/// in twenty, thicknesses and least sizes off the lattice.
fn row(dividers: usize, tied: bool) -> AxisProblem {
    let mm = |tenths: usize| Length::from_um(100 * tenths as i64);
    let mut problem = AxisProblem::new(Length::from_um(500));
    let (thickness, width) = (mm(183), mm(950 * dividers));
    let mut low = Face::fixed(Length::ZERO);
    let mut bays = Vec::new();
    for place in 0..=dividers {
        let high = if place < dividers { Face::at(problem.add_var()) } else { Face::fixed(width) };
        let bay = Span::between(low, high);
        problem.must(MustKind::AtLeast(bay, Length::ZERO), place, false);
        if place % 2 == 0 {
            problem.must(MustKind::AtLeast(bay, mm(300 + 7 * (place * 7 % 61))), place, true);
        }
        if place % 5 == 0 {
            let target = mm(200 + 19 * (place * 13 % 47));
            problem.wish(WishKind::Size { span: bay, target }, 2.0, place);
        }
        bays.push(bay);
        low = high.plus(thickness);
    }
    for (place, pair) in bays.windows(2).enumerate() {
        let (a, b) = (pair[0], pair[1]);
        let shares = [1.0, 2.0, 1.5];
        problem.wish(WishKind::Proportion { a, share_a: shares[place % 3], b, share_b: 1.0 }, 1.0, place);
        if tied && place % 20 == 3 {
            problem.must(MustKind::Equal(a, b), place, true);
        }
    }
    problem
}

#[divan::bench(args = SIZES)]
fn library_alone(bencher: Bencher<'_, '_>, dividers: usize) {
    let call = LibraryCall::new(&row(dividers, false)).expect("solvable");
    bencher.bench_local(|| black_box(call.run()));
}

#[divan::bench(args = SIZES)]
fn solved(bencher: Bencher<'_, '_>, dividers: usize) {
    let problem = row(dividers, false);
    bencher.bench_local(|| black_box(solve(black_box(&problem))));
}

#[divan::bench(args = SIZES)]
fn library_alone_with_ties(bencher: Bencher<'_, '_>, dividers: usize) {
    let call = LibraryCall::new(&row(dividers, true)).expect("solvable");
    bencher.bench_local(|| black_box(call.run()));
}

#[divan::bench(args = SIZES)]
fn solved_with_ties(bencher: Bencher<'_, '_>, dividers: usize) {
    let problem = row(dividers, true);
    bencher.bench_local(|| black_box(solve(black_box(&problem))));
}

#[divan::bench(args = SIZES)]
fn conflict_and_mends(bencher: Bencher<'_, '_>, dividers: usize) {
    let mut problem = row(dividers, false);
    let (first, second) = (Face::at(casewright_core::axis::VarId(2)), Face::at(casewright_core::axis::VarId(7)));
    problem.must(MustKind::AtMost(Span::between(first, second), Length::from_mm(100)), 0, true);
    bencher.bench_local(|| black_box(solve(black_box(&problem))));
}

#[divan::bench(args = SIZES)]
fn reasons(bencher: Bencher<'_, '_>, dividers: usize) {
    let problem = row(dividers, false);
    let solution = solve(&problem).expect("solvable");
    let face = |var: usize| Face::at(casewright_core::axis::VarId(var));
    let span = Span::between(face(3), face(4));
    bencher.bench_local(|| black_box(why(&problem, &solution, span)));
}
