//! Joints from faces that touch, and parts that stand in grooves of others.

use super::build::Cause;
use super::contact::{close_pairs, face, touch};
use super::scene::{Draft, DraftGroove, Scene};
use super::{JoinedBy, Joint, Purpose};
use crate::design::validate::dowel;
use crate::design::{Back, JointKind, Role};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::joinery::screw_for_face;
use crate::length::Length;

/// Boards under this thickness take no dowels or screws in their edges (common practice).
const THIN: Length = Length::from_mm(12);

/// Joins everything that touches. Parts of housed joints grow into their grooves; the joints name drafts by index.
pub(super) fn join(scene: &mut Scene<'_>) -> Vec<Joint> {
    let boxes: Vec<Cuboid> = scene.drafts.iter().map(|draft| draft.cuboid).collect();
    let pairs = close_pairs(&boxes);
    let mut joints = Vec::new();
    for &(a, b) in &pairs {
        joints.extend(joint_of(scene, a, b));
    }
    house(scene, &mut joints);
    // Grooves come after the growth, so that they run through the tongues of what is housed.
    let boxes: Vec<Cuboid> = scene.drafts.iter().map(|draft| draft.cuboid).collect();
    for (a, b) in close_pairs(&boxes) {
        let seated = |it: &Joint| it.kind.seat().is_some() && [[a, b], [b, a]].contains(&[it.face_part, it.edge_part]);
        if !joints.iter().any(seated) {
            joints.extend(in_groove(scene, a, b));
        }
    }
    joints.sort_by_key(|joint| (joint.face_part.min(joint.edge_part), joint.face_part.max(joint.edge_part)));
    joints
}

/// The joint of two parts that touch.
fn joint_of(scene: &mut Scene<'_>, a: usize, b: usize) -> Option<Joint> {
    let (one, two) = (scene.drafts.get(a)?.clone(), scene.drafts.get(b)?.clone());
    if one.mover != two.mover {
        return None;
    }
    let (contact, direction) = touch(&one.cuboid, &two.cuboid)?;
    let faces = (one.across == direction.axis, two.across == direction.axis);
    let (face_part, edge_part, first) = match faces {
        (true, false) => (&one, &two, true),
        (false, true) => (&two, &one, false),
        // Two faces: the first is the one that is screwed through, never a front.
        (true, true) => {
            let first = two.role == Role::Front || one.role != Role::Front;
            if first { (&one, &two, true) } else { (&two, &one, false) }
        }
        (false, false) => return None,
    };
    let kind = kind_of(scene, face_part, edge_part, faces == (true, true), &contact, direction_from(direction, first))?;
    let (face_part, edge_part) = if first { (a, b) } else { (b, a) };
    Some(Joint { face_part, edge_part, contact, direction: direction_from(direction, first), kind })
}

const fn direction_from(direction: Direction, first: bool) -> Direction {
    if first { direction } else { direction.reversed() }
}

/// How two parts that touch are joined; none if they are not.
fn kind_of(
    scene: &mut Scene<'_>,
    face_part: &Draft,
    edge_part: &Draft,
    two_faces: bool,
    contact: &Cuboid,
    direction: Direction,
) -> Option<JoinedBy> {
    let roles = [face_part.role, edge_part.role];
    let either = |role| roles.contains(&role);
    if face_part.loose || edge_part.loose || either(Role::Worktop) || either(Role::Plinth) {
        return Some(JoinedBy::Loose);
    }
    if face_part.mover.is_some() {
        return kind_of_moving(scene, face_part, edge_part, contact, direction);
    }
    if face_part.shell != edge_part.shell {
        // Two thin backs on each other take no screw at all.
        let takes_screws = two_faces && screw_for_face(thickness(face_part), thickness(edge_part)).is_some();
        return Some(if takes_screws { JoinedBy::Screws } else { JoinedBy::Loose });
    }
    if either(Role::Front) {
        return Some(JoinedBy::Angles);
    }
    if two_faces {
        return Some(JoinedBy::Screws);
    }
    let construction = scene.construction(edge_part.shell);
    if face_part.role == Role::Back {
        return Some(match construction.back {
            Back::Grooved { .. } | Back::Rebated { .. } => JoinedBy::Loose,
            _ => JoinedBy::Screws,
        });
    }
    if thickness(edge_part) < THIN {
        return Some(JoinedBy::Loose);
    }
    made_as(scene, face_part, edge_part, contact, direction)
}

/// The joint of a face and an edge that may be made in any way, as the design has it.
fn made_as(
    scene: &mut Scene<'_>,
    face_part: &Draft,
    edge_part: &Draft,
    contact: &Cuboid,
    direction: Direction,
) -> Option<JoinedBy> {
    let (kind, field) = scene.joint(face_part, edge_part);
    let whole_end = *contact == face(&edge_part.cuboid, direction.reversed());
    let thickness = self::thickness(face_part);
    Some(match kind {
        JointKind::Dowelled(text) | JointKind::DowelledAndScrewed(text) => {
            let Some((diameter, length)) = dowel(text) else {
                scene.problem(Cause::Dowel { text: text.clone() }, Some(field));
                return None;
            };
            let with_screws = matches!(kind, JointKind::DowelledAndScrewed(_));
            JoinedBy::Dowels { diameter, length, with_screws }
        }
        JointKind::Screwed => JoinedBy::Screws,
        JointKind::Angled => JoinedBy::Angles,
        JointKind::Housed { depth } | JointKind::Rebated { depth } if *depth >= thickness => {
            let (part, unit) = (face_part.name.clone(), scene.design.unit);
            let (depth, thickness) = (unit.written(*depth), unit.written(thickness));
            let cause = match kind {
                JointKind::Rebated { .. } => Cause::RebateTooDeep { part, depth, thickness },
                _ => Cause::GrooveTooDeep { part, depth, thickness },
            };
            scene.problem(cause, Some(field));
            return None;
        }
        JointKind::Housed { depth } if whole_end => JoinedBy::Housing { depth: *depth },
        JointKind::Rebated { depth } if whole_end => match open_sides(face_part, edge_part)[..] {
            [] => JoinedBy::Housing { depth: *depth },
            [open] => JoinedBy::Rebate { depth: *depth, open },
            // The face part is no wider than the other is thick: nothing would stand beside it.
            _ => JoinedBy::Screws,
        },
        JointKind::Housed { .. } | JointKind::Rebated { .. } => JoinedBy::Screws,
    })
}

/// The sides across the thickness of the edge part on which it is flush with the face part.
fn open_sides(face_part: &Draft, edge_part: &Draft) -> Vec<Direction> {
    let axis = edge_part.across;
    let ((low, high), (from, to)) = (face_part.cuboid.range(axis), edge_part.cuboid.range(axis));
    let sides = [(Direction::new(axis, true), from <= low), (Direction::new(axis, false), to >= high)];
    sides.into_iter().filter(|it| it.1).map(|it| it.0).collect()
}

/// How parts are joined that move together.
fn kind_of_moving(
    scene: &mut Scene<'_>,
    face_part: &Draft,
    edge_part: &Draft,
    contact: &Cuboid,
    direction: Direction,
) -> Option<JoinedBy> {
    let roles = [face_part.role, edge_part.role];
    let either = |role| roles.contains(&role);
    // A lid has to open, on its hinges or by hand: it is fixed to nothing, the front no more than the walls.
    if edge_part.is_lid {
        return Some(JoinedBy::Loose);
    }
    if either(Role::Front) {
        // A drawer front is screwed on from within its box; others are held by dowels, for no screw may show.
        return match (face_part.role, edge_part.role) {
            (Role::DrawerEnd, Role::Front) => Some(JoinedBy::Screws),
            _ if either(Role::DrawerSide) || either(Role::DrawerBottom) => None,
            _ => Some(dowels_or(scene, face_part, edge_part, JoinedBy::Angles)),
        };
    }
    if either(Role::DrawerBottom) || either(Role::Platform) {
        return Some(if thickness(edge_part) < THIN { JoinedBy::Loose } else { JoinedBy::Screws });
    }
    if scene.is_chosen(face_part, edge_part) {
        return made_as(scene, face_part, edge_part, contact, direction);
    }
    Some(dowels_or(scene, face_part, edge_part, JoinedBy::Screws))
}

/// Dowels if the construction has them and the edge is thick enough for them: a diameter of at most three fifths of the
/// thickness (common practice).
fn dowels_or(scene: &Scene<'_>, face_part: &Draft, edge_part: &Draft, other: JoinedBy) -> JoinedBy {
    let (kind, _) = scene.joint(face_part, edge_part);
    match kind.dowel().and_then(dowel) {
        Some((diameter, length)) if diameter * 5 <= thickness(edge_part) * 3 => {
            JoinedBy::Dowels { diameter, length, with_screws: false }
        }
        _ => other,
    }
}

pub(super) fn thickness(draft: &Draft) -> Length {
    draft.cuboid.size(draft.across)
}

/// Lets the edge parts of housed and rebated joints grow into their face parts, and cuts these where they then stand.
fn house(scene: &mut Scene<'_>, joints: &mut [Joint]) {
    for joint in &mut *joints {
        let Some(depth) = joint.kind.seat() else { continue };
        let into = joint.direction.reversed();
        if let Some(edge_part) = scene.drafts.get_mut(joint.edge_part) {
            // A part that stands in two panels on the same side grows but once.
            let at = face(&edge_part.cuboid, into);
            if at.range(into.axis) == joint.contact.range(into.axis) {
                edge_part.cuboid = edge_part.cuboid.grown(into, depth);
            }
        }
        joint.contact = joint.contact.moved(into, depth);
    }
    opposite_seats(scene, joints);
    // Only when all have grown it is known what they take of each other: where three meet in a corner, two tongues cross.
    for joint in joints.iter().filter(|joint| joint.kind.seat().is_some()) {
        let (Some(edge_part), Some(face_part)) = (scene.drafts.get(joint.edge_part), scene.drafts.get(joint.face_part))
        else {
            continue;
        };
        let Some(space) = face_part.cuboid.intersection(&edge_part.cuboid) else { continue };
        let purpose = seat_of(&joint.kind, &edge_part.name);
        let groove = DraftGroove { space, mouth: joint.direction, purpose };
        if let Some(face_part) = scene.drafts.get_mut(joint.face_part) {
            face_part.grooves.push(groove);
        }
    }
}

/// Notes what is seated in one panel from both faces, one behind the other, with no wood left between.
fn opposite_seats(scene: &mut Scene<'_>, joints: &[Joint]) {
    let seated: Vec<(&Joint, Length)> = joints.iter().filter_map(|it| Some((it, it.kind.seat()?))).collect();
    for (i, (a, one)) in seated.iter().enumerate() {
        let behind = |b: &Joint| {
            let overlaps = |axis: Axis| {
                let (p, q) = (a.contact.range(axis), b.contact.range(axis));
                axis == a.direction.axis || (p.0 < q.1 && q.0 < p.1)
            };
            b.face_part == a.face_part && b.direction == a.direction.reversed() && Axis::ALL.into_iter().all(overlaps)
        };
        for (b, other) in seated.iter().skip(i + 1).filter(|(b, _)| behind(b)) {
            let Some(part) = scene.drafts.get(a.face_part) else { continue };
            let (name, thickness) = (part.name.clone(), thickness(part));
            if *one + *other >= thickness {
                let edge = scene.drafts.get(b.edge_part).cloned();
                let field = edge.zip(scene.drafts.get(b.face_part).cloned()).map(|(b, a)| scene.joint(&a, &b).1);
                let unit = scene.design.unit;
                let (depth, thickness) = (unit.written(*one + *other), unit.written(thickness));
                let cause = Cause::GroovesMeet { part: name, depth, thickness };
                scene.problem(cause, field);
            }
        }
    }
}

/// What is cut for the edge of a part that stands in another.
fn seat_of(kind: &JoinedBy, part: &str) -> Purpose {
    let of = part.to_owned();
    match kind {
        JoinedBy::Rebate { .. } => Purpose::Rebate { of },
        _ => Purpose::Groove { of },
    }
}

/// The joint of a part whose edge stands in another by the layout: a grooved back, or the bottom of a drawer.
fn in_groove(scene: &mut Scene<'_>, a: usize, b: usize) -> Option<Joint> {
    let grooved = |draft: &Draft| matches!(draft.role, Role::Back | Role::DrawerBottom);
    let (one, two) = (scene.drafts.get(a)?, scene.drafts.get(b)?);
    let (face_part, edge_part) = match (grooved(one), grooved(two)) {
        (false, true) => (a, b),
        (true, false) => (b, a),
        _ => return None,
    };
    let (wall, panel) = (scene.drafts.get(face_part)?, scene.drafts.get(edge_part)?);
    if wall.mover != panel.mover || wall.shell != panel.shell || wall.across == panel.across {
        return None;
    }
    let space = wall.cuboid.intersection(&panel.cuboid)?;
    let axis = wall.across;
    // Out of the wall, towards the middle of the panel.
    let negative = panel.cuboid.range(axis).0 < wall.cuboid.range(axis).0;
    let mouth = Direction::new(axis, negative);
    let depth = space.size(axis);
    if depth >= thickness(wall) {
        let unit = scene.design.unit;
        let (depth, thickness) = (unit.written(depth), unit.written(thickness(wall)));
        let cause = Cause::GrooveTooDeep { part: wall.name.clone(), depth, thickness };
        let field = scene.construction_field(panel.shell).map(|at| at.field("back"));
        scene.problem(cause, field);
        return None;
    }
    let contact = face(&space, mouth.reversed());
    let rebated = panel.role == Role::Back && matches!(scene.construction(panel.shell).back, Back::Rebated { .. });
    let kind = match open_sides(wall, panel)[..] {
        [open] if rebated => JoinedBy::Rebate { depth, open },
        _ => JoinedBy::Housing { depth },
    };
    let purpose = seat_of(&kind, &panel.name);
    if let Some(wall) = scene.drafts.get_mut(face_part) {
        // A groove that was drafted before the panel grew is the same groove, shorter.
        let drafted = wall.grooves.iter().position(|it| it.mouth == mouth && space.contains(&it.space));
        match drafted.and_then(|at| wall.grooves.get_mut(at)) {
            Some(groove) => groove.space = space,
            None => wall.grooves.push(DraftGroove { space, mouth, purpose }),
        }
    }
    Some(Joint { face_part, edge_part, contact, direction: mouth, kind })
}
