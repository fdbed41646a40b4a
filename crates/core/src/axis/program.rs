//! A convex quadratic program, and the one place where the numeric library is called.

use clarabel::algebra::CscMatrix;
use clarabel::solver::SupportedConeT::{NonnegativeConeT, ZeroConeT};
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, SolverStatus};

use super::AxisError;
use super::exact::System;
use super::precise::Twice;
use super::problem::AxisProblem;
use super::quadratic::{Quadratic, Residual};
use super::reduce::reduce;

/// Minimise `x'Px/2 + q'x`, where `Ax = b` in the first `ties` rows and `Ax <= b` in the others.
#[derive(Clone, Debug)]
pub(crate) struct Program {
    /// The number of unknowns.
    pub(crate) free: usize,
    pub(crate) ties: usize,
    /// The upper triangle, with the whole diagonal.
    pub(crate) p: CscMatrix<f64>,
    pub(crate) q: Vec<f64>,
    /// The rows of A.
    pub(crate) rows: Vec<Vec<(usize, f64)>>,
    pub(crate) b: Vec<f64>,
    /// What P and q are made of, in the same units, if they are: the slope is more exact in terms of these.
    pub(crate) squares: Vec<Residual>,
}

impl Program {
    /// What is missing to a balance of forces on each unknown, and on each of the rows `active` to its limit, at a point
    /// with the multipliers of these rows: right-hand sides of the equations that mend it.
    pub(crate) fn imbalance(&self, active: &[usize], x: &[f64], z: &[f64]) -> Vec<f64> {
        let mut forces = vec![Twice::default(); self.free];
        for square in &self.squares {
            let mut value = Twice::default();
            value.add(square.constant);
            square.terms.iter().for_each(|(class, factor)| value.add_product(*factor, x[*class]));
            for (class, factor) in &square.terms {
                forces[*class].add_scaled(-square.weight * factor, value);
            }
        }
        let mut out = Vec::with_capacity(self.free + active.len());
        let mut limits = Vec::with_capacity(active.len());
        for (row, multiplier) in active.iter().zip(z) {
            let mut left = Twice::default();
            left.add(self.b[*row]);
            for (class, factor) in &self.rows[*row] {
                forces[*class].add_product(-factor, *multiplier);
                left.add_product(-factor, x[*class]);
            }
            limits.push(left.rounded());
        }
        out.extend(forces.into_iter().map(Twice::rounded));
        out.extend(limits);
        out
    }

    /// The rows as a matrix in the layout of the library.
    pub(crate) fn matrix(&self) -> CscMatrix<f64> {
        let (mut rows, mut columns, mut values) = (Vec::new(), Vec::new(), Vec::new());
        for (row, terms) in self.rows.iter().enumerate() {
            for (class, factor) in terms {
                rows.push(row);
                columns.push(*class);
                values.push(*factor);
            }
        }
        CscMatrix::new_from_triplets(self.rows.len(), self.free, rows, columns, values)
    }

    /// The library's answer to the program.
    pub(crate) fn call(&self, tolerance: f64) -> Result<Answer, AxisError> {
        call(&self.p, &self.q, &self.matrix(), &self.b, self.ties, tolerance)
    }
}

/// What the library says.
pub(crate) struct Answer {
    pub(crate) status: SolverStatus,
    pub(crate) x: Vec<f64>,
    pub(crate) z: Vec<f64>,
    pub(crate) s: Vec<f64>,
}

impl Answer {
    /// Whether `x` solves the program, at least roughly.
    pub(crate) fn solved(&self) -> bool {
        matches!(self.status, SolverStatus::Solved | SolverStatus::AlmostSolved)
    }
}

/// One silent, single-threaded call of the library: the first `ties` rows are equations, the others inequalities.
pub(crate) fn call(
    p: &CscMatrix<f64>,
    q: &[f64],
    a: &CscMatrix<f64>,
    b: &[f64],
    ties: usize,
    tolerance: f64,
) -> Result<Answer, AxisError> {
    let settings = DefaultSettings {
        verbose: false,
        max_threads: 1,
        direct_solve_method: "qdldl".to_owned(),
        presolve_enable: false,
        tol_gap_abs: tolerance,
        tol_gap_rel: tolerance,
        tol_feas: tolerance,
        ..DefaultSettings::default()
    };
    let cones = [ZeroConeT(ties), NonnegativeConeT(b.len() - ties)];
    let mut solver =
        DefaultSolver::new(p, q, a, b, &cones, settings).map_err(|error| AxisError::Numeric(error.to_string()))?;
    solver.solve();
    let solution = solver.solution;
    Ok(Answer { status: solution.status, x: solution.x, z: solution.z, s: solution.s })
}

/// The program that [`super::solve`] hands to the library, for measuring the library alone beside it.
#[doc(hidden)]
#[derive(Clone, Debug)]
pub struct LibraryCall {
    program: Program,
    matrix: CscMatrix<f64>,
}

impl LibraryCall {
    /// The program of a problem; none if its musts conflict or its data are faulty.
    #[must_use]
    pub fn new(problem: &AxisProblem) -> Option<Self> {
        if !super::error::faults(problem).is_empty() {
            return None;
        }
        let reduced = reduce(&System::new(problem, |_| true)).ok()?;
        let program = Quadratic::new(problem, &reduced).ok()?.program;
        let matrix = program.matrix();
        Some(Self { program, matrix })
    }

    /// Sets the library up and lets it solve, as [`super::solve`] does: the unknowns in units of the program.
    ///
    /// # Errors
    /// What the library says.
    pub fn run(&self) -> Result<Vec<f64>, AxisError> {
        let program = &self.program;
        Ok(call(&program.p, &program.q, &self.matrix, &program.b, program.ties, 1e-8)?.x)
    }
}
