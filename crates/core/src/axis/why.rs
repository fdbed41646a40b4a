//! What decides a size, and how far it could move.

use super::error::{Fault, Place, span_faults};
use super::exact::{Flat, Graph, System, flatten};
use super::play::{Play, play};
use super::polish::Equations;
use super::problem::{AxisProblem, MustId, Span, VarId, WishId};
use super::quadratic::Quadratic;
use super::reduce::{Reduced, reduce};
use super::rigid::{Along, Tree, pass_on, tie_nodes, wish_nodes};
use super::{AxisError, Solution};
use crate::Length;

/// An effect smaller than this is no effect.
const NO_EFFECT: f64 = 1e-7;

/// Something that decides a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Decider {
    /// A must, by its bound; of a tie, by the difference that it would allow between the first and the second.
    Must(MustId),
    /// A wish, by its target; of a proportion, by the value that its residual would aim at.
    Wish(WishId),
    /// No wish speaks of this unknown: it rests in the middle of its play, and the effect is that of its resting place.
    /// The musts that limit its play move the resting place; that is part of their own effects.
    Rest(VarId),
}

/// What decides a size.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// The size in the solution, exact.
    pub size: Length,
    /// What decides it, with the effect: by how many millimetres the size would grow if the bound or target grew by
    /// one, before rounding, for as long as the same musts stay binding. The strongest effect comes first; equal
    /// effects stand in the order of the problem, musts before wishes.
    pub deciders: Vec<(Decider, f64)>,
    /// How far the size could go under all musts, whatever the wishes.
    pub play: Play,
}

/// What decides `span` in `solution`, which must be the solution of `problem`.
///
/// # Errors
/// Unknown names, a solution of another problem, or musts that cannot hold together.
pub fn why(problem: &AxisProblem, solution: &Solution, span: Span) -> Result<Why, AxisError> {
    let mut faults = super::error::faults(problem);
    span_faults(problem, span, Place::Question, &mut faults);
    if solution.positions.len() != problem.vars || solution.duals.len() != problem.musts.len() {
        faults.push(Fault::OtherProblem { found: solution.positions.len(), expected: problem.vars });
    }
    if !faults.is_empty() {
        return Err(AxisError::Invalid(faults));
    }
    let system = System::new(problem, |_| true);
    let Ok(reduced) = reduce(&system) else { return Err(AxisError::Infeasible(super::conflicts(problem)?)) };
    let flat = flatten(system.ground, span);
    let mut effects = Effects::new(problem, &reduced);
    effects.collect(problem, solution, flat)?;
    Ok(Why { size: solution.size(span), deciders: effects.sorted(), play: play(&reduced, flat)? })
}

/// Effects, gathered by what has them.
struct Effects<'a> {
    reduced: &'a Reduced,
    musts: Vec<f64>,
    wishes: Vec<f64>,
    rests: Vec<(VarId, f64)>,
    /// The effect of shifting each node against the root of its class.
    shift: Vec<f64>,
}

impl<'a> Effects<'a> {
    fn new(problem: &AxisProblem, reduced: &'a Reduced) -> Self {
        Self {
            reduced,
            musts: vec![0.0; problem.musts.len()],
            wishes: vec![0.0; problem.wishes.len()],
            rests: Vec::new(),
            shift: vec![0.0; reduced.class.len()],
        }
    }

    fn collect(&mut self, problem: &AxisProblem, solution: &Solution, flat: Flat) -> Result<(), AxisError> {
        let reduced = self.reduced;
        self.shift[flat.hi] += 1.0;
        self.shift[flat.lo] -= 1.0;
        if reduced.class[flat.hi] != reduced.class[flat.lo] {
            let quadratic = Quadratic::new(problem, reduced)?;
            self.movable(problem, &quadratic, solution, flat)?;
        }
        self.rigid(problem);
        Ok(())
    }

    /// Through the wishes and the binding rows: one solution of the equations at the optimum with the size as load.
    fn movable(
        &mut self,
        problem: &AxisProblem,
        quadratic: &Quadratic,
        solution: &Solution,
        flat: Flat,
    ) -> Result<(), AxisError> {
        let reduced = self.reduced;
        let program = &quadratic.program;
        let mut active: Vec<bool> = solution.pressing(reduced);
        active.resize(program.rows.len(), false);
        let Some(mut equations) = Equations::new(program, &active) else {
            return Err(AxisError::Numeric("singular equations".to_owned()));
        };
        let mut load = vec![0.0; program.free + equations.active.len()];
        for (node, sign) in [(flat.hi, 1.0), (flat.lo, -1.0)] {
            if reduced.class[node] != reduced.free {
                load[reduced.class[node]] += sign;
            }
        }
        let answer = equations.solve(&load);
        for (place, row) in equations.active.iter().enumerate() {
            let effect = answer[program.free + place];
            if let Some(tie) = reduced.ties.get(*row) {
                // The program holds ties in terms of roots; shifts of the nodes come in through the tie's own nodes.
                self.musts[tie.must] += effect;
                for (node, factor) in tie_nodes(problem, tie.must) {
                    self.shift[node] -= effect * factor;
                }
            } else {
                self.through_row(*row - reduced.ties.len(), effect);
            }
        }
        for residual in &quadratic.residuals {
            let along: f64 = residual.terms.iter().map(|(class, factor)| factor * answer[*class]).sum();
            let effect = residual.weight / quadratic.weight * along;
            match residual.wish {
                Some(wish) => {
                    self.wishes[wish] += effect;
                    for (node, factor) in wish_nodes(problem, wish) {
                        self.shift[node] -= effect * factor;
                    }
                }
                None => {
                    for (class, _) in &residual.terms {
                        self.rests.push((VarId(reduced.root[*class]), effect));
                        self.through_rest(*class, effect);
                    }
                }
            }
        }
        Ok(())
    }

    /// A change of the limit of a row, as a change of the bound and of the nodes behind it.
    fn through_row(&mut self, row: usize, effect: f64) {
        let edge = self.reduced.edges[self.reduced.behind[row]];
        self.musts[edge.must] += effect * f64::from(edge.sign);
        self.shift[edge.to] -= effect;
        self.shift[edge.from] += effect;
    }

    /// A resting place lies in the middle of the play, so it moves with what limits the play.
    fn through_rest(&mut self, class: usize, effect: f64) {
        let reduced = self.reduced;
        let part = if reduced.lowest[class].is_some() && reduced.highest[class].is_some() { 0.5 } else { 1.0 };
        for (backwards, sign) in [(false, 1.0), (true, -1.0)] {
            let graph = Graph::new(reduced.free + 1, &reduced.rows, backwards);
            let Ok(paths) = graph.from(reduced.free) else { continue };
            for row in graph.path(&paths, class) {
                self.through_row(row, part * sign * effect);
            }
        }
    }

    /// Through the rigid groups: each node hangs on its root by a chain of tight edges, as short as may be. An edge that a
    /// tie has turned into rests on the groups of the rounds before it: what it does goes on to the nodes of its tie.
    fn rigid(&mut self, problem: &AxisProblem) {
        let reduced = self.reduced;
        let tree = Tree::new(reduced, Along::Both);
        for _ in 0..=reduced.rounds.len() {
            let mut onwards = vec![0.0; self.shift.len()];
            for &node in tree.order.iter().rev() {
                let Some(hang) = tree.parent[node] else { continue };
                let effect = self.shift[node];
                self.shift[hang.above] += effect;
                let edge = &reduced.edges[hang.edge];
                let on_bound = effect * hang.sign * f64::from(edge.sign);
                self.musts[edge.must] += on_bound;
                pass_on(problem, reduced, hang.edge, -on_bound, &mut onwards);
            }
            self.shift = onwards;
        }
    }

    fn sorted(self) -> Vec<(Decider, f64)> {
        let musts = self.musts.into_iter().enumerate().map(|(must, effect)| (Decider::Must(MustId(must)), effect));
        let wishes = self.wishes.into_iter().enumerate().map(|(wish, effect)| (Decider::Wish(WishId(wish)), effect));
        let rests = self.rests.into_iter().map(|(var, effect)| (Decider::Rest(var), effect));
        let mut all: Vec<_> = musts.chain(wishes).chain(rests).filter(|(_, effect)| effect.abs() > NO_EFFECT).collect();
        // Effects that differ by no more than rounding count as equal, so that the order does not depend on noise.
        let strength = |effect: f64| (effect.abs() * 1e6).round() as i64;
        all.sort_by_key(|(decider, effect)| (std::cmp::Reverse(strength(*effect)), *decider));
        all
    }
}
