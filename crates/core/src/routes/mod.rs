//! The way of each lead from its appliance to the socket: along which panels, through which openings, and where a new one
//! has to be made.
//!
//! A lead runs along the axes, clear of panels, slides, of what moves and where it comes, and of heaters; in the rear half
//! of the piece or behind it. It needs no opening where there is a gap that it fits through; else it takes openings that a
//! plug goes through; else a hole is put where it makes the fewest holes, then the shortest way, and that hole is tried by
//! looking for the way once more. What is said here is no wiring: fixed wiring is for licensed people, by local code.

mod grid;
mod space;

#[cfg(test)]
mod tests;

use serde::Serialize;

use crate::assembly::{Assembly, Motion};
use crate::checks::place_opening;
use crate::design::{Lead, ObstacleKind, Opening, Resolved};
use crate::geometry::{Axis, Cuboid, Point};
use crate::layout::{LaidThing, Layout};
use crate::length::Length;

use grid::{Found, Space, TooMuch, shortest, straight};
use space::{Asked, Leave, ways_through};

/// What bends, the plug and a little slack take of a lead (common practice).
pub const SLACK: Length = Length::from_mm(150);
/// How thick a lead with its sheath is at most (common practice: mains leads of appliances are 7 to 9 mm thick).
pub const THICK: Length = Length::from_mm(10);
/// The least opening that a plug goes through (common practice: mains plugs are 40 to 50 mm across).
pub const PLUG: Length = Length::from_mm(50);
/// The usual hole for a lead and its plug, closed by a grommet (common practice).
pub const HOLE: Length = Length::from_mm(60);
/// What stays of a panel beside a hole (common practice, as for openings for air).
pub const EDGE: Length = Length::from_mm(20);

/// From the middle of a lead to whatever it must not be pressed by.
const CLEAR: Length = THICK.half();

/// The way of the lead of one appliance.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeadRoute {
    /// The thing, an index into [`Assembly::things`].
    pub thing: usize,
    /// The socket, an index into the obstacles of the site.
    pub socket: usize,
    /// Where the lead comes out.
    pub exit: Point,
    /// How far the thing is pulled out with its lead.
    pub travel: Length,
    /// How long the lead is.
    pub lead: Length,
    /// The way along the axes if nothing were in it.
    pub straight: Length,
    /// The way; none if there is none even with holes, or it was not looked for.
    pub way: Option<Way>,
    /// Whether the piece has too many faces to look for a way: nothing is known of it.
    pub unsought: bool,
    /// Where there is no way without new holes: the widest gap on one that would pinch the lead; none if there is no gap.
    pub pinched: Option<Length>,
}

impl LeadRoute {
    /// How long the lead must be: the way, slack, and how far it is pulled out.
    #[must_use]
    pub fn need(&self) -> Length {
        self.way.as_ref().map_or(self.straight, |it| it.length) + SLACK + self.travel
    }

    /// Whether holes have to be made that the design does not have, or there is known to be no way at all.
    #[must_use]
    pub fn is_shut_in(&self) -> bool {
        match &self.way {
            Some(way) => way.passes.iter().any(|it| it.opening.is_none()),
            None => !self.unsought,
        }
    }
}

/// A way that a lead can take.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Way {
    /// From where the lead comes out to the socket, with every corner.
    pub points: Vec<Point>,
    /// How long it is.
    pub length: Length,
    /// The panels that it goes through, in this order.
    pub passes: Vec<Pass>,
    /// Appliances through whose air it runs, indices into [`Assembly::things`].
    pub past: Vec<usize>,
}

/// Where a lead goes through a panel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pass {
    /// The panel, an index into [`Assembly::parts`].
    pub part: usize,
    /// The middle of the lead in it.
    pub at: Point,
    /// The opening that it uses, an index into the openings of the design; none if a hole has to be made.
    pub opening: Option<usize>,
    /// The entry for the design that makes the hole; none where openings of the design cannot say it.
    pub entry: Option<Opening<Length>>,
    /// Whether the way was found through that entry when it was tried.
    pub tried: bool,
}

/// The ways of all leads that have a socket, in the order of the things.
#[must_use]
pub fn routes(design: &Resolved, layout: &Layout, assembly: &Assembly) -> Vec<LeadRoute> {
    let things = assembly.things.iter().enumerate();
    things
        .filter_map(|(index, thing)| {
            let lead = design.things.get(&thing.name)?.lead.as_ref()?;
            let named = |name: &str| lead.socket.as_deref().is_none_or(|wanted| wanted == name);
            let sockets = design.site.obstacles.iter().enumerate();
            let sockets = sockets.filter(|(_, it)| it.kind == ObstacleKind::Socket && named(&it.name));
            let each = sockets.map(|(socket, it)| {
                let min = Point::new(it.corner.0, it.corner.1, it.corner.2);
                let max = Point::new(min.x + it.size.0, min.y + it.size.1, min.z + it.size.2);
                let exit = exit(thing, lead);
                let asked = Asked { design, layout, assembly, thing: index, exit, socket: Cuboid::between(min, max) };
                let Sought { way, pinched, unsought } = seek(&asked);
                LeadRoute {
                    thing: index,
                    socket,
                    exit,
                    travel: travel(assembly, index),
                    lead: lead.length,
                    straight: straight(exit, &asked.socket),
                    way,
                    unsought,
                    pinched,
                }
            });
            // What the lead is long enough for first, then what needs no hole, then the shortest.
            let worth = |it: &LeadRoute| (it.need() > it.lead, it.way.is_none(), it.is_shut_in(), it.need());
            each.min_by_key(worth)
        })
        .collect()
}

/// Where the lead comes out: in the rear of the thing; of one that is turned in the middle of it.
fn exit(thing: &LaidThing, lead: &Lead<Length>) -> Point {
    let it = &thing.cuboid;
    let x = match lead.from_left {
        Some(from_left) if !thing.turned => it.min.x + from_left,
        _ => (it.min.x + it.max.x).half(),
    };
    Point::new(x, it.min.y + lead.from_below.unwrap_or_default(), it.min.z)
}

/// How far the thing is pulled out with its lead.
pub(crate) fn travel(assembly: &Assembly, thing: usize) -> Length {
    let mover = assembly.movers.iter().find(|it| it.things.contains(&thing));
    match mover.map(|it| it.motion) {
        Some(Motion::Slide { travel, .. }) => travel,
        _ => Length::ZERO,
    }
}

/// What came of looking for a way.
struct Sought {
    /// The best way; none if there is none, or it was not looked for.
    way: Option<Way>,
    /// Where a way needs new holes, the widest gap that would do without but pinches the lead.
    pinched: Option<Length>,
    /// Whether there was too much to look through.
    unsought: bool,
}

/// The best way.
fn seek(asked: &Asked<'_>) -> Sought {
    match open_way(asked, CLEAR) {
        Ok(None) => {}
        Ok(way) => return Sought { way, pinched: None, unsought: false },
        Err(TooMuch) => return Sought { way: None, pinched: None, unsought: true },
    }
    let pinched = narrow(asked);
    let found = [false, true].into_iter().find_map(|through_air| {
        let leave = Leave { clear: CLEAR, through_air, holes: true };
        let space = asked.space(leave);
        // Where holes make it too much to look through, it is known all the same that there is no way without them.
        Some((found(asked, &space, CLEAR).ok().flatten()?, space))
    });
    let way = found.map(|(found, space)| {
        let mut way = said(asked, &found);
        let (length, passes) = (way.length, &mut way.passes);
        for (door, at) in &found.doors {
            let Some(door) = space.doors.get(*door) else { continue };
            let at = at.with(door.axis, (door.across.0 + door.across.1).half());
            let Some(part) = asked.part_of(door, at) else { continue };
            let entry = entry(asked, part, at, door.axis);
            passes.push(Pass { part, at, opening: None, entry, tried: false });
        }
        let new = || way.passes.iter().filter(|it| it.opening.is_none());
        if new().all(|it| it.entry.is_some()) {
            // The holes are made, and the way is looked for once more.
            let mut design = asked.design.clone();
            design.carcass.openings.extend(new().filter_map(|it| it.entry.clone()));
            let again = open_way(&Asked { design: &design, ..*asked }, CLEAR);
            let tried = again.ok().flatten().is_some_and(|it| it.length <= length);
            way.passes.iter_mut().filter(|it| it.opening.is_none()).for_each(|it| it.tried = tried);
        }
        let order = |it: &Pass| way.points.windows(2).position(|pair| is_on(pair, it.at));
        let mut passes: Vec<(Option<usize>, Pass)> = way.passes.iter().map(|it| (order(it), it.clone())).collect();
        passes.sort_by_key(|it| it.0);
        way.passes = passes.into_iter().map(|it| it.1).collect();
        way
    });
    Sought { way, pinched, unsought: false }
}

/// The best way without new holes: if there is one, clear of the air of other appliances.
fn open_way(asked: &Asked<'_>, clear: Length) -> Result<Option<Way>, TooMuch> {
    let through = |through_air| {
        let space = asked.space(Leave { clear, through_air, holes: false });
        found(asked, &space, clear)
    };
    let found = match through(false) {
        Ok(Some(found)) => Some(found),
        Ok(None) | Err(TooMuch) => through(true)?,
    };
    Ok(found.map(|it| said(asked, &it)))
}

fn found(asked: &Asked<'_>, space: &Space, clear: Length) -> Result<Option<Found>, TooMuch> {
    shortest(space, asked.start(clear), &asked.end(clear))
}

/// The widest gap in steps of a millimetre that a lead without thickness would still come through.
fn narrow(asked: &Asked<'_>) -> Option<Length> {
    let widest = (1..THICK.nm() / 1_000_000).rev().map(Length::from_mm);
    let mut gaps: Vec<Length> = widest.collect();
    // What a wide gap lets through, a narrow one does too: halve the list until one is left.
    let passes = |gap: Length| open_way(asked, gap.half()).is_ok_and(|it| it.is_some());
    if !gaps.last().copied().is_some_and(passes) {
        return None;
    }
    while gaps.len() > 1 {
        let (wide, narrow) = gaps.split_at(gaps.len() / 2);
        gaps = if wide.last().copied().is_some_and(passes) { wide.to_vec() } else { narrow.to_vec() };
    }
    gaps.first().copied()
}

/// A way with its ends at the appliance and the openings that it uses.
fn said(asked: &Asked<'_>, found: &Found) -> Way {
    let mut points = found.points.clone();
    let length = match points.first().copied() {
        Some(first) => {
            let begin = straight(first, &Cuboid::between(asked.exit, asked.exit));
            // From the mouth of the lead sideways or up before it leaves the appliance's rear, as the corners say.
            let mut lead_in = vec![asked.exit];
            for axis in [Axis::Z, Axis::X, Axis::Y] {
                let next = lead_in.last().copied().unwrap_or_default().with(axis, first.along(axis));
                if lead_in.last() != Some(&next) {
                    lead_in.push(next);
                }
            }
            lead_in.pop();
            lead_in.append(&mut points);
            points = lead_in;
            found.length + begin
        }
        None => found.length,
    };
    let openings = ways_through(asked);
    let passes = openings.iter().filter_map(|(index, it)| {
        let part = asked.assembly.parts.get(it.part)?;
        let axis = part.world_from_part.thickness_axis();
        let middle = it.cuboid.middle(axis);
        let at = points.windows(2).find_map(|pair| {
            let [a, b] = pair else { return None };
            let stretch = Cuboid::between(*a, *b);
            let crosses = stretch.range(axis).0 <= middle && middle <= stretch.range(axis).1;
            let inside = Axis::ALL.into_iter().filter(|it| *it != axis).all(|side| {
                let ((low, high), at) = (it.cuboid.range(side), a.along(side));
                low < at && at < high
            });
            (crosses && inside && a.along(axis) != b.along(axis)).then(|| a.with(axis, middle))
        })?;
        Some(Pass { part: it.part, at, opening: Some(*index), entry: None, tried: false })
    });
    let passes = passes.collect();
    let past = asked.assembly.things.iter().enumerate().filter(|(index, thing)| {
        let appliance = asked.design.things.get(&thing.name).map(|it| it.kind);
        let meets = |pair: &[Point]| matches!(pair, [a, b] if touches(&thing.with_air, &Cuboid::between(*a, *b)));
        *index != asked.thing && appliance == Some(crate::design::ThingKind::Appliance) && points.windows(2).any(meets)
    });
    let past = past.map(|it| it.0).collect();
    Way { points, length, passes, past }
}

/// Whether a stretch of a way runs inside a box.
fn touches(cuboid: &Cuboid, stretch: &Cuboid) -> bool {
    Axis::ALL.into_iter().all(|axis| {
        let (a, b) = (cuboid.range(axis), stretch.range(axis));
        a.0 < b.1 && b.0 < a.1 || (b.0 == b.1 && a.0 < b.0 && b.0 < a.1)
    })
}

fn is_on(pair: &[Point], at: Point) -> bool {
    let [a, b] = pair else { return false };
    let stretch = Cuboid::between(*a, *b);
    stretch.contains(&Cuboid::between(at, at))
}

/// The entry among the openings of a design that makes a hole here: in the bay whose panel it is.
fn entry(asked: &Asked<'_>, part: usize, at: Point, axis: Axis) -> Option<Opening<Length>> {
    let role = Some(asked.assembly.parts.get(part)?.role).filter(|it| it.may_have_openings())?;
    let own = asked.assembly.things.get(asked.thing).map(|it| it.bay);
    let bays = asked.layout.bays.iter().enumerate();
    // The bay of the appliance first, then those that are not divided further.
    let mut bays: Vec<_> = bays.map(|(index, it)| (Some(index) != own, !it.is_leaf, index, it)).collect();
    bays.sort_by_key(|it| (it.0, it.1, it.2));
    let sides: Vec<Axis> = match axis {
        Axis::X => vec![Axis::Z, Axis::Y],
        Axis::Y => vec![Axis::X, Axis::Z],
        Axis::Z => vec![Axis::X, Axis::Y],
    };
    let [first, second] = sides.as_slice() else { return None };
    bays.iter().find_map(|(_, _, _, bay)| {
        let plain = Opening { panel: role, bay: bay.name.clone(), size: (HOLE, HOLE), at: None, free: 1.0 };
        let room = place_opening(asked.layout, asked.assembly, &plain).filter(|it| it.part == part)?.room;
        let from = |side: Axis| at.along(side) - HOLE.half() - room.range(side).0;
        let own = Opening { at: Some((from(*first), from(*second))), ..plain };
        let placed = place_opening(asked.layout, asked.assembly, &own)?;
        let keeps = sides.iter().all(|&side| {
            let (inner, outer) = (placed.cuboid.range(side), placed.room.range(side));
            inner.0 - outer.0 >= EDGE && outer.1 - inner.1 >= EDGE
        });
        (placed.part == part && keeps).then_some(own)
    })
}
