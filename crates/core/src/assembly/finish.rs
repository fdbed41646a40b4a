//! From drafts to parts: order, own frames, banding, sizes, mass and machining.

use std::collections::{BTreeMap, BTreeSet};

use super::build::Cause;
use super::scene::{Draft, DraftGroove, Scene};
use super::{
    Assembly, Band, Grain, Groove, Joint, Machining, Mover, Part, PartEdge, PartFace, PartOutline, PartSize, Placement,
};
use crate::design::{Edge, Resolved};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::length::Length;
use crate::worktop::{Side, TopPiece};

/// Turns the drafts into parts, ordered by role as in the parts list, and all indices with them.
pub(super) fn finish(scene: &mut Scene<'_>, mut joints: Vec<Joint>) -> Assembly {
    let mut order: Vec<usize> = (0..scene.drafts.len()).collect();
    order.sort_by_key(|&i| (scene.drafts.get(i).map(|draft| draft.role), i));
    let mut place = vec![0; order.len()];
    for (new, &old) in order.iter().enumerate() {
        if let Some(place) = place.get_mut(old) {
            *place = new;
        }
    }
    let placed = |old: usize| place.get(old).copied().unwrap_or(old);
    let drafts = std::mem::take(&mut scene.drafts);
    let mut numbers = BTreeSet::new();
    let mut parts = Vec::with_capacity(drafts.len());
    for draft in order.iter().filter_map(|&i| drafts.get(i)) {
        let mut part = part_of(scene, draft);
        // Names of bays that look like numbers of other parts cannot make two parts one.
        while !numbers.insert(part.number.clone()) {
            part.number.push('\'');
        }
        parts.push(part);
    }
    for joint in &mut joints {
        joint.face_part = placed(joint.face_part);
        joint.edge_part = placed(joint.edge_part);
    }
    joints.sort_by_key(|joint| (joint.face_part, joint.edge_part));
    let movers = std::mem::take(&mut scene.movers).into_iter().enumerate().map(|(index, mover)| Mover {
        id: mover.id,
        bay: mover.bay,
        parts: order
            .iter()
            .enumerate()
            .filter(|&(_, &old)| drafts.get(old).is_some_and(|draft| draft.mover == Some(index)))
            .map(|(new, _)| new)
            .collect(),
        things: mover.things,
        fittings: mover.fittings,
        motion: mover.motion,
    });
    Assembly {
        movers: movers.collect(),
        parts,
        joints,
        fittings: std::mem::take(&mut scene.fittings),
        things: scene.layout.things.clone(),
        envelope: scene.layout.envelope,
        worktop: scene.worktop.take(),
    }
}

fn part_of(scene: &mut Scene<'_>, draft: &Draft) -> Part {
    let has_grain = scene.design.materials.get(&draft.material).is_some_and(|material| material.grain);
    let frame = frame_of(&draft.cuboid, draft.across, has_grain.then_some(draft.grain), draft.grain);
    let along = |direction: Direction| draft.cuboid.size(direction.axis);
    let finished =
        PartSize { length: along(frame.length), width: along(frame.width), thickness: along(frame.thickness) };
    let bands = bands_of(scene, draft, &frame);
    let taken = |edges: [PartEdge; 2]| -> Length {
        bands.iter().filter(|band| edges.contains(&band.edge)).map(|band| band.thickness).sum()
    };
    let cut = PartSize {
        length: finished.length - taken([PartEdge::Start, PartEdge::End]),
        width: finished.width - taken([PartEdge::Near, PartEdge::Far]),
        thickness: finished.thickness,
    };
    if cut.length <= Length::ZERO || cut.width <= Length::ZERO {
        scene.problem(Cause::OnlyBanding { part: draft.name.clone() }, None);
    }
    let outline = draft.top.as_ref().map(|top| outline_of(&frame, top, scene.design.unit.step()));
    let share = outline.as_ref().map_or(1.0, |it| it.area_mm2 / (finished.length.mm() * finished.width.mm()));
    Part {
        number: draft.number.clone(),
        name: draft.name.clone(),
        role: draft.role,
        bay: draft.bay.clone(),
        material: draft.material.clone(),
        grain: if has_grain { Grain::AlongLength } else { Grain::None },
        finished,
        cut,
        bands,
        world_from_part: frame,
        cuboid: draft.cuboid,
        machining: draft.grooves.iter().map(|groove| groove_in(&frame, groove)).collect(),
        outline,
        mass_kg: mass_of(scene.design, &draft.material, &draft.cuboid) * share,
    }
}

/// A piece of a worktop in the frame of its part, lengths to a step of the unit.
fn outline_of(frame: &Placement, top: &TopPiece, step: Length) -> PartOutline {
    let origin = frame.origin;
    let along = |direction: Direction, at: kurbo::Point| {
        let (world, from) = match direction.axis {
            Axis::X => (at.x, origin.x.mm()),
            _ => (at.y, origin.z.mm()),
        };
        if direction.negative { from - world } else { world - from }
    };
    let in_frame = |line: &[kurbo::Point]| -> Vec<[f64; 2]> {
        line.iter().map(|&it| [along(frame.length, it), along(frame.width, it)]).collect()
    };
    let towards = |side: Side| match side {
        Side::Rear => Direction::REAR,
        Side::Right => Direction::RIGHT,
        Side::Front => Direction::FRONT,
        Side::Left => Direction::LEFT,
    };
    let edge = |&(side, mm): &(Side, f64)| {
        Some((frame.edge_towards(towards(side))?, Length::from_mm_f64(mm).rounded_to(step)))
    };
    PartOutline {
        edge: in_frame(&top.edge),
        openings: top.openings.iter().map(|it| in_frame(it)).collect(),
        area_mm2: top.area,
        lengths: top.lengths.iter().filter_map(edge).collect(),
    }
}

/// Mass of a box of a material, kg.
pub(super) fn mass_of(design: &Resolved, material: &str, cuboid: &Cuboid) -> f64 {
    design.materials.get(material).map_or(0.0, |material| {
        material.density_kg_m3.unwrap_or_else(|| material.kind.usual_density_kg_m3()) * cuboid.volume_m3()
    })
}

/// The frame of a part. Its datum is the corner of its face that is lowest, leftmost and nearest to the person, of the
/// two of these three that lie in the face; so mirrored parts share it. The length runs along the grain, or, where the
/// face has no direction, along the longer side (of equal ones the `usual` one).
pub(super) fn frame_of(cuboid: &Cuboid, across: Axis, grain: Option<Axis>, usual: Axis) -> Placement {
    let other = |axis: Axis| Axis::ALL.into_iter().find(|&it| it != axis && it != across).unwrap_or(axis);
    let along = grain.unwrap_or_else(|| {
        let second = other(usual);
        if cuboid.size(second) > cuboid.size(usual) { second } else { usual }
    });
    let (length, width) = (inwards(along), inwards(other(along)));
    Placement::at_corner(cuboid, length, width, cross(length, width))
}

/// From the datum corner into the part.
const fn inwards(axis: Axis) -> Direction {
    match axis {
        Axis::X => Direction::RIGHT,
        Axis::Y => Direction::UP,
        Axis::Z => Direction::REAR,
    }
}

/// The direction that makes a right-handed frame with two others that stand square on each other.
fn cross(a: Direction, b: Direction) -> Direction {
    let third = Axis::ALL.into_iter().find(|&axis| axis != a.axis && axis != b.axis).unwrap_or(Axis::Z);
    let cyclic = (a.axis.index() + 1) % 3 == b.axis.index();
    Direction::new(third, a.negative ^ b.negative ^ !cyclic)
}

/// The bands of a part, at most one an edge; a later rule goes before an earlier one.
fn bands_of(scene: &mut Scene<'_>, draft: &Draft, frame: &Placement) -> Vec<Band> {
    let mut bands = BTreeMap::new();
    for rule in scene.construction(draft.shell).banding.iter().filter(|rule| rule.roles.contains(&draft.role)) {
        let Some(banding) = scene.design.banding.get(&rule.band) else {
            let field = scene.construction_field(draft.shell).map(|at| at.field("banding"));
            scene.problem(Cause::UnknownBanding { name: rule.band.clone() }, field);
            continue;
        };
        let edges = rule.edges.iter().map(|&edge| direction_of(edge)).filter(|it| !draft.bare.contains(it));
        for edge in edges.filter_map(|it| frame.edge_towards(it)) {
            bands.insert(edge, Band { edge, name: rule.band.clone(), thickness: banding.thickness });
        }
    }
    bands.into_values().collect()
}

/// Where an edge looks in the finished piece.
const fn direction_of(edge: Edge) -> Direction {
    match edge {
        Edge::Front => Direction::FRONT,
        Edge::Rear => Direction::REAR,
        Edge::Left => Direction::LEFT,
        Edge::Right => Direction::RIGHT,
        Edge::Lower => Direction::DOWN,
        Edge::Upper => Direction::UP,
    }
}

fn groove_in(frame: &Placement, groove: &DraftGroove) -> Machining {
    let (a, b) = (&groove.space.min, &groove.space.max);
    let (one, two) = (frame.from_world(*a), frame.from_world(*b));
    Machining::Groove(Groove {
        face: if groove.mouth == frame.thickness { PartFace::Over } else { PartFace::Under },
        from: (one.0.min(two.0), one.1.min(two.1)),
        to: (one.0.max(two.0), one.1.max(two.1)),
        depth: groove.space.size(frame.thickness_axis()),
        purpose: groove.purpose.clone(),
    })
}
