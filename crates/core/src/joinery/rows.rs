//! Rows of holes for the pins of loose shelves.

use std::collections::BTreeSet;

use super::bore::bore;
use super::drill::{blind, is_free};
use super::taken::Taken;
use crate::assembly::{Assembly, Hole, JoinedBy, Part, Purpose};
use crate::design::Role;
use crate::geometry::{Axis, Direction, Point};
use crate::length::Length;

/// From hole to hole (common practice: the 32 mm system).
pub const ROW_PITCH: Length = Length::from_mm(32);
/// From the front edge of the panel, or the rear of an inset front, to the front row (common practice: 37 mm).
pub const ROW_FROM_FRONT: Length = Length::from_mm(37);
/// Diameter of a pin (common practice).
const PIN: Length = Length::from_mm(5);
/// Depth of its hole (from memory).
pub(super) const PIN_DEPTH: Length = Length::from_mm(12);
/// How far the ends of a loose shelf may be from what its pins sit in.
const MOST_PLAY: Length = Length::from_mm(3);
/// Holes above and below that of the shelf itself.
const SPARE: i64 = 2;
/// How far spare holes keep from what is fixed to the same face.
const FROM_FIXED: Length = Length::from_mm(20);

/// Drills the rows of all loose shelves: four holes for each, and two spare ones above and below every one.
pub(super) fn drill(assembly: &mut Assembly, taken: &mut Taken) {
    for shelf in loose_shelves(assembly) {
        drill_shelf(assembly, taken, shelf);
    }
}

/// The shelves that no joint holds.
pub(super) fn loose_shelves(assembly: &Assembly) -> Vec<usize> {
    let fixing = assembly.joints.iter().filter(|joint| joint.kind != JoinedBy::Loose);
    let held: BTreeSet<usize> = fixing.flat_map(|joint| [joint.face_part, joint.edge_part]).collect();
    let shelves = assembly.parts.iter().enumerate().filter(|(_, part)| part.role == Role::Shelf);
    shelves.map(|(index, _)| index).filter(|index| !held.contains(index)).collect()
}

/// What a loose shelf lies between: the panels at its left and right, if both are there.
pub(super) fn supports(assembly: &Assembly, shelf: &Part) -> Option<[usize; 2]> {
    let beside = |side: Direction| {
        let gap = |part: &Part| {
            if side.negative { shelf.cuboid.min.x - part.cuboid.max.x } else { part.cuboid.min.x - shelf.cuboid.max.x }
        };
        let reach = |part: &Part, axis: Axis| {
            part.cuboid.range(axis).0 < shelf.cuboid.range(axis).1
                && shelf.cuboid.range(axis).0 < part.cuboid.range(axis).1
        };
        let fits = |part: &Part| {
            matches!(part.role, Role::Side | Role::Upright)
                && gap(part) >= Length::ZERO
                && gap(part) <= MOST_PLAY
                && reach(part, Axis::Y)
                && reach(part, Axis::Z)
        };
        assembly.parts.iter().position(fits)
    };
    Some([beside(Direction::LEFT)?, beside(Direction::RIGHT)?])
}

fn drill_shelf(assembly: &mut Assembly, taken: &mut Taken, index: usize) {
    let Some(shelf) = assembly.parts.get(index) else { return };
    let Some(supports) = supports(assembly, shelf) else { return };
    let near = supports.map(|it| taken.near(it, &shelf.cuboid));
    let Some([left, right]) = both(assembly, supports) else { return };
    let (front, rear) = rows_of(assembly, shelf, left.cuboid.max.z.min(right.cuboid.max.z));
    let [near_left, near_right] = &near;
    let sides = [(left, supports[0], Direction::LEFT, near_left), (right, supports[1], Direction::RIGHT, near_right)];
    // On both faces of one panel the rows must not meet: the second pair lies 32 mm, or 16 mm, further in, but not so far
    // that the shelf tips over its front pins.
    let choices = [0, 32, 16].map(|by| [front - Length::from_mm(by), rear + Length::from_mm(by)]);
    let choices = choices.into_iter().filter(|[front, rear]| *front - *rear >= PIN + PIN);
    let free = |rows: &[Length; 2]| {
        sides.iter().all(|&(part, _, side, taken)| {
            rows.iter().all(|&z| is_free(part, &pin_hole(part, side, shelf, z, 0), taken, [].into_iter()))
        })
    };
    let rows = choices.into_iter().find(free).unwrap_or([front, rear]);
    let mut drilled: [Vec<Hole>; 2] = [Vec::new(), Vec::new()];
    for (&(part, index, side, taken), drilled) in sides.iter().zip(&mut drilled) {
        for z in rows {
            for step in -SPARE..=SPARE {
                let hole = pin_hole(part, side, shelf, z, step);
                let spare = step != 0;
                let at = shelf.cuboid.min.y + ROW_PITCH * step;
                if spare
                    && (is_fixed_near(assembly, index, part, side, at) || !is_free(part, &hole, taken, [].into_iter()))
                {
                    continue;
                }
                drilled.push(hole);
            }
        }
    }
    for (support, holes) in supports.into_iter().zip(drilled) {
        taken.bore(assembly, support, holes);
    }
}

fn both(assembly: &Assembly, [left, right]: [usize; 2]) -> Option<[&Part; 2]> {
    Some([assembly.parts.get(left)?, assembly.parts.get(right)?])
}

/// Places of the front and the rear row: 37 mm from the front edge, and a multiple of 32 mm behind it that leaves as much
/// of the shelf behind; at a quarter of the depth of a shallow shelf.
fn rows_of(assembly: &Assembly, shelf: &Part, front_edge: Length) -> (Length, Length) {
    let before = |part: &&Part| {
        let reach = |axis: Axis| {
            part.cuboid.range(axis).0 < shelf.cuboid.range(axis).1
                && shelf.cuboid.range(axis).0 < part.cuboid.range(axis).1
        };
        part.role == Role::Front && reach(Axis::X) && reach(Axis::Y) && part.cuboid.min.z < front_edge
    };
    let edge = assembly.parts.iter().filter(before).map(|part| part.cuboid.min.z).fold(front_edge, Length::min);
    let front = (edge - ROW_FROM_FRONT).min(shelf.cuboid.max.z - ROW_FROM_FRONT.half());
    let span = front - (shelf.cuboid.min.z + ROW_FROM_FRONT);
    let steps = span.nm().div_euclid(ROW_PITCH.nm());
    let quarter = (shelf.cuboid.max.z - shelf.cuboid.min.z).half().half();
    let (behind, before) = (shelf.cuboid.min.z + quarter, shelf.cuboid.max.z - quarter);
    if steps >= 1 {
        (front, front - ROW_PITCH * steps)
    } else if front - behind >= ROW_PITCH.half() {
        (front, behind)
    } else {
        // Too shallow for the usual distances.
        (before, behind)
    }
}

/// The hole of a pin on which the underside of the shelf lies, `step` pitches above.
fn pin_hole(support: &Part, side: Direction, shelf: &Part, z: Length, step: i64) -> Hole {
    let x = if side.negative { support.cuboid.max.x } else { support.cuboid.min.x };
    let y = shelf.cuboid.min.y - PIN.half() + ROW_PITCH * step;
    let purpose = Purpose::ShelfPin { shelf: shelf.number.clone() };
    bore(support, Point::new(x, y, z), side, PIN, Some(blind(support, side, PIN_DEPTH)), purpose)
}

/// Whether something is fixed to that face of the panel near this height.
fn is_fixed_near(assembly: &Assembly, index: usize, part: &Part, side: Direction, y: Length) -> bool {
    let (low, high) = part.cuboid.range(Axis::Y);
    let inside = y - PIN >= low + FROM_FIXED && y + PIN + FROM_FIXED <= high;
    !inside
        || assembly.joints.iter().any(|joint| {
            let (low, high) = joint.contact.range(Axis::Y);
            joint.face_part == index
                && joint.direction == side.reversed()
                && low - FROM_FIXED < y
                && y < high + FROM_FIXED
        })
}
