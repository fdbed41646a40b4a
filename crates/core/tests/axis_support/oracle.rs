//! Independent answers: the problem written out plainly over all unknowns, for a dense quadratic solver (`quadprog`, the
//! dual method of Goldfarb and Idnani, Mathematical Programming 27, 1983) and a simplex solver (`microlp`). Nothing here
//! uses the solver's own reductions.

use casewright_core::axis::{Anchor, AxisProblem, Face, MustKind, Span, WishKind};
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

/// `sum of factor x position (op) limit`, in millimetres.
pub(crate) struct Row {
    pub(crate) terms: Vec<f64>,
    pub(crate) equal: bool,
    pub(crate) most: f64,
    pub(crate) must: usize,
}

fn add_face(terms: &mut [f64], face: Face, factor: f64) -> f64 {
    if let Some(var) = face.var {
        terms[var.0] += factor;
    }
    factor * face.offset.mm()
}

/// The factors of a size, and its constant.
pub(crate) fn linear(vars: usize, span: Span, factor: f64) -> (Vec<f64>, f64) {
    let mut terms = vec![0.0; vars];
    let constant = add_face(&mut terms, span.hi, factor) + add_face(&mut terms, span.lo, -factor);
    (terms, constant + factor * span.constant.mm())
}

/// The musts as rows.
pub(crate) fn rows(problem: &AxisProblem) -> Vec<Row> {
    let negative = |terms: Vec<f64>| terms.into_iter().map(|term| -term).collect::<Vec<_>>();
    problem
        .musts
        .iter()
        .enumerate()
        .map(|(must, demand)| match demand.kind {
            MustKind::AtLeast(span, length) => {
                let (terms, constant) = linear(problem.vars, span, 1.0);
                Row { terms: negative(terms), equal: false, most: constant - length.mm(), must }
            }
            MustKind::AtMost(span, length) => {
                let (terms, constant) = linear(problem.vars, span, 1.0);
                Row { terms, equal: false, most: length.mm() - constant, must }
            }
            MustKind::Exactly(span, length) => {
                let (terms, constant) = linear(problem.vars, span, 1.0);
                Row { terms, equal: true, most: length.mm() - constant, must }
            }
            MustKind::Equal(a, b) => {
                let ((left, one), (right, other)) = (linear(problem.vars, a, 1.0), linear(problem.vars, b, -1.0));
                let terms = left.iter().zip(&right).map(|(a, b)| a + b).collect();
                Row { terms, equal: true, most: -one - other, must }
            }
            MustKind::InLine(a, b) => {
                let (terms, constant) = linear(problem.vars, Span::between(a, b), 1.0);
                Row { terms, equal: true, most: -constant, must }
            }
        })
        .collect()
}

/// The wishes and anchors as residuals: factors, constant, weight.
pub(crate) fn residuals(problem: &AxisProblem, anchors: &[Anchor]) -> Vec<(Vec<f64>, f64, f64)> {
    let heaviest = problem.wishes.iter().map(|wish| wish.weight).fold(0.0, f64::max);
    let mut out = Vec::new();
    for wish in problem.wishes.iter().filter(|wish| wish.weight > 0.0) {
        let weight = wish.weight.max(1e-6 * heaviest);
        match wish.kind {
            WishKind::Size { span, target } => {
                let (terms, constant) = linear(problem.vars, span, 1.0);
                out.push((terms, constant - target.mm(), weight));
            }
            WishKind::Position { face, position } => {
                let mut terms = vec![0.0; problem.vars];
                let constant = add_face(&mut terms, face, 1.0);
                out.push((terms, constant - position.mm(), weight));
            }
            WishKind::Proportion { a, share_a, b, share_b } => {
                let sum = share_a + share_b;
                if sum > 0.0 {
                    let (left, one) = linear(problem.vars, a, share_b / sum);
                    let (right, other) = linear(problem.vars, b, -share_a / sum);
                    out.push((left.iter().zip(&right).map(|(a, b)| a + b).collect(), one + other, weight));
                }
            }
        }
    }
    for anchor in anchors {
        let mut terms = vec![0.0; problem.vars];
        terms[anchor.var.0] = 1.0;
        out.push((terms, -anchor.position.mm(), anchor.weight));
    }
    out
}

/// How much every inequality is loosened for `quadprog`, in millimetres, each differently between one and two of these: it
/// counts a row as violated from 2e-16 on, so that without room it goes round in circles where rows say the same.
const ROOM: f64 = 2e-9;
/// How far the answer of `quadprog` may miss a row, in millimetres, to count as an answer.
const MISS: f64 = 5e-8;
/// How far it may miss the balance of forces, in weight x millimetre for a heaviest weight of one; and in millimetres,
/// which times the lightest weight is a force.
const IMBALANCE: (f64, f64) = (1e-9, 2e-6);

/// The minimiser in millimetres, by `quadprog`; none if it finds none, or if its answer does not prove itself: it must
/// satisfy every row, and its multipliers must balance the wishes. It is asked again from its own answer as the origin
/// until that stands still: then what it looks for is small, and so are its errors.
pub(crate) fn minimiser(problem: &AxisProblem, anchors: &[Anchor]) -> Option<Vec<f64>> {
    let (problem, anchors) = (problem.clone(), anchors.to_vec());
    let (send, receive) = std::sync::mpsc::channel();
    // In a thread of its own, because it may never end.
    std::thread::spawn(move || {
        let mut at = vec![0.0; problem.vars];
        let mut proven = false;
        for _ in 0..4 {
            match step_from(&problem, &anchors, &at) {
                Some((step, proof)) => {
                    at.iter_mut().zip(step).for_each(|(position, step)| *position += step);
                    proven = proof;
                }
                None => proven = false,
            }
        }
        // Nobody listens any more when the time is over.
        drop(send.send(proven.then_some(at)));
    });
    receive.recv_timeout(std::time::Duration::from_secs(5)).ok().flatten()
}

fn value(terms: &[f64], at: &[f64]) -> f64 {
    terms.iter().zip(at).map(|(term, at)| term * at).sum()
}

/// The equations that do not follow from those before them, by Gaussian elimination. Factors are small whole numbers.
fn independent(rows: &[Row]) -> Vec<&Row> {
    let mut reduced: Vec<(usize, Vec<f64>)> = Vec::new();
    let mut out = Vec::new();
    for row in rows.iter().filter(|row| row.equal) {
        let mut terms = row.terms.clone();
        for (pivot, other) in &reduced {
            let factor = terms[*pivot] / other[*pivot];
            terms.iter_mut().zip(other).for_each(|(term, other)| *term -= factor * other);
        }
        if let Some(pivot) = terms.iter().position(|term| term.abs() > 1e-9) {
            reduced.push((pivot, terms));
            out.push(row);
        }
    }
    out
}

fn step_from(problem: &AxisProblem, anchors: &[Anchor], at: &[f64]) -> Option<(Vec<f64>, bool)> {
    let n = problem.vars;
    let residuals = residuals(problem, anchors);
    let heaviest = residuals.iter().map(|residual| residual.2).fold(0.0, f64::max);
    let (mut q, mut c) = (vec![0.0; n * n], vec![0.0; n]);
    for (terms, constant, weight) in &residuals {
        let here = constant + value(terms, at);
        for i in 0..n {
            c[i] += weight / heaviest * terms[i] * here;
            for j in 0..n {
                q[i * n + j] += weight / heaviest * terms[i] * terms[j];
            }
        }
    }
    let rows = rows(problem);
    let mut dice = super::Dice(1);
    let (mut a, mut b) = (Vec::new(), Vec::new());
    let equations = independent(&rows);
    for row in &equations {
        a.extend_from_slice(&row.terms);
        b.push(row.most - value(&row.terms, at));
    }
    for row in rows.iter().filter(|row| !row.equal) {
        a.extend_from_slice(&row.terms);
        b.push(row.most - value(&row.terms, at) + ROOM * (1.0 + dice.unit()));
    }
    let hessian = q.clone();
    let answer = quadprog::solve_qp(&mut q, &c, &a, &b, equations.len(), false).ok()?;
    let there: Vec<f64> = at.iter().zip(&answer.sol).map(|(at, step)| at + step).collect();
    let misses = rows.iter().map(|row| {
        let over = value(&row.terms, &there) - row.most;
        if row.equal { over.abs() } else { over }
    });
    // Of equations it gives multipliers without sign: their part of the forces may be anything in their span, which the
    // inequalities' part does not tell. So forces are compared along directions that keep the equations.
    let mut forces: Vec<f64> = (0..n).map(|i| c[i] + value(&hessian[i * n..(i + 1) * n], &answer.sol)).collect();
    for (row, multiplier) in answer.lagr.iter().enumerate().skip(equations.len()) {
        forces.iter_mut().zip(&a[row * n..(row + 1) * n]).for_each(|(force, term)| *force += multiplier * term);
    }
    let mut across: Vec<Vec<f64>> = Vec::new();
    for row in &equations {
        let mut direction = row.terms.clone();
        for other in &across {
            let along = value(&direction, other);
            direction.iter_mut().zip(other).for_each(|(part, other)| *part -= along * other);
        }
        let length = value(&direction, &direction).sqrt();
        across.push(direction.iter().map(|part| part / length).collect());
    }
    for direction in &across {
        let along = value(&forces, direction);
        forces.iter_mut().zip(direction).for_each(|(force, part)| *force -= along * part);
    }
    let lightest = residuals.iter().map(|residual| residual.2 / heaviest).fold(1.0, f64::min);
    let limit = IMBALANCE.0.min(IMBALANCE.1 * lightest);
    let proof = misses.fold(0.0, f64::max) <= MISS && forces.iter().all(|force| force.abs() <= limit);
    Some((answer.sol, proof))
}

/// A linear program over the positions and one relaxation for each must in `loose`.
pub(crate) struct Linear {
    pub(crate) problem: Problem,
    pub(crate) positions: Vec<Variable>,
}

/// The musts that `keep` accepts as a linear program. Objective: positions have the given factors; each must that
/// `loose` accepts may be broken at the price of one for each millimetre.
pub(crate) fn program(
    problem: &AxisProblem,
    objective: &[f64],
    keep: impl Fn(usize) -> bool,
    loose: impl Fn(usize) -> bool,
) -> Linear {
    let mut out = Problem::new(OptimizationDirection::Minimize);
    let positions: Vec<Variable> =
        objective.iter().map(|factor| out.add_var(*factor, (f64::NEG_INFINITY, f64::INFINITY))).collect();
    for row in rows(problem).into_iter().filter(|row| keep(row.must)) {
        let mut terms: Vec<(Variable, f64)> = positions
            .iter()
            .zip(&row.terms)
            .filter(|(_, term)| **term != 0.0)
            .map(|(var, term)| (*var, *term))
            .collect();
        let compare = if row.equal { ComparisonOp::Eq } else { ComparisonOp::Le };
        if loose(row.must) {
            terms.push((out.add_var(1.0, (0.0, f64::INFINITY)), -1.0));
            if row.equal {
                terms.push((out.add_var(1.0, (0.0, f64::INFINITY)), 1.0));
            }
        } else if terms.is_empty() {
            // The library takes no empty rows.
            terms.push((out.add_var(0.0, (0.0, 0.0)), 1.0));
        }
        out.add_constraint(&terms[..], compare, row.most);
    }
    Linear { problem: out, positions }
}

/// The smallest total in millimetres by which the musts of `loose` must give way for those of `keep` to hold.
pub(crate) fn total_relaxation(
    problem: &AxisProblem,
    keep: impl Fn(usize) -> bool,
    loose: impl Fn(usize) -> bool,
) -> Result<f64, String> {
    let program = program(problem, &vec![0.0; problem.vars], keep, loose);
    let outcome = program.problem.solve().map_err(|error| error.to_string())?;
    outcome.solution().map(|solution| solution.objective()).ok_or_else(|| "interrupted".to_owned())
}

/// The smallest value of a size under all musts; none if there is none.
pub(crate) fn smallest(problem: &AxisProblem, span: Span, sign: f64) -> Result<Option<f64>, String> {
    let (terms, constant) = linear(problem.vars, span, sign);
    let program = program(problem, &terms, |_| true, |_| false);
    match program.problem.solve() {
        Ok(outcome) => Ok(outcome.solution().map(|solution| sign * (solution.objective() + constant))),
        Err(microlp::Error::Unbounded) => Ok(None),
        Err(error) => Err(error.to_string()),
    }
}

/// How much the sum of the wishes could fall at most below its value at `at`, by Frank and Wolfe's bound (Naval Research
/// Logistics 3, 1956): one linear program over all musts. As a part of the slope's size times the
/// farthest position: what rounding can hide.
pub(crate) fn gap(problem: &AxisProblem, anchors: &[Anchor], at: &[f64]) -> Result<f64, String> {
    let residuals = residuals(problem, anchors);
    let heaviest = residuals.iter().map(|residual| residual.2).fold(0.0, f64::max);
    let mut slope = vec![0.0; problem.vars];
    for (terms, constant, weight) in &residuals {
        let here = weight / heaviest * (constant + value(terms, at));
        slope.iter_mut().zip(terms).for_each(|(slope, term)| *slope += here * term);
    }
    let program = program(problem, &slope, |_| true, |_| false);
    let outcome = program.problem.solve().map_err(|error| error.to_string())?;
    let best = outcome.solution().ok_or("interrupted")?;
    // Term by term, because the sums are large and their difference is small.
    let gap: f64 = slope
        .iter()
        .zip(at)
        .zip(&program.positions)
        .map(|((slope, at), var)| slope * (at - best.var_value(*var)))
        .sum();
    let largest = |numbers: &[f64]| numbers.iter().fold(1.0, |most: f64, number| most.max(number.abs()));
    Ok(gap / (largest(&slope) * largest(at)))
}
