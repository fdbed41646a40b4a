//! Plugs and valves behind the piece: through what a hand comes to them, and what must be moved before.

use super::context::{Context, centre, kg};
use super::reach_ways::{ARM_MM, HAND_FLAT_MM, Way, Ways};
use super::report::{Found, Report};
use super::site::obstacle_box;
use crate::assembly::Motion;
use crate::design::ObstacleKind;
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid};
use crate::length::Length;
use crate::mechanics::source::{Source, Sourced};
use crate::text::FieldPath;

/// How deep a hand reaches into a piece to pull a plug or turn a valve, mm.
const REACH: Sourced = Sourced::new(600.0, Source::practice("an arm reaches 600 mm into a piece"));
/// What one person takes out to come to a plug, kg.
const TAKEN_OUT: Sourced = Sourced::new(15.0, Source::practice("15 kg are taken out by one person to get at a plug"));
/// By how much less an arm reaches that must bend, mm.
const BEND: Sourced = Sourced::new(150.0, Source::practice("about 150 mm less round a corner"));
/// How far a plug stands out of its socket, where the fingers take hold of it, mm.
const STANDS_OUT: Sourced =
    Sourced::new(40.0, Source::practice("the body of a plug stands about 40 mm out of its socket"));
/// Where the thickness of arm and hand is from.
const THICK: Source = Source::practice("a forearm is about 80 mm thick, a hand laid flat 40 mm");
/// Half the width of what must lie before the piece for its way to lead through it.
const HALF_WAY: Length = Length::from_mm(5);

/// All plugs that are in use and all valves of the site.
pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let ways = Ways::of(context);
    for (index, obstacle) in context.design.site.obstacles.iter().enumerate() {
        let place = obstacle_box(obstacle);
        match obstacle.kind {
            ObstacleKind::Valve => {
                let field = FieldPath::root().field("site").field("obstacles").index(index);
                one(context, &ways, ("valve.reach", &obstacle.name), place, &field, report);
            }
            ObstacleKind::Socket => {
                let plugged = context.design.things.iter().find(|(_, it)| {
                    it.lead.as_ref().is_some_and(|lead| lead.socket.as_deref() == Some(obstacle.name.as_str()))
                });
                if let Some((name, _)) = plugged {
                    let field = FieldPath::root().field("things").key(name).field("lead");
                    one(context, &ways, ("plug.reach", name), place, &field, report);
                }
            }
            _ => {}
        }
    }
}

/// How bad a way is: what is tried first is what is least bad.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum How {
    Free,
    TooDeep,
    Heavy,
    Blocked,
}

/// How far an arm reaches on a way, mm.
fn reach(way: &Way) -> f64 {
    REACH.value - f64::from(way.bends) * BEND.value
}

fn one(
    context: &Context<'_>,
    ways: &Ways,
    (check, name): (&'static str, &str),
    place: Cuboid,
    field: &FieldPath,
    report: &mut Report,
) {
    let front = context.assembly.envelope.max.z;
    let middle = |axis: Axis| {
        let at = place.middle(axis);
        (at - HALF_WAY, at + HALF_WAY)
    };
    // What a socket or valve stands in, such as a back with a hole in it, is not before it. One that stands beside the piece
    // needs no way through it.
    let before = Cuboid::from_ranges(middle(Axis::X), middle(Axis::Y), (place.max.z, front.max(place.max.z)));
    if !before.overlaps(&context.assembly.envelope) {
        return;
    }
    let heaviest = |way: &Way| {
        let of = |index: usize| context.thing_mass(index).0;
        let heavy = way.things.iter().copied().filter(|&it| of(it) > TAKEN_OUT.value);
        heavy.max_by(|&a, &b| of(a).total_cmp(&of(b))).map(|it| (it, of(it)))
    };
    let how = |way: &Way| {
        if way.blocked.is_some() {
            How::Blocked
        } else if heaviest(way).is_some() {
            How::Heavy
        } else if way.length > reach(way) {
            How::TooDeep
        } else {
            How::Free
        }
    };
    let least = |all: Vec<Way>| {
        all.into_iter().min_by(|a, b| {
            let order = |it: &Way| (how(it), it.movers.len() + it.things.len());
            order(a).cmp(&order(b)).then(a.length.total_cmp(&b.length))
        })
    };
    let is_plug = check == "plug.reach";
    let held = if is_plug { STANDS_OUT.value } else { 0.0 };
    let to = [centre(&place)[0], centre(&place)[1], place.max.z.mm() + held];
    let Some(mut way) = least(ways.straight(to, REACH.value)) else { return };
    // An arm that must bend is tried where a straight one does not come through.
    if how(&way) != How::Free
        && let Some(bent) = least(ways.bent(to, REACH.value - BEND.value)).filter(|it| how(it) < how(&way))
    {
        way = bent;
    }
    let what = if is_plug { format!("the plug of {name}") } else { name.to_owned() };
    let begin = |severity, what: String| {
        let found = Found::new(severity, check, what)
            .place(place)
            .about(name.to_owned())
            .field(Some(field.clone()))
            .source(REACH.source)
            .source(BEND.source);
        if is_plug { found.source(STANDS_OUT.source) } else { found }
    };
    let stands = way.blocked.and_then(|it| context.assembly.parts.get(it));
    // A front that does not move is screwed off with a tool as little as a panel is.
    if let Some(part) = stands {
        report.add(
            begin(Severity::Warning, format!("{what} cannot be reached: {} stands before it", part.name))
                .measured("out of reach")
                .limit("within reach once the piece stands")
                .mend("have it put beside the piece or behind an open bay, by a licensed tradesman")
                .about(part.number.clone())
                .usage(1.2),
        );
        return;
    }
    let thing = |index: usize| context.assembly.things.get(index).map_or("", |it| it.name.as_str());
    if let Some((index, mass)) = heaviest(&way) {
        report.add(
            begin(Severity::Warning, format!("{what} can be reached only by moving {}", thing(index)))
                .measured(kg(mass))
                .limit(kg(TAKEN_OUT.value))
                .source(TAKEN_OUT.source)
                .mend("have it put beside the appliance, within reach; a licensed tradesman moves sockets and valves")
                .about(thing(index).to_owned())
                .usage(mass / TAKEN_OUT.value),
        );
        return;
    }
    let most = reach(&way);
    if way.length > most {
        report.add(
            begin(Severity::Warning, format!("{what} lies deeper in the piece than an arm reaches"))
                .measured(context.size(way.length))
                .limit(context.size(most))
                .mend("have it put nearer to the front, or beside the piece")
                .usage(way.length / most),
        );
        return;
    }
    let movers = way.movers.iter().filter_map(|&it| context.assembly.movers.get(it)).map(|it| match it.motion {
        Motion::Slide { .. } => format!("taking out {}", it.id),
        Motion::Turn { .. } => format!("opening up {}", it.id),
    });
    let steps: Vec<String> = movers.chain(way.things.iter().map(|&it| format!("taking out {}", thing(it)))).collect();
    let arm = context.size(way.length);
    let measured =
        if steps.is_empty() { format!("{arm} of arm") } else { format!("{arm} of arm after {}", steps.join(", ")) };
    let [x, y, _] = way.from;
    let bays = &context.layout.bays;
    let is_divided = |index: usize| bays.iter().any(|it| it.parent == Some(index));
    let through = bays.iter().enumerate().filter(|(index, _)| !is_divided(*index)).map(|(_, it)| it).find(|it| {
        let inside = |axis: Axis, at: f64| it.clear.range(axis).0.mm() < at && at < it.clear.range(axis).1.mm();
        inside(Axis::X, x) && inside(Axis::Y, y)
    });
    let how = match (through, way.bends) {
        (Some(bay), 0) => format!("{what} is reached straight through bay {}", bay.name),
        (Some(bay), _) => format!("{what} is reached through bay {}, the arm bent once", bay.name),
        (None, 0) => format!("{what} is reached straight from the front of the piece"),
        (None, _) => format!("{what} is reached from the front of the piece, the arm bent once"),
    };
    report.add(
        begin(Severity::Note, how)
            .measured(measured)
            .limit(format!("{} of arm at most", context.size(most)))
            .source(THICK)
            .mend(format!(
                "keep that way free: an arm {} thick goes through, and at its end a hand {} thick",
                context.size(ARM_MM),
                context.size(HAND_FLAT_MM)
            ))
            .usage(0.1),
    );
}
