//! Why musts cannot hold together: minimal sets, and by how much they fail.

use super::AxisError;
use super::elastic::failure;
use super::exact::System;
use super::mend::{Mend, mends, nearest_bound};
use super::problem::{AxisProblem, MustId};
use super::reduce::reduce;
use crate::Length;

/// The most conflicts that are listed.
const MOST_CONFLICTS: usize = 32;
/// A relaxation below this, in millimetres, is no more than the error of the linear program.
const NOTHING: f64 = 2e-7;
/// A part below this in a failure is no part.
const NO_PART: f64 = 1e-5;

/// A minimal set of musts that cannot hold together: without any one of them, the others can.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conflict {
    /// The musts, ascending.
    pub musts: Vec<MustId>,
    /// By how much it is too much: the smallest total by which bounds of the set must give way for the set to hold.
    /// When no ties are in play, that is the sum along the chain less the room there is, and every single must of the
    /// set would have to give just this. With ties, the must that has most effect would have to give this.
    pub excess: Length,
    /// Single changes that solve the problem. When there are other conflicts, they are set aside while a mend is
    /// sought and checked: see [`Mend::solves_all`].
    pub mends: Vec<Mend>,
    /// Where no single change will do, what would let the musts of this conflict hold together; others contradict them still.
    pub first_steps: Vec<Mend>,
}

/// Whether the musts that `keep` accepts can hold together, in real numbers.
pub(crate) fn feasible(problem: &AxisProblem, keep: &[bool]) -> Result<bool, AxisError> {
    let system = System::new(problem, |must| keep[must]);
    match reduce(&system) {
        Err(_) => Ok(false),
        Ok(reduced) if reduced.ties.is_empty() => Ok(true),
        Ok(_) => Ok(failure(&system)?.each <= NOTHING),
    }
}

/// Conflicts that share no must, with their mends; empty if the problem can be solved.
pub(crate) fn conflicts(problem: &AxisProblem) -> Result<Vec<Conflict>, AxisError> {
    let mut keep = vec![true; problem.musts.len()];
    let mut sets: Vec<(Vec<usize>, Length)> = Vec::new();
    while sets.len() < MOST_CONFLICTS {
        let Some(found) = one(problem, &keep)? else { break };
        for must in &found.0 {
            keep[*must] = false;
        }
        sets.push(found);
    }
    let mut out = Vec::new();
    for (index, (set, excess)) in sets.iter().enumerate() {
        let mut keep = vec![true; problem.musts.len()];
        for (_, (other, _)) in sets.iter().enumerate().filter(|(other, _)| *other != index) {
            for must in other {
                keep[*must] = false;
            }
        }
        let musts = set.iter().copied().map(MustId).collect();
        let found = mends(problem, set, &keep, sets.len() == 1)?;
        let first_steps = if found.is_empty() { mends(problem, set, &only(problem, set), false)? } else { Vec::new() };
        out.push(Conflict { musts, excess: *excess, mends: found, first_steps });
    }
    Ok(out)
}

/// For each must whether it is one of these.
fn only(problem: &AxisProblem, set: &[usize]) -> Vec<bool> {
    let mut only = vec![false; problem.musts.len()];
    for must in set {
        only[*must] = true;
    }
    only
}

/// One minimal conflict among the musts that `keep` accepts; without those that are blamed last if there is one without them.
fn one(problem: &AxisProblem, keep: &[bool]) -> Result<Option<(Vec<usize>, Length)>, AxisError> {
    let first: Vec<bool> = keep.iter().zip(&problem.musts).map(|(keep, must)| *keep && !must.blamed_last).collect();
    if first != keep && !feasible(problem, &first)? {
        return one(problem, &first);
    }
    let system = System::new(problem, |must| keep[must]);
    let only = |set: &[usize]| only(problem, set);
    let start = match reduce(&system) {
        // A cycle without repeated nodes is minimal as it is.
        Err(cycle) if cycle.closed => return Ok(Some((cycle.musts, Length::from_nm(cycle.excess)))),
        Ok(reduced) if reduced.ties.is_empty() => return Ok(None),
        found => {
            let failure = failure(&system)?;
            if failure.each <= NOTHING {
                if found.is_ok() {
                    return Ok(None);
                }
                // Exact arithmetic sees a conflict too small for the linear program: start from everything.
                (0..keep.len()).filter(|must| keep[*must]).collect()
            } else {
                failure.parts.iter().filter(|(_, part)| *part > NO_PART).map(|(must, _)| *must).collect::<Vec<_>>()
            }
        }
    };
    let mut set =
        if feasible(problem, &only(&start))? { (0..keep.len()).filter(|must| keep[*must]).collect() } else { start };
    // Deletion: try to do without each, first those that nobody may change, so that the rest is more to the point.
    let mut order = set.clone();
    order.sort_by_key(|must| (problem.musts[*must].relaxable, std::cmp::Reverse(*must)));
    for must in order {
        let rest: Vec<usize> = set.iter().copied().filter(|other| *other != must).collect();
        if !feasible(problem, &only(&rest))? {
            set = rest;
        }
    }
    let excess = excess(problem, &set)?;
    Ok(Some((set, excess)))
}

/// The smallest single change of a bound in a minimal set that lets it hold; when it has none, what each tie would have
/// to give if all gave the same.
fn excess(problem: &AxisProblem, set: &[usize]) -> Result<Length, AxisError> {
    let mut keep = vec![false; problem.musts.len()];
    for must in set {
        keep[*must] = true;
    }
    let mut least: Option<Length> = None;
    for must in set {
        keep[*must] = false;
        if let Some((old, new)) = nearest_bound(problem, *must, &keep)? {
            let change = (new - old).abs();
            least = Some(least.map_or(change, |least| least.min(change)));
        }
        keep[*must] = true;
    }
    if let Some(least) = least {
        return Ok(least.max(Length::from_nm(1)));
    }
    let each = failure(&System::new(problem, |must| keep[must]))?.each;
    Ok(Length::from_nm(((each * 1e6 - 1e-3).ceil() as i64).max(1)))
}
