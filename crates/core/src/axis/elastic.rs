//! Linear programs where ties leave shortest paths behind: by how much musts fail together, and how far a size can go.
//!
//! Both are solved as quadratic programs with a very small quadratic part, which picks one of several optimal points
//! and, being small enough, leaves the optimum where it is (Mangasarian and Meyer, "Nonlinear perturbation of linear
//! programs", SIAM J. Control Optim. 17 (1979); from memory).

use clarabel::algebra::CscMatrix;

use super::AxisError;
use super::exact::{System, combined};
use super::polish::{patient, polish};
use super::program::Program;
use super::quadratic::mm;
use super::reduce::Reduced;

/// The quadratic part.
const SOFT: f64 = 1e-6;
/// A point this many units away stands for infinity.
const FAR: f64 = 1e4;

/// The optimum of a program.
struct Optimum {
    x: Vec<f64>,
    z: Vec<f64>,
}

fn optimum(program: &Program) -> Result<Optimum, AxisError> {
    let answer = program.call(1e-9)?;
    let guess: Vec<bool> = answer.z.iter().zip(&answer.s).map(|(z, s)| z > s).collect();
    if let Some(polished) = polish(program, &guess).or_else(|| patient(program)) {
        return Ok(Optimum { x: polished.x, z: polished.z });
    }
    if answer.solved() {
        return Ok(Optimum { x: answer.x, z: answer.z });
    }
    Err(AxisError::Numeric(format!("{:?}", answer.status)))
}

fn soft(size: usize) -> CscMatrix<f64> {
    CscMatrix::new(size, size, (0..=size).collect(), (0..size).collect(), vec![SOFT; size])
}

/// How far a set of musts fails together.
pub(crate) struct Failure {
    /// What each must would have to give if all gave the same, in millimetres; not above zero if they can hold.
    pub(crate) each: f64,
    /// The part that each must of the set has in it, adding up to one; by must, ascending.
    pub(crate) parts: Vec<(usize, f64)>,
}

/// The smallest equal relaxation of all musts of `system` that makes it solvable.
pub(crate) fn failure(system: &System) -> Result<Failure, AxisError> {
    let slack = system.ground;
    let mut rows: Vec<Vec<(usize, f64)>> = Vec::new();
    let mut limits = Vec::new();
    let mut musts = Vec::new();
    let mut add = |terms: &[(usize, i64)], limit: i64, must: usize| {
        let mut row: Vec<_> = terms.iter().map(|(node, factor)| (*node, *factor as f64)).collect();
        row.push((slack, -1.0));
        rows.push(row);
        limits.push(mm(limit));
        musts.push(must);
    };
    for edge in &system.edges {
        add(&combined(&[(edge.to, 1), (edge.from, -1)], system.ground), edge.most, edge.must);
    }
    for tie in &system.ties {
        add(&tie.terms, -tie.constant, tie.must);
        let opposite: Vec<_> = tie.terms.iter().map(|(node, factor)| (*node, -factor)).collect();
        add(&opposite, tie.constant, tie.must);
    }
    let unit = limits.iter().fold(1.0, |unit: f64, limit: &f64| unit.max(limit.abs()));
    rows.push(vec![(slack, -1.0)]);
    let mut b: Vec<f64> = limits.iter().map(|limit| limit / unit).collect();
    b.push(1.0);
    let mut q = vec![0.0; slack];
    q.push(1.0);
    let found = optimum(&Program { free: slack + 1, ties: 0, p: soft(slack + 1), q, rows, b, squares: Vec::new() })?;
    let mut parts: Vec<(usize, f64)> = Vec::new();
    let mut pressed: Vec<(usize, f64)> = musts.iter().copied().zip(found.z.iter().copied()).collect();
    pressed.sort_by_key(|(must, _)| *must);
    for (must, part) in pressed {
        match parts.last_mut() {
            Some(last) if last.0 == must => last.1 += part,
            _ => parts.push((must, part)),
        }
    }
    Ok(Failure { each: found.x.last().copied().unwrap_or(0.0) * unit, parts })
}

/// An end of the play of a size.
pub(crate) struct End {
    /// The size in millimetres.
    pub(crate) size: f64,
    /// The musts that stop it, ascending.
    pub(crate) musts: Vec<usize>,
}

/// The largest value of `sum of factor x root` over the classes; none if there is no largest.
pub(crate) fn furthest(reduced: &Reduced, terms: &[(usize, f64)]) -> Result<Option<End>, AxisError> {
    let free = reduced.free;
    let (mut rows, mut limits, mut musts) = (Vec::new(), Vec::new(), Vec::new());
    for tie in &reduced.ties {
        rows.push(tie.terms.iter().map(|(class, factor)| (*class, *factor as f64)).collect());
        limits.push(-mm(tie.constant));
        musts.push(tie.must);
    }
    for row in &reduced.rows {
        let terms = combined(&[(row.to, 1), (row.from, -1)], free);
        rows.push(terms.iter().map(|(class, factor)| (*class, *factor as f64)).collect());
        limits.push(mm(row.most));
        musts.push(row.must);
    }
    let unit = limits.iter().fold(1.0, |unit: f64, limit: &f64| unit.max(limit.abs()));
    let mut q = vec![0.0; free];
    for (class, factor) in terms {
        q[*class] -= factor;
    }
    let b = limits.iter().map(|limit| limit / unit).collect();
    let found = optimum(&Program { free, ties: reduced.ties.len(), p: soft(free), q, rows, b, squares: Vec::new() })?;
    let value: f64 = terms.iter().map(|(class, factor)| factor * found.x[*class]).sum();
    if value > FAR {
        return Ok(None);
    }
    let mut stops: Vec<usize> =
        musts.iter().zip(&found.z).filter(|(_, z)| z.abs() > 1e-4).map(|(must, _)| *must).collect();
    stops.sort_unstable();
    stops.dedup();
    Ok(Some(End { size: value * unit, musts: stops }))
}
