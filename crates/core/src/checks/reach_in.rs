//! Plugs and valves behind the piece: through what a hand comes to them, and what must be moved before.

use super::context::{Context, kg};
use super::report::{Found, Report};
use super::site::obstacle_box;
use crate::assembly::Motion;
use crate::design::{ObstacleKind, Role};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::mechanics::source::{Source, Sourced};
use crate::text::FieldPath;

/// How deep a hand reaches into a piece to pull a plug or turn a valve, mm.
const REACH: Sourced = Sourced::new(600.0, Source::practice("an arm reaches 600 mm into a piece"));
/// What one person takes out to come to a plug, kg.
const TAKEN_OUT: Sourced = Sourced::new(15.0, Source::practice("15 kg are taken out by one person to get at a plug"));
/// Half the width of the straight way that is looked along.
const HALF_WAY: Length = Length::from_mm(5);

/// All plugs that are in use and all valves of the site.
pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    for (index, obstacle) in context.design.site.obstacles.iter().enumerate() {
        let place = obstacle_box(obstacle);
        match obstacle.kind {
            ObstacleKind::Valve => {
                let field = FieldPath::root().field("site").field("obstacles").index(index);
                one(context, ("valve.reach", &obstacle.name), place, &field, report);
            }
            ObstacleKind::Socket => {
                let plugged = context.design.things.iter().find(|(_, it)| {
                    it.lead.as_ref().is_some_and(|lead| lead.socket.as_deref() == Some(obstacle.name.as_str()))
                });
                if let Some((name, _)) = plugged {
                    let field = FieldPath::root().field("things").key(name).field("lead");
                    one(context, ("plug.reach", name), place, &field, report);
                }
            }
            _ => {}
        }
    }
}

fn one(
    context: &Context<'_>,
    (check, name): (&'static str, &str),
    place: Cuboid,
    field: &FieldPath,
    report: &mut Report,
) {
    let front = context.assembly.envelope.max.z;
    let middle = |axis: Axis| {
        let (low, high) = place.range(axis);
        let at = low + (high - low).half();
        (at - HALF_WAY, at + HALF_WAY)
    };
    // What a socket or valve stands in, such as a back with a hole in it, is not before it.
    let way = Cuboid::from_ranges(middle(Axis::X), middle(Axis::Y), (place.max.z, front.max(place.max.z)));
    if !way.overlaps(&context.assembly.envelope) {
        return;
    }
    let what = if check == "plug.reach" { format!("the plug of {name}") } else { name.to_owned() };
    let begin = |severity, what: String| {
        Found::new(severity, check, what).place(place).about(name.to_owned()).field(Some(field.clone()))
    };
    // A front that does not move is screwed off with a tool as little as a panel is.
    if let Some((_, part)) = context.still().find(|(_, it)| it.role != Role::Back && it.cuboid.overlaps(&way)) {
        report.add(
            begin(Severity::Warning, format!("{what} cannot be reached: {} stands before it", part.name))
                .measured("out of reach")
                .limit("within reach once the piece stands")
                .source(REACH.source)
                .mend("it beside the piece or behind an open bay, moved by a licensed tradesman")
                .about(part.number.clone())
                .usage(1.2),
        );
        return;
    }
    let things = context.assembly.things.iter().enumerate().filter(|(_, it)| it.cuboid.overlaps(&way));
    let mut steps: Vec<String> = Vec::new();
    for mover in &context.assembly.movers {
        let parts = mover.parts.iter().filter_map(|&it| context.assembly.parts.get(it));
        let own = mover.things.iter().filter_map(|&it| context.assembly.things.get(it)).map(|it| it.cuboid);
        if parts.map(|it| it.cuboid).chain(own).any(|it| it.overlaps(&way)) {
            steps.push(match mover.motion {
                Motion::Slide { .. } => format!("taking out {}", mover.id),
                Motion::Turn { .. } => format!("opening up {}", mover.id),
            });
        }
    }
    let heaviest = |index: usize| context.thing_mass(index).0;
    let still: Vec<(usize, &str)> = things
        .filter(|(index, _)| context.mover_of_thing(*index).is_none())
        .map(|(index, it)| (index, it.name.as_str()))
        .collect();
    if let Some((index, heavy)) = still
        .iter()
        .filter(|it| heaviest(it.0) > TAKEN_OUT.value)
        .max_by(|a, b| heaviest(a.0).total_cmp(&heaviest(b.0)))
    {
        let mass = heaviest(*index);
        report.add(
            begin(Severity::Warning, format!("{what} can be reached only by moving {heavy}"))
                .measured(kg(mass))
                .limit(kg(TAKEN_OUT.value))
                .source(TAKEN_OUT.source)
                .mend("it beside the appliance, within reach; a licensed tradesman moves sockets and valves")
                .about((*heavy).to_owned())
                .usage(mass / TAKEN_OUT.value),
        );
        return;
    }
    steps.extend(still.iter().map(|(_, name)| format!("taking out {name}")));
    let deep = (front - place.max.z).mm();
    if deep > REACH.value {
        report.add(
            begin(Severity::Warning, format!("{what} lies deeper in the piece than an arm reaches"))
                .measured(context.size(deep))
                .limit(context.size(REACH.value))
                .source(REACH.source)
                .mend("it nearer to the front, or beside the piece")
                .usage(deep / REACH.value),
        );
        return;
    }
    let after = if steps.is_empty() { "nothing in the way".to_owned() } else { steps.join(", ") };
    report.add(
        begin(Severity::Note, format!("{what} is reached from the front of the piece"))
            .measured(after)
            .limit(format!("{} deep at most", context.size(REACH.value)))
            .source(REACH.source)
            .mend("keep that way free")
            .usage(0.1),
    );
}
