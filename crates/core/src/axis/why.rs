//! What decides a size, and how far it could move.

use std::collections::VecDeque;

use super::error::{Fault, Place, span_faults};
use super::exact::{Flat, Graph, System, flatten};
use super::play::{Play, play};
use super::polish::Equations;
use super::problem::{AxisProblem, MustId, Span, VarId, WishId};
use super::quadratic::Quadratic;
use super::reduce::{Reduced, reduce};
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
    /// No wish speaks of this unknown: it rests in the middle of its play.
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
        self.rigid();
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
            } else if let Some(row) = reduced.rows.get(*row - reduced.ties.len()) {
                self.musts[row.must] += effect * f64::from(row.sign);
                // The row stands for one edge between two nodes.
                if let Some(edge) = reduced.edges.iter().find(|edge| {
                    edge.must == row.must && reduced.class[edge.to] == row.to && reduced.class[edge.from] == row.from
                }) {
                    self.shift[edge.to] -= effect;
                    self.shift[edge.from] += effect;
                }
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
                    }
                }
            }
        }
        Ok(())
    }

    /// Through the rigid groups: each node hangs on its root by the shortest chain of tight edges.
    fn rigid(&mut self) {
        let reduced = self.reduced;
        let nodes = reduced.class.len();
        let (forwards, backwards) = (Graph::new(nodes, &reduced.edges, false), Graph::new(nodes, &reduced.edges, true));
        let mut parent: Vec<Option<(usize, usize, f64)>> = vec![None; nodes];
        let mut reached = vec![false; nodes];
        let mut order = Vec::with_capacity(nodes);
        let mut queue: VecDeque<usize> = reduced.root.iter().copied().collect();
        for root in &reduced.root {
            reached[*root] = true;
        }
        while let Some(node) = queue.pop_front() {
            order.push(node);
            let onwards = forwards.leaving(node).iter().map(|edge| (*edge, reduced.edges[*edge].to, 1.0));
            let back = backwards.leaving(node).iter().map(|edge| (*edge, reduced.edges[*edge].from, -1.0));
            for (edge, next, sign) in onwards.chain(back) {
                let there = reduced.edges[edge];
                let tight = reduced.class[there.from] == reduced.class[there.to]
                    && reduced.offset[there.to] - reduced.offset[there.from] == there.most;
                if tight && !std::mem::replace(&mut reached[next], true) {
                    parent[next] = Some((node, edge, sign));
                    queue.push_back(next);
                }
            }
        }
        for node in order.into_iter().rev() {
            if let Some((above, edge, sign)) = parent[node] {
                let effect = self.shift[node];
                self.shift[above] += effect;
                let edge = reduced.edges[edge];
                self.musts[edge.must] += effect * sign * f64::from(edge.sign);
            }
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

/// The nodes of a tie with their factors, as the must states it: first size less second.
fn tie_nodes(problem: &AxisProblem, must: usize) -> Vec<(usize, f64)> {
    match problem.musts[must].kind {
        super::MustKind::Equal(a, b) => {
            span_nodes(problem, a, 1.0).into_iter().chain(span_nodes(problem, b, -1.0)).collect()
        }
        _ => Vec::new(),
    }
}

/// The nodes of a wish's residual with their factors.
fn wish_nodes(problem: &AxisProblem, wish: usize) -> Vec<(usize, f64)> {
    match problem.wishes[wish].kind {
        super::WishKind::Size { span, .. } => span_nodes(problem, span, 1.0),
        super::WishKind::Position { face, .. } => {
            vec![(face.var.map_or(problem.vars, |var| var.0), 1.0)]
        }
        super::WishKind::Proportion { a, share_a, b, share_b } => {
            let larger = share_a.max(share_b);
            let (share_a, share_b) = (share_a / larger, share_b / larger);
            let sum = share_a + share_b;
            span_nodes(problem, a, share_b / sum).into_iter().chain(span_nodes(problem, b, -share_a / sum)).collect()
        }
    }
}

fn span_nodes(problem: &AxisProblem, span: Span, factor: f64) -> Vec<(usize, f64)> {
    let flat = flatten(problem.vars, span);
    vec![(flat.hi, factor), (flat.lo, -factor)]
}
