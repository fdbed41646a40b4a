//! Screws of slides in the panels that carry them and in what they carry, screws of feet and castors in the bottom, and openings cut in panels.

use super::LEAST_WALL;
use super::bore::bore;
use super::drill::{blind, is_free};
use super::rows::{ROW_FROM_FRONT, ROW_PITCH};
use super::taken::Taken;
use crate::assembly::{Assembly, FittingKind, Groove, Hole, Machining, Part, PartFace, Purpose, StandPiece};
use crate::checks::place_opening;
use crate::design::{Fitting, Resolved, Role, SlideMount};
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::layout::Layout;
use crate::length::Length;

/// Diameter of the hole for a screw of 4 mm (common practice: about 70 % of its core).
pub(super) const PILOT: Length = Length::from_mm(3);
/// Its depth, less where the panel is thin (common practice).
pub(super) const PILOT_DEPTH: Length = Length::from_mm(12);
/// The last screw of a slide keeps this from its rear end (own choice).
const FROM_REAR: Length = Length::from_mm(15);
/// Half the distance of the four screws of a foot or castor (from memory; own choices where these are taken).
const FOOT_HALF_MM: [i64; 3] = [16, 13, 19];
/// How far a foot may stand nearer to the middle of its board, across and forwards or backwards, the least first, mm (own choice).
const FOOT_MOVES_MM: [(i64, i64); 8] = [(0, 0), (0, 8), (8, 0), (0, 16), (16, 0), (16, 16), (0, 32), (32, 0)];

/// Cuts the openings of a design as what they are: rectangles right through.
pub fn cut_openings(design: &Resolved, layout: &Layout, assembly: &mut Assembly) {
    for opening in &design.carcass.openings {
        let Some(placed) = place_opening(layout, assembly, opening) else { continue };
        let Some(part) = assembly.parts.get_mut(placed.part) else { continue };
        let Some(cuboid) = placed.cuboid.intersection(&part.cuboid) else { continue };
        let frame = part.world_from_part;
        let (a, b) = (frame.from_world(cuboid.min), frame.from_world(cuboid.max));
        part.machining.push(Machining::Groove(Groove {
            face: PartFace::Under,
            from: (a.0.min(b.0), a.1.min(b.1)),
            to: (a.0.max(b.0), a.1.max(b.1)),
            depth: part.finished.thickness,
            purpose: Purpose::Opening { bay: opening.bay.clone() },
        }));
    }
}

/// Drills for the screws of slides, feet and castors.
pub(super) fn drill(design: &Resolved, assembly: &mut Assembly, taken: &mut Taken) {
    for (index, fitting) in assembly.fittings.clone().iter().enumerate() {
        match (fitting.kind, design.fittings.get(&fitting.name)) {
            (FittingKind::Slide, Some(Fitting::Slide(slide))) => {
                drill_slide(assembly, taken, &fitting.cuboid, carrier(assembly, &fitting.cuboid), &fitting.bay);
                // What runs on under-mounted slides lies on them, and is held as their maker says.
                if slide.mount == SlideMount::Side {
                    drill_slide(assembly, taken, &fitting.cuboid, carried(assembly, &fitting.cuboid), &fitting.bay);
                }
            }
            (FittingKind::Stand(piece), _) => drill_foot(assembly, taken, index, piece),
            _ => {}
        }
    }
}

/// The panel that carries a slide: an upright one whose face it lies against.
fn carrier(assembly: &Assembly, slide: &Cuboid) -> Option<(usize, Direction)> {
    beside(assembly, slide, |role| matches!(role, Role::Side | Role::Upright))
}

/// What a side-mounted slide carries: the side of a drawer, the strip of a platform, or its edge.
fn carried(assembly: &Assembly, slide: &Cuboid) -> Option<(usize, Direction)> {
    beside(assembly, slide, |role| matches!(role, Role::DrawerSide | Role::SideStrip | Role::Platform))
}

/// The first part of such a role that a slide lies against, and on which side of the slide.
fn beside(assembly: &Assembly, slide: &Cuboid, is: impl Fn(Role) -> bool) -> Option<(usize, Direction)> {
    let meets = |part: &Part, axis: Axis| {
        let (a, b) = (part.cuboid.range(axis), slide.range(axis));
        a.0 < b.1 && b.0 < a.1
    };
    [Direction::LEFT, Direction::RIGHT].into_iter().find_map(|side| {
        let touches = |part: &Part| {
            if side.negative { part.cuboid.max.x == slide.min.x } else { part.cuboid.min.x == slide.max.x }
        };
        let fits = |part: &Part| {
            let middle = slide.middle(Axis::Y);
            // Its middle line must have wood round it.
            let holds = part.cuboid.min.y + LEAST_WALL < middle && middle + LEAST_WALL < part.cuboid.max.y;
            is(part.role) && touches(part) && holds && meets(part, Axis::Y) && meets(part, Axis::Z)
        };
        assembly.parts.iter().position(fits).map(|index| (index, side))
    })
}

/// Three screws on the middle line of a slide: 37 mm behind the front edge of the panel, and multiples of 32 mm behind
/// that, in the middle and near the rear end (common practice); the next free place of the row where one is taken.
fn drill_slide(assembly: &mut Assembly, taken: &mut Taken, slide: &Cuboid, of: Option<(usize, Direction)>, bay: &str) {
    let Some((index, side)) = of else { return };
    let Some(part) = assembly.parts.get(index) else { return };
    let x = if side.negative { part.cuboid.max.x } else { part.cuboid.min.x };
    let front = (part.cuboid.max.z - ROW_FROM_FRONT).min(slide.max.z - FROM_REAR);
    let span = front - (slide.min.z + FROM_REAR);
    if span < Length::ZERO {
        return;
    }
    let steps = span.nm() / ROW_PITCH.nm();
    let near = taken.near(index, slide);
    let at = |step: i64| {
        let point = Point::new(x, slide.middle(Axis::Y), front - ROW_PITCH * step);
        let purpose = Purpose::SlideScrew { bay: bay.to_owned() };
        bore(part, point, side, PILOT, Some(blind(part, side, PILOT_DEPTH)), purpose)
    };
    let mut holes: Vec<Hole> = Vec::new();
    let mut wanted = vec![0, steps / 2, steps];
    wanted.dedup();
    for wanted in wanted {
        let near_by = [0, 1, -1, 2, -2].map(|by| wanted + by).into_iter().filter(|step| (0..=steps).contains(step));
        let free = near_by.map(at).find(|hole| is_free(part, hole, &near, holes.iter()));
        holes.push(free.unwrap_or_else(|| at(wanted)));
    }
    taken.bore(assembly, index, holes);
}

/// Four screws round the middle of a foot or castor, upwards into what stands on it. Where its place would bring them into
/// holes that are there, it stands a little nearer to the middle of the board.
fn drill_foot(assembly: &mut Assembly, taken: &mut Taken, at: usize, piece: StandPiece) {
    let Some(foot) = assembly.fittings.get(at).cloned() else { return };
    let over = |part: &Part| {
        let holds = |axis: Axis| {
            let ((low, high), at) = (part.cuboid.range(axis), foot.cuboid.middle(axis));
            low < at && at < high
        };
        part.world_from_part.thickness_axis() == Axis::Y
            && part.cuboid.min.y == foot.cuboid.max.y
            && holds(Axis::X)
            && holds(Axis::Z)
    };
    let Some(index) = assembly.parts.iter().position(over) else { return };
    let Some(part) = assembly.parts.get(index) else { return };
    let inwards = |axis: Axis, by: i64| {
        let towards = part.cuboid.middle(axis) < foot.cuboid.middle(axis);
        Length::from_mm(if towards { -by } else { by })
    };
    let moved = |(x, z): (i64, i64)| {
        let shifted = |cuboid: Cuboid, axis: Axis, by: Length| {
            let (low, high) = cuboid.range(axis);
            cuboid.with_range(axis, (low + by, high + by))
        };
        shifted(shifted(foot.cuboid, Axis::X, inwards(Axis::X, x)), Axis::Z, inwards(Axis::Z, z))
    };
    let tries = FOOT_MOVES_MM
        .iter()
        .map(|&by| moved(by))
        .flat_map(|cuboid| FOOT_HALF_MM.map(|half| (cuboid, foot_screws(part, piece, &cuboid, Length::from_mm(half)))));
    let tries: Vec<(Cuboid, Vec<Hole>)> = tries.collect();
    let free = |(cuboid, holes): &&(Cuboid, Vec<Hole>)| {
        let near = taken.near(index, cuboid);
        holes.iter().all(|hole| is_free(part, hole, &near, [].into_iter()))
    };
    let Some((cuboid, holes)) = tries.iter().find(free).or_else(|| tries.first()).cloned() else { return };
    if let Some(fitting) = assembly.fittings.get_mut(at) {
        fitting.cuboid = cuboid;
    }
    taken.bore(assembly, index, holes);
}

/// The four holes for the screws of a foot; what would miss the board is left out.
fn foot_screws(part: &Part, piece: StandPiece, foot: &Cuboid, half: Length) -> Vec<Hole> {
    let inside = |point: &Point, axis: Axis| {
        let (low, high) = part.cuboid.range(axis);
        let clear = LEAST_WALL + PILOT.half();
        low + clear <= point.along(axis) && point.along(axis) + clear <= high
    };
    [(-half, -half), (half, -half), (-half, half), (half, half)]
        .into_iter()
        .map(|(across, along)| Point::new(foot.middle(Axis::X) + across, foot.max.y, foot.middle(Axis::Z) + along))
        .filter(|point| inside(point, Axis::X) && inside(point, Axis::Z))
        .map(|point| {
            let depth = blind(part, Direction::UP, PILOT_DEPTH);
            bore(part, point, Direction::UP, PILOT, Some(depth), Purpose::StandScrew(piece))
        })
        .collect()
}
