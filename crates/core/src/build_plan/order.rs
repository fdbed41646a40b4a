//! The order: a group is taken apart along the axis that leaves the least work, then each of its blocks.

use std::collections::BTreeMap;

use super::blocking::{Blocking, DIRECTIONS, Ties};
use crate::geometry::Direction;

/// How a group is put together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Tree {
    /// One node, already in one piece.
    Whole(usize),
    /// Blocks that are closed along one axis; those later in the list come from further out in the direction.
    Closed { direction: Direction, blocks: Vec<Tree> },
    /// Nodes that come apart in no direction.
    Stuck(Vec<usize>),
}

impl Tree {
    /// The nodes in it.
    pub(super) fn nodes(&self) -> Vec<usize> {
        match self {
            Self::Whole(node) => vec![*node],
            Self::Closed { blocks, .. } => {
                let mut all: Vec<usize> = blocks.iter().flat_map(Self::nodes).collect();
                all.sort_unstable();
                all
            }
            Self::Stuck(nodes) => nodes.clone(),
        }
    }

    /// Every group that is stuck.
    pub(super) fn stuck(&self) -> Vec<Vec<usize>> {
        match self {
            Self::Whole(_) => Vec::new(),
            Self::Closed { blocks, .. } => blocks.iter().flat_map(Self::stuck).collect(),
            Self::Stuck(nodes) => vec![nodes.clone()],
        }
    }
}

/// Steps needed, stuck groups counted as very many, and one more for each rebate of a back that is not closed from its open
/// side, so that backs go in when the carcass stands; then, among equals, the largest number of parts that one step closes.
type Cost = (usize, usize);

/// Beyond this many parts only the first direction that takes a group apart is followed.
const SEARCHED: usize = 48;

/// Puts nodes (sets of parts) together.
pub(super) struct Search<'a, 'b> {
    pub(super) blocking: &'a Blocking<'b>,
    pub(super) nodes: &'a [Vec<usize>],
    pub(super) ties: Ties,
    known: BTreeMap<Vec<usize>, (Cost, Tree)>,
}

impl<'a, 'b> Search<'a, 'b> {
    pub(super) fn new(blocking: &'a Blocking<'b>, nodes: &'a [Vec<usize>], ties: Ties) -> Self {
        Self { blocking, nodes, ties, known: BTreeMap::new() }
    }

    /// The tree of this group with the fewest steps.
    pub(super) fn best(&mut self, group: &[usize]) -> (Cost, Tree) {
        if let [only] = group {
            return ((0, 0), Tree::Whole(*only));
        }
        if let Some(known) = self.known.get(group) {
            return known.clone();
        }
        let parts: Vec<Vec<usize>> = group.iter().filter_map(|&node| self.nodes.get(node).cloned()).collect();
        let mut best: Option<(Cost, Tree)> = None;
        // The blocks along an axis are the same in both senses.
        for direction in DIRECTIONS.into_iter().filter(|it| !it.negative) {
            let blocks = self.blocking.blocks_along(&parts, direction, self.ties);
            if blocks.len() < 2 {
                continue;
            }
            let pieces: Vec<Vec<usize>> = blocks
                .iter()
                .map(|block| block.iter().filter_map(|&at| parts.get(at)).flatten().copied().collect())
                .collect();
            let mut cost = (1 + self.blocking.backs_shut_in(&pieces, direction.axis), blocks.len());
            let mut trees = Vec::new();
            for block in &blocks {
                let own: Vec<usize> = block.iter().filter_map(|&at| group.get(at).copied()).collect();
                let ((steps, most), tree) = self.best(&own);
                cost = (cost.0 + steps, cost.1.max(most));
                trees.push(tree);
            }
            if best.as_ref().is_none_or(|(other, _)| cost < *other) {
                best = Some((cost, Tree::Closed { direction, blocks: trees }));
            }
            if group.len() > SEARCHED {
                break;
            }
        }
        let found = best.unwrap_or_else(|| ((1_000, 0), Tree::Stuck(group.to_vec())));
        self.known.insert(group.to_vec(), found.clone());
        found
    }
}

/// The best tree: joints closed along their own axes if that can be, else with tongues sliding along their grooves.
pub(super) fn put_together(blocking: &Blocking<'_>, nodes: &[Vec<usize>]) -> Tree {
    let all: Vec<usize> = (0..nodes.len()).collect();
    let (_, strict) = Search::new(blocking, nodes, Ties::AllJoints).best(&all);
    if strict.stuck().is_empty() {
        return strict;
    }
    Search::new(blocking, nodes, Ties::DowelsOnly).best(&all).1
}
