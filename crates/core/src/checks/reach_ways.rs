//! The ways on which an arm may come to a plug or valve: straight from any point of the front, or with one bend, and what
//! stands in them. Arm and hand have a thickness; a way lies in the middle of it.

use super::context::Context;
use super::openings::{PlacedOpening, place_opening};
use crate::assembly::Assembly;
use crate::design::Role;
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;

/// The steps in which points of the front are tried, mm.
const STEP_MM: f64 = 50.0;
/// How thick an arm is, mm (common practice: a bare forearm).
pub(super) const ARM_MM: f64 = 80.0;
/// How thick a hand is where it is laid flat round a plug, mm (common practice).
pub(super) const HAND_FLAT_MM: f64 = 40.0;
/// How long a hand is: so much of a way before its end is a hand's, the rest an arm's, mm (common practice).
const HAND_LONG_MM: f64 = 180.0;
/// The least width and height of an opening that a hand with a plug goes through, mm (common practice: about 90 mm).
const HAND_MM: f64 = 90.0;

/// A spot, mm.
pub(super) type Spot = [f64; 3];

/// A way from the front to what is reached, with what stands in it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Way {
    /// Where it enters the piece.
    pub(super) from: Spot,
    /// How long it is, mm.
    pub(super) length: f64,
    /// How often it bends.
    pub(super) bends: u32,
    /// The first part that stands still in it.
    pub(super) blocked: Option<usize>,
    /// What moves and stands in it.
    pub(super) movers: Vec<usize>,
    /// The things that stand still in it.
    pub(super) things: Vec<usize>,
}

/// What may stand in a way.
enum What {
    Part(usize),
    Mover(usize),
    Thing(usize),
}

struct Body {
    what: What,
    ranges: [(f64, f64); 3],
    /// The openings in it that a hand goes through, without end along the thickness of the part.
    openings: Vec<[(f64, f64); 3]>,
}

/// A straight piece of a way, and half the thickness of what lies in it, mm.
#[derive(Clone, Copy)]
struct Leg {
    from: Spot,
    to: Spot,
    half: f64,
}

/// All that may stand in the ways of a piece.
pub(super) struct Ways {
    bodies: Vec<Body>,
    /// The area of the front, and the plane before its fronts.
    across: [(f64, f64); 2],
    front: f64,
    /// Where an arm goes in best, whatever the steps: the middles of what bays have free beside and over their things, and
    /// of openings, along the wall and up.
    middles: [Vec<f64>; 2],
}

fn ranges(cuboid: &Cuboid) -> [(f64, f64); 3] {
    Axis::ALL.map(|axis| {
        let (low, high) = cuboid.range(axis);
        (low.mm(), high.mm())
    })
}

/// The middles of what the bays have free beside and over their things, and of openings, along an axis.
fn middles(context: &Context<'_>, openings: &[PlacedOpening], axis: Axis) -> Vec<f64> {
    let middle = |low: Length, high: Length| (low + high).mm() / 2.0;
    let mut all: Vec<f64> = openings.iter().map(|it| it.cuboid.range(axis)).map(|it| middle(it.0, it.1)).collect();
    for (index, bay) in context.layout.bays.iter().enumerate().filter(|(_, it)| it.is_leaf) {
        let (low, high) = bay.clear.range(axis);
        let inside = context.assembly.things.iter().filter(|it| it.bay == index).map(|it| it.cuboid);
        match inside.reduce(|a, b| a.union(&b)).map(|it| it.range(axis)) {
            Some(things) => all.extend([middle(low, things.0), middle(things.1, high)]),
            None => all.push(middle(low, high)),
        }
    }
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

impl Ways {
    /// Of a piece. A back is no obstacle: what it leaves open is not looked at, and another check speaks of sockets behind it.
    pub(super) fn of(context: &Context<'_>) -> Self {
        let Assembly { parts, things, movers, envelope, .. } = context.assembly;
        let placed = context.design.carcass.openings.iter();
        let placed = placed.filter_map(|it| place_opening(context.layout, context.assembly, it));
        let placed: Vec<PlacedOpening> = placed.collect();
        // Openings in a part that a hand goes through, which go right through it.
        let opening = |index: usize| {
            let through = parts.get(index).map(|it| it.world_from_part.thickness_axis());
            let wide =
                |it: &Cuboid| Axis::ALL.into_iter().all(|axis| Some(axis) == through || it.size(axis).mm() >= HAND_MM);
            let open = |it: &Cuboid| {
                let mut all = ranges(it);
                for (axis, range) in Axis::ALL.into_iter().zip(&mut all) {
                    if Some(axis) == through {
                        *range = (f64::NEG_INFINITY, f64::INFINITY);
                    }
                }
                all
            };
            let own = placed.iter().filter(|it| it.part == index).map(|it| &it.cuboid);
            own.filter(|it| wide(it)).map(open).collect()
        };
        let still = context.still().filter(|(_, it)| it.role != Role::Back).map(|(index, it)| Body {
            what: What::Part(index),
            ranges: ranges(&it.cuboid),
            openings: opening(index),
        });
        let body = |what: What, cuboid: &Cuboid| Body { what, ranges: ranges(cuboid), openings: Vec::new() };
        let moving = movers.iter().enumerate().flat_map(|(index, mover)| {
            let parts = mover.parts.iter().filter_map(|&it| parts.get(it)).map(|it| it.cuboid);
            let own = mover.things.iter().filter_map(|&it| things.get(it)).map(|it| it.cuboid);
            parts.chain(own).map(move |it| body(What::Mover(index), &it))
        });
        let alone = things.iter().enumerate().filter(|(index, _)| context.mover_of_thing(*index).is_none());
        let alone = alone.map(|(index, it)| body(What::Thing(index), &it.cuboid));
        let fronts = parts.iter().filter(|it| it.role == Role::Front).map(|it| it.cuboid.max.z);
        let front = fronts.fold(envelope.max.z, std::cmp::Ord::max).mm();
        let [x, y, _] = ranges(envelope);
        let middles = [Axis::X, Axis::Y].map(|axis| middles(context, &placed, axis));
        Self { bodies: still.chain(moving).chain(alone).collect(), across: [x, y], front, middles }
    }

    /// The straight ways to a spot from points of the front so far off at most, the one straight from the front first.
    pub(super) fn straight(&self, to: Spot, most: f64) -> Vec<Way> {
        self.starts(to, most).into_iter().map(|from| self.look(&[from, to], HAND_LONG_MM)).collect()
    }

    /// The ways that go straight in from a point of the front, bend once, and end at the spot, so long at most.
    pub(super) fn bent(&self, to: Spot, most: f64) -> Vec<Way> {
        let mut all = Vec::new();
        for from in self.starts(to, most) {
            let mut deep = STEP_MM;
            while self.front - deep > to[2] {
                let knee = [from[0], from[1], self.front - deep];
                // What closes the way to here even to a hand closes it to all that lies deeper.
                if self.look(&[from, knee], f64::INFINITY).blocked.is_some() {
                    break;
                }
                if apart(from, knee) + apart(knee, to) <= most {
                    all.push(self.look(&[from, knee, to], HAND_LONG_MM));
                }
                deep += STEP_MM;
            }
        }
        all
    }

    fn starts(&self, to: Spot, most: f64) -> Vec<Spot> {
        let steps = (most / STEP_MM).floor() as i32;
        let along = |to: f64, (low, high): (f64, f64), middles: &[f64]| -> Vec<f64> {
            let steps = (-steps..=steps).map(|i| to + f64::from(i) * STEP_MM);
            steps.chain(middles.iter().copied()).filter(|it| (low..=high).contains(it)).collect()
        };
        let ([across, up], [beside, over]) = (self.across, &self.middles);
        let (xs, ys) = (along(to[0], across, beside), along(to[1], up, over));
        let mut all: Vec<Spot> = xs
            .iter()
            .flat_map(|&x| ys.iter().map(move |&y| [x, y, self.front.max(to[2])]))
            .filter(|it| apart(*it, to) <= most)
            .collect();
        all.sort_by(|a, b| apart(*a, to).total_cmp(&apart(*b, to)));
        // However deep it lies, straight from the front is looked along.
        let direct = [to[0], to[1], self.front.max(to[2])];
        if all.first() != Some(&direct) {
            all.insert(0, direct);
        }
        all
    }

    fn look(&self, points: &[Spot], hand: f64) -> Way {
        let legs = legs(points, hand);
        let mut way = Way {
            from: points.first().copied().unwrap_or_default(),
            length: legs.iter().map(|it| apart(it.from, it.to)).sum(),
            bends: u32::try_from(points.len().saturating_sub(2)).unwrap_or_default(),
            blocked: None,
            movers: Vec::new(),
            things: Vec::new(),
        };
        for body in &self.bodies {
            if !legs.iter().any(|it| body.stands_in(it)) {
                continue;
            }
            match body.what {
                What::Part(index) => way.blocked = way.blocked.or(Some(index)),
                What::Mover(index) if !way.movers.contains(&index) => way.movers.push(index),
                What::Thing(index) => way.things.push(index),
                What::Mover(_) => {}
            }
        }
        way
    }
}

impl Body {
    fn stands_in(&self, leg: &Leg) -> bool {
        let Leg { from: a, to: b, half } = *leg;
        let grown = self.ranges.map(|it| (it.0 - half, it.1 + half));
        let Some(round) = within(a, b, &grown) else { return false };
        // Through an opening both where it enters and where it leaves the thickness of the part.
        let passes = |hole: &[(f64, f64); 3]| {
            let mut thick = grown;
            for ((thick, own), hole) in thick.iter_mut().zip(self.ranges).zip(hole) {
                if hole.0 == f64::NEG_INFINITY {
                    *thick = own;
                }
            }
            let (enters, leaves) = within(a, b, &thick).unwrap_or(round);
            [enters, leaves].into_iter().all(|t| {
                (0..3).zip(hole).all(|(axis, range)| {
                    let at = at(a, b, axis, t);
                    range.0 + half <= at && at <= range.1 - half
                })
            })
        };
        !self.openings.iter().any(passes)
    }
}

/// The straight pieces of a way, of which the last `hand` mm are a hand's.
fn legs(points: &[Spot], hand: f64) -> Vec<Leg> {
    let (arm, flat) = (ARM_MM / 2.0, HAND_FLAT_MM / 2.0);
    let mut left = hand;
    let mut all = Vec::new();
    for pair in points.windows(2).rev() {
        let [from, to] = *pair else { continue };
        let length = apart(from, to);
        if left <= 0.0 {
            all.push(Leg { from, to, half: arm });
        } else if left >= length {
            all.push(Leg { from, to, half: flat });
        } else {
            let wrist = [0, 1, 2].map(|axis| at(from, to, axis, 1.0 - left / length));
            all.extend([Leg { from: wrist, to, half: flat }, Leg { from, to: wrist, half: arm }]);
        }
        left -= length;
    }
    all
}

fn at(a: Spot, b: Spot, axis: usize, t: f64) -> f64 {
    let get = |it: Spot| it.get(axis).copied().unwrap_or_default();
    get(a) + (get(b) - get(a)) * t
}

/// From where to where of a straight piece lies within a box, as shares of it; none if nothing does.
fn within(a: Spot, b: Spot, ranges: &[(f64, f64); 3]) -> Option<(f64, f64)> {
    let (mut low, mut high) = (0.0_f64, 1.0_f64);
    for ((from, to), range) in a.into_iter().zip(b).zip(ranges) {
        let way = to - from;
        if way == 0.0 {
            if from <= range.0 || from >= range.1 {
                return None;
            }
            continue;
        }
        let (one, two) = ((range.0 - from) / way, (range.1 - from) / way);
        low = low.max(one.min(two));
        high = high.min(one.max(two));
    }
    (high - low > 1e-9).then_some((low, high))
}

fn apart(a: Spot, b: Spot) -> f64 {
    a.into_iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt()
}
