//! Handles and knobs on fronts: where they sit, by one rule, and the space that they take before the front.
//!
//! On what comes straight out the handle lies in the middle of the front, moved up where the edge of a platform or a strip
//! behind it would keep its screws out. On all that turns it keeps [`FROM_FREE_EDGE`] from the edge that swings: a lying
//! bar in the middle of the width of flaps and tilt-outs, an upright one on doors, with its middle as near to
//! [`HANDY_HEIGHT`] as the door goes: low doors have it at the upper end, high ones at the lower end.

use super::fronts::moving_holding;
use super::scene::Scene;
use super::{FittingKind, MountedFitting, Part};
use crate::design::{Bay, Fitting, Handle, Holding, Opens, Resolved, Role, TiltHinge};
use crate::geometry::{Axis, Cuboid, Point, middle};
use crate::length::Length;

/// From the edge that swings to the middle line of a handle (common practice: 25 to 50 mm).
const FROM_FREE_EDGE: Length = Length::from_mm(40);
/// From the end of a door to the nearest hole of its bar (common practice: 50 to 75 mm).
const FROM_END: Length = Length::from_mm(60);
/// Height above the floor at which a hand takes hold most easily, about that of the elbow (common practice: 900 to
/// 1100 mm).
pub const HANDY_HEIGHT: Length = Length::from_mm(1000);
/// From an edge of the front to the middle of the nearest hole, at least (own choice).
const LEAST_FROM_EDGE: Length = Length::from_mm(15);
/// How far a bar reaches beyond its holes, and half its width (common practice).
const BEYOND: Length = Length::from_mm(6);
/// Half the width of a knob (common practice).
const KNOB_HALF: Length = Length::from_mm(15);
/// What is kept free round a screw behind the front, for its head (own choice).
const ROUND_SCREW: Length = Length::from_mm(8);
/// In what steps a handle moves up where something behind keeps its screws out.
const STEP: Length = Length::from_mm(8);

/// The handle of this name.
#[must_use]
pub fn handle_of<'a>(design: &'a Resolved, name: &str) -> Option<&'a Handle<Length>> {
    match design.fittings.get(name) {
        Some(Fitting::Handle(handle)) => Some(handle),
        _ => None,
    }
}

/// The middles of the holes of a mounted handle, on the outer face of its front.
#[must_use]
pub fn handle_holes(handle: &Handle<Length>, mounted: &Cuboid) -> Vec<Point> {
    let at = Point::new(mounted.middle(Axis::X), mounted.middle(Axis::Y), mounted.min.z);
    let Some(apart) = handle.holes_apart else { return vec![at] };
    let along = if mounted.size(Axis::X) > mounted.size(Axis::Y) { Axis::X } else { Axis::Y };
    let first = at.along(along) - apart.half();
    vec![at.with(along, first), at.with(along, first + apart)]
}

/// The front that a mounted handle sits on.
#[must_use]
pub fn handled_front<'a>(parts: &'a [Part], mounted: &MountedFitting) -> Option<(usize, &'a Part)> {
    parts.iter().enumerate().find(|(_, it)| {
        it.role == Role::Front
            && it.bay == mounted.bay
            && it.cuboid.max.z == mounted.cuboid.min.z
            && it.cuboid.range(Axis::X).0 <= mounted.cuboid.min.x
            && mounted.cuboid.max.x <= it.cuboid.range(Axis::X).1
    })
}

/// Mounts the handles of all fronts that have one, on what moves.
pub(super) fn draft(scene: &mut Scene<'_>) {
    let fronts: Vec<(usize, Vec<usize>)> = scene.fronts.iter().map(|(bay, drafts)| (*bay, drafts.clone())).collect();
    for (index, drafts) in fronts {
        let Some(laid) = scene.layout.bays.get(index) else { continue };
        let Some(bay) = scene.bay(&laid.name) else { continue };
        let Some((name, opens)) = bay.front.as_ref().and_then(|it| Some((it.handle.clone()?, it.opens))) else {
            continue;
        };
        let Some(handle) = handle_of(scene.design, &name).cloned() else { continue };
        for (which, draft) in drafts.into_iter().enumerate() {
            let opens = match (opens, which) {
                (Opens::Pair, 0) => Opens::HingedLeft,
                (Opens::Pair, _) => Opens::HingedRight,
                (other, _) => other,
            };
            let Some(cuboid) = place(scene, bay, draft, opens, &handle) else {
                scene.no_room(laid, "the handle on its front", missing(scene, draft, opens, &handle));
                continue;
            };
            let before = |it: &super::scene::Draft| it.cuboid.overlaps(&cuboid);
            if let Some(other) = scene.drafts.iter().find(|it| before(it)) {
                let missing = cuboid.max.z - other.cuboid.min.z;
                scene.no_room(laid, "the handle between its front and what closes it", missing);
                continue;
            }
            let fitting = scene.fittings.len();
            let what = match handle.holes_apart {
                Some(apart) => {
                    format!("handle, holes {} mm apart, stands out {} mm", apart.mm(), handle.stands_out.mm())
                }
                None => format!("knob, stands out {} mm", handle.stands_out.mm()),
            };
            scene.fittings.push(MountedFitting {
                kind: FittingKind::Handle,
                name: name.clone(),
                what,
                remark: String::new(),
                bay: laid.name.clone(),
                cuboid,
                count: 1,
            });
            let mover = scene.drafts.get(draft).and_then(|it| it.mover);
            if let Some(mover) = mover.and_then(|it| scene.movers.get_mut(it)) {
                mover.fittings.push(fitting);
            }
        }
    }
}

/// Along which axis the bar lies, and the least size of a front along it and across.
fn lies(opens: Opens, handle: &Handle<Length>) -> (Axis, Length, Length) {
    let along = if matches!(opens, Opens::HingedLeft | Opens::HingedRight) { Axis::Y } else { Axis::X };
    let across = if handle.holes_apart.is_some() { BEYOND } else { KNOB_HALF };
    (along, handle.holes_apart.unwrap_or_default() + LEAST_FROM_EDGE * 2, across * 2)
}

/// How much a front lacks for its handle.
fn missing(scene: &Scene<'_>, draft: usize, opens: Opens, handle: &Handle<Length>) -> Length {
    let (along, length, width) = lies(opens, handle);
    let across = if along == Axis::X { Axis::Y } else { Axis::X };
    let Some(front) = scene.drafts.get(draft) else { return Length::ZERO };
    (length - front.cuboid.size(along)).max(width - front.cuboid.size(across)).max(Length::from_mm(1))
}

/// The space of the handle before its front; none if the front is too small.
fn place(scene: &Scene<'_>, bay: &Bay<Length>, draft: usize, opens: Opens, handle: &Handle<Length>) -> Option<Cuboid> {
    let front = scene.drafts.get(draft)?;
    let (along, length, width) = lies(opens, handle);
    let across = if along == Axis::X { Axis::Y } else { Axis::X };
    let size = |axis: Axis| front.cuboid.size(axis);
    if size(along) < length || size(across) < width {
        return None;
    }
    let (x, y) = (front.cuboid.range(Axis::X), front.cuboid.range(Axis::Y));
    // No further from the free edge than the middle.
    let from = |edge: Length, inwards: i64, axis: Axis| edge + FROM_FREE_EDGE.min(size(axis).half()) * inwards;
    let half = handle.holes_apart.unwrap_or_default().half();
    let handy = || {
        let floor = scene.layout.envelope.min.y;
        let (low, high) = (y.0 + FROM_END + half, y.1 - FROM_END - half);
        if low > high { middle(y) } else { (floor + HANDY_HEIGHT).max(low).min(high) }
    };
    let (at_x, at_y) = match (opens, moving_holding(bay)) {
        (Opens::HingedLeft, _) => (from(x.1, -1, Axis::X), handy()),
        (Opens::HingedRight, _) => (from(x.0, 1, Axis::X), handy()),
        (Opens::HingedBelow, _) => (middle(x), from(y.1, -1, Axis::Y)),
        (Opens::HingedAbove, _) => (middle(x), from(y.0, 1, Axis::Y)),
        (_, Some(Holding::TiltOut { hinge: TiltHinge::Below, .. })) => (middle(x), from(y.1, -1, Axis::Y)),
        (_, Some(Holding::TiltOut { hinge: TiltHinge::Above, .. })) => (middle(x), from(y.0, 1, Axis::Y)),
        _ => (middle(x), middle(y)),
    };
    let (beyond, wide) = if handle.holes_apart.is_some() { (BEYOND, BEYOND) } else { (KNOB_HALF, KNOB_HALF) };
    let space = |at_y: Length| {
        let z = (front.cuboid.max.z, front.cuboid.max.z + handle.stands_out);
        let round = |at: Length, axis: Axis| {
            let by = if axis == along { half + beyond } else { wide };
            (at - by, at + by)
        };
        Cuboid::from_ranges(round(at_x, Axis::X), round(at_y, Axis::Y), z)
    };
    let kept_out = |cuboid: &Cuboid| {
        handle_holes(handle, cuboid).iter().any(|hole| {
            let behind = Cuboid::from_ranges(
                (hole.x - ROUND_SCREW, hole.x + ROUND_SCREW),
                (hole.y - ROUND_SCREW, hole.y + ROUND_SCREW),
                (front.cuboid.min.z - STEP, front.cuboid.min.z),
            );
            // A screw passes through what lies flat behind the front.
            let edge_on = |it: &super::scene::Draft| it.mover == front.mover && it.across != Axis::Z;
            scene.drafts.iter().any(|it| edge_on(it) && it.cuboid.overlaps(&behind))
        })
    };
    let highest = y.1 - LEAST_FROM_EDGE;
    let mut tried = (0..).map(|step| at_y + STEP * step).take_while(|at| *at == at_y || *at <= highest);
    let free = if front.mover.is_some() { tried.find(|&at| !kept_out(&space(at))) } else { None };
    Some(space(free.unwrap_or(at_y)))
}
