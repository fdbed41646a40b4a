//! The balance of what turns about a lower or upper edge, over its angle, as a table: which way its weight turns it, and
//! what it does when it is let go, with nothing fitted and with what is fitted.

use casewright_core::moving::tilt::{Balance, FRICTION_NMM, Leaning, LidTurn, Resists, TiltOut};

use super::moving::{degrees, heading, size};
use super::scene::Scene;
use crate::font::NO_BREAK;
use crate::table::{Column, Row, Table};

/// Steps of the table, degrees; wide angles have the larger one, so that plot and table fit on one sheet.
const STEPS_DEG: [f64; 2] = [5.0, 10.0];
/// From which angle on.
const WIDE_DEG: f64 = 45.0;
/// Angles that differ by less are the same, degrees.
const SAME_DEG: f64 = 0.05;

/// What is fitted, in one word.
pub(crate) const fn fitted(it: &TiltOut) -> &'static str {
    match &it.holder {
        None => "string",
        Some(holder) => match holder.resists {
            Resists::Moment(_) => "stay",
            Resists::Force(..) => "damper",
            Resists::Push(_) => "strut",
        },
    }
}

/// The same at the beginning of a sentence.
const fn fitted_first(it: &TiltOut) -> &'static str {
    match &it.holder {
        None => "String",
        Some(holder) => match holder.resists {
            Resists::Moment(_) => "Stay",
            Resists::Force(..) => "Damper",
            Resists::Push(_) => "Strut",
        },
    }
}

fn newton_metres(scene: &Scene<'_>, nmm: f64) -> String {
    scene.decimal(nmm / 1000.0, 2)
}

/// The table of a tilting compartment or flap over its angle.
#[must_use]
pub fn tilt_list(scene: &Scene<'_>, it: &TiltOut) -> Table {
    let pushes = it.holder.as_ref().is_some_and(|it| it.pushes());
    let loads: &[(&str, &Balance)] =
        if it.is_flap { &[("Weight, N m", &it.full)] } else { &[("Empty, N m", &it.empty), ("Full, N m", &it.full)] };
    let with = format!("Let go with the {}, it", fitted(it));
    // A unit alone under its heading would be read as one of the figures.
    let in_one_line =
        |heading: &str| Column::figures(&scene.say(heading).replace(' ', NO_BREAK.encode_utf8(&mut [0; 2])));
    let mut columns = vec![Column::figures(&scene.say("Angle"))];
    for (name, _) in loads {
        columns.push(in_one_line(name));
        columns.push(Column::words(&scene.say("Let go with nothing, it")));
        if pushes {
            columns.push(in_one_line("With the strut, N m"));
        }
        columns.push(Column::words(&scene.say(&with)));
    }
    columns.push(Column::figures(&scene.say("Ends apart")));
    let mut rows = Vec::new();
    for deg in angles(it.opens_deg) {
        let angle = deg.to_radians();
        let mut cells = vec![degrees(scene, deg)];
        for (_, balance) in loads {
            cells.push(newton_metres(scene, balance.moment_nmm(angle)));
            cells.push(scene.say(leaning_word(balance.leaning(angle, FRICTION_NMM))));
            if pushes {
                cells.push(newton_metres(scene, it.net_nmm(balance, angle)));
            }
            cells.push(scene.say(fitted_word(it, balance, deg)));
        }
        cells.push(size(scene, it.stay.span(angle)));
        rows.push(Row { cells, tag: None, is_section: false });
    }
    rows.push(heading(scene, "Ways of the corners"));
    for corner in &it.corners {
        let (height, angle) = corner.highest;
        let free = if corner.free.is_finite() { size(scene, corner.free) } else { "open".to_owned() };
        let word = if it.hangs { "lowest" } else { "highest" };
        let words = format!(
            "{}: {} from the hinge, {word} {} at {}, {free} free there",
            corner.name,
            size(scene, corner.radius),
            size(scene, height),
            degrees(scene, angle.to_degrees())
        );
        rows.push(heading(scene, &words));
    }
    rows.extend(notes(scene, it).iter().map(|it| heading(scene, it)));
    Table { columns, rows }
}

const fn leaning_word(it: Leaning) -> &'static str {
    match it {
        Leaning::Shuts => "falls shut",
        Leaning::Rests => "stays",
        Leaning::Opens => "falls open",
    }
}

/// What it does at an angle with what is fitted: beyond where that is taut it does not come.
fn fitted_word(it: &TiltOut, balance: &Balance, deg: f64) -> &'static str {
    let stops = it.taut_at().map_or(f64::INFINITY, f64::to_degrees);
    let leaning = it.leaning(balance, deg.to_radians());
    let pushes = it.holder.as_ref().is_some_and(|it| it.pushes());
    if deg > stops + SAME_DEG {
        "not reached"
    } else if leaning == Leaning::Opens && deg >= stops - SAME_DEG {
        if pushes { "is held open" } else { "is held taut" }
    } else if leaning == Leaning::Opens && pushes {
        "opens"
    } else {
        leaning_word(leaning)
    }
}

/// What the plot and the table have in common, in sentences.
fn notes(scene: &Scene<'_>, it: &TiltOut) -> Vec<String> {
    let open = it.opens_deg.to_radians();
    let friction = scene.decimal(FRICTION_NMM / 1000.0, 1);
    let at = |angle: Option<f64>| match angle {
        Some(angle) if angle <= open => degrees(scene, angle.to_degrees()),
        _ => "no angle".to_owned(),
    };
    let balances = if it.is_flap {
        format!("Its weight balances at {}.", at(it.full.balances_at()))
    } else {
        format!(
            "Empty it balances at {}, full it balances at {}.",
            at(it.empty.balances_at()),
            at(it.full.balances_at())
        )
    };
    let mut all = vec![balances, format!("Under {friction} N m either way friction holds it (own choice).")];
    all.extend(holder_notes(scene, it));
    all.push(
        "A child may hang on it: choose what holds it and its fixings for several times that pull, by their maker's sheet."
            .to_owned(),
    );
    if let Some((lid, length)) = &it.lid {
        let stops = lid.stops_at(*length, open).map_or(f64::INFINITY, f64::to_degrees);
        let turned = angles(it.opens_deg).into_iter().map(|deg| {
            let words = match lid.at(deg.to_radians(), *length) {
                _ if deg >= stops => "not reached".to_owned(),
                LidTurn::Slack(slack) => format!("{} slack", size(scene, slack)),
                LidTurn::Turned(angle) => degrees(scene, angle.to_degrees()),
                LidTurn::Stops => "not reached".to_owned(),
            };
            format!("{}: {words}", degrees(scene, deg))
        });
        all.push(
            format!("String of the lid {} long. Lid at each angle: ", size(scene, *length))
                + &turned.collect::<Vec<_>>().join("; "),
        );
    }
    all
}

/// What is fitted: how long, where, when it is taut, and what it holds.
fn holder_notes(scene: &Scene<'_>, it: &TiltOut) -> Vec<String> {
    let ([out, up], [front_out, front_up]) = (it.stay.carcass, it.stay.front);
    let away = if it.hangs { "below" } else { "above" };
    let name = match &it.holder {
        Some(holder) => format!("{} {}", fitted_first(it), holder.name),
        None if it.is_given => "String".to_owned(),
        None => "String as proposed".to_owned(),
    };
    let count = if it.both_sides { "one at each side" } else { "one at the left" };
    let end = |out: f64, up: f64| format!("{} behind and {} {away} the hinge", size(scene, -out), size(scene, up));
    let ends = if it.stay.carcass == it.stay.front {
        format!("both ends {} when shut", end(out, up))
    } else {
        let moved = if it.is_flap { "flap" } else { "compartment" };
        format!("on the carcass {}; on the {moved} {}", end(out, up), end(front_out, front_up))
    };
    let mut all = vec![format!("{name}: {} long; {count}; {ends}", size(scene, it.length))];
    if let Some(holder) = &it.holder {
        all.push(match holder.resists {
            Resists::Moment(0.0) => "It only stops, and holds nothing on the way.".to_owned(),
            Resists::Moment(each) => {
                format!("Each holds {} N m about the hinge at every angle.", newton_metres(scene, each))
            }
            Resists::Force(force, _) => {
                format!("Each resists with {force:.0} N along its line, whichever way it moves.")
            }
            Resists::Push(it) => {
                format!("Each pushes with {:.0} N fully in and {:.0} N fully out.", it.forces.0, it.forces.1)
            }
        });
    }
    let stops = it.stops_at();
    let is_taut = it.taut_at().is_some_and(|taut| taut.to_degrees() <= it.opens_deg + SAME_DEG);
    let pull = |balance: &Balance| {
        it.stay.pull(stops, balance.moment_nmm(stops)).map_or("nothing".to_owned(), |it| format!("{it:.0} N"))
    };
    let at = degrees(scene, stops.to_degrees());
    all.push(if !is_taut {
        let short = it.length < it.stay.span(0.0) - 1e-6;
        if short {
            "Too short to shut.".to_owned()
        } else {
            format!("Not taut within the opening of {}: it stops nothing there.", degrees(scene, it.opens_deg))
        }
    } else if it.holder.as_ref().is_some_and(|it| it.pushes()) {
        let arm = it.stay.arm(stops).max(1e-6);
        format!(
            "Fully out at {at}: there the weight presses on it with {:.0} N.",
            it.full.moment_nmm(stops).abs() / arm
        )
    } else if it.is_flap {
        format!("Taut at {at}: it then holds {}.", pull(&it.full))
    } else {
        format!("Taut at {at}: it then holds {} empty, {} full.", pull(&it.empty), pull(&it.full))
    });
    all
}

/// The angles of the table: whole steps, and the last.
fn angles(opens_deg: f64) -> Vec<f64> {
    let step = if opens_deg > WIDE_DEG { STEPS_DEG[1] } else { STEPS_DEG[0] };
    let steps = (opens_deg / step).floor() as u32;
    let mut all: Vec<f64> = (0..=steps).map(|i| f64::from(i) * step).collect();
    if all.last().is_none_or(|last| opens_deg - last > 1e-9) {
        all.push(opens_deg);
    }
    all
}
