//! The tilting compartments of a built piece, and its flaps with a stay: their corners, weights and what holds them.

use super::given::out_up;
use super::{Balance, FRICTION_NMM, Given, Holder, Leaning, Lid, OutUp, Phase, Stay, Weight, phases};
use crate::assembly::{Assembly, Motion, Mover, Part};
use crate::design::{Holding, Inside, Resolved, Role};
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::length::Length;

/// How far behind the front edge of the carcass a string is taken to be tied (own choice).
const TIED_BEHIND_MM: f64 = 60.0;
/// How far behind a flap a bracket may hold the end of its stay (common practice).
const MOUNT_BEHIND: Length = Length::from_mm(40);
/// At which share of the height of the compartment (own choice).
const TIED_AT_SHARE: f64 = 0.75;

/// A tilting compartment, or a flap with a stay, in its section.
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
    /// Whether it is a flap, with nothing in it.
    pub is_flap: bool,
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
    /// The stay, damper or strut of the design that is there in the place of a string.
    pub holder: Option<Holder>,
    /// Whether there is one at each side; one at the left if not.
    pub both_sides: bool,
    /// Whether the design gives it.
    pub is_given: bool,
    /// Where its ends may be: the section of the compartment or flap, and that of the opening that it stands in, least and most.
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

    /// The moment that turns it at an angle with what is fitted, N mm; positive opens.
    #[must_use]
    pub fn net_nmm(&self, balance: &Balance, angle_rad: f64) -> f64 {
        match &self.holder {
            Some(holder) => holder.net_nmm(balance, &self.stay, angle_rad),
            None => balance.moment_nmm(angle_rad),
        }
    }

    /// What it does when it is let go at an angle with what is fitted; a string holds nothing before it is taut.
    #[must_use]
    pub fn leaning(&self, balance: &Balance, angle_rad: f64) -> Leaning {
        match &self.holder {
            Some(holder) => holder.leaning(balance, &self.stay, angle_rad),
            None => balance.leaning(angle_rad, FRICTION_NMM),
        }
    }

    /// Its section.
    #[must_use]
    pub(crate) fn section(&self, assembly: &Assembly) -> Option<Section> {
        let Motion::Turn { pivot, .. } = assembly.movers.get(self.mover)?.motion else { return None };
        Some(Section { pivot, hangs: self.hangs })
    }

    /// Its two ends, on the carcass and on what turns, when that has turned by an angle: height and depth in the world, mm.
    #[must_use]
    pub fn ends_at(&self, assembly: &Assembly, angle_rad: f64) -> Option<[(f64, f64); 2]> {
        let section = self.section(assembly)?;
        Some([self.stay.carcass, super::tilted(self.stay.front, angle_rad)].map(|spot| section.world(spot)))
    }

    /// The same over all angles as far as it opens.
    #[must_use]
    pub fn phases(&self, balance: &Balance) -> Vec<Phase> {
        phases(self.stops_at(), |angle| self.leaning(balance, angle))
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
    let parts: Vec<&Part> = mover.parts.iter().filter_map(|&it| assembly.parts.get(it)).collect();
    let bay = design.carcass.bay.named(&mover.bay)?;
    let is_flap = !parts.iter().any(|it| it.role == Role::BinSide);
    let given = if is_flap { Given::of_flap(bay) } else { Given::of_compartment(bay) };
    if is_flap && given.is_none() {
        return None;
    }
    let hangs = axis.negative;
    let section = Section { pivot, hangs };
    let mut empty: Vec<Weight> =
        parts.iter().map(|it| Weight { mass_kg: it.mass_kg, at: section.centre(&it.cuboid) }).collect();
    let mut full = empty.clone();
    for laid in mover.things.iter().filter_map(|&it| assembly.things.get(it)) {
        let Some(thing) = design.things.get(&laid.name) else { continue };
        let at = section.centre(&laid.cuboid);
        empty.push(Weight { mass_kg: thing.mass_kg, at });
        full.push(Weight { mass_kg: thing.mass_kg + thing.load_kg, at });
    }
    let body = parts.iter().filter(|it| it.role != Role::Front).map(|it| it.cuboid).reduce(|a, b| a.union(&b));
    let front = parts.iter().find(|it| it.role == Role::Front).map(|it| it.cuboid);
    let opens = opens_deg.to_radians();
    let whole = match (body, front) {
        (Some(body), Some(front)) => body.union(&front),
        (body, front) => body.or(front)?,
    };
    let corner = |name: &'static str, at: OutUp, of: &Cuboid| {
        let highest = highest(at, opens);
        let depth = pivot.z.mm() + super::tilted(at, highest.1)[0];
        let ceiling = section.ceiling(assembly, mover, of, depth);
        CornerWay { name, at, radius: at[0].hypot(at[1]), highest, free: ceiling - highest.0 }
    };
    let mut corners = Vec::new();
    let stay = given.map(|it| it.stay());
    let mut proposed = None;
    if let Some(body) = body {
        let [rear_near, rear_far, front_far] = section.corners(&body);
        let (near, far) =
            if hangs { ("upper rear corner", "lower rear corner") } else { ("lower rear corner", "upper rear corner") };
        let front_name = if hangs { "lower front corner" } else { "upper front corner" };
        corners.extend([
            corner(near, rear_near, &body),
            corner(far, rear_far, &body),
            corner(front_name, front_far, &body),
        ]);
        let tied = [(front_far[0].min(0.0) - TIED_BEHIND_MM).max(rear_far[0]), rear_far[1] * TIED_AT_SHARE];
        proposed = Some(Stay { carcass: tied, front: tied });
    }
    if let Some(front) = front {
        let [_, inner, outer] = section.corners(&front);
        corners.push(corner("inner far edge of the front", inner, &front));
        corners.push(corner("outer far edge of the front", outer, &front));
    }
    let stay = stay.or(proposed)?;
    let lid = match &bay.inside {
        Inside::Holds { by: Holding::TiltOut { stay: Some(stay), .. }, .. } if !is_flap => stay.lid.as_ref(),
        _ => None,
    };
    let lid = lid.map(|it| {
        let lid = Lid {
            hinge: out_up(&it.hinge),
            tied: out_up(&it.lid),
            carcass: out_up(&it.carcass),
            pulley: it.pulley.as_ref().map(out_up),
        };
        (lid, lid.length_for(it.starts_deg.to_radians()))
    });
    let behind = if is_flap { MOUNT_BEHIND } else { Length::ZERO };
    let spots = [&whole.grown(Direction::REAR, behind), &laid_section(assembly, &body.unwrap_or(whole))];
    Some(TiltOut {
        mover: index,
        id: mover.id.clone(),
        bay: mover.bay.clone(),
        opens_deg,
        hangs,
        is_flap,
        empty: Balance::of(&empty, hangs)?,
        full: Balance::of(&full, hangs)?,
        corners,
        stay,
        length: given.map_or_else(|| stay.span(opens), |it| it.length(design, opens)),
        holder: given.and_then(|it| it.holder(design)),
        both_sides: given.is_some_and(|it| it.both_sides),
        is_given: given.is_some(),
        spots: spots.map(|it| section.span(it)),
        lid,
    })
}

/// The side section of what turns: out from its hinge, and up from it, or down where it hangs.
#[derive(Clone, Copy)]
pub(crate) struct Section {
    /// A point of the hinge axis.
    pub(crate) pivot: Point,
    /// Whether it hangs.
    pub(crate) hangs: bool,
}

impl Section {
    /// A spot by its place in depth and height, mm.
    fn spot(self, z: f64, y: f64) -> OutUp {
        [z - self.pivot.z.mm(), (y - self.pivot.y.mm()) * if self.hangs { -1.0 } else { 1.0 }]
    }

    /// The height and depth of a spot in the world, mm.
    pub(crate) fn world(self, [out, up]: OutUp) -> (f64, f64) {
        (self.pivot.y.mm() + up * if self.hangs { -1.0 } else { 1.0 }, self.pivot.z.mm() + out)
    }

    fn centre(self, it: &Cuboid) -> OutUp {
        let middle = |axis: Axis| (it.range(axis).0.mm() + it.range(axis).1.mm()) / 2.0;
        self.spot(middle(Axis::Z), middle(Axis::Y))
    }

    /// The least and the most corner of a box.
    pub(crate) fn span(self, it: &Cuboid) -> (OutUp, OutUp) {
        let (y, z) = (it.range(Axis::Y), it.range(Axis::Z));
        let (a, b) = (self.spot(z.0.mm(), y.0.mm()), self.spot(z.1.mm(), y.1.mm()));
        ([a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])])
    }

    /// The corners at the rear near the hinge, at the rear far from it, and in front far from it.
    fn corners(self, it: &Cuboid) -> [OutUp; 3] {
        let (y, z) = (it.range(Axis::Y), it.range(Axis::Z));
        let (near, far) = if self.hangs { (y.1, y.0) } else { (y.0, y.1) };
        [(z.0, near), (z.0, far), (z.1, far)].map(|(z, y)| self.spot(z.mm(), y.mm()))
    }

    /// How high over (under) the hinge something that stands still, or shut, begins over the way of a body at a depth: what
    /// lies beyond the body and meets the corner's place in depth there.
    fn ceiling(self, assembly: &Assembly, mover: &Mover, body: &Cuboid, depth: f64) -> f64 {
        let pivot = self.pivot;
        let meets = |it: &Cuboid| {
            let there = body.with_range(Axis::Y, it.range(Axis::Y)).with_range(Axis::Z, it.range(Axis::Z));
            let (rear, front) = it.range(Axis::Z);
            it.overlaps(&there) && (rear.mm()..=front.mm()).contains(&depth)
        };
        let others = assembly.parts.iter().enumerate().filter(|(at, _)| !mover.parts.contains(at));
        others
            .map(|(_, it)| it.cuboid)
            .filter(meets)
            .filter_map(|it| {
                let (low, high) = it.range(Axis::Y);
                if self.hangs {
                    (high <= body.min.y).then(|| (pivot.y - high).mm())
                } else {
                    (low >= body.max.y).then(|| (low - pivot.y).mm())
                }
            })
            .fold(f64::INFINITY, f64::min)
    }
}

/// The section of what stands beside a compartment and can take a string: the sides and uprights next to it.
fn laid_section(assembly: &Assembly, body: &Cuboid) -> Cuboid {
    const BESIDE: Length = Length::from_mm(60);
    // A flap lies before the sides.
    let near = body.grown(Direction::LEFT, BESIDE).grown(Direction::RIGHT, BESIDE).grown(Direction::REAR, BESIDE);
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
