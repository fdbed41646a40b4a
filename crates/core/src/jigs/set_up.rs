//! The set-ups of all blocks: on which part, against which edges, with which spacers.

use std::collections::BTreeSet;

use serde::Serialize;

use super::block::{Block, Use};
use super::cover::fewest;
use crate::assembly::{Assembly, Hole, JoinedBy, Joint, Part, PartFace};
use crate::design::Role;
use crate::geometry::{Axis, Direction};
use crate::joinery::{hole_in_world, holes};
use crate::length::Length;

/// Longer joints are marked from the part drawing: a longer block is unwieldy and warps (own choice).
const LONGEST: Length = Length::from_mm(700);

/// The drilling blocks of a piece with their set-ups.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct JigPlan {
    /// The blocks; the first is number 1.
    pub blocks: Vec<Block>,
    /// One for each partner of each joint, in the order of the joints; dowels first where a joint has screws as well.
    pub set_ups: Vec<SetUp>,
    /// Joints that no block serves, indices into [`Assembly::joints`]: faces on each other, backs, and joints over 700 mm.
    pub without: Vec<usize>,
}

/// Where a block stands from: an edge or face of the part itself, never another board.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Reference {
    /// The edge of the part, or the face that a fence hooks over.
    pub from: PartFace,
    /// From there to the fence or the end of the block; nothing: flush with it.
    pub spacer: Length,
    /// Numbers of parts of this piece that have a side of just that length.
    pub same_length: Vec<String>,
    /// What the distance is not: the same place from another board, and by how much that differs.
    pub beware: Vec<Beware>,
}

/// A board whose face could be taken for the edge that a distance is measured from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Beware {
    /// Its number.
    pub board: String,
    /// Whether from its inner face it is less; else from its outer face more.
    pub inner: bool,
    /// By how much.
    pub by: Length,
}

/// How one partner of a joint is drilled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SetUp {
    /// Index into [`Assembly::joints`].
    pub joint: usize,
    /// Whether it drills for the screws of the joint; else for its dowels.
    pub screws: bool,
    /// Index into [`Assembly::parts`].
    pub part: usize,
    /// The face or edge that is drilled.
    pub face: PartFace,
    /// Index into [`JigPlan::blocks`].
    pub block: usize,
    /// How the block serves the joint.
    pub how: Use,
    /// Whether its second side lies up; the first shows the numbers, fence below and stop at the left.
    pub second_side: bool,
    /// Where the fence stands.
    pub fence: Reference,
    /// Where the end of the block stands.
    pub end: Reference,
}

/// One partner of a joint, before a block is chosen.
struct Side {
    joint: usize,
    screws: bool,
    part: usize,
    face: PartFace,
    row: Block,
    /// The edge or face for the fence, with the distance of the fence from it.
    fence: (PartFace, Length),
    /// The edge at the datum end, with the distance of the joint's datum end from it.
    end: (PartFace, Length),
    second_side: bool,
}

/// The fewest blocks for all joints between a face and an edge, and their set-ups.
#[must_use]
pub fn plan(assembly: &Assembly) -> JigPlan {
    let mut sides = Vec::new();
    let mut without = Vec::new();
    for (index, joint) in assembly.joints.iter().enumerate() {
        if !matches!(joint.kind, JoinedBy::Dowels { .. } | JoinedBy::Screws) {
            continue;
        }
        let is_back = assembly.parts.get(joint.face_part).is_some_and(|part| part.role == Role::Back);
        if is_back || Axis::ALL.iter().any(|&axis| joint.contact.size(axis) > LONGEST) {
            without.push(index);
            continue;
        }
        let before = sides.len();
        // Dowels and the screws that press them are two rows.
        for screws in [false, true] {
            sides.extend(sides_of(assembly, index, joint, screws).into_iter().flatten());
        }
        if sides.len() == before && bored_by(assembly, joint.face_part, index, None).next().is_some() {
            without.push(index);
        }
    }
    let rows: BTreeSet<Block> = sides.iter().map(|side| side.row.clone()).collect();
    let rows: Vec<Block> = rows.into_iter().collect();
    let sets: Vec<Vec<usize>> = rows
        .iter()
        .map(|block| rows.iter().enumerate().filter(|(_, row)| block.serves(row).is_some()).map(|(i, _)| i).collect())
        .collect();
    let blocks: Vec<Block> = fewest(rows.len(), &sets).into_iter().filter_map(|it| rows.get(it).cloned()).collect();
    let set_ups = sides.iter().filter_map(|side| set_up(assembly, &blocks, side)).collect();
    JigPlan { blocks, set_ups, without }
}

/// The holes that a joint makes in a part: all, or those for its screws or for its dowels only.
pub(super) fn bored_by(
    assembly: &Assembly,
    part: usize,
    joint: usize,
    screws: Option<bool>,
) -> impl Iterator<Item = &Hole> {
    let all = assembly.parts.get(part).into_iter().flat_map(holes);
    all.filter(move |hole| hole.joint == Some(joint) && screws.is_none_or(|it| it == hole.is_for_screw()))
}

fn sides_of(assembly: &Assembly, index: usize, joint: &Joint, screws: bool) -> Option<[Side; 2]> {
    let (face_part, edge_part) = (assembly.parts.get(joint.face_part)?, assembly.parts.get(joint.edge_part)?);
    let across = edge_part.world_from_part.thickness_axis();
    if across == joint.direction.axis {
        return None;
    }
    let along = Axis::ALL.into_iter().find(|axis| *axis != across && *axis != joint.direction.axis)?;
    let start_way = datum_way(along);
    let start = end_of(joint.contact.range(along), start_way);
    let edge_holes: Vec<&Hole> = bored_by(assembly, joint.edge_part, index, Some(screws)).collect();
    let diameter = edge_holes.iter().map(|hole| hole.diameter).min()?;
    let row_at = edge_holes.first().map(|hole| hole_in_world(edge_part, hole).entry.along(across))?;
    // The fence lies at that face of the edge part that is nearer to the datum of the face part.
    let fence_way = if frame_way(face_part, across)?.negative {
        Direction::new(across, true)
    } else {
        Direction::new(across, false)
    };
    let fence_at = end_of(edge_part.cuboid.range(across), fence_way);
    let from_fence = (row_at - fence_at).abs();
    let side = |part: usize, of: &Part, drill: Direction| {
        let holes: Vec<&Hole> = bored_by(assembly, part, index, Some(screws)).collect();
        let places: Vec<Length> =
            holes.iter().map(|hole| (hole_in_world(of, hole).entry.along(along) - start).abs()).collect();
        let row = Block::for_row(diameter, from_fence, &places);
        let fence = distance_from(of, across, fence_at, fence_way);
        let end = distance_from(of, along, start, start_way);
        let face = holes.first()?.face;
        let second_side = !right_handed(start_way, fence_way, drill);
        Some(Side { joint: index, screws, part, face, row, fence, end, second_side })
    };
    let into_face = holes_into(assembly, joint.face_part, index, screws).unwrap_or(joint.direction.reversed());
    Some([side(joint.face_part, face_part, into_face)?, side(joint.edge_part, edge_part, joint.direction)?])
}

fn holes_into(assembly: &Assembly, part: usize, joint: usize, screws: bool) -> Option<Direction> {
    let of = assembly.parts.get(part)?;
    bored_by(assembly, part, joint, Some(screws)).next().map(|hole| hole_in_world(of, hole).into)
}

/// Whether along, across and downwards into the work are right-handed: then the first side of a block lies up. Seen from
/// the drill, along runs right and across runs up.
fn right_handed(along: Direction, across: Direction, into: Direction) -> bool {
    let turns = (across.axis.index() + 3 - along.axis.index()) % 3 == 1;
    let sign = along.sign() * across.sign() * into.sign();
    // Along and across span a plane whose normal, by the right hand, points at the drill: against `into`.
    if turns { sign < 0 } else { sign > 0 }
}

/// From the datum end of a joint: from the left, from below, from the front.
const fn datum_way(axis: Axis) -> Direction {
    match axis {
        Axis::X => Direction::RIGHT,
        Axis::Y => Direction::UP,
        Axis::Z => Direction::REAR,
    }
}

fn end_of(range: (Length, Length), way: Direction) -> Length {
    if way.negative { range.1 } else { range.0 }
}

/// Which way the frame of a part runs along an axis of the world.
fn frame_way(part: &Part, axis: Axis) -> Option<Direction> {
    let frame = part.world_from_part;
    [frame.length, frame.width, frame.thickness].into_iter().find(|way| way.axis == axis)
}

/// The edge or face of a part that `way` runs away from, and how far from it a place lies.
fn distance_from(part: &Part, axis: Axis, at: Length, way: Direction) -> (PartFace, Length) {
    let outwards = way.reversed();
    let face = match part.world_from_part.edge_towards(outwards) {
        Some(edge) => PartFace::Edge(edge),
        None if outwards == part.world_from_part.thickness => PartFace::Over,
        None => PartFace::Under,
    };
    (face, (at - end_of(part.cuboid.range(axis), way)) * way.sign())
}

fn set_up(assembly: &Assembly, blocks: &[Block], side: &Side) -> Option<SetUp> {
    // Of several blocks that serve, the one that needs no set-off, then the first.
    let uses = blocks.iter().enumerate().filter_map(|(i, block)| Some((i, block.serves(&side.row)?)));
    let (block, how) = uses.min_by_key(|(i, how)| (how.set_off, how.reversed, *i))?;
    let fence = reference(assembly, side, side.fence, true);
    let end = reference(assembly, side, (side.end.0, side.end.1 + how.set_off), false);
    // End for end on the same face shows the other side.
    let second_side = side.second_side != how.reversed;
    Some(SetUp {
        joint: side.joint,
        screws: side.screws,
        part: side.part,
        face: side.face,
        block,
        how,
        second_side,
        fence,
        end,
    })
}

fn reference(assembly: &Assembly, side: &Side, (from, spacer): (PartFace, Length), across: bool) -> Reference {
    let beware = if across { boards_between(assembly, side.part, from, spacer) } else { Vec::new() };
    Reference { from, spacer, same_length: of_length(assembly, spacer), beware }
}

/// Parts with a side of just this length.
fn of_length(assembly: &Assembly, length: Length) -> Vec<String> {
    if length <= Length::ZERO {
        return Vec::new();
    }
    let sides = |part: &Part| [part.finished.length, part.finished.width, part.finished.thickness];
    let parts = assembly.parts.iter().filter(|part| sides(part).contains(&length));
    parts.map(|part| part.number.clone()).collect()
}

/// Boards that lie at the named edge of a part, on its faces, so that their inner face could be taken for that edge.
pub(super) fn boards_at(assembly: &Assembly, part: usize, from: PartFace) -> Vec<(&Part, Length)> {
    let Some(own) = assembly.parts.get(part) else { return Vec::new() };
    if !matches!(from, PartFace::Edge(_)) {
        return Vec::new();
    }
    let inwards = own.world_from_part.inwards(from);
    let axis = inwards.axis;
    let at = end_of(own.cuboid.range(axis), inwards);
    let met = assembly.joints.iter().filter_map(|joint| match part {
        it if it == joint.face_part => assembly.parts.get(joint.edge_part),
        it if it == joint.edge_part => assembly.parts.get(joint.face_part),
        _ => None,
    });
    // Those that begin at the edge, or end there and would have to be added.
    met.filter(|other| other.world_from_part.thickness_axis() == axis)
        .filter_map(|other| {
            let (low, high) = other.cuboid.range(axis);
            let thickness = high - low;
            let (near, far) = if inwards.negative { (high, low) } else { (low, high) };
            if near == at {
                Some((other, thickness))
            } else if far == at {
                Some((other, -thickness))
            } else {
                None
            }
        })
        .collect()
}

fn boards_between(assembly: &Assembly, part: usize, from: PartFace, spacer: Length) -> Vec<Beware> {
    if spacer <= Length::ZERO {
        return Vec::new();
    }
    let mut seen = BTreeSet::new();
    boards_at(assembly, part, from)
        .into_iter()
        .filter(|(board, more)| seen.insert((board.number.clone(), *more)))
        .map(|(board, more)| Beware { board: board.number.clone(), inner: more > Length::ZERO, by: more.abs() })
        .collect()
}
