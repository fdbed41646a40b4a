//! The musts as differences between nodes in whole nanometres, and shortest paths over them: exact feasibility,
//! exact negative cycles, exact play.
//!
//! Node `v` below the number of unknowns is an unknown; one node more is the ground, at position zero. An edge says
//! `position[to] - position[from] <= most`. A set of edges can hold together exactly when no cycle of edges adds up
//! below zero (Cormen, Leiserson, Rivest, Stein, *Introduction to Algorithms*, "Difference constraints and shortest
//! paths"; from memory), and the largest value of `position[b] - position[a]` is the length of the shortest path.

use super::problem::{AxisProblem, Face, MustKind, Span};

/// `position[to] - position[from] <= most`, because of a must.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Edge {
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) most: i64,
    pub(crate) must: usize,
    /// Whether `most` grows (+1) or shrinks (-1) when the bound of the must grows.
    pub(crate) sign: i8,
}

/// `sum of factor x position + constant == 0`, because of a must; no node twice, no factor zero, no ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Tie {
    pub(crate) terms: Vec<(usize, i64)>,
    pub(crate) constant: i64,
    pub(crate) must: usize,
}

/// A linear size: node `hi` less node `lo`, plus a constant, in nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Flat {
    pub(crate) lo: usize,
    pub(crate) hi: usize,
    pub(crate) constant: i64,
}

/// Musts as edges and ties.
#[derive(Clone, Debug, Default)]
pub(crate) struct System {
    /// The ground's node, which is also the number of unknowns.
    pub(crate) ground: usize,
    pub(crate) edges: Vec<Edge>,
    pub(crate) ties: Vec<Tie>,
}

fn flat_face(ground: usize, face: Face) -> (usize, i64) {
    (face.var.map_or(ground, |var| var.0), face.offset.nm())
}

/// The size as nodes and a constant.
pub(crate) fn flatten(ground: usize, span: Span) -> Flat {
    let (lo, lo_offset) = flat_face(ground, span.lo);
    let (hi, hi_offset) = flat_face(ground, span.hi);
    Flat { lo, hi, constant: hi_offset - lo_offset + span.constant.nm() }
}

impl System {
    /// The musts of `problem` that `keep` accepts.
    pub(crate) fn new(problem: &AxisProblem, keep: impl Fn(usize) -> bool) -> Self {
        let mut system = Self { ground: problem.vars, ..Self::default() };
        for (must, demand) in problem.musts.iter().enumerate().filter(|(must, _)| keep(*must)) {
            match demand.kind {
                MustKind::AtLeast(span, length) => system.at_least(flatten(system.ground, span), length.nm(), must),
                MustKind::AtMost(span, length) => system.at_most(flatten(system.ground, span), length.nm(), must),
                MustKind::Exactly(span, length) => {
                    system.at_least(flatten(system.ground, span), length.nm(), must);
                    system.at_most(flatten(system.ground, span), length.nm(), must);
                }
                MustKind::InLine(a, b) => {
                    let flat = flatten(system.ground, Span::between(a, b));
                    system.at_least(flat, 0, must);
                    system.at_most(flat, 0, must);
                }
                MustKind::Equal(a, b) => {
                    let (a, b) = (flatten(system.ground, a), flatten(system.ground, b));
                    let terms = [(a.hi, 1), (a.lo, -1), (b.hi, -1), (b.lo, 1)];
                    system.tie(&terms, a.constant - b.constant, must);
                }
            }
        }
        system
    }

    fn at_least(&mut self, flat: Flat, length: i64, must: usize) {
        self.edges.push(Edge { from: flat.hi, to: flat.lo, most: flat.constant - length, must, sign: -1 });
    }

    fn at_most(&mut self, flat: Flat, length: i64, must: usize) {
        self.edges.push(Edge { from: flat.lo, to: flat.hi, most: length - flat.constant, must, sign: 1 });
    }

    /// A tie; when it is no more than a difference of two nodes, two edges instead.
    pub(crate) fn tie(&mut self, terms: &[(usize, i64)], constant: i64, must: usize) {
        let terms = combined(terms, self.ground);
        if let Some(flat) = as_difference(&terms, constant, self.ground) {
            self.at_least(flat, 0, must);
            self.at_most(flat, 0, must);
        } else {
            self.ties.push(Tie { terms, constant, must });
        }
    }
}

/// Terms with each node once, in order, without the ground and without zeros.
pub(crate) fn combined(terms: &[(usize, i64)], ground: usize) -> Vec<(usize, i64)> {
    let mut sorted: Vec<_> = terms.iter().copied().filter(|(node, _)| *node != ground).collect();
    sorted.sort_unstable();
    let mut out: Vec<(usize, i64)> = Vec::with_capacity(sorted.len());
    for (node, factor) in sorted {
        match out.last_mut() {
            Some(last) if last.0 == node => last.1 += factor,
            _ => out.push((node, factor)),
        }
    }
    out.retain(|(_, factor)| *factor != 0);
    out
}

/// The terms as one difference of two nodes, if that is all they are.
pub(crate) fn as_difference(terms: &[(usize, i64)], constant: i64, ground: usize) -> Option<Flat> {
    match *terms {
        [] => Some(Flat { lo: ground, hi: ground, constant }),
        [(hi, 1)] => Some(Flat { lo: ground, hi, constant }),
        [(lo, -1)] => Some(Flat { lo, hi: ground, constant }),
        [(hi, 1), (lo, -1)] | [(lo, -1), (hi, 1)] => Some(Flat { lo, hi, constant }),
        _ => None,
    }
}

/// Edges sorted by the node that they leave.
pub(crate) struct Graph<'a> {
    nodes: usize,
    edges: &'a [Edge],
    order: Vec<usize>,
    start: Vec<usize>,
    backwards: bool,
}

/// Shortest distances from one node, each with the edge that reaches it last; `None` where nothing leads.
pub(crate) struct Paths {
    pub(crate) distance: Vec<Option<i64>>,
    parent: Vec<Option<usize>>,
}

impl<'a> Graph<'a> {
    /// The graph of `edges` over `nodes` nodes; against the arrows when `backwards`.
    pub(crate) fn new(nodes: usize, edges: &'a [Edge], backwards: bool) -> Self {
        let mut start = vec![0; nodes + 1];
        for edge in edges {
            start[1 + if backwards { edge.to } else { edge.from }] += 1;
        }
        for node in 0..nodes {
            start[node + 1] += start[node];
        }
        let mut next = start.clone();
        let mut order = vec![0; edges.len()];
        for (index, edge) in edges.iter().enumerate() {
            let tail = if backwards { edge.to } else { edge.from };
            order[next[tail]] = index;
            next[tail] += 1;
        }
        Self { nodes, edges, order, start, backwards }
    }

    /// The edges that leave `node`, by their place in the list.
    pub(crate) fn leaving(&self, node: usize) -> &[usize] {
        &self.order[self.start[node]..self.start[node + 1]]
    }

    fn head(&self, edge: usize) -> usize {
        if self.backwards { self.edges[edge].from } else { self.edges[edge].to }
    }

    fn tail(&self, edge: usize) -> usize {
        if self.backwards { self.edges[edge].to } else { self.edges[edge].from }
    }

    /// Positions that satisfy every edge, or the edges of a cycle that adds up below zero.
    pub(crate) fn potentials(&self) -> Result<Vec<i64>, Vec<usize>> {
        let mut paths = Paths { distance: vec![Some(0); self.nodes], parent: vec![None; self.nodes] };
        self.relax(&mut paths, vec![true; self.nodes])?;
        Ok(paths.distance.into_iter().map(|distance| distance.unwrap_or(0)).collect())
    }

    /// Shortest paths from `source`, or the edges of a cycle below zero that it reaches.
    pub(crate) fn from(&self, source: usize) -> Result<Paths, Vec<usize>> {
        let mut paths = Paths { distance: vec![None; self.nodes], parent: vec![None; self.nodes] };
        let mut dirty = vec![false; self.nodes];
        paths.distance[source] = Some(0);
        dirty[source] = true;
        self.relax(&mut paths, dirty)?;
        Ok(paths)
    }

    /// The edges of the path to `node`, last first.
    pub(crate) fn path(&self, paths: &Paths, node: usize) -> Vec<usize> {
        let mut out = Vec::new();
        let mut at = node;
        while let Some(edge) = paths.parent[at] {
            out.push(edge);
            at = self.tail(edge);
            if out.len() > self.nodes {
                break;
            }
        }
        out
    }

    /// Bellman and Ford, sweeping the nodes up and down by turns: chains in the order of the axis settle in two sweeps.
    fn relax(&self, paths: &mut Paths, mut dirty: Vec<bool>) -> Result<(), Vec<usize>> {
        let mut ascending = false;
        loop {
            let mut any = false;
            for step in 0..self.nodes {
                let node = if ascending { step } else { self.nodes - 1 - step };
                if !std::mem::take(&mut dirty[node]) {
                    continue;
                }
                let Some(here) = paths.distance[node] else { continue };
                for &edge in self.leaving(node) {
                    let head = self.head(edge);
                    let there = here.saturating_add(self.edges[edge].most);
                    if paths.distance[head].is_none_or(|known| there < known) {
                        paths.distance[head] = Some(there);
                        paths.parent[head] = Some(edge);
                        if head == node {
                            return Err(vec![edge]);
                        }
                        dirty[head] = true;
                        any = true;
                    }
                }
            }
            if !any {
                return Ok(());
            }
            if let Some(cycle) = self.parent_cycle(paths) {
                return Err(cycle);
            }
            ascending = !ascending;
        }
    }

    /// A cycle among the last edges of the paths: there is one only if it adds up below zero.
    fn parent_cycle(&self, paths: &Paths) -> Option<Vec<usize>> {
        let mut mark = vec![0usize; self.nodes];
        for origin in 0..self.nodes {
            let mut at = origin;
            while mark[at] == 0 {
                mark[at] = origin + 1;
                match paths.parent[at] {
                    Some(edge) => at = self.tail(edge),
                    None => break,
                }
            }
            if mark[at] == origin + 1 && paths.parent[at].is_some() {
                let mut cycle = Vec::new();
                let mut node = at;
                while let Some(edge) = paths.parent[node] {
                    cycle.push(edge);
                    node = self.tail(edge);
                    if node == at {
                        cycle.reverse();
                        return Some(cycle);
                    }
                    if cycle.len() > self.nodes {
                        return None;
                    }
                }
            }
        }
        None
    }
}
