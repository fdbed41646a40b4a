//! The smallest single changes that make the musts hold together again.

use super::AxisError;
use super::conflict::feasible;
use super::exact::{System, flatten};
use super::play::play;
use super::problem::{AxisProblem, MustId, MustKind, Span};
use super::reduce::reduce;
use crate::Length;

/// What a mend does to a must.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// The bound becomes this length: the nearest to the present one that works.
    Bound(Length),
    /// The must is given up, because it has no bound: equal sizes, faces in line.
    GiveUp,
}

/// A single change that solves the problem, checked by solving again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mend {
    /// The must that is changed.
    pub must: MustId,
    /// How.
    pub change: Change,
    /// Whether the change alone solves the whole problem. When several conflicts were found it does not: it solves
    /// the problem without the musts of the other conflicts.
    pub solves_all: bool,
}

impl Mend {
    /// The problem with the change made.
    #[must_use]
    pub fn applied(&self, problem: &AxisProblem) -> AxisProblem {
        let mut changed = problem.clone();
        match self.change {
            Change::Bound(length) => {
                if let Some(must) = changed.musts.get_mut(self.must.0) {
                    must.kind = with_bound(must.kind, length);
                }
            }
            Change::GiveUp => {
                if let Some(must) = changed.musts.get_mut(self.must.0) {
                    // A must that always holds keeps the places of the others.
                    must.kind = MustKind::AtLeast(nothing(), Length::ZERO);
                }
            }
        }
        changed
    }
}

fn nothing() -> Span {
    let face = super::Face::fixed(Length::ZERO);
    Span::between(face, face)
}

fn with_bound(kind: MustKind, length: Length) -> MustKind {
    match kind {
        MustKind::AtLeast(span, _) => MustKind::AtLeast(span, length),
        MustKind::AtMost(span, _) => MustKind::AtMost(span, length),
        MustKind::Exactly(span, _) => MustKind::Exactly(span, length),
        kind @ (MustKind::Equal(..) | MustKind::InLine(..)) => kind,
    }
}

/// The mends of the conflict `set` in the problem of the musts that `keep` accepts.
pub(crate) fn mends(
    problem: &AxisProblem,
    set: &[usize],
    keep: &[bool],
    solves_all: bool,
) -> Result<Vec<Mend>, AxisError> {
    let mut out = Vec::new();
    for must in set.iter().copied().filter(|must| problem.musts[*must].relaxable) {
        let mut rest = keep.to_vec();
        rest[must] = false;
        let mut offer = |change: Change, keep: &[bool]| -> Result<bool, AxisError> {
            let mend = Mend { must: MustId(must), change, solves_all };
            let works = feasible(&mend.applied(problem), keep)?;
            if works {
                out.push(mend);
            }
            Ok(works)
        };
        if matches!(problem.musts[must].kind, MustKind::Equal(..) | MustKind::InLine(..)) {
            offer(Change::GiveUp, &rest)?;
            continue;
        }
        if !feasible(problem, &rest)? {
            continue;
        }
        let Some((old, new)) = nearest_bound(problem, must, &rest)? else { continue };
        // The linear programs are good to about a nanometre; exact paths need no second try.
        for nudge in [0, 1, 2, 4] {
            let nudge = Length::from_nm(nudge);
            let length = if new < old { new - nudge } else { new + nudge };
            if offer(Change::Bound(length), keep)? {
                break;
            }
        }
    }
    Ok(out)
}

/// The bound of a must, and the nearest to it that goes together with the musts of `rest`; none if the must has no bound,
/// or if its bound does no harm.
pub(crate) fn nearest_bound(
    problem: &AxisProblem,
    must: usize,
    rest: &[bool],
) -> Result<Option<(Length, Length)>, AxisError> {
    let (span, bound, down, up) = match problem.musts[must].kind {
        MustKind::AtLeast(span, length) => (span, length, true, false),
        MustKind::AtMost(span, length) => (span, length, false, true),
        MustKind::Exactly(span, length) => (span, length, true, true),
        MustKind::Equal(..) | MustKind::InLine(..) => return Ok(None),
    };
    let system = System::new(problem, |must| rest[must]);
    let Ok(reduced) = reduce(&system) else { return Ok(None) };
    let room = play(&reduced, flatten(system.ground, span))?;
    let lowered = room.most.map(|most| most.size).filter(|size| down && *size < bound);
    let raised = room.least.map(|least| least.size).filter(|size| up && *size > bound);
    Ok(lowered.or(raised).map(|new| (bound, new)))
}
