//! Drilling: the holes of every joint on both its partners from one source, then those of hinges and shelf rows.

use super::bore::{bore, hole_in_world, holes};
use super::pattern::{at_least, pressed_gaps, shifted_places};
use super::screws::{screw_for_edge, screw_for_face};
use super::show::shows;
use super::solid::{Solid, keeps_apart};
use super::taken::Taken;
use super::{LEAST_WALL, WALL_UNDER, anchors, cups, dowel_depths, handles, mounts, rows, under_mounted};
use crate::assembly::{Assembly, Hole, JoinedBy, Joint, Part, Purpose};
use crate::checks::{Carried, CheckOptions, carried_by, fixings_needed};
use crate::design::Resolved;
use crate::geometry::{Axis, Direction, Point, middle};
use crate::layout::Layout;
use crate::length::Length;

/// From the edges of two faces on each other to the screws between them, where there is room (common practice).
const FACE_MARGIN: Length = Length::from_mm(40);
/// From a single dowel to the screw beside it (own choice: room for both holes and a wall).
const BESIDE_SINGLE: Length = Length::from_mm(18);

/// Adds the holes of joints, hinges and shelf rows to an assembly that has none. Joints that carry much get more dowels or
/// screws than their length asks for. Hands back what the panels carry.
pub fn drill(design: &Resolved, layout: &Layout, assembly: &mut Assembly) -> Carried {
    let options = CheckOptions::of(design);
    let carried = carried_by(design, layout, assembly, &options);
    let standing = assembly.fittings.clone();
    let mut taken = Taken::of(assembly);
    // First what has its place by a rule or by its maker; dowels and screws give way to it.
    under_mounted::drill(design, assembly, &mut taken);
    handles::drill(design, assembly, &mut taken);
    anchors::drill(design, layout, assembly, &mut taken);
    let needed = fixings_needed(design, layout, assembly, &carried);
    for index in 0..assembly.joints.len() {
        let least = needed.get(index).copied().unwrap_or_default();
        drill_joint(design, assembly, &mut taken, index, least);
        press_joint(design, assembly, &mut taken, index);
    }
    cups::drill(design, assembly, &mut taken);
    mounts::drill(design, assembly, &mut taken);
    rows::drill(assembly, &mut taken);
    // A foot that gave way to holes bears somewhere else.
    if assembly.fittings == standing { carried } else { carried_by(design, layout, assembly, &options) }
}

/// The two holes of one dowel or screw.
struct Pair {
    face: Hole,
    edge: Hole,
}

/// What the two holes of a joint are like.
struct Kind {
    face_diameter: Length,
    face_depth: Option<Length>,
    edge_diameter: Length,
    edge_depth: Length,
    /// What a hole is for that leads to the part of this number.
    purpose: fn(String) -> Purpose,
    /// Whether the face part is entered from the far side.
    from_behind: bool,
}

fn drill_joint(design: &Resolved, assembly: &mut Assembly, taken: &mut Taken, index: usize, least: usize) {
    let Some(joint) = assembly.joints.get(index).cloned() else { return };
    let (Some(face_part), Some(edge_part)) = (assembly.parts.get(joint.face_part), assembly.parts.get(joint.edge_part))
    else {
        return;
    };
    let Some(kind) = kind_of(&joint, face_part, edge_part) else { return };
    let near = [joint.face_part, joint.edge_part].map(|part| taken.near(part, &joint.contact));
    let shift = shift_of(design, face_part, edge_part);
    let best = best_pairs(index, &joint, [face_part, edge_part], &near, &kind, Asked { least, shift });
    bore_pairs(assembly, taken, &joint, best);
}

/// Adds pairs of holes to both partners of a joint.
fn bore_pairs(assembly: &mut Assembly, taken: &mut Taken, joint: &Joint, pairs: Vec<Pair>) {
    let (faces, edges): (Vec<Hole>, Vec<Hole>) = pairs.into_iter().map(|pair| (pair.face, pair.edge)).unzip();
    taken.bore(assembly, joint.face_part, faces);
    taken.bore(assembly, joint.edge_part, edges);
}

/// Drills for the screws that press a dowelled joint: between its dowels, where they leave walls and their heads do not
/// show. Clamps do the rest.
fn press_joint(design: &Resolved, assembly: &mut Assembly, taken: &mut Taken, index: usize) {
    let Some(joint) = assembly.joints.get(index).cloned() else { return };
    if !matches!(joint.kind, JoinedBy::Dowels { with_screws: true, .. })
        || shows(design, assembly, joint.face_part, joint.direction.reversed())
    {
        return;
    }
    let (Some(face_part), Some(edge_part)) = (assembly.parts.get(joint.face_part), assembly.parts.get(joint.edge_part))
    else {
        return;
    };
    let screwed = Joint { kind: JoinedBy::Screws, ..joint.clone() };
    let Some(kind) = kind_of(&screwed, face_part, edge_part) else { return };
    let near = [joint.face_part, joint.edge_part].map(|part| taken.near(part, &joint.contact));
    let mut pairs: Vec<Pair> = Vec::new();
    for line in lines_of(&joint, edge_part, &kind) {
        let mut dowels: Vec<Length> = holes(edge_part)
            .filter(|hole| hole.joint == Some(index))
            .map(|hole| hole_in_world(edge_part, hole).entry)
            .map(|it| (it.along(line.along.axis) - line.start.along(line.along.axis)) * line.along.sign())
            .collect();
        dowels.sort();
        let between =
            pressed_gaps(&dowels).into_iter().filter_map(|gap| Some((*dowels.get(gap)?, *dowels.get(gap + 1)?)));
        let mut wanted: Vec<Length> = between.map(|(a, b)| whole_mm(middle((a, b)))).collect();
        if let [single] = dowels[..] {
            // Beside a single dowel a screw also keeps the part from turning about it.
            wanted = vec![single + BESIDE_SINGLE];
        }
        for place in wanted {
            let margin = kind.face_diameter + kind.face_diameter.half();
            let pair = pair_at(index, &joint, [face_part, edge_part], &kind, &line, place);
            let within = place >= margin && place + margin <= line.length;
            let free = is_free(face_part, &pair.face, &near[0], pairs.iter().map(|it| &it.face))
                && is_free(edge_part, &pair.edge, &near[1], pairs.iter().map(|it| &it.edge));
            if within && free {
                pairs.push(pair);
            }
        }
    }
    bore_pairs(assembly, taken, &joint, pairs);
}

/// What is asked of the pattern of a joint beyond the rule.
#[derive(Clone, Copy)]
struct Asked {
    /// No fewer places, as far as there is room.
    least: usize,
    /// All places so much further from the datum end.
    shift: Length,
}

/// How far the design moves the pattern of the joint of these two.
fn shift_of(design: &Resolved, face_part: &Part, edge_part: &Part) -> Length {
    let part = |it: &Part| (it.role, it.bay.clone());
    let ((a, at), (b, to)) = (part(face_part), part(edge_part));
    let choices = design.carcass.joints.iter().rev().filter(|it| it.speaks_of((a, &at), (b, &to)));
    choices.filter_map(|it| it.shift).next().unwrap_or_default()
}

const fn whole_mm(length: Length) -> Length {
    Length::from_mm(length.nm().div_euclid(1_000_000))
}

fn kind_of(joint: &Joint, face_part: &Part, edge_part: &Part) -> Option<Kind> {
    let axis = joint.direction.axis;
    let (face_thickness, edge_depth) = (face_part.cuboid.size(axis), edge_part.cuboid.size(axis));
    match joint.kind {
        JoinedBy::Dowels { diameter, length, .. } => {
            let (face, edge) = dowel_depths(length, face_thickness);
            Some(Kind {
                face_diameter: diameter,
                face_depth: Some(face),
                edge_diameter: diameter,
                // Where the edge part ends too soon the hole stops; the check says that the dowel is too long.
                edge_depth: edge.min(edge_depth - WALL_UNDER),
                purpose: |to| Purpose::Dowel { to },
                from_behind: false,
            })
            .filter(|kind| face > Length::ZERO && kind.edge_depth > Length::ZERO)
        }
        JoinedBy::Screws => {
            let on_face = edge_part.world_from_part.thickness_axis() == axis;
            let screw = if on_face {
                screw_for_face(face_thickness, edge_depth)?
            } else {
                screw_for_edge(face_thickness, edge_depth)?
            };
            Some(Kind {
                face_diameter: screw.clearance,
                face_depth: None,
                edge_diameter: screw.pilot,
                edge_depth: screw.pilot_depth,
                purpose: |to| Purpose::Screw { to },
                from_behind: true,
            })
        }
        JoinedBy::Housing { .. } | JoinedBy::Rebate { .. } | JoinedBy::Angles | JoinedBy::Loose => None,
    }
}

/// The pattern that leaves walls to all that is there: the first, else the second, else places moved one by one; where
/// none does, the first, and the check will say so.
fn best_pairs(
    index: usize,
    joint: &Joint,
    [face_part, edge_part]: [&Part; 2],
    [in_face, in_edge]: &[Vec<Solid>; 2],
    kind: &Kind,
    asked: Asked,
) -> Vec<Pair> {
    let lines = lines_of(joint, edge_part, kind);
    let mut all = Vec::new();
    for line in &lines {
        let pair = |place: Length| pair_at(index, joint, [face_part, edge_part], kind, line, place);
        let free = |pair: &Pair, others: &[Pair]| {
            is_free(face_part, &pair.face, in_face, others.iter().map(|it| &it.face))
                && is_free(edge_part, &pair.edge, in_edge, others.iter().map(|it| &it.edge))
        };
        let margin = kind.face_diameter + kind.face_diameter.half();
        let inside = |it: Length| it.max(margin).min((line.length - margin).max(line.length.half()));
        let mut one = at_least(line.length, kind.face_diameter, asked.least);
        if asked.shift != Length::ZERO {
            one.iter_mut().for_each(|it| *it = inside(*it + asked.shift));
        }
        let two = shifted_places(&one, kind.face_diameter);
        let whole = [&one, &two].into_iter().map(|them| them.iter().map(|&it| pair(it)).collect::<Vec<Pair>>());
        let found = whole.into_iter().find(|pairs| pairs.iter().all(|it| free(it, &[])));
        all.extend(found.unwrap_or_else(|| {
            let mut pairs = Vec::with_capacity(one.len());
            for &place in &one {
                pairs.push(moved_one(place, line, kind, &pair, &|it| free(it, &pairs)));
            }
            pairs
        }));
    }
    all
}

/// A line of places along a joint.
struct Line {
    /// Its datum end, on the contact.
    start: Point,
    /// From there on.
    along: Direction,
    length: Length,
}

/// The lines of a joint: along the middle of an edge; on two faces one line in the middle, or two with a margin where
/// the contact is wide.
fn lines_of(joint: &Joint, edge_part: &Part, kind: &Kind) -> Vec<Line> {
    let across_edge = edge_part.world_from_part.thickness_axis();
    let flat = joint.direction.axis;
    let others: Vec<Axis> = Axis::ALL.into_iter().filter(|&axis| axis != flat).collect();
    let [first, second] = others[..] else { return Vec::new() };
    let contact = &joint.contact;
    let (along, across) = if across_edge == flat {
        if contact.size(second) > contact.size(first) { (second, first) } else { (first, second) }
    } else if across_edge == first {
        (second, first)
    } else {
        (first, second)
    };
    let (low, high) = contact.range(across);
    let rows = if across_edge == flat {
        if high - low >= FACE_MARGIN * 3 {
            vec![low + FACE_MARGIN, high - FACE_MARGIN]
        } else {
            vec![middle((low, high))]
        }
    } else {
        vec![edge_part.cuboid.middle(across)]
    };
    // A contact beside the middle of the edge takes nothing.
    let fits = |row: &Length| low + kind.face_diameter.half() <= *row && *row + kind.face_diameter.half() <= high;
    let direction = datum_direction(along);
    let (low_end, high_end) = contact.range(along);
    let start = if direction.negative { high_end } else { low_end };
    rows.into_iter()
        .filter(fits)
        .map(|row| Line {
            start: contact.min.with(across, row).with(along, start),
            along: direction,
            length: high_end - low_end,
        })
        .collect()
}

/// From the datum end of a joint: from the left, from below, from the front.
const fn datum_direction(axis: Axis) -> Direction {
    match axis {
        Axis::X => Direction::RIGHT,
        Axis::Y => Direction::UP,
        Axis::Z => Direction::REAR,
    }
}

/// Both holes from one point on the contact.
fn pair_at(
    index: usize,
    joint: &Joint,
    [face_part, edge_part]: [&Part; 2],
    kind: &Kind,
    line: &Line,
    place: Length,
) -> Pair {
    let on_contact = line.start.moved(line.along, place);
    let thickness = face_part.cuboid.size(joint.direction.axis);
    let (entry, into) = if kind.from_behind {
        (on_contact.moved(joint.direction.reversed(), thickness), joint.direction)
    } else {
        (on_contact, joint.direction.reversed())
    };
    let to = |part: &Part| (kind.purpose)(part.number.clone());
    let mut face = bore(face_part, entry, into, kind.face_diameter, kind.face_depth, to(edge_part));
    face.joint = Some(index);
    let depth = Some(kind.edge_depth);
    let mut edge = bore(edge_part, on_contact, joint.direction, kind.edge_diameter, depth, to(face_part));
    edge.joint = Some(index);
    Pair { face, edge }
}

/// The nearest place to the given one, in steps of 8 mm, that leaves walls; the given one if none does.
fn moved_one(
    place: Length,
    line: &Line,
    kind: &Kind,
    pair: &dyn Fn(Length) -> Pair,
    free: &dyn Fn(&Pair) -> bool,
) -> Pair {
    let margin = kind.face_diameter + kind.face_diameter.half();
    for step in 0..=8 {
        for at in [place + Length::from_mm(8 * step), place - Length::from_mm(8 * step)] {
            let candidate = pair(at);
            if at >= margin && at + margin <= line.length && free(&candidate) {
                return candidate;
            }
        }
    }
    pair(place)
}

/// Whether a hole keeps its walls to all that is taken and to others yet to be bored.
pub(super) fn is_free<'h>(
    part: &Part,
    hole: &Hole,
    taken: &[Solid],
    mut others: impl Iterator<Item = &'h Hole>,
) -> bool {
    let solid = Solid::hole(&hole_in_world(part, hole));
    let wall = LEAST_WALL.mm();
    taken.iter().all(|it| keeps_apart(&solid, it, wall))
        && others.all(|it| keeps_apart(&solid, &Solid::hole(&hole_in_world(part, it)), wall))
}

/// The depth of a blind hole in a face, at most so that a wall is left. In a board that has none to spare it goes half
/// way in, and the hole check says so.
pub(super) fn blind(part: &Part, into: Direction, wanted: Length) -> Length {
    let thickness = part.cuboid.size(into.axis);
    wanted.min((thickness - WALL_UNDER).max(thickness.half()))
}
