//! Air round appliances, the way in and out, heaters, and sockets that stay within reach.

use super::context::{Context, overlap};
use super::openings::{is_in_opening, ways};
use super::report::{Found, Report};
use super::site::{obstacle_box, obstacle_field};
use crate::assembly::Part;
use crate::design::{Air, ObstacleKind, Role, ThingKind};
use crate::finding::Severity;
use crate::geometry::Axis;
use crate::layout::LaidThing;
use crate::length::Length;
use crate::mechanics::air::{AIR_NEEDS, HEATER_DISTANCE, LEAST_GAPS, RADIATOR_DISTANCE, VENT_AREA_CM2};
use crate::mechanics::source::Source;
use crate::text::FieldPath;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    for thing in &context.assembly.things {
        let Some(it) = context.design.things.get(&thing.name) else { continue };
        gaps(context, thing, &it.air, report);
        if it.kind == ThingKind::Appliance {
            usual(context, thing, &it.air, report);
            path(context, thing, report);
        }
    }
    heaters(context, report);
    sockets(context, report);
}

fn thing_field(name: &str) -> FieldPath {
    FieldPath::root().field("things").key(name).field("air")
}

/// Which of the free spaces round a thing is that behind it.
const BEHIND: usize = 3;

/// The free space on each side: left, right, above, behind, before; to the bay and to any part in it.
fn free(context: &Context<'_>, thing: &LaidThing) -> Option<[f64; 5]> {
    let bay = context.layout.bays.get(thing.bay)?;
    let it = &thing.cuboid;
    let mut gaps = [
        it.min.x - bay.clear.min.x,
        bay.clear.max.x - it.max.x,
        bay.clear.max.y - it.max.y,
        it.min.z - bay.clear.min.z,
        bay.clear.max.z - it.max.z,
    ]
    .map(Length::mm);
    // A back may stand inside the clear space.
    for (_, part) in context.still() {
        if part.role == Role::Back
            && part.cuboid.max.z <= it.min.z
            && overlap(part.cuboid.range(Axis::X), it.range(Axis::X)) > 0.0
            && overlap(part.cuboid.range(Axis::Y), it.range(Axis::Y)) > 0.0
        {
            gaps[BEHIND] = gaps[BEHIND].min((it.min.z - part.cuboid.max.z).mm());
        }
    }
    Some(gaps)
}

fn wanted(air: &Air<Length>) -> [Option<Length>; 5] {
    [air.left.or(air.sides), air.right.or(air.sides), air.top, air.rear, air.front]
}

fn gaps(context: &Context<'_>, thing: &LaidThing, air: &Air<Length>, report: &mut Report) {
    let Some(mut free) = free(context, thing) else { return };
    let Some(bay) = context.layout.bays.get(thing.bay) else { return };
    // Turned by a quarter, its left looks to the front or the rear: the solver has placed it with its air.
    let wanted = if thing.turned { [None; 5] } else { wanted(air) };
    // An open rear lets the air behind the carcass count too.
    let backless = !context.still().any(|(_, part)| {
        part.role == Role::Back && overlap(part.cuboid.range(Axis::X), thing.cuboid.range(Axis::X)) > 0.0
    });
    if backless {
        free[BEHIND] += context.assembly.envelope.min.z.mm().max(0.0);
    }
    for ((side, have), want) in ["left of", "right of", "above", "behind", "before"].into_iter().zip(free).zip(wanted) {
        let Some(want) = want.map(Length::mm) else { continue };
        if have + 1e-6 < want {
            report.add(
                Found::new(
                    Severity::Error,
                    "air.gap",
                    format!("{} has {} of air {side} it", thing.name, context.size(have)),
                )
                .measured(context.size(have))
                .limit(context.size(want))
                .source(Source::OWN)
                .mend(format!("{} more; the maker's manual rules", context.size(want - have)))
                .place(thing.with_air)
                .about(thing.name.clone())
                .about(bay.name.clone())
                .field(Some(thing_field(&thing.name)))
                .usage(want / have.max(1.0)),
            );
        }
    }
}

/// Appliances whose air nobody gave, or with less than any usual gap.
fn usual(context: &Context<'_>, thing: &LaidThing, air: &Air<Length>, report: &mut Report) {
    let given = wanted(air);
    let (sides, rear, top) = LEAST_GAPS;
    if given.iter().all(Option::is_none) {
        let examples: Vec<String> = AIR_NEEDS
            .iter()
            .filter(|it| it.source.may_decide())
            .map(|it| {
                let [sides, rear, top] = [it.sides.0, it.rear.0, it.top.0].map(|gap| context.size(gap));
                format!("{}: sides {sides}, rear {rear}, top {top}", it.appliance)
            })
            .collect();
        report.add(
            Found::new(Severity::Warning, "air.unknown", format!("no air is given for {}", thing.name))
                .measured("nothing")
                .limit("the gaps in the maker's manual")
                .source(Source::practice("appliances give off heat"))
                .mend(format!("take the gaps from the maker's manual; least seen: {}", examples.join("; ")))
                .place(thing.cuboid)
                .about(thing.name.clone())
                .field(Some(thing_field(&thing.name)))
                .usage(1.0),
        );
        return;
    }
    let Some(free) = free(context, thing) else { return };
    let short: Vec<String> = [("sides", free[0].min(free[1]), sides), ("rear", free[3], rear), ("top", free[2], top)]
        .into_iter()
        .filter(|it| it.1 < it.2)
        .map(|it| format!("{} {}", it.0, context.size(it.1)))
        .collect();
    if !short.is_empty() {
        report.add(
            Found::new(
                Severity::Note,
                "air.usual",
                format!("{} stands closer than appliances usually may: {}", thing.name, short.join(", ")),
            )
            .measured(short.join(", "))
            .limit(format!(
                "usual: sides {}, rear {}, top {}",
                context.size(sides),
                context.size(rear),
                context.size(top)
            ))
            .source(Source::practice("lowest gaps of the pages read for microwaves, ovens and refrigerators"))
            .mend("right only if the maker's manual says so")
            .place(thing.cuboid)
            .about(thing.name.clone())
            .field(Some(thing_field(&thing.name)))
            .usage(0.5),
        );
    }
}

/// Shut in on all sides, an appliance needs openings.
fn path(context: &Context<'_>, thing: &LaidThing, report: &mut Report) {
    let Some(bay) = context.layout.bays.get(thing.bay) else { return };
    let covers = |part: &crate::assembly::Part| {
        let share = |axis| overlap(part.cuboid.range(axis), thing.cuboid.range(axis)) / thing.cuboid.size(axis).mm();
        share(Axis::X) > 0.7 && share(Axis::Y) > 0.7
    };
    let back = context.still().any(|(_, it)| it.role == Role::Back && covers(it));
    let front = context.assembly.parts.iter().any(|it| it.role == Role::Front && covers(it));
    if back && front {
        let (area, source) = VENT_AREA_CM2;
        let (below, above) = ways(context, bay);
        if below >= area && above >= area {
            return;
        }
        let measured = if below + above > 0.0 {
            format!("{below:.0} cm² in below and {above:.0} cm² out above")
        } else {
            "no opening".to_owned()
        };
        report.add(
            Found::new(Severity::Warning, "air.path", format!("{} is shut in by a front and a back", thing.name))
                .measured(measured)
                .limit(format!("{area:.0} cm² in below and {area:.0} cm² out above"))
                .source(source)
                .mend("leave the back or the front out, or give openings below and above with that free area, each on a way to the room; do not use it behind a shut front unless the manual allows it")
                .place(bay.clear)
                .about(thing.name.clone())
                .about(bay.name.clone())
                .field(Some(bay.path.clone()))
                .usage(1.5 - below.min(above) / area / 2.0),
        );
    }
}

/// Distance of two boxes, mm.
fn distance(a: &crate::geometry::Cuboid, b: &crate::geometry::Cuboid) -> f64 {
    let gaps = Axis::ALL.map(|axis| (-overlap(a.range(axis), b.range(axis))).max(0.0));
    gaps.iter().map(|it| it * it).sum::<f64>().sqrt()
}

fn heaters(context: &Context<'_>, report: &mut Report) {
    for (index, obstacle) in context.design.site.obstacles.iter().enumerate() {
        if obstacle.kind != ObstacleKind::Radiator {
            continue;
        }
        let gap = distance(&context.assembly.envelope, &obstacle_box(obstacle));
        let (limit, source) = RADIATOR_DISTANCE;
        if gap < limit {
            report.add(
                Found::new(
                    Severity::Warning,
                    "heat.radiator",
                    format!("the piece stands {} from {}", context.size(gap), obstacle.name),
                )
                .measured(context.size(gap))
                .limit(context.size(limit))
                .source(source)
                .mend(format!(
                    "more distance, for solid wood and glue suffer; portable heaters keep {} (fire service advice)",
                    context.size(HEATER_DISTANCE.0)
                ))
                .place(context.assembly.envelope)
                .about(obstacle.name.clone())
                .field(Some(obstacle_field(index)))
                .usage(limit / gap.max(1.0)),
            );
        }
    }
}

fn sockets(context: &Context<'_>, report: &mut Report) {
    for (index, obstacle) in context.design.site.obstacles.iter().enumerate() {
        if obstacle.kind != ObstacleKind::Socket {
            continue;
        }
        let solid = obstacle_box(obstacle);
        let before = |cuboid: &crate::geometry::Cuboid| {
            cuboid.min.z >= solid.min.z
                && overlap(cuboid.range(Axis::X), solid.range(Axis::X)) > 0.0
                && overlap(cuboid.range(Axis::Y), solid.range(Axis::Y)) > 0.0
        };
        // A back with an opening right before the socket leaves it in reach.
        let closed = |(index, part): &(usize, &Part)| {
            part.role == Role::Back && before(&part.cuboid) && !is_in_opening(context, *index, &solid)
        };
        let back = context.still().find(closed);
        let still = |i: usize| context.mover_of_thing(i).is_none();
        let thing = context.assembly.things.iter().enumerate().find(|(i, it)| still(*i) && before(&it.cuboid));
        let (by, mend) = match (back, thing) {
            (Some((_, part)), _) => {
                (part.name.clone(), "an opening in the back, or the socket moved by an electrician")
            }
            (None, Some((_, thing))) => (
                thing.name.clone(),
                "a socket beside it: a plug must be reached without moving an appliance, and not sit on a hot back",
            ),
            _ => continue,
        };
        report.add(
            Found::new(Severity::Warning, "socket.trapped", format!("{} is behind {by}", obstacle.name))
                .measured("out of reach")
                .limit("within reach once the piece stands")
                .source(Source::practice("sockets and isolators stay within reach; national rules go first"))
                .mend(mend)
                .place(solid)
                .about(obstacle.name.clone())
                .field(Some(obstacle_field(index)))
                .usage(1.0),
        );
    }
}
