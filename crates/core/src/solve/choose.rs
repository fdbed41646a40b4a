//! Discrete choices: which things stand turned by a quarter.

use std::collections::BTreeSet;

use super::{Known, SolveError, Solved, may_be_solved, model, solve_model};
use crate::axis::{AxisProblem, Solution, Span, WishKind};
use crate::design::{Bay, Inside, Resolved};
use crate::layout::Choice;
use crate::length::Length;

/// With so many things that may turn, or fewer, every combination is tried.
const TRY_ALL: usize = 6;

/// The best combination of turned things: first one that can be solved, then the one whose wishes come nearest, then the
/// one with fewer things turned.
///
/// # Errors
/// Those of the combination that leaves the fewest: with nothing turned, with everything, or with one thing.
pub(super) fn best(design: &Resolved) -> Result<Solved<'_>, SolveError> {
    let free = turnable(design);
    if free.is_empty() {
        return solve_model(model(design, &BTreeSet::new()), &mut Known::default());
    }
    let mut tried = Tried { best: None, next: None, known: Known::default() };
    if free.len() <= TRY_ALL {
        for mask in 0..(1_u32 << free.len()) {
            let turned = free.iter().enumerate().filter(|(i, _)| mask >> i & 1 == 1).map(|(_, name)| *name).collect();
            tried.attempt(design, turned);
        }
    } else {
        tried.one_by_one(design, &free);
    }
    let Tried { best, next, mut known } = tried;
    let Some(best) = best else { return Err(least_contradictory(design, &free, &mut known)) };
    let mut solved = best.solved;
    solved.layout.choices.push(Choice {
        what: "which things stand turned by a quarter".to_owned(),
        taken: in_words(&best.turned),
        next: Some(match next {
            Some(next) if next.cost > best.cost => format!("{}: further from what is wished", in_words(&next.turned)),
            Some(next) => format!("{}: as good, with more things turned or later in the list", in_words(&next.turned)),
            None => "no other combination fits".to_owned(),
        }),
    });
    Ok(solved)
}

/// What contradicts each other where nothing fits, told of the combination that leaves the least of it.
fn least_contradictory(design: &Resolved, free: &[&str], known: &mut Known) -> SolveError {
    let all = free.iter().copied().collect();
    let one = free.iter().take(TRY_ALL).map(|name| BTreeSet::from([*name]));
    let mut least: Option<((usize, usize, Length), SolveError)> = None;
    for turned in [BTreeSet::new(), all].into_iter().chain(one) {
        let Err(error) = solve_model(model(design, &turned), known) else { continue };
        let SolveError::Conflicts(conflicts) = &error else { return error };
        // Of as many, those that single changes mend; of these the ones that lack least.
        let without_mend = conflicts.iter().filter(|it| it.mends.is_empty()).count();
        let count = (conflicts.len(), without_mend, conflicts.iter().map(|it| it.excess).sum());
        if least.as_ref().is_none_or(|(other, _)| count < *other) {
            least = Some((count, error));
        }
    }
    least.map_or_else(|| SolveError::Internal("a combination was not tried".to_owned()), |(_, error)| error)
}

struct Candidate<'d> {
    solved: Solved<'d>,
    turned: BTreeSet<&'d str>,
    cost: i64,
}

struct Runner<'d> {
    turned: BTreeSet<&'d str>,
    cost: i64,
}

/// What was tried so far.
struct Tried<'d> {
    best: Option<Candidate<'d>>,
    next: Option<Runner<'d>>,
    known: Known,
}

impl<'d> Tried<'d> {
    /// Tries one combination; true if it is the best so far.
    fn attempt(&mut self, design: &'d Resolved, turned: BTreeSet<&'d str>) -> bool {
        let model = model(design, &turned);
        if !may_be_solved(&model) {
            return false;
        }
        let Ok(solved) = solve_model(model, &mut self.known) else { return false };
        let cost = cost(&solved);
        let better = |other_cost: i64, other: &BTreeSet<&str>| (cost, turned.len()) < (other_cost, other.len());
        let beats_best = self.best.as_ref().is_none_or(|best| better(best.cost, &best.turned));
        if beats_best {
            let before = self.best.replace(Candidate { solved, turned, cost });
            if let Some(before) = before {
                self.next = Some(Runner { turned: before.turned, cost: before.cost });
            }
        } else if self.next.as_ref().is_none_or(|next| better(next.cost, &next.turned)) {
            self.next = Some(Runner { turned, cost });
        }
        beats_best
    }

    /// With many things: turns them one after the other, keeps what helps, until nothing does. What does not fit with
    /// nothing turned is tried with everything turned as well.
    fn one_by_one(&mut self, design: &'d Resolved, free: &[&'d str]) {
        let mut now = BTreeSet::new();
        self.attempt(design, now.clone());
        if self.best.is_none() {
            let all: BTreeSet<&str> = free.iter().copied().collect();
            if self.attempt(design, all.clone()) {
                now = all;
            }
        }
        for _ in 0..free.len() {
            let mut moved = false;
            for name in free {
                let mut turned = now.clone();
                if !turned.remove(name) {
                    turned.insert(name);
                }
                if self.attempt(design, turned.clone()) {
                    (now, moved) = (turned, true);
                }
            }
            if !moved {
                break;
            }
        }
    }
}

fn in_words(turned: &BTreeSet<&str>) -> String {
    if turned.is_empty() {
        return "none".to_owned();
    }
    turned.iter().map(|name| format!("{name:?}")).collect::<Vec<_>>().join(", ")
}

/// The things in bays that may turn, in the order of the tree, each once.
fn turnable(design: &Resolved) -> Vec<&str> {
    let mut found = Vec::new();
    let mut open: Vec<&Bay<Length>> = vec![&design.carcass.bay];
    while let Some(bay) = open.pop() {
        match &bay.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => open.extend(bays.iter().rev()),
            Inside::Boxed { bay, .. } => open.push(bay),
            Inside::Holds { things, .. } => {
                for name in things {
                    if let Some((name, thing)) = design.things.get_key_value(name)
                        && thing.may_turn
                        && thing.size.0 != thing.size.2
                        && !found.contains(&name.as_str())
                    {
                        found.push(name.as_str());
                    }
                }
            }
            Inside::Open { .. } => {}
        }
    }
    found
}

/// How far a solution is from what is wished: the weighted sum of squared residuals over the three axes, in thousandths of
/// a square millimetre, so that noise of floating point does not choose.
fn cost(solved: &Solved<'_>) -> i64 {
    let sum: f64 = solved.model.problems.iter().zip(&solved.solutions).map(|(problem, it)| of_axis(problem, it)).sum();
    (sum * 1000.0).round() as i64
}

fn of_axis(problem: &AxisProblem, solution: &Solution) -> f64 {
    let size = |span: Span| solution.raw_size(span);
    let residual = |kind: WishKind| match kind {
        WishKind::Size { span, target } => size(span) - target.mm(),
        WishKind::Proportion { a, share_a, b, share_b } => {
            let sum = share_a + share_b;
            if sum > 0.0 { (share_b * size(a) - share_a * size(b)) / sum } else { 0.0 }
        }
        WishKind::Position { face: at, position } => solution.raw_position(at) - position.mm(),
    };
    problem.wishes.iter().map(|wish| wish.weight * residual(wish.kind).powi(2) / 2.0).sum()
}
