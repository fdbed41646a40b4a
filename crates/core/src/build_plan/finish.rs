//! What is put in its place on the standing piece: bodies that are whole in themselves, in the order that lets each in.

use std::collections::BTreeSet;

use super::blocking::{Blocking, DIRECTIONS};
use crate::assembly::{Assembly, JoinedBy, Joint, Motion, Mover};
use crate::design::Role;
use crate::geometry::Direction;
use crate::length::Length;

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
    /// The front of what slides, which is set when its box hangs in the slides.
    SetFront,
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
        .flat_map(|id| {
            let parts: Vec<usize> = (0..count).filter(|part| group.get(*part) == Some(&id)).collect();
            let mover = assembly.movers.iter().position(|it| it.parts.iter().any(|part| parts.contains(part)));
            let (set, rest): (Vec<usize>, Vec<usize>) = match mover.and_then(|it| assembly.movers.get(it)) {
                Some(it) => parts.into_iter().partition(|&part| is_set_later(assembly, it, part)),
                None => (Vec::new(), parts),
            };
            let fronts = set.into_iter().map(|part| vec![part]);
            let bodies: Vec<Vec<usize>> = std::iter::once(rest).filter(|it| !it.is_empty()).chain(fronts).collect();
            bodies.into_iter().map(move |parts| Body { parts, mover })
        })
        .collect()
}

/// Whether a part is the front of something that slides and is screwed on from behind, so that it is set with even reveals
/// when all else of it hangs in the slides (common practice). What is dowelled on has its place from its holes, and is glued
/// up with the rest; a compartment that tilts hangs on its front.
pub(super) fn is_set_later(assembly: &Assembly, mover: &Mover, part: usize) -> bool {
    let is_front = |part: usize| assembly.parts.get(part).is_some_and(|it| it.role == Role::Front);
    let screwed = |it: &Joint| matches!(it.kind, JoinedBy::Screws | JoinedBy::Angles);
    let mut own = (assembly.joints.iter().filter(|it| Blocking::holds(it)))
        .filter(|it| it.face_part == part || it.edge_part == part)
        .peekable();
    matches!(mover.motion, Motion::Slide { .. })
        && is_front(part)
        && own.peek().is_some()
        && own.all(screwed)
        && mover.parts.iter().any(|&it| !is_front(it))
}

/// Whether the body is what slides, less the front that is set later.
pub(super) fn waits_for_front(assembly: &Assembly, body: &Body) -> bool {
    body.mover.and_then(|it| assembly.movers.get(it)).is_some_and(|it| it.parts.len() > body.parts.len())
        && kind_of(assembly, body) == BodyKind::Mover
}

/// What a body is.
pub(super) fn kind_of(assembly: &Assembly, body: &Body) -> BodyKind {
    if let Some(mover) = body.mover.and_then(|it| assembly.movers.get(it)) {
        let set = |part: &usize| is_set_later(assembly, mover, *part);
        return if body.parts.iter().all(set) { BodyKind::SetFront } else { BodyKind::Mover };
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
    standing.sort_by_key(|&at| {
        bodies.get(at).map(|body| (kind_of(assembly, body), body.parts.len(), downwards(assembly, body), at))
    });
    let mut taken = Vec::new();
    while standing.len() > 1 {
        let found = standing.iter().enumerate().find_map(|(place, &at)| {
            let body = bodies.get(at)?;
            let others: Vec<usize> = (standing.iter().filter(|&&other| other != at))
                .filter_map(|&other| bodies.get(other))
                .flat_map(|other| other.parts.iter().copied())
                .collect();
            if waits_for_front(assembly, body)
                && standing
                    .iter()
                    .any(|&other| other != at && bodies.get(other).is_some_and(|it| it.mover == body.mover))
            {
                return None;
            }
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

/// Fronts are set from the lowest up, each on shims on the one below it: so the highest comes off first.
fn downwards(assembly: &Assembly, body: &Body) -> Length {
    match (kind_of(assembly, body), body.parts.first().and_then(|&part| assembly.parts.get(part))) {
        (BodyKind::SetFront, Some(part)) => -part.cuboid.min.y,
        _ => Length::ZERO,
    }
}

/// What goes in in one step.
pub(super) struct FitsIn {
    /// The bodies, in the order in which they go in.
    pub(super) bodies: Vec<usize>,
    pub(super) direction: Direction,
}

/// The steps in which bodies go in: each by itself, but loose shelves that are alike together with the first of them, where
/// nothing that would have gone in between is kept out by them.
pub(super) fn in_steps(blocking: &Blocking<'_>, bodies: &[Body], mut goes_in: Vec<GoesIn>) -> Vec<FitsIn> {
    let assembly = blocking.assembly;
    let parts = |at: usize| bodies.get(at).map_or(&[][..], |it| it.parts.as_slice());
    let mut steps = Vec::new();
    while !goes_in.is_empty() {
        let first = goes_in.remove(0);
        let mut step = FitsIn { bodies: vec![first.body], direction: first.direction };
        let mut next = 0;
        while let Some(it) = goes_in.get(next).filter(|_| is_loose_shelf(assembly, bodies, first.body)) {
            let keeps_out = |between: &GoesIn| blocking.blocks(parts(between.body), parts(it.body), between.direction);
            let alike = it.direction == first.direction
                && is_loose_shelf(assembly, bodies, it.body)
                && are_alike(assembly, parts(first.body), parts(it.body));
            if alike && !goes_in.iter().take(next).any(keeps_out) {
                step.bodies.push(it.body);
                goes_in.remove(next);
            } else {
                next += 1;
            }
        }
        steps.push(step);
    }
    steps
}

fn is_loose_shelf(assembly: &Assembly, bodies: &[Body], at: usize) -> bool {
    bodies.get(at).is_some_and(|it| kind_of(assembly, it) == BodyKind::LooseShelf)
}

/// Whether two bodies of one part each are cut, banded and worked alike.
fn are_alike(assembly: &Assembly, one: &[usize], other: &[usize]) -> bool {
    let only = |parts: &[usize]| match parts {
        [part] => assembly.parts.get(*part),
        _ => None,
    };
    let (Some(a), Some(b)) = (only(one), only(other)) else { return false };
    (a.finished, &a.material, a.grain, &a.bands, &a.machining)
        == (b.finished, &b.material, b.grain, &b.bands, &b.machining)
}

fn preferred(kind: BodyKind) -> Option<Direction> {
    match kind {
        BodyKind::LooseShelf | BodyKind::SetFront | BodyKind::Mover | BodyKind::Plinth => Some(Direction::FRONT),
        BodyKind::Worktop => Some(Direction::UP),
        BodyKind::Other => None,
    }
}
