//! Bores of cup hinges in doors and flaps, and the holes of their plates in what they hang on.

use super::bore::{bore, hole_in_world};
use super::drill::{blind, is_free};
use super::solid::Solid;
use super::taken::Taken;
use crate::assembly::{Assembly, Hole, Motion, Part, Purpose, hinge_count, hinge_of, hinge_places};
use crate::design::{Hinge, Resolved, Role};
use crate::fittings::figures;
use crate::geometry::{Axis, Direction, Point};
use crate::joinery::rows::{PIN_DEPTH, ROW_FROM_FRONT};
use crate::length::Length;

/// How far the inner face of what a door hangs on may lie from the edge of the door.
const REACH: Length = Length::from_mm(60);

/// Drills all doors and flaps that hang on hinges of the design.
pub(super) fn drill(design: &Resolved, assembly: &mut Assembly, taken: &mut Taken) {
    let Some((name, hinge)) = hinge_of(design) else { return };
    let hung: Vec<(usize, Direction, String)> = assembly
        .movers
        .iter()
        .filter_map(|mover| {
            let (Motion::Turn { pivot, axis, .. }, [front]) = (mover.motion, &mover.parts[..]) else { return None };
            let side = hinged_side(assembly.parts.get(*front)?, pivot, axis)?;
            Some((*front, side, mover.bay.clone()))
        })
        .collect();
    for (front, side, bay) in hung {
        let Some(part) = assembly.parts.get(front) else { continue };
        let along = along_of(side);
        let length = part.cuboid.size(along);
        let start = part.cuboid.range(along).0;
        for place in hinge_places(length, hinge_count(length, part.cuboid.size(side.axis), part.mass_kg)) {
            hang(assembly, taken, hinge, front, side, start + place, &|fitting| {
                fitting.bay == bay && fitting.name == name
            });
        }
    }
}

/// Where a single front turns; none if it is no door or flap.
fn hinged_side(part: &Part, pivot: Point, axis: Direction) -> Option<Direction> {
    let cuboid = &part.cuboid;
    let side = match axis.axis {
        Axis::Y if pivot.x == cuboid.min.x => Direction::LEFT,
        Axis::Y => Direction::RIGHT,
        Axis::X if pivot.y == cuboid.min.y => Direction::DOWN,
        Axis::X => Direction::UP,
        Axis::Z => return None,
    };
    (part.role == Role::Front).then_some(side)
}

/// One hinge at `at` along the hinged edge, or, where the plates of two doors would meet in one panel, up to 64 mm beside
/// it; the mounted fitting moves along.
fn hang(
    assembly: &mut Assembly,
    taken: &mut Taken,
    hinge: &Hinge<Length>,
    front: usize,
    side: Direction,
    at: Length,
    is_this: &dyn Fn(&crate::assembly::MountedFitting) -> bool,
) {
    let along = along_of(side);
    let Some(door) = assembly.parts.get(front) else { return };
    let place = door.cuboid.with_range(along, (at, at)).with_range(side.axis, door_edge(door, side));
    let in_door = taken.near(front, &place);
    let try_at = |shift: Length| {
        let cups = cup_holes(door, hinge, side, along, at + shift);
        if !cups.iter().all(|hole| lies_inside(door, hole)) {
            return None;
        }
        let carrier = carrier_of(assembly, door, side, along, at + shift);
        let carrier_part = carrier.and_then(|it| assembly.parts.get(it));
        let plates = carrier_part.map_or_else(Vec::new, |it| plate_holes(it, door, side, along, at + shift));
        let keeps = |part: &Part, holes: &[Hole], taken: &[Solid]| {
            holes.iter().all(|hole| is_free(part, hole, taken, [].into_iter()))
        };
        let free = keeps(door, &cups, &in_door)
            && carrier.zip(carrier_part).is_some_and(|(index, part)| keeps(part, &plates, &taken.near(index, &place)));
        Some((shift, cups, carrier, plates, free))
    };
    let mut best = None;
    for tried in [0, 48, -48, 64, -64, 40, -40].into_iter().filter_map(|shift| try_at(Length::from_mm(shift))) {
        let free = tried.4;
        if free || best.is_none() {
            best = Some(tried);
        }
        if free {
            break;
        }
    }
    let Some((shift, cups, carrier, plates, _)) = best else { return };
    taken.bore(assembly, front, cups);
    if let Some(carrier) = carrier {
        taken.bore(assembly, carrier, plates);
    }
    if let Some(fitting) = assembly.fittings.iter_mut().find(|it| is_this(it) && it.cuboid.middle(along) == at) {
        fitting.cuboid = fitting.cuboid.moved(Direction::new(along, false), shift);
    }
}

/// The axis that the hinged edge runs along.
const fn along_of(side: Direction) -> Axis {
    match side.axis {
        Axis::X => Axis::Y,
        _ => Axis::X,
    }
}

/// The edge of a door on its hinged side, as a range of no length.
fn door_edge(door: &Part, side: Direction) -> (Length, Length) {
    let (low, high) = door.cuboid.range(side.axis);
    if side.negative { (low, low) } else { (high, high) }
}

/// Whether the round of a hole lies inside the outline of the door.
fn lies_inside(door: &Part, hole: &Hole) -> bool {
    let space = hole_in_world(door, hole).cuboid();
    door.cuboid.grown(Direction::REAR, hole.diameter).grown(Direction::FRONT, hole.diameter).contains(&space)
}

fn cup_holes(door: &Part, hinge: &Hinge<Length>, side: Direction, along: Axis, at: Length) -> Vec<Hole> {
    let (low, high) = door.cuboid.range(side.axis);
    let edge = if side.negative { low } else { high };
    let inwards = side.reversed();
    let rear = Point::default().with(side.axis, edge).with(along, at).with(Axis::Z, door.cuboid.min.z);
    let hole = |point: Point, diameter, depth, purpose: Purpose| {
        bore(door, point, Direction::FRONT, diameter, Some(depth), purpose)
    };
    let usual = figures();
    let cup = rear.moved(inwards, usual.cup_to_edge + hinge.cup.half());
    let beside = cup.moved(inwards, usual.screws_behind);
    let mut all = vec![hole(cup, hinge.cup, hinge.cup_depth, Purpose::Cup)];
    for direction in [Direction::new(along, true), Direction::new(along, false)] {
        let (diameter, depth) = usual.screw_hole;
        all.push(hole(beside.moved(direction, usual.screws_apart.half()), diameter, depth, Purpose::CupSocket));
    }
    all
}

/// The panel that a door hangs on: the one whose inner face is nearest to its hinged edge.
fn carrier_of(assembly: &Assembly, door: &Part, side: Direction, along: Axis, at: Length) -> Option<usize> {
    let standing = [Role::Side, Role::Upright];
    let lying = [Role::Bottom, Role::Top, Role::Shelf, Role::Rail];
    let roles: &[Role] = if side.axis == Axis::X { &standing } else { &lying };
    let edge_of = |cuboid: &crate::geometry::Cuboid| {
        let (low, high) = cuboid.range(side.axis);
        if side.negative { (low, high) } else { (high, low) }
    };
    let edge = edge_of(&door.cuboid).0;
    let behind = door.cuboid.min.z - ROW_FROM_FRONT;
    let distance = |part: &Part| (edge_of(&part.cuboid).1 - edge).abs();
    let plate = figures().plate_apart;
    let fits = |part: &Part| {
        let (low, high) = part.cuboid.range(along);
        roles.contains(&part.role)
            && low <= at - plate
            && at + plate <= high
            && part.cuboid.min.z < behind
            && part.cuboid.max.z >= door.cuboid.min.z
            && distance(part) <= REACH
    };
    let found = assembly.parts.iter().enumerate().filter(|(_, part)| fits(part));
    found.min_by_key(|(index, part)| (distance(part), *index)).map(|(index, _)| index)
}

/// The two holes of a plate, 37 mm behind the front edge, or behind an inset front.
fn plate_holes(carrier: &Part, door: &Part, side: Direction, along: Axis, at: Length) -> Vec<Hole> {
    let (low, high) = carrier.cuboid.range(side.axis);
    let (face, into) =
        if side.negative { (high, Direction::new(side.axis, true)) } else { (low, Direction::new(side.axis, false)) };
    let z = carrier.cuboid.max.z.min(door.cuboid.min.z) - ROW_FROM_FRONT;
    let point = Point::default().with(side.axis, face).with(Axis::Z, z);
    let (half, diameter) = (figures().plate_apart.half(), figures().plate_hole);
    [at - half, at + half]
        .map(|at| {
            let purpose = Purpose::HingePlate { door: door.number.clone() };
            bore(carrier, point.with(along, at), into, diameter, Some(blind(carrier, into, PIN_DEPTH)), purpose)
        })
        .to_vec()
}
