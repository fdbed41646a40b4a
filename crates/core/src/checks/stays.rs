//! Strings and stays of tilting compartments, and the strings of their lids, where the design gives them.

use super::context::{Context, newtons, trimmed};
use super::report::{Found, Report};
use crate::finding::Severity;
use crate::mechanics::source::Source;
use crate::moving::tilt::{Holder, LidTurn, OutUp, Resists, TiltOut, tilt_outs};

/// Angles that differ by less are the same, degrees.
const SAME_DEG: f64 = 0.05;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    for it in tilt_outs(context.design, context.assembly).iter().filter(|it| it.is_given) {
        let found = |severity, check, what: String| {
            let field = context.bay_field(&it.bay).map(|at| at.field("inside").field("by").field("stay"));
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
        ends(context, it, &found, report);
        if stops(context, it, &found, report) {
            pull(context, it, &found, report);
            holds(context, it, &found, report);
        }
        lid(context, it, &found, report);
    }
}

type Begin<'f> = &'f dyn Fn(Severity, &'static str, String) -> Found;

fn degrees(value_rad: f64) -> String {
    format!("{}°", trimmed(value_rad.to_degrees(), 1))
}

/// Whether its ends are where something can hold them.
fn ends(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let ends = [("compartment", it.stay.front, it.spots[0]), ("carcass", it.stay.carcass, it.spots[1])];
    for (what, end, (least, most)) in ends {
        let off = |axis: usize| {
            let value = |of: OutUp| of.get(axis).copied().unwrap_or_default();
            (value(least) - value(end)).max(value(end) - value(most)).max(0.0)
        };
        let off = off(0).hypot(off(1));
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

/// What the string holds with the compartment open and full.
fn pull(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let open = it.stops_at();
    let moment = it.full.moment_nmm(open);
    match it.stay.pull(open, moment) {
        None => report.add(
            found(
                Severity::Error,
                "tilt.pull",
                format!("the stay of {} runs through its hinge and holds nothing", it.id),
            )
            .measured("no arm")
            .limit("an arm about the hinge")
            .mend("an end further from the hinge")
            .usage(2.0),
        ),
        Some(pull) => report.add(
            found(
                Severity::Note,
                "tilt.pull",
                format!("the stay of {} goes taut at {} and then holds {} full", it.id, degrees(open), newtons(pull)),
            )
            .measured(newtons(pull))
            .limit(format!("{} long, arm {}", context.size(it.length), context.size(it.stay.arm(open))))
            .mend("string and fixings for several times that, by their maker's sheet: a child may hang on it")
            .usage(0.1),
        ),
    }
}

/// What the stay or damper of the design holds of the full compartment, and whether its stroke goes so far.
fn holds(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let Some(holder) = &it.holder else { return };
    let open = it.stops_at();
    let name = &holder.name;
    if let Resists::Force(_, stroke) = holder.resists {
        let need = Holder::stroke_needed(&it.stay, open);
        if need > stroke + 1e-6 {
            report.add(
                found(Severity::Error, "tilt.stroke", format!("the stroke of {name} ends before {} is open", it.id))
                    .measured(context.size(need))
                    .limit(context.size(stroke))
                    .mend("both ends nearer to the hinge, or a damper with a longer stroke")
                    .usage(need / stroke.max(1.0)),
            );
        }
    }
    let newton_metres = |nmm: f64| format!("{} N m", trimmed(nmm / 1000.0, 2));
    let measured = newton_metres(it.full.moment_nmm(open));
    let limit = newton_metres(holder.moment_nmm(&it.stay, open));
    let Some(from) = holder.falls_from(&it.full, &it.stay, open) else {
        report.add(
            found(Severity::Note, "tilt.holds", format!("{name} holds {} full where it is let go open", it.id))
                .measured(measured)
                .limit(limit)
                .mend("its maker's sheet goes first: the class wears, and a child may hang on it")
                .usage(0.1),
        );
        return;
    };
    let arrives = format!("{} J", trimmed(holder.arrives_j(&it.full, &it.stay, open), 2));
    let what = format!("{} full falls open against {name} from {} on", it.id, degrees(from));
    let (severity, mend) = match holder.resists {
        // A damper is there to slow the fall, and a cord only stops it.
        Resists::Force(..) | Resists::Moment(0.0) => (
            Severity::Note,
            format!("as it is, if its maker's sheet takes the {arrives} with which it comes to its stop"),
        ),
        Resists::Moment(each) => {
            let need = it.full.moment_nmm(open) - crate::moving::tilt::FRICTION_NMM;
            (Severity::Warning, format!("{} of them, or stays of a higher class", (need / each).ceil()))
        }
    };
    report.add(found(severity, "tilt.holds", what).measured(measured).limit(limit).mend(mend).usage(1.0));
}

/// How the lid stands when the compartment is open.
fn lid(context: &Context<'_>, it: &TiltOut, found: Begin<'_>, report: &mut Report) {
    let Some((lid, length)) = &it.lid else { return };
    let open = it.stops_at();
    let (severity, what, measured, mend, usage) = match lid.at(open, *length) {
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
            "too short".to_owned(),
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
