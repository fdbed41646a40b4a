//! What blocks what: for one direction, which parts must leave before or with which others.

use std::collections::BTreeSet;

use super::solids::{meets_on_its_way, solid_of};
use crate::assembly::{Assembly, JoinedBy, Joint, Machining};
use crate::design::Role;
use crate::geometry::{Axis, Cuboid, Direction};
use crate::joinery::groove_in_world;

/// How strictly joints tie parts to their axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ties {
    /// Every joint that holds is closed along its own axis, as a bench hand would have it.
    AllJoints,
    /// Dowels only: whatever else holds may also slide along the joint.
    DowelsOnly,
}

/// Parts and joints as the order sees them.
pub(super) struct Blocking<'a> {
    pub(super) assembly: &'a Assembly,
    solids: Vec<Vec<Cuboid>>,
    /// Joints that are taken as if they were butt joints without dowels or tongues.
    pub(super) freed: BTreeSet<usize>,
}

/// The six directions, in the order in which they are tried.
pub(super) const DIRECTIONS: [Direction; 6] =
    [Direction::FRONT, Direction::UP, Direction::RIGHT, Direction::LEFT, Direction::REAR, Direction::DOWN];

impl<'a> Blocking<'a> {
    pub(super) fn new(assembly: &'a Assembly) -> Self {
        Self { assembly, solids: assembly.parts.iter().map(solid_of).collect(), freed: BTreeSet::new() }
    }

    /// The same with some joints made as butt joints: their tongues are cut off.
    pub(super) fn freeing(&self, joints: &[usize]) -> Self {
        let mut solids = self.solids.clone();
        for joint in joints.iter().filter_map(|&index| self.assembly.joints.get(index)) {
            if joint.kind.seat().is_none() {
                continue;
            }
            let grooves = (self.assembly.parts.get(joint.face_part).into_iter())
                .flat_map(|part| part.machining.iter().map(move |it| (part, it)))
                .filter_map(|(part, it)| match it {
                    Machining::Groove(groove) => groove_in_world(part, groove),
                    Machining::Hole(_) => None,
                });
            for groove in grooves {
                if let Some(boxes) = solids.get_mut(joint.edge_part) {
                    *boxes = boxes.iter().flat_map(|it| super::solids::without(it, &groove)).collect();
                }
            }
        }
        let freed = self.freed.iter().chain(joints).copied().collect();
        Self { assembly: self.assembly, solids, freed }
    }

    /// Whether the joint holds its parts together.
    pub(super) fn holds(joint: &Joint) -> bool {
        joint.kind != JoinedBy::Loose
    }

    fn ties(&self, index: usize, joint: &Joint, axis: Axis, ties: Ties) -> bool {
        let strict = match ties {
            Ties::AllJoints => Self::holds(joint),
            Ties::DowelsOnly => matches!(joint.kind, JoinedBy::Dowels { .. }),
        };
        // A rebate lets the seated part in from its open side as well.
        let from_the_side = matches!(joint.kind, JoinedBy::Rebate { open, .. } if open.axis == axis);
        strict && joint.direction.axis != axis && !from_the_side && !self.freed.contains(&index)
    }

    /// For each node (a set of parts that are one piece), the nodes that must leave with it or before it.
    fn graph(&self, nodes: &[Vec<usize>], direction: Direction, ties: Ties) -> Vec<BTreeSet<usize>> {
        let node_of = |part: usize| nodes.iter().position(|node| node.contains(&part));
        let mut graph = vec![BTreeSet::new(); nodes.len()];
        for (index, joint) in self.assembly.joints.iter().enumerate() {
            let (Some(a), Some(b)) = (node_of(joint.face_part), node_of(joint.edge_part)) else { continue };
            if a != b && self.ties(index, joint, direction.axis, ties) {
                graph.get_mut(a).map(|it| it.insert(b));
                graph.get_mut(b).map(|it| it.insert(a));
            }
        }
        for (a, one) in nodes.iter().enumerate() {
            for (b, other) in nodes.iter().enumerate() {
                if a != b && self.blocks(one, other, direction) {
                    graph.get_mut(a).map(|it| it.insert(b));
                }
            }
        }
        graph
    }

    /// Whether `other` is in the way of `one` when it leaves.
    pub(super) fn blocks(&self, one: &[usize], other: &[usize], direction: Direction) -> bool {
        let solid = |part: &usize| self.solids.get(*part).map_or(&[][..], Vec::as_slice);
        one.iter().any(|a| other.iter().any(|b| meets_on_its_way(solid(a), solid(b), direction)))
    }

    /// How many rebates of backs between these pieces are closed along their own axis, and so not from their open side.
    pub(super) fn backs_shut_in(&self, pieces: &[Vec<usize>], axis: Axis) -> usize {
        let piece_of = |part: usize| pieces.iter().position(|piece| piece.contains(&part));
        let is_back = |part: usize| self.assembly.parts.get(part).is_some_and(|it| it.role == Role::Back);
        let of_backs = self.assembly.joints.iter().filter(|joint| {
            matches!(joint.kind, JoinedBy::Rebate { .. }) && joint.direction.axis == axis && is_back(joint.edge_part)
        });
        of_backs
            .filter(|joint| match (piece_of(joint.face_part), piece_of(joint.edge_part)) {
                (Some(a), Some(b)) => a != b,
                _ => false,
            })
            .count()
    }

    /// The nodes as blocks that come apart along the axis, those first that leave last in this direction.
    pub(super) fn blocks_along(&self, nodes: &[Vec<usize>], direction: Direction, ties: Ties) -> Vec<Vec<usize>> {
        let graph = self.graph(nodes, direction, ties);
        let mut blocks = components(&graph);
        // Tarjan gives those that nothing more depends on first: these leave first, so they come last here.
        blocks.reverse();
        blocks
    }
}

/// Strongly connected components, each sorted, in the order in which Tarjan's algorithm closes them: every component
/// comes after all that it reaches.
fn components(graph: &[BTreeSet<usize>]) -> Vec<Vec<usize>> {
    let count = graph.len();
    // Reachability by repeated search: groups of furniture parts are small.
    let reach: Vec<BTreeSet<usize>> = (0..count)
        .map(|start| {
            let mut seen = BTreeSet::from([start]);
            let mut waiting = vec![start];
            while let Some(at) = waiting.pop() {
                for &next in graph.get(at).into_iter().flatten() {
                    if seen.insert(next) {
                        waiting.push(next);
                    }
                }
            }
            seen
        })
        .collect();
    let reaches = |a: usize, b: usize| reach.get(a).is_some_and(|it| it.contains(&b));
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for node in 0..count {
        let found = groups
            .iter_mut()
            .find(|group| group.first().is_some_and(|&first| reaches(first, node) && reaches(node, first)));
        match found {
            Some(group) => group.push(node),
            None => groups.push(vec![node]),
        }
    }
    // Fewer nodes in reach means further out; what is reached has strictly fewer in reach than what reaches it.
    groups.sort_by_key(|group| {
        let first = group.first().copied().unwrap_or_default();
        (reach.get(first).map_or(0, BTreeSet::len), first)
    });
    groups
}
