//! The tilting compartments of a built piece: their corners, weights and a string that holds them.

use super::{Balance, OutUp, Stay, Weight};
use crate::assembly::{Assembly, Motion, Mover};
use crate::design::{Resolved, Role};
use crate::geometry::{Axis, Cuboid};

/// How far behind the front edge of the carcass a string is taken to be tied (own choice).
const TIED_BEHIND_MM: f64 = 60.0;
/// At which share of the height of the compartment (own choice).
const TIED_AT_SHARE: f64 = 0.75;

/// A tilting compartment in its section.
#[derive(Clone, Debug, PartialEq)]
pub struct TiltOut {
    /// The mover, an index into the assembly's.
    pub mover: usize,
    /// What it is called.
    pub id: String,
    /// The bay.
    pub bay: String,
    /// Largest opening angle, degrees.
    pub opens_deg: f64,
    /// Whether it hangs from its upper edge.
    pub hangs: bool,
    /// Its weight when empty.
    pub empty: Balance,
    /// Its weight when full.
    pub full: Balance,
    /// Its outer corners, the front included.
    pub corners: Vec<CornerWay>,
    /// The string that holds it at its largest angle: both ends in one place when shut.
    pub stay: Stay,
}

/// The way of one corner.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerWay {
    /// What it is called.
    pub name: &'static str,
    /// Where it is when shut.
    pub at: OutUp,
    /// Its distance from the hinge, mm.
    pub radius: f64,
    /// How far it comes up (for one that hangs: down) at most, mm over the hinge, and at which angle, radians.
    pub highest: (f64, f64),
    /// What is left above (below) it within the bay, mm.
    pub free: f64,
}

/// The tilting compartments of a piece.
#[must_use]
pub fn tilt_outs(design: &Resolved, assembly: &Assembly) -> Vec<TiltOut> {
    assembly.movers.iter().enumerate().filter_map(|(index, mover)| tilt_out(design, assembly, index, mover)).collect()
}

fn tilt_out(design: &Resolved, assembly: &Assembly, index: usize, mover: &Mover) -> Option<TiltOut> {
    let Motion::Turn { pivot, axis, opens_deg } = mover.motion else { return None };
    if axis.axis != Axis::X {
        return None;
    }
    let parts: Vec<_> = mover.parts.iter().filter_map(|&it| assembly.parts.get(it)).collect();
    if !parts.iter().any(|it| it.role == Role::BinSide) {
        return None;
    }
    let hangs = axis.negative;
    let sign = if hangs { -1.0 } else { 1.0 };
    let spot = |z: f64, y: f64| [z - pivot.z.mm(), (y - pivot.y.mm()) * sign];
    let centre = |it: &Cuboid| {
        let middle = |axis: Axis| (it.range(axis).0.mm() + it.range(axis).1.mm()) / 2.0;
        spot(middle(Axis::Z), middle(Axis::Y))
    };
    let mut empty: Vec<Weight> =
        parts.iter().map(|it| Weight { mass_kg: it.mass_kg, at: centre(&it.cuboid) }).collect();
    let mut full = empty.clone();
    for laid in mover.things.iter().filter_map(|&it| assembly.things.get(it)) {
        let Some(thing) = design.things.get(&laid.name) else { continue };
        let at = centre(&laid.cuboid);
        empty.push(Weight { mass_kg: thing.mass_kg, at });
        full.push(Weight { mass_kg: thing.mass_kg + thing.load_kg, at });
    }
    let body = parts.iter().filter(|it| it.role != Role::Front).map(|it| it.cuboid).reduce(|a, b| a.union(&b))?;
    let front = parts.iter().find(|it| it.role == Role::Front).map(|it| it.cuboid);
    let opens = opens_deg.to_radians();
    // What stands still, or shut, over its way: what lies beyond the body and meets the corner's place in depth there.
    let ceiling = |body: &Cuboid, depth: f64| {
        assembly
            .parts
            .iter()
            .enumerate()
            .filter(|(at, it)| {
                !mover.parts.contains(at)
                    && it.cuboid.overlaps(
                        &body
                            .with_range(Axis::Y, it.cuboid.range(Axis::Y))
                            .with_range(Axis::Z, it.cuboid.range(Axis::Z)),
                    )
            })
            .filter(|(_, it)| {
                let (rear, front) = it.cuboid.range(Axis::Z);
                (rear.mm()..=front.mm()).contains(&depth)
            })
            .filter_map(|(_, it)| {
                let (low, high) = it.cuboid.range(Axis::Y);
                if hangs {
                    (high <= body.min.y).then(|| (pivot.y - high).mm())
                } else {
                    (low >= body.max.y).then(|| (low - pivot.y).mm())
                }
            })
            .fold(f64::INFINITY, f64::min)
    };
    let corner = |name: &'static str, at: OutUp, of: &Cuboid| {
        let highest = highest(at, opens);
        let depth = pivot.z.mm() + super::tilted(at, highest.1)[0];
        CornerWay { name, at, radius: at[0].hypot(at[1]), highest, free: ceiling(of, depth) - highest.0 }
    };
    let range = |it: &Cuboid| {
        let (y, z) = (it.range(Axis::Y), it.range(Axis::Z));
        let (near, far) = if hangs { (y.1, y.0) } else { (y.0, y.1) };
        [spot(z.0.mm(), near.mm()), spot(z.0.mm(), far.mm()), spot(z.1.mm(), far.mm())]
    };
    let [rear_near, rear_far, front_far] = range(&body);
    let (low, high) = if hangs { ("upper", "lower") } else { ("lower", "upper") };
    let names = |end: &str| match (end, low, high) {
        ("rear near", "lower", _) => "lower rear corner",
        ("rear near", ..) => "upper rear corner",
        ("rear far", "lower", _) => "upper rear corner",
        ("rear far", ..) => "lower rear corner",
        (_, "lower", _) => "upper front corner",
        _ => "lower front corner",
    };
    let mut corners = vec![
        corner(names("rear near"), rear_near, &body),
        corner(names("rear far"), rear_far, &body),
        corner(names("front far"), front_far, &body),
    ];
    if let Some(front) = front {
        let [_, inner, outer] = range(&front);
        corners.push(corner("inner far edge of the front", inner, &front));
        corners.push(corner("outer far edge of the front", outer, &front));
    }
    let tied = [(front_far[0].min(0.0) - TIED_BEHIND_MM).max(rear_far[0]), rear_far[1] * TIED_AT_SHARE];
    Some(TiltOut {
        mover: index,
        id: mover.id.clone(),
        bay: mover.bay.clone(),
        opens_deg,
        hangs,
        empty: Balance::of(&empty, hangs)?,
        full: Balance::of(&full, hangs)?,
        corners,
        stay: Stay { carcass: tied, front: tied },
    })
}

/// How far a corner comes up during a turn, and at which angle: on the vertical over the hinge if the turn takes it
/// there, else at one of its ends.
fn highest(at: OutUp, opens: f64) -> (f64, f64) {
    let top = (-at[0]).atan2(at[1]).abs() * if at[0] > 0.0 { -1.0 } else { 1.0 };
    if (0.0..=opens).contains(&top) {
        return (at[0].hypot(at[1]), top);
    }
    let end = super::tilted(at, opens)[1];
    if end > at[1] { (end, opens) } else { (at[1], 0.0) }
}
