//! The exact part of the answer: nodes that the musts tie rigidly to one another become one class.
//!
//! Positions that satisfy every edge make some edges tight. A cycle of tight edges adds up to zero, so none of its
//! edges can ever be slack: the nodes on it keep their distances in every solution. The strongly connected components
//! of the tight edges are therefore exactly the rigid groups: equalities, but also things that fit with nothing to
//! spare. Taking them out in whole numbers leaves the numeric solver a problem with room inside.

use super::exact::{Edge, Graph, System, Tie, combined};

/// A system in terms of classes. Class `free` is the ground's, with its root at zero.
#[derive(Clone, Debug, Default)]
pub(crate) struct Reduced {
    /// The number of classes that can move.
    pub(crate) free: usize,
    /// The node whose position is the root of each class, the ground last.
    pub(crate) root: Vec<usize>,
    /// The class of each node.
    pub(crate) class: Vec<usize>,
    /// `position[node] = root[class[node]] + offset[node]`, in nanometres.
    pub(crate) offset: Vec<i64>,
    /// Edges between classes, at most one for each ordered pair: the tightest.
    pub(crate) rows: Vec<Edge>,
    /// The edge between nodes that each row stands for.
    pub(crate) behind: Vec<usize>,
    /// Ties between classes, in terms of their roots.
    pub(crate) ties: Vec<Tie>,
    /// The lowest position of each class's root that the rows allow; none if there is no lowest.
    pub(crate) lowest: Vec<Option<i64>>,
    /// The highest position of each class's root.
    pub(crate) highest: Vec<Option<i64>>,
    /// All edges between nodes, with those that ties turned into along the way.
    pub(crate) edges: Vec<Edge>,
    /// How many of `edges` come straight from musts; the rest rest on classes found before them.
    pub(crate) direct: usize,
    /// For each round of edges that ties turned into: how many edges there were before, and the root of each node then.
    pub(crate) rounds: Vec<(usize, Vec<usize>)>,
}

/// A cycle of musts that adds up below zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cycle {
    /// The musts on it, each once, ascending.
    pub(crate) musts: Vec<usize>,
    /// How far below zero, in nanometres.
    pub(crate) excess: i64,
    /// Whether the musts on the cycle conflict by themselves, without ties that were simplified by other musts.
    pub(crate) closed: bool,
}

/// The classes of `system`, or the cycle that forbids any solution. Ties that are left may still forbid one.
pub(crate) fn reduce(system: &System) -> Result<Reduced, Cycle> {
    let ground = system.ground;
    let mut reduced = Reduced { edges: system.edges.clone(), direct: system.edges.len(), ..Reduced::default() };
    let mut pending = system.ties.clone();
    loop {
        classify(ground, &mut reduced)?;
        // A tie over rigid groups may be no more than a difference now; then it makes groups in its turn.
        let mut rest = System { ground, ..System::default() };
        let mut kept = Vec::new();
        for tie in pending {
            let (terms, constant) = root_terms(&tie, &reduced);
            let terms: Vec<_> = terms.iter().map(|(class, factor)| (reduced.root[*class], *factor)).collect();
            let before = rest.ties.len();
            rest.tie(&terms, constant, tie.must);
            if rest.ties.len() > before {
                kept.push(tie);
            }
        }
        pending = kept;
        if rest.edges.is_empty() {
            break;
        }
        let root = reduced.class.iter().map(|class| reduced.root[*class]).collect();
        reduced.rounds.push((reduced.edges.len(), root));
        reduced.edges.extend(rest.edges);
    }
    reduced.ties = pending
        .iter()
        .map(|tie| {
            let (terms, constant) = root_terms(tie, &reduced);
            Tie { terms, constant, must: tie.must }
        })
        .collect();
    (reduced.rows, reduced.behind) = rows(&reduced);
    let nodes = reduced.free + 1;
    let bounds = |backwards, sign: i64| {
        let graph = Graph::new(nodes, &reduced.rows, backwards);
        let paths = graph.from(reduced.free).map_err(|edges| cycle(&edges, &reduced.rows, usize::MAX))?;
        Ok(paths.distance.into_iter().map(|distance| distance.map(|distance| sign * distance)).collect::<Vec<_>>())
    };
    let (highest, lowest) = (bounds(false, 1)?, bounds(true, -1)?);
    reduced.highest = highest;
    reduced.lowest = lowest;
    Ok(reduced)
}

fn cycle(on_it: &[usize], edges: &[Edge], direct: usize) -> Cycle {
    let mut musts: Vec<usize> = on_it.iter().map(|edge| edges[*edge].must).collect();
    musts.sort_unstable();
    musts.dedup();
    let sum: i64 = on_it.iter().map(|edge| edges[*edge].most).sum();
    Cycle { musts, excess: -sum, closed: on_it.iter().all(|edge| *edge < direct) }
}

/// A tie in terms of class roots.
fn root_terms(tie: &Tie, reduced: &Reduced) -> (Vec<(usize, i64)>, i64) {
    let terms: Vec<_> = tie.terms.iter().map(|(node, factor)| (reduced.class[*node], *factor)).collect();
    let shift: i64 = tie.terms.iter().map(|(node, factor)| factor * reduced.offset[*node]).sum();
    (combined(&terms, reduced.free), tie.constant + shift)
}

/// The rigid groups of `reduced.edges`.
fn classify(ground: usize, reduced: &mut Reduced) -> Result<(), Cycle> {
    let nodes = ground + 1;
    let graph = Graph::new(nodes, &reduced.edges, false);
    let height = graph.potentials().map_err(|edges| cycle(&edges, &reduced.edges, reduced.direct))?;
    let tight = |edge: usize| {
        let edge = reduced.edges[edge];
        height[edge.to] - height[edge.from] == edge.most
    };
    let group = strong_components(nodes, &graph, &reduced.edges, tight);
    // Number the groups by their first unknown; the ground's comes last.
    let mut number = vec![usize::MAX; nodes];
    let mut root = Vec::new();
    for node in 0..ground {
        if group[node] != group[ground] && number[group[node]] == usize::MAX {
            number[group[node]] = root.len();
            root.push(node);
        }
    }
    let free = root.len();
    number[group[ground]] = free;
    root.push(ground);
    reduced.free = free;
    reduced.class = group.iter().map(|group| number[*group]).collect();
    reduced.offset = (0..nodes).map(|node| height[node] - height[root[reduced.class[node]]]).collect();
    reduced.root = root;
    Ok(())
}

/// Tarjan's strongly connected components over the edges that `keep` accepts, without recursion.
/// R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1 (1972); from memory.
fn strong_components(nodes: usize, graph: &Graph<'_>, edges: &[Edge], keep: impl Fn(usize) -> bool) -> Vec<usize> {
    const NEW: usize = usize::MAX;
    let (mut index, mut low, mut group) = (vec![NEW; nodes], vec![0; nodes], vec![NEW; nodes]);
    let (mut stack, mut calls) = (Vec::new(), Vec::new());
    let (mut count, mut groups) = (0, 0);
    for origin in 0..nodes {
        if index[origin] == NEW {
            calls.push((origin, 0));
        }
        while let Some((node, next)) = calls.pop() {
            if next == 0 {
                index[node] = count;
                low[node] = count;
                count += 1;
                stack.push(node);
            }
            let leaving = graph.leaving(node);
            let mut at = next;
            let mut deeper = None;
            while at < leaving.len() {
                let edge = leaving[at];
                let head = edges[edge].to;
                at += 1;
                if !keep(edge) {
                    continue;
                }
                if index[head] == NEW {
                    deeper = Some(head);
                    break;
                }
                if group[head] == NEW {
                    low[node] = low[node].min(index[head]);
                }
            }
            if let Some(head) = deeper {
                calls.push((node, at));
                calls.push((head, 0));
                continue;
            }
            if low[node] == index[node] {
                while let Some(member) = stack.pop() {
                    group[member] = groups;
                    if member == node {
                        break;
                    }
                }
                groups += 1;
            }
            if let Some((caller, _)) = calls.last() {
                low[*caller] = low[*caller].min(low[node]);
            }
        }
    }
    group
}

/// The tightest edge for each ordered pair of classes, in order of the pair, with the edge between nodes behind it.
fn rows(reduced: &Reduced) -> (Vec<Edge>, Vec<usize>) {
    let between = |edge: &Edge| Edge {
        from: reduced.class[edge.from],
        to: reduced.class[edge.to],
        most: edge.most - reduced.offset[edge.to] + reduced.offset[edge.from],
        ..*edge
    };
    let mut rows: Vec<(Edge, usize)> =
        reduced.edges.iter().map(between).zip(0..).filter(|(row, _)| row.from != row.to).collect();
    rows.sort_by_key(|(row, edge)| (row.from, row.to, row.most, row.must, *edge));
    rows.dedup_by_key(|(row, _)| (row.from, row.to));
    rows.into_iter().unzip()
}
