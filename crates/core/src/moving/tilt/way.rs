//! The tilting compartments of a built piece: their corners, weights and a string that holds them.

use super::{Balance, Holder, Lid, OutUp, Stay, Weight};
use crate::assembly::{Assembly, Motion, Mover};
use crate::design::{Holding, Inside, Resolved, Role, TiltStop};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::length::Length;

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
    /// The string or stay that holds it: that of the design, or one whose ends are in one place when shut.
    pub stay: Stay,
    /// How long that is from end to end, mm; so long that it goes taut at the largest angle unless the design says else.
    pub length: f64,
    /// The stay or damper of the design that is there in the place of a string.
    pub holder: Option<Holder>,
    /// Whether the design gives it.
    pub is_given: bool,
    /// Where its ends may be: the section of the compartment, and that of the opening that it stands in, least and most.
    pub spots: [(OutUp, OutUp); 2],
    /// The string of the lid with its length, mm, if the design gives one.
    pub lid: Option<(Lid, f64)>,
}

impl TiltOut {
    /// The angle at which the string goes taut, radians; none if it never does, or is too short to shut.
    #[must_use]
    pub fn taut_at(&self) -> Option<f64> {
        self.stay.taut_at(self.length)
    }

    /// How far the compartment opens before the string stops it, radians.
    #[must_use]
    pub fn stops_at(&self) -> f64 {
        let largest = self.opens_deg.to_radians();
        self.taut_at().map_or(largest, |it| it.min(largest))
    }
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
    let given = match design.carcass.bay.named(&mover.bay).map(|it| &it.inside) {
        Some(Inside::Holds { by: Holding::TiltOut { stay, .. }, .. }) => stay.as_ref(),
        _ => None,
    };
    let stay = match given {
        Some(it) => Stay { carcass: out_up(&it.carcass), front: out_up(&it.compartment) },
        None => Stay { carcass: tied, front: tied },
    };
    let holder = given.and_then(|it| {
        let name = it.with.as_ref()?;
        Holder::of(name, design.fittings.get(name)?, if it.both_sides { 2 } else { 1 })
    });
    let own = holder.as_ref().and_then(|it| it.length);
    let length = own.unwrap_or_else(|| match given.map(|it| &it.stop) {
        Some(TiltStop::Long(length)) => length.mm(),
        Some(TiltStop::At(deg)) => stay.span(deg.to_radians()),
        Some(TiltStop::AtLargest) | None => stay.span(opens),
    });
    let lid = given.and_then(|it| it.lid.as_ref()).map(|it| {
        let lid = Lid {
            hinge: out_up(&it.hinge),
            tied: out_up(&it.lid),
            carcass: out_up(&it.carcass),
            pulley: it.pulley.as_ref().map(out_up),
        };
        (lid, lid.length_for(it.starts_deg.to_radians()))
    });
    let whole = front.map_or(body, |it| body.union(&it));
    let clear = laid_section(assembly, &body);
    let spots = [&whole, &clear].map(|it| {
        let (y, z) = (it.range(Axis::Y), it.range(Axis::Z));
        let (a, b) = (spot(z.0.mm(), y.0.mm()), spot(z.1.mm(), y.1.mm()));
        ([a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])])
    });
    Some(TiltOut {
        mover: index,
        id: mover.id.clone(),
        bay: mover.bay.clone(),
        opens_deg,
        hangs,
        empty: Balance::of(&empty, hangs)?,
        full: Balance::of(&full, hangs)?,
        corners,
        stay,
        length,
        holder,
        is_given: given.is_some(),
        spots,
        lid,
    })
}

/// A spot of the design, behind and away from the hinge.
fn out_up(it: &(Length, Length)) -> OutUp {
    [-it.0.mm(), it.1.mm()]
}

/// The section of what stands beside a compartment and can take a string: the sides and uprights next to it.
fn laid_section(assembly: &Assembly, body: &Cuboid) -> Cuboid {
    const BESIDE: Length = Length::from_mm(60);
    let near = body.grown(Direction::LEFT, BESIDE).grown(Direction::RIGHT, BESIDE);
    let beside =
        assembly.parts.iter().filter(|it| matches!(it.role, Role::Side | Role::Upright) && it.cuboid.overlaps(&near));
    beside.map(|it| it.cuboid).reduce(|a, b| a.union(&b)).unwrap_or(*body)
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
