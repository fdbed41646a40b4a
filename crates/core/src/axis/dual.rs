//! The way out where the interior point method and the corrections after it do not settle: problems whose room is thinner
//! than floating point can tell from none. A dense dual method, one row after another, is slow but does not mind.
//!
//! D. Goldfarb, A. Idnani, "A numerically stable dual method for solving strictly convex quadratic programs",
//! Mathematical Programming 27 (1983); from memory.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

use super::program::Program;

/// A row counts as violated from here on, in units of the program.
const VIOLATED: f64 = 1e-11;
/// A row that cannot be added, but is violated by no more than this, is let be.
const HARMLESS: f64 = 1e-9;
/// What is left of a row's direction beside the active ones, relative to all of it, if it depends on them.
const DEPENDENT: f64 = 1e-9;
/// Larger programs are not tried: each step takes the cube of the size.
const LARGEST: usize = 400;

/// The working set: rows with their signs (+1, or -1 for an equation met from below) and multipliers.
struct Working {
    rows: Vec<(usize, f64)>,
    multipliers: Vec<f64>,
}

/// The directions in which the point and the multipliers move when a row is added.
struct Directions {
    /// The point's, times the factor of the Hessian; zero if the row depends on the active ones.
    inner: Option<DVector<f64>>,
    multipliers: DVector<f64>,
}

/// The active rows at the minimiser, independent of one another; none if the program has no solution, or is too large.
pub(crate) fn active_rows(program: &Program) -> Option<Vec<bool>> {
    let free = program.free;
    if free == 0 || free > LARGEST {
        return None;
    }
    let mut hessian = DMatrix::zeros(free, free);
    for column in 0..free {
        for place in program.p.colptr[column]..program.p.colptr[column + 1] {
            hessian[(program.p.rowval[place], column)] = program.p.nzval[place];
            hessian[(column, program.p.rowval[place])] = program.p.nzval[place];
        }
    }
    let factor = Cholesky::new(hessian)?;
    let mut point = factor.solve(&-DVector::from_column_slice(&program.q));
    let mut working = Working { rows: Vec::new(), multipliers: Vec::new() };
    let mut let_be = vec![false; program.rows.len()];
    for _ in 0..100 + 20 * program.rows.len() {
        let Some(row) = worst(program, &point, &working, &let_be) else {
            let mut active = vec![false; program.rows.len()];
            working.rows.iter().for_each(|(row, _)| active[*row] = true);
            return Some(active);
        };
        if !add(program, &factor, &mut point, &mut working, row) {
            if excess(program, row, &point).abs() > HARMLESS {
                return None;
            }
            let_be[row] = true;
        }
    }
    None
}

fn excess(program: &Program, row: usize, point: &DVector<f64>) -> f64 {
    program.rows[row].iter().map(|(class, factor)| factor * point[*class]).sum::<f64>() - program.b[row]
}

/// The row to add: equations first, then the most violated inequality.
fn worst(program: &Program, point: &DVector<f64>, working: &Working, let_be: &[bool]) -> Option<usize> {
    let mut waiting = vec![true; program.rows.len()];
    working.rows.iter().for_each(|(row, _)| waiting[*row] = false);
    let candidates = |range: std::ops::Range<usize>| range.filter(|row| waiting[*row] && !let_be[*row]);
    let equation = candidates(0..program.ties).find(|row| excess(program, *row, point).abs() > VIOLATED);
    equation.or_else(|| {
        candidates(program.ties..program.rows.len())
            .map(|row| (row, excess(program, row, point)))
            .filter(|(_, over)| *over > VIOLATED)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
            .map(|(row, _)| row)
    })
}

/// The normal of a row, times the inverse of the Hessian's factor.
fn inner_normal(program: &Program, factor: &Cholesky<f64, Dyn>, row: usize, sign: f64) -> Option<DVector<f64>> {
    let mut normal = DVector::zeros(program.free);
    for (class, part) in &program.rows[row] {
        normal[*class] -= sign * part;
    }
    factor.l_dirty().solve_lower_triangular_mut(&mut normal).then_some(normal)
}

fn directions(
    program: &Program,
    factor: &Cholesky<f64, Dyn>,
    working: &Working,
    normal: &DVector<f64>,
) -> Option<Directions> {
    if working.rows.is_empty() {
        return Some(Directions { inner: Some(normal.clone()), multipliers: DVector::zeros(0) });
    }
    let columns: Option<Vec<DVector<f64>>> =
        working.rows.iter().map(|(row, sign)| inner_normal(program, factor, *row, *sign)).collect();
    let qr = DMatrix::from_columns(&columns?).qr();
    let (q, r) = (qr.q(), qr.r());
    let along = q.tr_mul(normal);
    let mut inner = normal - &q * &along;
    // Once more, because the first projection leaves rounding errors of the size of the normal.
    inner -= &q * q.tr_mul(&inner);
    let multipliers = r.solve_upper_triangular(&along)?;
    let independent = inner.norm() > DEPENDENT * normal.norm();
    Some(Directions { inner: independent.then_some(inner), multipliers })
}

/// Adds a row, and drops those that stand in its way. False if it cannot be met.
fn add(
    program: &Program,
    factor: &Cholesky<f64, Dyn>,
    point: &mut DVector<f64>,
    working: &mut Working,
    row: usize,
) -> bool {
    let sign = if excess(program, row, point) < 0.0 { -1.0 } else { 1.0 };
    let Some(normal) = inner_normal(program, factor, row, sign) else { return false };
    let mut multiplier = 0.0;
    // Each turn but the last drops a row.
    for _ in 0..=working.rows.len() {
        let Some(directions) = directions(program, factor, working, &normal) else { return false };
        let blocking = (0..working.rows.len())
            .filter(|place| working.rows[*place].0 >= program.ties && directions.multipliers[*place] > 0.0)
            .map(|place| (place, working.multipliers[place].max(0.0) / directions.multipliers[place]))
            .min_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        let over = sign * excess(program, row, point);
        let full = directions.inner.as_ref().map(|inner| over.max(0.0) / inner.norm_squared());
        let step = match (full, blocking) {
            (None, None) => return false,
            (Some(full), Some((_, part))) => full.min(part),
            (Some(step), None) | (None, Some((_, step))) => step,
        };
        if let Some(mut inner) = directions.inner {
            if !factor.l_dirty().tr_solve_lower_triangular_mut(&mut inner) {
                return false;
            }
            point.axpy(step, &inner, 1.0);
        }
        for (place, known) in working.multipliers.iter_mut().enumerate() {
            *known -= step * directions.multipliers[place];
        }
        multiplier += step;
        match (full, blocking) {
            (Some(full), None) if full <= step => {}
            (Some(full), Some((_, part))) if full <= part => {}
            (_, Some((place, _))) => {
                working.rows.remove(place);
                working.multipliers.remove(place);
                continue;
            }
            _ => return false,
        }
        working.rows.push((row, sign));
        working.multipliers.push(multiplier);
        return true;
    }
    false
}
