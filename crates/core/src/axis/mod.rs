//! The numeric solver of one axis: positions of panel faces under musts and wishes. It knows no furniture.
//!
//! The caller builds an [`AxisProblem`], calls [`solve`], and turns the answer into words:
//! - a [`Solution`] holds exact positions: every must holds in whole nanometres, and sizes are differences of
//!   positions, so chains close;
//! - [`AxisError::Infeasible`] lists [`Conflict`]s: minimal sets of musts, by how much they fail, and [`Mend`]s;
//! - [`why()`] says what decides a size and how far it could go.
//!
//! The way through: `exact` writes the musts as differences between nodes; `reduce` takes out, in whole numbers, what is
//! rigid; `quadratic` builds the program over the rest and calls the library; `polish` makes its answer exact to floating
//! point; `rounding` turns it into whole nanometres; the musts are verified once more. See docs/solver.md.

mod conflict;
mod dual;
mod elastic;
mod error;
mod exact;
mod mend;
mod play;
mod polish;
mod precise;
mod problem;
mod program;
mod quadratic;
mod reduce;
mod rigid;
mod rounding;
mod solution;
mod spread;
mod why;

pub use conflict::Conflict;
pub use error::{AxisError, Fault, GREATEST_NUMBER, MOST_DEMANDS, MOST_VARS, Place};
pub use mend::{Change, Mend};
pub use play::{Play, Reach};
pub use problem::{AxisProblem, Face, Must, MustId, MustKind, Span, VarId, Wish, WishId, WishKind};
#[doc(hidden)]
pub use program::LibraryCall;
pub use solution::{Anchor, Solution, broken};
pub use why::{Decider, Why, why};

use exact::{System, flatten};
use polish::{Polished, patient, polish};
use quadratic::Quadratic;
use reduce::reduce;

/// The positions that satisfy every must and, among those, make the weighted sum of squared wishes smallest.
///
/// The same problem gives the same answer. Where no wish speaks of an unknown, a very weak anchor holds it in the middle
/// of its play: see [`Solution::anchors`].
///
/// # Errors
/// Faulty data, conflicting musts with their mends, or an internal error of the numeric library.
pub fn solve(problem: &AxisProblem) -> Result<Solution, AxisError> {
    let faults = error::faults(problem);
    if !faults.is_empty() {
        return Err(AxisError::Invalid(faults));
    }
    let Ok(reduced) = reduce(&System::new(problem, |_| true)) else {
        return Err(AxisError::Infeasible(conflict::conflicts(problem)?));
    };
    let quadratic = Quadratic::new(problem, &reduced)?;
    let Some(polished) = minimiser(&quadratic)? else {
        let found = conflict::conflicts(problem)?;
        return Err(if found.is_empty() {
            AxisError::Numeric("no optimum".to_owned())
        } else {
            AxisError::Infeasible(found)
        });
    };
    let raw: Vec<f64> = polished.x.iter().map(|x| x * quadratic.unit).collect();
    let target: Vec<f64> = raw.iter().map(|mm| mm * 1e6).collect();
    let Some(roots) = rounding::round(&reduced, &target, problem.step.nm()) else {
        // Nearly always a conflict too small for floating point.
        let found = conflict::conflicts(problem)?;
        let nearest = solution::positions(&reduced, &rounding::nearest_nm(&target));
        return Err(if found.is_empty() {
            AxisError::Rounding(broken(problem, &nearest))
        } else {
            AxisError::Infeasible(found)
        });
    };
    let positions = solution::positions(&reduced, &roots);
    let violated = broken(problem, &positions);
    if !violated.is_empty() {
        return Err(AxisError::Rounding(violated));
    }
    Ok(Solution::new(problem, &reduced, quadratic, &polished, &raw, positions))
}

/// The conflicts between the musts; empty if they can hold together.
///
/// # Errors
/// Faulty data, or an internal error of the numeric library.
pub fn conflicts(problem: &AxisProblem) -> Result<Vec<Conflict>, AxisError> {
    let faults = error::faults(problem);
    if faults.is_empty() { conflict::conflicts(problem) } else { Err(AxisError::Invalid(faults)) }
}

/// Whether all musts can hold together: much quicker than [`solve`] where they cannot, because no conflict is worked out.
///
/// # Errors
/// Faulty data, or an internal error of the numeric library.
pub fn feasible(problem: &AxisProblem) -> Result<bool, AxisError> {
    let faults = error::faults(problem);
    if !faults.is_empty() {
        return Err(AxisError::Invalid(faults));
    }
    conflict::feasible(problem, &vec![true; problem.musts.len()])
}

/// How far a size can go under all musts, whatever the wishes.
///
/// # Errors
/// Faulty data, conflicting musts, or an internal error of the numeric library.
pub fn play_of(problem: &AxisProblem, span: Span) -> Result<Play, AxisError> {
    let mut faults = error::faults(problem);
    error::span_faults(problem, span, Place::Question, &mut faults);
    if !faults.is_empty() {
        return Err(AxisError::Invalid(faults));
    }
    let system = System::new(problem, |_| true);
    let Ok(reduced) = reduce(&system) else {
        return Err(AxisError::Infeasible(conflict::conflicts(problem)?));
    };
    play::play(&reduced, flatten(system.ground, span)).or_else(|error| {
        // Musts that only ties set against each other have no play either.
        let found = conflict::conflicts(problem)?;
        Err(if found.is_empty() { error } else { AxisError::Infeasible(found) })
    })
}

/// The minimiser of the program; none if the program seems to have no solution.
fn minimiser(quadratic: &Quadratic) -> Result<Option<Polished>, AxisError> {
    let program = &quadratic.program;
    if program.free == 0 {
        return Ok(Some(Polished { x: Vec::new(), z: Vec::new(), active: Vec::new() }));
    }
    if program.rows.is_empty() {
        return Ok(polish(program, &[]));
    }
    for tolerance in [1e-8, 1e-12] {
        let answer = program.call(tolerance)?;
        if !answer.solved() {
            continue;
        }
        let guess: Vec<bool> = answer.z.iter().zip(&answer.s).map(|(z, s)| z > s).collect();
        if let Some(polished) = polish(program, &guess) {
            return Ok(Some(polished));
        }
    }
    Ok(patient(program))
}
