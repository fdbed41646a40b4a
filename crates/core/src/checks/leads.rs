//! Leads of appliances: whether the plug reaches a socket.

use super::context::Context;
use super::report::{Found, Report};
use super::site::obstacle_box;
use crate::assembly::Motion;
use crate::design::{Lead, ObstacleKind};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid, Point};
use crate::layout::LaidThing;
use crate::length::Length;
use crate::mechanics::source::{Source, Sourced};
use crate::text::FieldPath;

/// What bends, the plug and a little slack take of a lead, mm.
const SLACK: Sourced = Sourced::new(150.0, Source::practice("150 mm of a lead for bends, plug and slack"));

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let sockets: Vec<(&str, Cuboid)> = context
        .design
        .site
        .obstacles
        .iter()
        .filter(|it| it.kind == ObstacleKind::Socket)
        .map(|it| (it.name.as_str(), obstacle_box(it)))
        .collect();
    for (index, thing) in context.assembly.things.iter().enumerate() {
        let Some(lead) = context.design.things.get(&thing.name).and_then(|it| it.lead.as_ref()) else { continue };
        let field = FieldPath::root().field("things").key(&thing.name).field("lead");
        let exit = exit(thing, lead);
        let travel = travel(context, index);
        let named = |name: &str| lead.socket.as_deref().is_none_or(|wanted| wanted == name);
        let ways = sockets.iter().filter(|(name, _)| named(name));
        let ways = ways.map(|(name, it)| (way(exit, it) + SLACK.value + travel, *name));
        let Some((need, name)) = ways.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            report.add(
                Found::new(Severity::Note, "lead.socket", format!("{} has a lead, but no socket is given", thing.name))
                    .measured("no socket")
                    .limit(format!("a socket within {}", context.size(lead.length.mm() - SLACK.value - travel)))
                    .source(SLACK.source)
                    .mend("measure the sockets of the room and add them as obstacles of the kind Socket")
                    .place(thing.cuboid)
                    .about(thing.name.clone())
                    .field(Some(field))
                    .usage(0.5),
            );
            continue;
        };
        let has = lead.length.mm();
        if need > has {
            let pulled = if travel > 0.0 { ", pulled out" } else { "" };
            report.add(
                Found::new(
                    Severity::Warning,
                    "lead.reach",
                    format!("the lead of {}{pulled} does not reach {name}", thing.name),
                )
                .measured(format!("{} along walls and edges", context.size(need)))
                .limit(format!("{} of lead", context.size(has)))
                .source(SLACK.source)
                .mend(format!(
                    "a socket {} nearer, set by an electrician, or the appliance nearer to it; no extension lead for good",
                    context.size(need - has)
                ))
                .place(thing.cuboid)
                .about(thing.name.clone())
                .about(name.to_owned())
                .field(Some(field))
                .usage(need / has.max(1.0)),
            );
        }
    }
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

/// The way to the nearest face of a socket, mm: leads run along walls and edges, so the three distances add up.
fn way(from: Point, socket: &Cuboid) -> f64 {
    Axis::ALL
        .into_iter()
        .map(|axis| {
            let (low, high) = socket.range(axis);
            let at = from.along(axis);
            (low - at).max(at - high).max(Length::ZERO).mm()
        })
        .sum()
}

/// How far the thing is pulled out with its lead, mm.
fn travel(context: &Context<'_>, thing: usize) -> f64 {
    let mover = context.mover_of_thing(thing).and_then(|it| context.assembly.movers.get(it));
    match mover.map(|it| it.motion) {
        Some(Motion::Slide { travel, .. }) => travel.mm(),
        _ => 0.0,
    }
}
