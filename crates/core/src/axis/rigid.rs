//! What happens inside rigid groups: chains of tight edges between their nodes, and the forces along them.

use std::collections::BTreeMap;

use super::exact::{Graph, flatten};
use super::polish::Polished;
use super::problem::{AxisProblem, MustKind, Span, WishKind};
use super::quadratic::{Quadratic, proportion};
use super::reduce::Reduced;

/// Which way a tree may follow its edges, seen from the root.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Along {
    /// Either way.
    Both,
    /// From `from` to `to`.
    Out,
    /// From `to` to `from`.
    In,
}

/// What a node hangs on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Hang {
    pub(crate) above: usize,
    pub(crate) edge: usize,
    /// Whether the edge leads from the node above to this one (+1) or back (-1).
    pub(crate) sign: f64,
}

/// A spanning tree of each rigid group, over tight edges.
pub(crate) struct Tree {
    /// The nodes, each after the one that it hangs on.
    pub(crate) order: Vec<usize>,
    pub(crate) parent: Vec<Option<Hang>>,
}

/// Zero for edges that come straight from musts, and then the round in which a tie turned into the edge.
fn round_of(reduced: &Reduced, edge: usize) -> usize {
    reduced.rounds.partition_point(|(before, _)| *before <= edge)
}

impl Tree {
    /// Grown from the roots, nearest first; edges of later rounds only where those of earlier rounds do not lead.
    pub(crate) fn new(reduced: &Reduced, along: Along) -> Self {
        let nodes = reduced.class.len();
        let (forwards, backwards) = (Graph::new(nodes, &reduced.edges, false), Graph::new(nodes, &reduced.edges, true));
        let mut tree = Self { order: Vec::with_capacity(nodes), parent: vec![None; nodes] };
        let mut reached = vec![false; nodes];
        let mut waiting: BTreeMap<(usize, usize), (usize, Option<Hang>)> = BTreeMap::new();
        for (turn, root) in reduced.root.iter().enumerate() {
            waiting.insert((0, turn), (*root, None));
        }
        let mut turn = reduced.root.len();
        while let Some((_, (node, parent))) = waiting.pop_first() {
            if std::mem::replace(&mut reached[node], true) {
                continue;
            }
            tree.order.push(node);
            tree.parent[node] = parent;
            let onwards = forwards.leaving(node).iter().map(|edge| (*edge, reduced.edges[*edge].to, 1.0));
            let back = backwards.leaving(node).iter().map(|edge| (*edge, reduced.edges[*edge].from, -1.0));
            let onwards = onwards.filter(|_| along != Along::In);
            for (edge, next, sign) in onwards.chain(back.filter(|_| along != Along::Out)) {
                let there = reduced.edges[edge];
                let tight = reduced.class[there.from] == reduced.class[there.to]
                    && reduced.offset[there.to] - reduced.offset[there.from] == there.most;
                if tight && !reached[next] {
                    waiting.insert((round_of(reduced, edge), turn), (next, Some(Hang { above: node, edge, sign })));
                    turn += 1;
                }
            }
        }
        tree
    }
}

/// An edge that a tie has turned into stands for the tie: a part of `amount` for each of the tie's nodes, and back from
/// the root that the node had when the tie turned into the edge. Nothing for edges that come straight from musts.
pub(crate) fn pass_on(problem: &AxisProblem, reduced: &Reduced, edge: usize, amount: f64, onwards: &mut [f64]) {
    let round = round_of(reduced, edge).checked_sub(1);
    let Some((_, roots)) = round.and_then(|round| reduced.rounds.get(round)) else { return };
    for (node, factor) in tie_nodes(problem, reduced.edges[edge].must) {
        onwards[node] += amount * factor;
        onwards[roots[node]] -= amount * factor;
    }
}

/// Adds to the dual of each must what holds the rigid groups together against the wishes and the rows. Where more musts
/// bind than are needed, there are many ways to share the forces: they take the shortest chains of musts that can bear them.
pub(crate) fn inner_duals(
    problem: &AxisProblem,
    reduced: &Reduced,
    quadratic: &Quadratic,
    polished: &Polished,
    duals: &mut [f64],
) {
    if reduced.free + 1 == reduced.class.len() {
        return;
    }
    let mut force = forces(problem, reduced, quadratic, polished);
    let (out, back) = (Tree::new(reduced, Along::Out), Tree::new(reduced, Along::In));
    for _ in 0..=reduced.rounds.len() {
        let mut onwards = vec![0.0; force.len()];
        for (tree, sign) in [(&out, 1.0), (&back, -1.0)] {
            let mut carried: Vec<f64> = force.iter().map(|force| (sign * force).max(0.0)).collect();
            for &node in tree.order.iter().rev() {
                let Some(hang) = tree.parent[node] else { continue };
                let flow = carried[node];
                carried[hang.above] += flow;
                let edge = &reduced.edges[hang.edge];
                duals[edge.must] += flow * f64::from(edge.sign);
                pass_on(problem, reduced, hang.edge, -flow * f64::from(edge.sign), &mut onwards);
            }
        }
        force = onwards;
    }
}

/// What pushes each node up, of the wishes and of the musts between groups.
fn forces(problem: &AxisProblem, reduced: &Reduced, quadratic: &Quadratic, polished: &Polished) -> Vec<f64> {
    let mut force = vec![0.0; reduced.class.len()];
    for residual in &quadratic.residuals {
        let at: f64 = residual.terms.iter().map(|(class, factor)| factor * polished.x[*class] * quadratic.unit).sum();
        let push = residual.weight * (at + residual.constant);
        match residual.wish {
            Some(wish) => wish_nodes(problem, wish).iter().for_each(|(node, factor)| force[*node] -= push * factor),
            None => residual.terms.iter().for_each(|(class, factor)| force[reduced.root[*class]] -= push * factor),
        }
    }
    let strength = quadratic.weight * quadratic.unit;
    for (row, z) in polished.z.iter().enumerate().filter(|(_, z)| **z != 0.0) {
        if let Some(tie) = reduced.ties.get(row) {
            tie_nodes(problem, tie.must).iter().for_each(|(node, factor)| force[*node] -= z * strength * factor);
        } else if let Some(edge) = reduced.behind.get(row - reduced.ties.len()) {
            let edge = reduced.edges[*edge];
            force[edge.to] -= z * strength;
            force[edge.from] += z * strength;
        }
    }
    force
}

/// The nodes of a tie with their factors, as the must states it: first size less second.
pub(crate) fn tie_nodes(problem: &AxisProblem, must: usize) -> Vec<(usize, f64)> {
    match problem.musts[must].kind {
        MustKind::Equal(a, b) => span_nodes(problem, a, 1.0).into_iter().chain(span_nodes(problem, b, -1.0)).collect(),
        _ => Vec::new(),
    }
}

/// The nodes of a wish's residual with their factors.
pub(crate) fn wish_nodes(problem: &AxisProblem, wish: usize) -> Vec<(usize, f64)> {
    match problem.wishes[wish].kind {
        WishKind::Size { span, .. } => span_nodes(problem, span, 1.0),
        WishKind::Position { face, .. } => {
            vec![(face.var.map_or(problem.vars, |var| var.0), 1.0)]
        }
        WishKind::Proportion { a, share_a, b, share_b } => {
            let Some((of_a, of_b)) = proportion(share_a, share_b) else { return Vec::new() };
            span_nodes(problem, a, of_a).into_iter().chain(span_nodes(problem, b, of_b)).collect()
        }
    }
}

fn span_nodes(problem: &AxisProblem, span: Span, factor: f64) -> Vec<(usize, f64)> {
    let flat = flatten(problem.vars, span);
    vec![(flat.hi, factor), (flat.lo, -factor)]
}
