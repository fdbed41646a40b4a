//! What is put in its place on the standing piece: bodies that are whole in themselves, in the order that lets each in.

use std::collections::BTreeSet;

use super::blocking::{Blocking, DIRECTIONS};
use crate::assembly::{Assembly, JoinedBy};
use crate::design::Role;
use crate::geometry::Direction;

/// Parts that are joined among themselves, or move together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Body {
    pub(super) parts: Vec<usize>,
    /// The mover that it is.
    pub(super) mover: Option<usize>,
}

/// What a body is; in this order bodies are taken off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum BodyKind {
    LooseShelf,
    Mover,
    Worktop,
    Plinth,
    Other,
}

/// A body that goes in, from out of `direction`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct GoesIn {
    pub(super) body: usize,
    pub(super) direction: Direction,
}

/// Bodies: what joints that hold tie together. Boxes that touch side by side are bodies of their own.
pub(super) fn bodies(assembly: &Assembly) -> Vec<Body> {
    let count = assembly.parts.len();
    let mut group: Vec<usize> = (0..count).collect();
    let mut unite = |a: usize, b: usize| {
        let (Some(&a), Some(&b)) = (group.get(a), group.get(b)) else { return };
        for it in group.iter_mut().filter(|it| **it == a.max(b)) {
            *it = a.min(b);
        }
    };
    for joint in assembly.joints.iter().filter(|joint| Blocking::holds(joint)) {
        let across = |part: usize| assembly.parts.get(part).map(|it| it.world_from_part.thickness_axis());
        let face_to_face = joint.kind == JoinedBy::Screws && across(joint.face_part) == across(joint.edge_part);
        let in_mover = assembly.movers.iter().any(|it| it.parts.contains(&joint.face_part));
        if !face_to_face || in_mover {
            unite(joint.face_part, joint.edge_part);
        }
    }
    for mover in &assembly.movers {
        for pair in mover.parts.windows(2) {
            if let [a, b] = pair {
                unite(*a, *b);
            }
        }
    }
    let ids: BTreeSet<usize> = group.iter().copied().collect();
    ids.into_iter()
        .map(|id| {
            let parts: Vec<usize> = (0..count).filter(|part| group.get(*part) == Some(&id)).collect();
            let mover = assembly.movers.iter().position(|it| it.parts.iter().any(|part| parts.contains(part)));
            Body { parts, mover }
        })
        .collect()
}

/// What a body is.
pub(super) fn kind_of(assembly: &Assembly, body: &Body) -> BodyKind {
    if body.mover.is_some() {
        return BodyKind::Mover;
    }
    match body.parts.as_slice() {
        [only] => match assembly.parts.get(*only).map(|it| it.role) {
            Some(Role::Shelf) => BodyKind::LooseShelf,
            Some(Role::Worktop) => BodyKind::Worktop,
            Some(Role::Plinth) => BodyKind::Plinth,
            _ => BodyKind::Other,
        },
        _ => BodyKind::Other,
    }
}

/// The order in which bodies go in, after those that are left standing. Each leaves alone when the piece is taken apart.
pub(super) fn go_in(blocking: &Blocking<'_>, bodies: &[Body]) -> (Vec<usize>, Vec<GoesIn>) {
    let assembly = blocking.assembly;
    let mut standing: Vec<usize> = (0..bodies.len()).collect();
    // The shell with most parts is what everything else is put on.
    standing.sort_by_key(|&at| bodies.get(at).map(|body| (kind_of(assembly, body), body.parts.len(), at)));
    let mut taken = Vec::new();
    while standing.len() > 1 {
        let found = standing.iter().enumerate().find_map(|(place, &at)| {
            let body = bodies.get(at)?;
            let others: Vec<usize> = (standing.iter().filter(|&&other| other != at))
                .filter_map(|&other| bodies.get(other))
                .flat_map(|other| other.parts.iter().copied())
                .collect();
            let preferred = preferred(kind_of(assembly, body));
            let directions = preferred.into_iter().chain(DIRECTIONS);
            let mut free = directions.filter(|&direction| !blocking.blocks(&body.parts, &others, direction));
            free.next().map(|direction| (place, GoesIn { body: at, direction }))
        });
        let Some((place, goes_in)) = found else { break };
        standing.remove(place);
        taken.push(goes_in);
    }
    taken.reverse();
    standing.sort_unstable();
    (standing, taken)
}

fn preferred(kind: BodyKind) -> Option<Direction> {
    match kind {
        BodyKind::LooseShelf | BodyKind::Mover | BodyKind::Plinth => Some(Direction::FRONT),
        BodyKind::Worktop => Some(Direction::UP),
        BodyKind::Other => None,
    }
}
