//! Strings, stays, dampers and struts of tilting compartments and flaps, and the strings of lids, where the design gives
//! them.

use super::context::{Context, newtons, trimmed};
use super::report::{Found, Report};
use super::stay_mends;
use crate::assembly::stay_ranges;
use crate::design::{Opens, Role};
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid};
use crate::mechanics::GRAVITY;
use crate::mechanics::source::Source;
use crate::moving::tilt::{FRICTION_NMM, Holder, Leaning, LidTurn, OutUp, Resists, TiltOut, first_meeting, tilt_outs};

/// Angles that differ by less are the same, degrees.
const SAME_DEG: f64 = 0.05;
/// Half of what a stay takes beside the line between its ends, mm (common practice: 8 to 18 mm thick).
const HALF_MM: f64 = 5.0;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    loose_flaps(context, report);
    for it in tilt_outs(context.design, context.assembly).iter().filter(|it| it.is_given) {
        let found = |severity, check, what: String| {
            let place = if it.is_flap { ["front", "stay"].as_slice() } else { &["inside", "by", "stay"] };
            let field = context.bay_field(&it.bay).map(|at| place.iter().fold(at, |at, name| at.field(name)));
            let parts = context.assembly.movers.get(it.mover).map(|it| it.parts.as_slice()).unwrap_or_default();
            let parts = parts.iter().filter_map(|&at| context.assembly.parts.get(at));
            let place = parts.map(|it| it.cuboid).reduce(|a, b| a.union(&b));
            let found = Found::new(severity, check, what)
                .about(it.bay.clone())
                .field(field)
                .source(Source::published("law of cosines; moments about the hinge"));
            match place {
                Some(place) => found.place(place),
                None => found,
            }
        };
        all(context, it, &found, report, true);
    }
}

/// Flaps that nothing holds: what hangs falls shut, what drops down falls open.
fn loose_flaps(context: &Context<'_>, report: &mut Report) {
    for mover in &context.assembly.movers {
        let Some(front) = context.bay(&mover.bay).and_then(|it| it.front.as_ref()) else { continue };
        let hangs = match front.opens {
            Opens::HingedAbove => true,
            Opens::HingedBelow => false,
            _ => continue,
        };
        let leaf =
            mover.parts.iter().filter_map(|&it| context.assembly.parts.get(it)).find(|it| it.role == Role::Front);
        let (Some(leaf), None) = (leaf, &front.stay) else { continue };
        // Level, its weight is out by half its height.
        let moment = leaf.mass_kg * GRAVITY * leaf.cuboid.size(Axis::Y).mm() / 2.0;
        if moment <= FRICTION_NMM {
            continue;
        }
        let (severity, what) = if hangs {
            (Severity::Warning, format!("{} falls shut where it is let go open: nothing holds it", leaf.name))
        } else {
            (Severity::Note, format!("{} falls open when it is let go: nothing but its hinges stops it", leaf.name))
        };
        let newton_metres = |nmm: f64| format!("{} N m", trimmed(nmm / 1000.0, 2));
        report.add(
            Found::new(severity, "tilt.holds", what)
                .measured(newton_metres(moment))
                .limit(newton_metres(FRICTION_NMM))
                .source(Source::published("law of cosines; moments about the hinge"))
                .mend("a stay, damper or strut: `stay` of its front")
                .place(leaf.cuboid)
                .about(mover.bay.clone())
                .about(leaf.number.clone())
                .field(context.bay_field(&mover.bay).map(|it| it.field("front")))
                .usage(1.0),
        );
    }
}

/// All that is checked of one of them; `tries` to find what would mend it.
fn all(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report, tries: bool) {
    ends(context, it, found, report);
    if stops(context, it, found, report) {
        pull(context, it, found, report);
        holds(context, it, found, report, tries);
    }
    stroke(context, it, found, report);
    lid(context, it, found, report);
    clear(context, it, found, report);
}

/// Whether nothing is wrong with it.
pub(super) fn is_sound(context: &Context<'_>, it: &TiltOut) -> bool {
    let mut report = Report::default();
    all(context, it, &Found::new, &mut report, false);
    report.sorted().iter().all(|it| it.severity == Severity::Note)
}

type Begin<'f> = &'f dyn Fn(Severity, &'static str, String) -> Found;

fn degrees(value_rad: f64) -> String {
    format!("{}°", trimmed(value_rad.to_degrees(), 1))
}

/// ` full`, but for a flap, which holds nothing.
const fn full(it: &TiltOut) -> &'static str {
    if it.is_flap { "" } else { " full" }
}

/// Whether its ends are where something can hold them.
fn ends(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let moved = if it.is_flap { "flap" } else { "compartment" };
    let ends = [(moved, it.stay.front, it.spots[0]), ("carcass", it.stay.carcass, it.spots[1])];
    for (what, end, spots) in ends {
        let off = off(end, spots);
        if off > 1e-6 {
            let cause = format!("the stay of {} ends beside the {what}", it.id);
            report.add(
                found(Severity::Error, "tilt.end", cause)
                    .measured(format!("{} off", context.size(off)))
                    .limit("within its section")
                    .mend("measure both ends again: behind the front, and away from the edge that it turns about")
                    .usage(2.0),
            );
        }
    }
}

/// How far a spot lies beside a rectangle, mm.
pub(super) fn off(end: OutUp, (least, most): (OutUp, OutUp)) -> f64 {
    let off = |axis: usize| {
        let value = |of: OutUp| of.get(axis).copied().unwrap_or_default();
        (value(least) - value(end)).max(value(end) - value(most)).max(0.0)
    };
    off(0).hypot(off(1))
}

/// Whether the string lets the compartment shut, and where it stops it; false if nothing more can be said of it.
fn stops(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) -> bool {
    let largest = it.opens_deg.to_radians();
    let shut = it.stay.span(0.0);
    if it.length < shut - 1e-6 {
        report.add(
            found(Severity::Error, "tilt.string", format!("the stay of {} is too short to shut it", it.id))
                .measured(context.size(it.length))
                .limit(format!("{} at least", context.size(shut)))
                .mend("a longer string, or ends nearer to each other")
                .usage(shut / it.length.max(1.0)),
        );
        return false;
    }
    match it.taut_at() {
        Some(taut) if taut.to_degrees() < it.opens_deg - SAME_DEG => {
            report.add(
                found(
                    Severity::Warning,
                    "tilt.string",
                    format!("the stay of {} stops it at {}, before it is open", it.id, degrees(taut)),
                )
                .measured(degrees(taut))
                .limit(degrees(largest))
                .mend(format!("a stay of {} for the whole angle", context.size(it.stay.span(largest))))
                .usage(1.0),
            );
            true
        }
        Some(taut) if taut.to_degrees() <= it.opens_deg + SAME_DEG => true,
        taut => {
            let at = taut.map_or("at no angle".to_owned(), |it| format!("at {} only", degrees(it)));
            report.add(
                found(Severity::Error, "tilt.string", format!("the stay of {} is slack when that is open", it.id))
                    .measured(format!("taut {at}"))
                    .limit(degrees(largest))
                    .mend(format!("a stay of {}", context.size(it.stay.span(largest))))
                    .usage(1.5),
            );
            false
        }
    }
}

/// What the string holds with the compartment open and full. What pushes is at its end there, and holds by that.
fn pull(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let open = it.stops_at();
    let moment = it.full.moment_nmm(open);
    let Some(pull) = it.stay.pull(open, moment) else {
        report.add(
            found(
                Severity::Error,
                "tilt.pull",
                format!("the stay of {} runs through its hinge and holds nothing", it.id),
            )
            .measured("no arm")
            .limit("an arm about the hinge")
            .mend("an end further from the hinge")
            .usage(2.0),
        );
        return;
    };
    if it.holder.as_ref().is_some_and(Holder::pushes) || (it.is_flap && pull == 0.0) {
        return;
    }
    report.add(
        found(
            Severity::Note,
            "tilt.pull",
            format!(
                "the stay of {} goes taut at {} and then holds {}{}",
                it.id,
                degrees(open),
                newtons(pull),
                full(it)
            ),
        )
        .measured(newtons(pull))
        .limit(format!("{} long, arm {}", context.size(it.length), context.size(it.stay.arm(open))))
        .mend("string and fixings for several times that, by their maker's sheet: a child may hang on it")
        .usage(0.1),
    );
}

/// Whether a damper's stroke goes as far as it opens, and whether a strut goes in as far as shut needs.
fn stroke(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let Some(holder) = &it.holder else { return };
    let (open, name) = (it.stops_at(), &holder.name);
    match holder.resists {
        Resists::Force(_, stroke) => {
            let need = Holder::stroke_needed(&it.stay, open);
            if need > stroke + 1e-6 {
                report.add(
                    found(
                        Severity::Error,
                        "tilt.stroke",
                        format!("the stroke of {name} ends before {} is open", it.id),
                    )
                    .measured(context.size(need))
                    .limit(context.size(stroke))
                    .mend("both ends nearer to the hinge, or a damper with a longer stroke")
                    .usage(need / stroke.max(1.0)),
                );
            }
        }
        Resists::Push(push) => {
            let (shortest, _) = Holder::spans(&it.stay, open);
            let least = push.lengths.0;
            if shortest < least - 1e-6 {
                report.add(
                    found(Severity::Error, "tilt.stroke", format!("{name} does not go in as far as {} needs", it.id))
                        .measured(context.size(shortest))
                        .limit(format!("{} at least", context.size(least)))
                        .mend("ends further apart when shut, or a strut with a longer stroke")
                        .usage(least / shortest.max(1.0)),
                );
            }
        }
        Resists::Moment(_) => {}
    }
}

/// What the compartment, full, or the flap does when it is let go, with what is fitted.
fn holds(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report, tries: bool) {
    // Of a string on a compartment its pull says all.
    if it.holder.is_none() && !it.is_flap {
        return;
    }
    let open = it.stops_at();
    let string = Holder { name: "a string".to_owned(), count: 1, resists: Resists::Moment(0.0), length: None };
    let holder = it.holder.as_ref().unwrap_or(&string);
    let name = &holder.name;
    let pushes = holder.pushes();
    let newton_metres = |nmm: f64| format!("{} N m", trimmed(nmm / 1000.0, 2));
    let held = |angle: f64| newton_metres(FRICTION_NMM + holder.moment_nmm(&it.stay, angle));
    let phases = it.phases(&it.full);
    let (Some(first), Some(last)) = (phases.first(), phases.last()) else { return };
    let begin = |severity, what: String, at: f64| {
        found(severity, "tilt.holds", what).measured(newton_metres(it.net_nmm(&it.full, at))).limit(held(at))
    };
    let usual = |own: String| {
        let usual = if tries { stay_mends::usual(context, it) } else { None };
        usual.map_or(own.clone(), |usual| format!("{usual}, or {own}"))
    };
    if pushes && first.leaning == Leaning::Opens {
        report.add(
            begin(Severity::Warning, format!("{name} pushes {} open when it is shut", it.id), 0.0)
                .mend(usual(
                    "a catch, a weaker strut, or ends whose line runs nearer to the hinge when shut".to_owned(),
                ))
                .usage(1.0),
        );
    }
    let full = full(it);
    match last.leaning {
        Leaning::Shuts => {
            // A compartment that falls shut is often meant so; a flap falls on hands and heads.
            let severity = if it.is_flap { Severity::Warning } else { Severity::Note };
            let own = "a stay or strut that holds it open, by its maker's sheet".to_owned();
            report.add(
                begin(severity, format!("{}{full} falls shut against {name} where it is let go open", it.id), open)
                    .mend(if it.is_flap { usual(own) } else { own })
                    .usage(1.0),
            );
        }
        Leaning::Rests => report.add(
            begin(Severity::Note, format!("{name} holds {}{full} where it is let go open", it.id), open)
                .mend("its maker's sheet goes first: the class wears, and a child may hang on it")
                .usage(0.1),
        ),
        Leaning::Opens => {
            let arrives = format!("{} J", trimmed(holder.arrives_j(&it.full, &it.stay, open), 2));
            let from = degrees(last.from);
            let taken = format!("as it is, if its maker's sheet takes the {arrives} with which it comes to its stop");
            let falls = format!("{}{full} falls open against {name} from {from} on", it.id);
            let (severity, what, mend) = match holder.resists {
                Resists::Push(_) => (
                    Severity::Note,
                    format!("{name} opens {} by itself from {from} on and holds it open", it.id),
                    taken,
                ),
                // A damper is there to slow the fall, and a cord only stops it.
                Resists::Force(..) | Resists::Moment(0.0) => (Severity::Note, falls, taken),
                Resists::Moment(each) => {
                    let need = it.full.moment_nmm(open) - FRICTION_NMM;
                    let more = format!("{} of them, or stays of a higher class", (need / each).ceil());
                    (Severity::Warning, falls, usual(more))
                }
            };
            report.add(begin(severity, what, open).mend(mend).usage(1.0));
        }
    }
}

/// Whether the stay of a flap runs into something inside while that opens.
fn clear(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let Some(laid) = context.laid(&it.bay).filter(|_| it.is_flap) else { return };
    let Some(mover) = context.assembly.movers.get(it.mover) else { return };
    let parts = context.assembly.parts.iter().enumerate().filter(|(at, _)| !mover.parts.contains(at));
    let parts = parts.map(|(_, part)| (part.name.as_str(), part.cuboid));
    let things = context.assembly.things.iter().map(|it| (it.name.as_str(), it.cuboid));
    let bodies: Vec<(&str, Cuboid)> = parts.chain(things).collect();
    let ranges = stay_ranges(&laid.clear, true);
    let met = ranges.iter().take(if it.both_sides { 2 } else { 1 }).flat_map(|range| {
        let beside = bodies.iter().filter(|(_, body)| body.min.x < range.1 && range.0 < body.max.x);
        beside.filter_map(|(name, body)| {
            let (least, most) = it.section(context.assembly)?.span(body);
            let grown = ([least[0] - HALF_MM, least[1] - HALF_MM], [most[0] + HALF_MM, most[1] + HALF_MM]);
            Some((first_meeting(&it.stay, it.stops_at(), grown)?, *name))
        })
    });
    let Some((angle, name)) = met.min_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    report.add(
        found(Severity::Warning, "tilt.clear", format!("the stay of {} runs into {name} at {}", it.id, degrees(angle)))
            .measured(degrees(angle))
            .limit(format!("clear by {} up to {}", context.size(HALF_MM), degrees(it.stops_at())))
            .mend("its ends nearer to the front, or further from what it meets")
            .about(name.to_owned())
            .usage(1.2),
    );
}

/// How the lid stands when the compartment is open.
fn lid(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let Some((lid, length)) = &it.lid else { return };
    let open = it.stops_at();
    let stops = lid.stops_at(*length, open);
    let end = if stops.is_some() { LidTurn::Stops } else { lid.at(open, *length) };
    let (severity, what, measured, mend, usage) = match end {
        LidTurn::Turned(turned) => (
            Severity::Note,
            format!("the lid of {} has turned by {} when that is open", it.id, degrees(turned)),
            degrees(turned),
            "as it is, or another start",
            0.1,
        ),
        LidTurn::Slack(slack) => (
            Severity::Warning,
            format!("the string of the lid of {} never opens it", it.id),
            format!("{} slack when open", context.size(slack)),
            "a shorter string: an earlier start",
            1.0,
        ),
        LidTurn::Stops => (
            Severity::Error,
            format!("the string of the lid of {} stops that before it is open", it.id),
            stops.map_or("too short".to_owned(), |it| format!("too short from {} on", degrees(it))),
            "a later start, or its end on the lid nearer to the hinge of the lid",
            1.5,
        ),
    };
    let slack = length - lid.length_for(0.0);
    report.add(
        found(severity, "tilt.lid", what)
            .measured(measured)
            .limit(format!("{} long, {} slack when shut", context.size(*length), context.size(slack)))
            .mend(mend)
            .usage(usage),
    );
}
