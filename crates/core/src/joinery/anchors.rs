//! Pilot holes at both ends of strings, stays, dampers and struts, at the ends and the pulley of strings of lids, and for the
//! screws of angle brackets.
//!
//! Of an end one hole is drilled, on its axis; what else its plate is screwed with goes by its maker's sheet.

use super::LEAST_WALL;
use super::bore::bore;
use super::drill::blind;
use super::mounts::{PILOT, PILOT_DEPTH};
use super::taken::Taken;
use crate::assembly::{Assembly, FittingKind, Hole, Part, Purpose, STAY_SIDES, bracket_screws, stay_ranges};
use crate::design::{Fitting, Resolved, Role};
use crate::geometry::{Axis, Cuboid, Direction, Point, middle};
use crate::layout::Layout;
use crate::length::Length;
use crate::moving::tilt::{TiltOut, tilt_outs};

/// From the left end of a lid to the eye of its string (own choice).
const EYE_FROM_END: Length = Length::from_mm(20);

/// Drills for all, before anything that can give way to these holes.
pub(super) fn drill(design: &Resolved, layout: &Layout, assembly: &mut Assembly, taken: &mut Taken) {
    for it in tilt_outs(design, assembly).iter().filter(|it| it.is_given) {
        ends(layout, assembly, taken, it);
        lid_string(layout, assembly, taken, it);
    }
    for fitting in assembly.fittings.clone() {
        if fitting.kind == FittingKind::Bracket
            && let Some(Fitting::Bracket(bracket)) = design.fittings.get(&fitting.name)
        {
            brackets(assembly, taken, &fitting.cuboid, &fitting.bay, &bracket_screws(bracket));
        }
    }
}

/// The two ends of what holds a compartment or flap, at each side where one is. An end beside every part has no hole: the
/// check of ends says so.
fn ends(layout: &Layout, assembly: &mut Assembly, taken: &mut Taken, it: &TiltOut) {
    let Some(laid) = layout.bay(&it.bay) else { return };
    let Some(parts) = assembly.movers.get(it.mover).map(|mover| mover.parts.clone()) else { return };
    let Some([carcass_end, moved_end]) = it.ends_at(assembly, 0.0) else { return };
    let mover = it.id.clone();
    let purpose = if it.holder.is_some() { Purpose::Stay { mover } } else { Purpose::Cord { mover } };
    let clear = laid.clear;
    let half = clear.middle(Axis::X);
    let ranges = stay_ranges(&clear, it.is_flap);
    for (side, range) in STAY_SIDES.into_iter().zip(ranges).take(if it.both_sides { 2 } else { 1 }) {
        carcass_end_hole(assembly, taken, &clear, side, carcass_end, &purpose);
        let moved = parts.iter().copied().find_map(|index| {
            let part = assembly.parts.get(index)?;
            let (at, into) = match part.role {
                Role::BinSide => {
                    // The other side lies beyond the middle of the opening.
                    let outer = if side.negative { part.cuboid.min.x } else { part.cuboid.max.x };
                    ((outer < half) == side.negative)
                        .then(|| point(outer, moved_end))
                        .map(|at| (at, side.reversed()))?
                }
                Role::Front if it.is_flap => {
                    let at = point(middle(range), moved_end);
                    (at.with(Axis::Z, part.cuboid.min.z), Direction::FRONT)
                }
                _ => return None,
            };
            has_wood(part, at, into.axis).then_some((index, at, into))
        });
        if let Some((index, at, into)) = moved {
            one(assembly, taken, index, at, into, &purpose);
        }
    }
}

fn point(x: Length, (y, z): (f64, f64)) -> Point {
    Point::new(x, Length::from_mm_f64(y), Length::from_mm_f64(z))
}

/// The hole in the panel beside the bay for an end of a string or stay.
fn carcass_end_hole(
    assembly: &mut Assembly,
    taken: &mut Taken,
    clear: &Cuboid,
    side: Direction,
    end: (f64, f64),
    purpose: &Purpose,
) {
    let face = if side.negative { clear.min.x } else { clear.max.x };
    let at = point(face, end);
    let carcass = |part: &Part| {
        let own = if side.negative { part.cuboid.max.x } else { part.cuboid.min.x };
        matches!(part.role, Role::Side | Role::Upright) && own == face && has_wood(part, at, Axis::X)
    };
    if let Some(index) = assembly.parts.iter().position(carcass) {
        one(assembly, taken, index, at, side, purpose);
    }
}

/// The string of a lid, at the left: into the panel beside the bay, from above into the lid for its eye, and for its pulley,
/// which has no room beside the compartment, into the inner face of the compartment's side.
fn lid_string(layout: &Layout, assembly: &mut Assembly, taken: &mut Taken, it: &TiltOut) {
    let (Some((lid, _)), Some(laid), Some(section)) = (&it.lid, layout.bay(&it.bay), it.section(assembly)) else {
        return;
    };
    let Some(parts) = assembly.movers.get(it.mover).map(|mover| mover.parts.clone()) else { return };
    let purpose = Purpose::LidString { mover: it.id.clone() };
    carcass_end_hole(assembly, taken, &laid.clear, Direction::LEFT, section.world(lid.carcass), &purpose);
    let of = |assembly: &Assembly, is: &dyn Fn(&Part) -> bool| {
        parts.iter().copied().find(|&index| assembly.parts.get(index).is_some_and(is))
    };
    // The lid lies over the bottom.
    let lies = |part: &Part| part.role == Role::BinPanel && part.world_from_part.thickness_axis() == Axis::Y;
    let lying = parts.iter().filter_map(|&index| assembly.parts.get(index)).filter(|it| lies(it));
    let top = lying.map(|it| it.cuboid.max.y).max();
    let is_lid = |part: &Part| lies(part) && Some(part.cuboid.max.y) == top;
    if let Some(index) = of(assembly, &is_lid)
        && let Some(part) = assembly.parts.get(index)
    {
        let at = point(part.cuboid.min.x + EYE_FROM_END, section.world(lid.tied)).with(Axis::Y, part.cuboid.max.y);
        if has_wood(part, at, Axis::Y) {
            one(assembly, taken, index, at, Direction::DOWN, &purpose);
        }
    }
    let half = laid.clear.middle(Axis::X);
    let is_left = |part: &Part| part.role == Role::BinSide && part.cuboid.max.x < half;
    if let Some(pulley) = lid.pulley
        && let Some(index) = of(assembly, &is_left)
        && let Some(part) = assembly.parts.get(index)
    {
        let at = point(part.cuboid.max.x, section.world(pulley));
        if has_wood(part, at, Axis::X) {
            one(assembly, taken, index, at, Direction::LEFT, &Purpose::Pulley { mover: it.id.clone() });
        }
    }
}

/// Whether a hole across this axis lies within the face of a part, with a wall round it.
fn has_wood(part: &Part, at: Point, into: Axis) -> bool {
    let clear = PILOT.half() + LEAST_WALL;
    Axis::ALL.into_iter().filter(|&axis| axis != into).all(|axis| {
        let (low, high) = part.cuboid.range(axis);
        low + clear <= at.along(axis) && at.along(axis) + clear <= high
    })
}

fn one(assembly: &mut Assembly, taken: &mut Taken, index: usize, at: Point, into: Direction, purpose: &Purpose) {
    let Some(hole) = assembly.parts.get(index).map(|part| pilot(part, at, into, purpose)) else { return };
    taken.bore(assembly, index, vec![hole]);
}

fn pilot(part: &Part, at: Point, into: Direction, purpose: &Purpose) -> Hole {
    bore(part, at, into, PILOT, Some(blind(part, into, PILOT_DEPTH)), purpose.clone())
}

/// On the middle line of both legs of a bracket: into the platform under it, and into the front before it.
fn brackets(assembly: &mut Assembly, taken: &mut Taken, bracket: &Cuboid, bay: &str, places: &[Length]) {
    let middle = bracket.middle(Axis::X);
    let purpose = Purpose::BracketScrew { bay: bay.to_owned() };
    let legs = [(Role::Platform, Direction::DOWN), (Role::Front, Direction::FRONT)];
    for (role, into) in legs {
        let Some(index) = assembly.parts.iter().position(|it| it.role == role && it.bay == bay) else { continue };
        let Some(part) = assembly.parts.get(index) else { continue };
        let holes = places.iter().map(|&from| match into.axis {
            Axis::Y => Point::new(middle, part.cuboid.max.y, bracket.max.z - from),
            _ => Point::new(middle, bracket.min.y + from, part.cuboid.min.z),
        });
        let holes = holes.filter(|&at| has_wood(part, at, into.axis)).map(|at| pilot(part, at, into, &purpose));
        let holes = holes.collect();
        taken.bore(assembly, index, holes);
    }
}
