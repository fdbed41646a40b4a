//! Leads of appliances: whether there is a way to a socket, whether it pinches the lead, and whether the plug reaches.

use super::context::Context;
use super::report::{Found, Report};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::mechanics::source::Source;
use crate::routes::{HOLE, LeadRoute, PLUG, Pass, SLACK, THICK};
use crate::text::FieldPath;
use crate::unit::DecimalMark;

/// Where what a lead takes of its length comes from.
const SLACK_SOURCE: Source = Source::practice("150 mm of a lead for bends, plug and slack");
/// Where the size of a hole comes from.
const HOLE_SOURCE: Source = Source::practice("a plug goes through 50 mm, a grommet is 60 mm across");
/// Where the room for a lead comes from.
const THICK_SOURCE: Source = Source::practice("a mains lead is up to 10 mm thick");

pub(super) fn check(context: &Context<'_>, routes: &[LeadRoute], report: &mut Report) {
    for (index, thing) in context.assembly.things.iter().enumerate() {
        let Some(lead) = context.design.things.get(&thing.name).and_then(|it| it.lead.as_ref()) else { continue };
        match routes.iter().find(|it| it.thing == index) {
            Some(route) => {
                way(context, route, report);
                reach(context, route, report);
            }
            None => report.add(
                Found::new(Severity::Note, "lead.socket", format!("{} has a lead, but no socket is given", thing.name))
                    .measured("no socket")
                    .limit(format!(
                        "a socket within {}",
                        context.size((lead.length - SLACK).mm() - travel(context, index))
                    ))
                    .source(SLACK_SOURCE)
                    .mend("measure the sockets of the room and add them as obstacles of the kind Socket")
                    .place(thing.cuboid)
                    .about(thing.name.clone())
                    .field(Some(field(&thing.name)))
                    .usage(0.5),
            ),
        }
    }
}

fn field(thing: &str) -> FieldPath {
    FieldPath::root().field("things").key(thing).field("lead")
}

/// Names of the thing and of its socket.
fn names<'a>(context: &Context<'a>, route: &LeadRoute) -> (&'a str, &'a str) {
    let thing = context.assembly.things.get(route.thing).map_or("", |it| it.name.as_str());
    let socket = context.design.site.obstacles.get(route.socket).map_or("", |it| it.name.as_str());
    (thing, socket)
}

/// A way that there is not, or one that pinches.
fn way(context: &Context<'_>, route: &LeadRoute, report: &mut Report) {
    if !route.is_shut_in() {
        return;
    }
    let (thing, socket) = names(context, route);
    let passes: &[Pass] = route.way.as_ref().map_or(&[], |it| it.passes.as_slice());
    let holes: Vec<String> = passes.iter().filter(|it| it.opening.is_none()).map(|it| hole(context, it)).collect();
    let aside = if holes.is_empty() {
        "another socket, set by an electrician, or the appliance in another place".to_owned()
    } else {
        holes.join("; ")
    };
    let found = if let Some(gap) = route.pinched {
        Found::new(
            Severity::Warning,
            "lead.pinched",
            format!("the lead of {thing} would be pinched on its way to {socket}"),
        )
        .measured(format!("a gap of {}", context.size(gap.mm())))
        .limit(context.size(THICK.mm()))
        .source(THICK_SOURCE)
        .mend(format!("{} more room for it; or {aside}", context.size((THICK - gap).mm())))
        .usage(THICK.mm() / gap.mm().max(1.0))
    } else {
        Found::new(Severity::Warning, "lead.way", format!("the lead of {thing} has no way to {socket}"))
            .measured("no gap that it fits through, and no opening that its plug goes through")
            .limit(format!("a gap of {}, or an opening of {}", context.size(THICK.mm()), context.size(PLUG.mm())))
            .source(HOLE_SOURCE)
            .mend(aside)
            .usage(1.5)
    };
    let place = passes.iter().find(|it| it.opening.is_none()).map(place_of);
    let thing_box = context.assembly.things.get(route.thing).map(|it| it.cuboid).unwrap_or_default();
    report.add(
        found
            .place(place.unwrap_or(thing_box))
            .about(thing.to_owned())
            .about(socket.to_owned())
            .field(Some(field(thing))),
    );
}

/// Where a hole is.
fn place_of(pass: &Pass) -> Cuboid {
    let half = HOLE.half();
    Axis::ALL.into_iter().fold(Cuboid::between(pass.at, pass.at), |all, axis| {
        let at = pass.at.along(axis);
        all.with_range(axis, (at - half, at + half))
    })
}

/// A hole that has to be made, in words: through which panel, where, and as what entry of the design.
fn hole(context: &Context<'_>, pass: &Pass) -> String {
    let part = context.assembly.parts.get(pass.part);
    let (name, number) = part.map_or(("", ""), |it| (it.name.as_str(), it.number.as_str()));
    let size = context.size(HOLE.mm());
    match &pass.entry {
        Some(entry) => {
            let at = entry.at.unwrap_or_default();
            let length = |it: Length| context.design.unit.format_named(it, DecimalMark::Point);
            let tried = if pass.tried { ", tried" } else { "" };
            format!(
                "an opening of {size} x {size} in the {} of {}, at ({}, {}){tried}",
                entry.panel.word(),
                entry.bay,
                length(at.0),
                length(at.1)
            )
        }
        None => format!("a hole of {size} through {name} ({number})"),
    }
}

/// A lead that is too short.
fn reach(context: &Context<'_>, route: &LeadRoute, report: &mut Report) {
    let (need, has) = (route.need().mm(), route.lead.mm());
    if need <= has {
        return;
    }
    let (thing, socket) = names(context, route);
    let pulled = if route.travel > Length::ZERO { ", pulled out" } else { "" };
    let place = context.assembly.things.get(route.thing).map(|it| it.cuboid).unwrap_or_default();
    report.add(
        Found::new(Severity::Warning, "lead.reach", format!("the lead of {thing}{pulled} does not reach {socket}"))
            .measured(format!("{} along walls and edges", context.size(need)))
            .limit(format!("{} of lead", context.size(has)))
            .source(SLACK_SOURCE)
            .mend(format!(
                "a socket {} nearer, set by an electrician, or the appliance nearer to it; no extension lead for good",
                context.size(need - has)
            ))
            .place(place)
            .about(thing.to_owned())
            .about(socket.to_owned())
            .field(Some(field(thing)))
            .usage(need / has.max(1.0)),
    );
}

/// How far a thing is pulled out with its lead, mm.
fn travel(context: &Context<'_>, thing: usize) -> f64 {
    crate::routes::travel(context.assembly, thing).mm()
}
