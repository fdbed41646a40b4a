//! Where a lead may run in and behind a piece: what is in its way, and where a hole may be made.

use super::grid::{Door, Space};
use super::{EDGE, HOLE, PLUG};
use crate::assembly::{Assembly, Machining, Motion, Mover, Part};
use crate::checks::{PlacedOpening, place_opening};
use crate::design::{Obstacle, ObstacleKind, Resolved, Role, ThingKind};
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::joinery::{groove_in_world, hole_in_world};
use crate::layout::{LaidThing, Layout};
use crate::length::Length;
use crate::mechanics::air::RADIATOR_DISTANCE;
use crate::moving::{Solid, placed};

/// How far beside and above the piece a lead may run (own choice).
const ROUND: Length = Length::from_mm(100);
/// How far from the wall a lead lies that is clipped to it (own choice: twice as thick as it is).
const ON_WALL: Length = Length::from_mm(20);
/// Room for the hand and the plug on both sides of a hole (own choice).
const HAND: Length = Length::from_mm(15);
/// Positions of a turning part that are looked at, degrees apart: between them nothing stands out by more than 0.02 % of
/// its reach, far less than a lead keeps away.
const STEP_DEG: f64 = 2.0;

/// What is asked.
#[derive(Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) design: &'a Resolved,
    pub(super) layout: &'a Layout,
    pub(super) assembly: &'a Assembly,
    /// The thing whose lead it is.
    pub(super) thing: usize,
    /// Where the lead comes out.
    pub(super) exit: Point,
    /// The socket.
    pub(super) socket: Cuboid,
}

/// What may be done to find a way.
#[derive(Clone, Copy)]
pub(super) struct Leave {
    /// How far the middle of the lead keeps from everything.
    pub(super) clear: Length,
    /// Whether it may cross the air of other appliances.
    pub(super) through_air: bool,
    /// Whether holes may be made.
    pub(super) holes: bool,
}

/// An opening that a plug goes through, with its index in the design.
pub(super) fn ways_through(asked: &Asked<'_>) -> Vec<(usize, PlacedOpening)> {
    let all = asked.design.carcass.openings.iter().enumerate();
    // A grille shuts an opening for a plug.
    all.filter(|(_, it)| it.free >= 1.0 && it.size.0.min(it.size.1) >= PLUG)
        .filter_map(|(index, it)| Some((index, place_opening(asked.layout, asked.assembly, it)?)))
        .collect()
}

impl Asked<'_> {
    fn own_mover(&self) -> Option<usize> {
        self.assembly.movers.iter().position(|it| it.things.contains(&self.thing))
    }

    fn own(&self) -> Option<&LaidThing> {
        self.assembly.things.get(self.thing)
    }

    /// Where the lead begins to run: clear of its appliance.
    pub(super) fn start(&self, clear: Length) -> Point {
        let mut start = self.exit.moved(Direction::REAR, clear);
        if let Some(thing) = self.own() {
            for axis in [Axis::X, Axis::Y] {
                let (low, high) = thing.cuboid.range(axis);
                if low + clear <= high - clear {
                    start = start.with(axis, start.along(axis).max(low + clear).min(high - clear));
                }
            }
        }
        start
    }

    /// Where it ends: on the socket, which may be let into the wall.
    pub(super) fn end(&self, clear: Length) -> Cuboid {
        let it = self.socket;
        let (low, high) = it.range(Axis::Z);
        it.with_range(Axis::Z, (low, high.max(clear)))
    }

    /// The room that there is for a lead.
    pub(super) fn space(&self, leave: Leave) -> Space {
        let opened = ways_through(self);
        let mut solids = self.standing(&opened);
        let parts: Vec<(usize, Cuboid)> = solids.clone();
        let mut blocked: Vec<Cuboid> = solids.drain(..).map(|it| it.1).collect();
        blocked.extend(self.others(leave.through_air));
        blocked.extend(self.open_room(leave.clear));
        let domain = self.domain(leave.clear);
        let doors = if leave.holes { self.doors(leave.clear, &domain, &parts, &blocked, &opened) } else { Vec::new() };
        let blocked = blocked.iter().map(|it| grown(it, leave.clear)).filter(|it| it.overlaps(&domain)).collect();
        Space { domain, blocked, doors }
    }

    /// The rear of the piece and a little round it; never before the middle of its depth, where a lead would hang in sight,
    /// unless appliance or socket are there.
    fn domain(&self, clear: Length) -> Cuboid {
        let envelope = &self.assembly.envelope;
        let site = &self.design.site;
        let reach = |axis: Axis| {
            let ((low, high), it, socket) = (envelope.range(axis), self.exit.along(axis), self.socket.range(axis));
            (low.min(it).min(socket.0) - ROUND, high.max(it).max(socket.1) + ROUND)
        };
        let (mut x, mut y) = (reach(Axis::X), reach(Axis::Y));
        y.0 = clear;
        if let Some(niche) = &site.niche {
            if niche.left_wall {
                x.0 = x.0.max(clear);
            }
            if niche.right_wall {
                x.1 = x.1.min(niche.width - clear);
            }
            if let Some(height) = niche.height {
                y.1 = y.1.min(height - clear);
            }
        }
        let middle = envelope.middle(Axis::Z);
        let front = middle.max(self.exit.z).max(self.end(clear).min.z).min(envelope.max.z - clear);
        Cuboid::from_ranges(x, y, (clear, front.max(clear)))
    }

    /// The room beside and above the piece: there a lead lies on the wall behind, and does not hang before it.
    fn open_room(&self, clear: Length) -> [Cuboid; 3] {
        let far = Length::from_mm(100_000);
        let it = &self.assembly.envelope;
        let z = (ON_WALL.max(self.end(clear).max.z) + clear, far);
        let all = (-far, far);
        [
            Cuboid::from_ranges((-far, it.min.x), all, z),
            Cuboid::from_ranges((it.max.x, far), all, z),
            Cuboid::from_ranges(all, (it.max.y, far), z),
        ]
    }

    /// What stands still of the piece, and of what moves with the appliance: each part without the openings that a plug
    /// goes through.
    fn standing(&self, opened: &[(usize, PlacedOpening)]) -> Vec<(usize, Cuboid)> {
        let own = self.own_mover();
        let moves = |index: usize| {
            self.assembly.movers.iter().enumerate().any(|(at, it)| Some(at) != own && it.parts.contains(&index))
        };
        let parts = self.assembly.parts.iter().enumerate().filter(|(index, _)| !moves(*index));
        parts
            .flat_map(|(index, part)| {
                let mut left = vec![part.cuboid];
                for (_, opening) in opened.iter().filter(|(_, it)| it.part == index) {
                    left = left.iter().flat_map(|it| without(it, &opening.cuboid)).collect();
                }
                left.into_iter().map(move |it| (index, it))
            })
            .collect()
    }

    /// Everything else that is in the way: fittings, things, where moving parts come, and what stands in the room.
    fn others(&self, through_air: bool) -> Vec<Cuboid> {
        let own = self.own_mover();
        let movers = || self.assembly.movers.iter().enumerate().filter(|(at, _)| Some(*at) != own).map(|it| it.1);
        let carried = |fitting: usize| self.assembly.movers.iter().any(|it| it.fittings.contains(&fitting));
        let fittings = self.assembly.fittings.iter().enumerate().filter(|(at, _)| !carried(*at));
        let mut all: Vec<Cuboid> = fittings.map(|(_, it)| it.cuboid).collect();
        all.extend(movers().filter_map(|it| sweep(self.assembly, it)));
        for (index, thing) in self.assembly.things.iter().enumerate() {
            let moved = movers().any(|it| it.things.contains(&index));
            if moved {
                continue;
            }
            let appliance = self.design.things.get(&thing.name).is_some_and(|it| it.kind == ThingKind::Appliance);
            let hot = appliance && index != self.thing && !through_air;
            all.push(if hot { thing.with_air } else { thing.cuboid });
        }
        all.extend(self.design.site.obstacles.iter().filter(|it| it.kind != ObstacleKind::Socket).map(in_the_room));
        all
    }

    /// Panels that a hole can be made in, and where.
    fn doors(
        &self,
        clear: Length,
        domain: &Cuboid,
        parts: &[(usize, Cuboid)],
        blocked: &[Cuboid],
        opened: &[(usize, PlacedOpening)],
    ) -> Vec<Door> {
        let holed = |it: &(usize, &Part)| grown(&it.1.cuboid, clear).overlaps(domain);
        let mut seen: Vec<usize> = parts.iter().map(|it| it.0).collect();
        seen.dedup();
        let each = seen.iter().filter_map(|&it| Some((it, self.assembly.parts.get(it)?)));
        each.filter(holed)
            .filter_map(|(index, part)| {
                let cost = cost(part.role)?;
                let axis = part.world_from_part.thickness_axis();
                let mut within = part.cuboid;
                for side in Axis::ALL.into_iter().filter(|it| *it != axis) {
                    let (low, high) = part.cuboid.range(side);
                    let range = (low + EDGE + HOLE.half(), high - EDGE - HOLE.half());
                    if range.0 > range.1 {
                        return None;
                    }
                    within = within.with_range(side, range);
                }
                let (low, high) = part.cuboid.range(axis);
                let hand = part.cuboid.with_range(axis, (low - HAND, high + HAND));
                let own = |it: &&Cuboid| !part.cuboid.contains(it);
                let mut never: Vec<Cuboid> = blocked
                    .iter()
                    .filter(own)
                    .filter(|it| it.overlaps(&hand))
                    .map(|it| grown(it, HOLE.half() + EDGE))
                    .collect();
                let openings = opened.iter().filter(|(_, it)| it.part == index);
                never.extend(openings.map(|(_, it)| grown(&it.cuboid, HOLE.half() + EDGE)));
                never.extend(machined(part).into_iter().map(|it| grown(&it, HOLE.half() + HAND)));
                let flat = |it: &Cuboid| it.with_range(axis, (low, high));
                let never = merged(never.iter().map(flat).filter(|it| it.overlaps(&flat(&within))).collect());
                Some(Door { axis, across: (low - clear, high + clear), within, never, cost })
            })
            .collect()
    }

    /// The part that a door of the space leads through.
    pub(super) fn part_of(&self, door: &Door, at: Point) -> Option<usize> {
        self.assembly.parts.iter().position(|part| {
            part.world_from_part.thickness_axis() == door.axis
                && Axis::ALL.into_iter().all(|axis| {
                    let (low, high) = part.cuboid.range(axis);
                    if axis == door.axis {
                        door.across.0 < low && high < door.across.1 && (low - door.across.0) == (door.across.1 - high)
                    } else {
                        low <= at.along(axis) && at.along(axis) <= high
                    }
                })
        })
    }
}

/// What a hole in a panel counts: one that is seen is taken only in place of two that are not.
const fn cost(role: Role) -> Option<u32> {
    match role {
        Role::Front | Role::Plinth => None,
        Role::Side | Role::Worktop | Role::Top => Some(3),
        _ => Some(2),
    }
}

/// Boxes put together that make one box: rows of holes become a stripe.
fn merged(mut all: Vec<Cuboid>) -> Vec<Cuboid> {
    let joins = |a: &Cuboid, b: &Cuboid| {
        let same = |axis: &Axis| a.range(*axis) == b.range(*axis);
        let meets = |axis: &Axis| a.range(*axis).0 <= b.range(*axis).1 && b.range(*axis).0 <= a.range(*axis).1;
        Axis::ALL.iter().filter(|axis| same(axis)).count() >= 2 && Axis::ALL.iter().all(meets)
    };
    let mut kept: Vec<Cuboid> = Vec::new();
    while let Some(mut next) = all.pop() {
        while let Some(at) = kept.iter().position(|it| joins(it, &next) || it.contains(&next) || next.contains(it)) {
            next = next.union(&kept.swap_remove(at));
        }
        kept.push(next);
    }
    kept
}

/// Where holes and grooves of a part are.
fn machined(part: &Part) -> Vec<Cuboid> {
    let each = part.machining.iter().filter_map(|it| match it {
        Machining::Hole(hole) => Some(hole_in_world(part, hole).cuboid()),
        Machining::Groove(groove) => groove_in_world(part, groove),
    });
    each.collect()
}

/// The box round all positions of what moves, things and fittings with it.
fn sweep(assembly: &Assembly, mover: &Mover) -> Option<Cuboid> {
    let parts = mover.parts.iter().filter_map(|&it| Some(assembly.parts.get(it)?.cuboid));
    let things = mover.things.iter().filter_map(|&it| Some(assembly.things.get(it)?.cuboid));
    let fittings = mover.fittings.iter().filter_map(|&it| Some(assembly.fittings.get(it)?.cuboid));
    let all: Vec<Cuboid> = parts.chain(things).chain(fittings).collect();
    let shut = all.iter().copied().reduce(|a, b| a.union(&b))?;
    match mover.motion {
        Motion::Slide { direction, travel } => Some(shut.union(&shut.moved(direction, travel))),
        Motion::Turn { opens_deg, .. } => {
            let steps = (opens_deg.abs() / STEP_DEG).ceil().clamp(1.0, 360.0) as u32;
            let positions = all.iter().flat_map(|body| {
                let body = Solid::from(body);
                (0..=steps).map(move |step| {
                    bounds(&placed(&body, &mover.motion, opens_deg * f64::from(step) / f64::from(steps)))
                })
            });
            Some(positions.fold(shut, |whole, it| whole.union(&it)))
        }
    }
}

fn bounds(solid: &Solid) -> Cuboid {
    let range = |axis: Axis| {
        let (low, high) = solid.range(axis);
        (Length::from_mm_f64(low), Length::from_mm_f64(high))
    };
    Cuboid::from_ranges(range(Axis::X), range(Axis::Y), range(Axis::Z))
}

/// The box of an obstacle; of a heater with what a lead keeps away from it.
fn in_the_room(it: &Obstacle<Length>) -> Cuboid {
    let min = Point::new(it.corner.0, it.corner.1, it.corner.2);
    let own = Cuboid::between(min, Point::new(min.x + it.size.0, min.y + it.size.1, min.z + it.size.2));
    if it.kind == ObstacleKind::Radiator { grown(&own, Length::from_mm_f64(RADIATOR_DISTANCE.0)) } else { own }
}

/// A box grown on all sides.
pub(super) fn grown(it: &Cuboid, by: Length) -> Cuboid {
    Axis::ALL.into_iter().fold(*it, |all, axis| {
        let (low, high) = all.range(axis);
        all.with_range(axis, (low - by, high + by))
    })
}

/// What is left of a box beside another, as boxes.
fn without(it: &Cuboid, hole: &Cuboid) -> Vec<Cuboid> {
    if !it.overlaps(hole) {
        return vec![*it];
    }
    let mut left = Vec::new();
    let mut rest = *it;
    for axis in Axis::ALL {
        let (low, high) = rest.range(axis);
        let (from, to) = hole.range(axis);
        if low < from {
            left.push(rest.with_range(axis, (low, from)));
        }
        if to < high {
            left.push(rest.with_range(axis, (to, high)));
        }
        rest = rest.with_range(axis, (low.max(from), high.min(to)));
    }
    left
}
