//! From the library's approximate answer to the exact minimiser in floating point: guess which rows are active, solve
//! the equations that they make (Karush, Kuhn, Tucker), and correct the guess until nothing is violated.

use std::collections::BTreeSet;

use clarabel::algebra::CscMatrix;
use clarabel::qdldl::{QDLDLFactorisation, QDLDLSettings};

use super::program::Program;

/// How far a row may be violated, in units of the program.
const VIOLATION: f64 = 2e-12;
/// How far below zero a multiplier may lie, relative to the largest gradient.
const PRESSURE: f64 = 1e-10;
/// The shift that keeps the factorisation stable; refinement takes its effect out again. A larger shift loses fewer
/// digits in the factors, but refinement then takes longer along a chain of rows, whose weakest direction shrinks with
/// the square of its length.
fn shift(size: usize) -> f64 {
    (1e-3 / (size * size) as f64).clamp(1e-9, 1e-6)
}

/// The most corrections of the active set.
const ROUNDS: usize = 60;

/// A point with its multipliers.
#[derive(Clone, Debug)]
pub(crate) struct Polished {
    pub(crate) x: Vec<f64>,
    /// One for each row of the program; zero on rows that are not active.
    pub(crate) z: Vec<f64>,
    pub(crate) active: Vec<bool>,
}

/// The equations of one active set, factorised.
pub(crate) struct Equations<'a> {
    program: &'a Program,
    /// The active rows, ascending.
    pub(crate) active: Vec<usize>,
    factors: QDLDLFactorisation<f64>,
}

impl<'a> Equations<'a> {
    /// The equations of the active rows; none if the factorisation fails.
    pub(crate) fn new(program: &'a Program, active: &[bool]) -> Option<Self> {
        let active: Vec<usize> = (0..active.len()).filter(|row| active[*row]).collect();
        let free = program.free;
        let size = free + active.len();
        if size == 0 {
            return None;
        }
        let mut colptr = Vec::with_capacity(size + 1);
        let (mut rowval, mut nzval) = (Vec::new(), Vec::new());
        let shift = shift(size);
        colptr.push(0);
        for column in 0..free {
            let places = program.p.colptr[column]..program.p.colptr[column + 1];
            rowval.extend_from_slice(&program.p.rowval[places.clone()]);
            nzval.extend_from_slice(&program.p.nzval[places]);
            colptr.push(rowval.len());
        }
        for (place, row) in active.iter().enumerate() {
            for (class, factor) in &program.rows[*row] {
                rowval.push(*class);
                nzval.push(*factor);
            }
            rowval.push(free + place);
            nzval.push(-shift);
            colptr.push(rowval.len());
        }
        let matrix = CscMatrix::new(size, size, colptr, rowval, nzval);
        let mut signs = vec![1; free];
        signs.resize(size, -1);
        let settings = QDLDLSettings {
            Dsigns: Some(signs),
            regularize_enable: true,
            regularize_eps: 1e-14,
            regularize_delta: shift,
            ..QDLDLSettings::default()
        };
        let factors = QDLDLFactorisation::new(&matrix, Some(settings)).ok()?;
        Some(Self { program, active, factors })
    }

    /// The residual of `P x + A'z = right[..free]`, `A x = right[free..]`.
    fn residual(&self, right: &[f64], point: &[f64]) -> Vec<f64> {
        let free = self.program.free;
        let mut out = right.to_vec();
        let p = &self.program.p;
        for column in 0..free {
            for place in p.colptr[column]..p.colptr[column + 1] {
                let (row, value) = (p.rowval[place], p.nzval[place]);
                out[row] -= value * point[column];
                if row != column {
                    out[column] -= value * point[row];
                }
            }
        }
        for (place, row) in self.active.iter().enumerate() {
            for (class, factor) in &self.program.rows[*row] {
                out[*class] -= factor * point[free + place];
                out[free + place] -= factor * point[*class];
            }
        }
        out
    }

    /// The solution for a right-hand side: x, then the multipliers of the active rows; refined until it stops improving.
    pub(crate) fn solve(&mut self, right: &[f64]) -> Vec<f64> {
        let mut point = vec![0.0; right.len()];
        let mut residual = right.to_vec();
        let mut error = largest(&residual);
        for _ in 0..50 {
            if error == 0.0 || !error.is_finite() {
                break;
            }
            let mut step = residual.clone();
            self.factors.solve(&mut step);
            let trial: Vec<f64> = point.iter().zip(&step).map(|(at, by)| at + by).collect();
            let left = self.residual(right, &trial);
            let trial_error = largest(&left);
            if trial_error.is_nan() || trial_error >= error {
                break;
            }
            let settled = trial_error > 0.9 * error;
            (point, residual, error) = (trial, left, trial_error);
            if settled || error < 1e-17 {
                break;
            }
        }
        point
    }
}

/// The largest magnitude.
pub(crate) fn largest(numbers: &[f64]) -> f64 {
    numbers.iter().fold(0.0, |most: f64, number| if number.is_nan() { f64::NAN } else { most.max(number.abs()) })
}

/// What is wrong with a point.
struct Faults {
    violated: Vec<(f64, usize)>,
    pulling: Vec<(f64, usize)>,
}

/// The solution of the equations of one active set.
fn point<'a>(program: &'a Program, active: &[bool]) -> Option<(Polished, Equations<'a>)> {
    let mut equations = Equations::new(program, active)?;
    let mut right: Vec<f64> = program.q.iter().map(|q| -q).collect();
    right.extend(equations.active.iter().map(|row| program.b[*row]));
    let both = equations.solve(&right);
    Some((spread(&equations, both), equations))
}

fn spread(equations: &Equations<'_>, mut both: Vec<f64>) -> Polished {
    let multipliers = both.split_off(equations.program.free);
    let mut z = vec![0.0; equations.program.rows.len()];
    let mut active = vec![false; z.len()];
    for (row, multiplier) in equations.active.iter().zip(multipliers) {
        z[*row] = multiplier;
        active[*row] = true;
    }
    Polished { x: both, z, active }
}

/// The same point, corrected with residuals in twice the precision: a weak anchor is then held as exactly as a strong wish.
fn sharpened(mut equations: Equations<'_>, rough: Polished) -> Polished {
    if equations.program.squares.is_empty() {
        return rough;
    }
    let mut both = rough.x;
    both.extend(equations.active.iter().map(|row| rough.z[*row]));
    for _ in 0..3 {
        let (x, z) = both.split_at(equations.program.free);
        let right = equations.program.imbalance(&equations.active, x, z);
        let step = equations.solve(&right);
        if step.iter().any(|step| !step.is_finite()) {
            break;
        }
        both.iter_mut().zip(&step).for_each(|(at, by)| *at += by);
        if largest(&step[..equations.program.free]) < 1e-16 {
            break;
        }
    }
    spread(&equations, both)
}

fn faults(program: &Program, polished: &Polished) -> Faults {
    let pressure = PRESSURE * largest(&polished.z).max(largest(&program.q)).max(1e-9);
    let mut faults = Faults { violated: Vec::new(), pulling: Vec::new() };
    for (row, terms) in program.rows.iter().enumerate() {
        let value: f64 = terms.iter().map(|(class, factor)| factor * polished.x[*class]).sum();
        let over = value - program.b[row];
        let over = if row < program.ties { over.abs() } else { over };
        if over.is_nan() || over > VIOLATION {
            faults.violated.push((over, row));
        }
        if row >= program.ties && polished.z[row] < -pressure {
            faults.pulling.push((-polished.z[row], row));
        }
    }
    faults
}

/// How far a row may be violated by the minimiser that the dense method points to, in units of the program.
const HARMLESS: f64 = 1e-9;

/// The minimiser by the dense dual method, made exact by the same equations; none if there seems to be no solution.
pub(crate) fn patient(program: &Program) -> Option<Polished> {
    let (found, equations) = point(program, &super::dual::active_rows(program)?)?;
    let found = sharpened(equations, found);
    let faults = faults(program, &found);
    faults.violated.iter().all(|(over, _)| *over <= HARMLESS).then_some(found)
}

/// The exact minimiser, starting from a guess of the active rows; none if the corrections do not settle.
pub(crate) fn polish(program: &Program, guess: &[bool]) -> Option<Polished> {
    let mut active = guess.to_vec();
    for tie in active.iter_mut().take(program.ties) {
        *tie = true;
    }
    let mut seen = BTreeSet::new();
    let mut one_by_one = false;
    for _ in 0..ROUNDS + 2 * program.rows.len().min(500) {
        let (candidate, equations) = point(program, &active)?;
        let faults = faults(program, &candidate);
        if faults.violated.is_empty() && faults.pulling.is_empty() {
            return Some(sharpened(equations, candidate));
        }
        if !seen.insert(active.clone()) {
            if one_by_one {
                return None;
            }
            one_by_one = true;
            seen.clear();
        }
        if one_by_one {
            // The worst alone; rows that are active already cannot be mended by adding them again.
            let worst =
                |list: &[(f64, usize)]| list.iter().copied().max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
            let fresh: Vec<_> = faults.violated.iter().copied().filter(|(_, row)| !active[*row]).collect();
            if let Some((_, row)) = worst(&faults.pulling) {
                active[row] = false;
            } else if let Some((_, row)) = worst(&fresh) {
                active[row] = true;
            } else {
                return None;
            }
            continue;
        }
        for (_, row) in &faults.violated {
            active[*row] = true;
        }
        for (_, row) in &faults.pulling {
            active[*row] = false;
        }
    }
    None
}
