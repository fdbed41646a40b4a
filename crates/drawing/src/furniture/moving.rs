//! What moves, on sheets of its own: the piece from above and from the left with everything open, the clearance sheet with
//! its numbers, and for each tilting compartment its moments over the angle.

use casewright_core::Length;
use casewright_core::moving::tilt::{Leaning, LidTurn, TiltOut, tilt_outs};
use casewright_core::moving::{
    Clearance, Clearances, FixedKind, How, Moving, Surroundings, clearances, fixed_bodies, surroundings,
};
use casewright_core::unit::{DecimalMark, Unit};

use super::scene::Scene;
use crate::table::{Column, Row, Table};
use crate::tag::Tag;

/// Room to stand before what is open, mm (common practice).
const STAND_MM: f64 = 600.0;
/// A moment that friction of hinges and string is taken to hold, N mm (own choice).
pub(crate) use casewright_core::moving::tilt::FRICTION_NMM;
/// Steps of the table of a tilting compartment, degrees.
const STEP_DEG: f64 = 5.0;

/// The clearances of a scene, if anything moves.
pub(crate) fn of(scene: &Scene<'_>) -> Option<Clearances> {
    let all = clearances(scene.design, scene.assembly);
    (!all.moving.is_empty()).then_some(all)
}

/// A length in words, to a tenth of a millimetre or a hundredth of an inch, without the unit.
fn size(scene: &Scene<'_>, mm: f64) -> String {
    match scene.design.unit {
        Unit::Millimetre { .. } => {
            let tenths = Length::from_mm_f64(mm).rounded_to(Length::from_um(100));
            scene.design.unit.format(tenths, DecimalMark::Comma)
        }
        Unit::Inch { .. } => scene.design.unit.format(Length::from_mm_f64(mm), DecimalMark::Comma),
    }
}

fn degrees(value: f64) -> String {
    let text = format!("{:.1}", value + 0.0).replace('.', ",");
    format!("{}°", text.strip_suffix(",0").unwrap_or(&text))
}

/// How far something has moved, in words.
pub(crate) fn way(scene: &Scene<'_>, moving: &Moving, amount: f64) -> String {
    if moving.turns() { degrees(amount) } else { size(scene, amount) }
}

/// The clearance sheet: for each moving part how far it goes, what it meets first and where, what is free when it is
/// open, room to stand, and whether what it carries can be lifted out; then which parts block one another.
#[must_use]
pub fn clearance_list(scene: &Scene<'_>, all: &Clearances) -> Table {
    let columns = vec![
        Column::words("Moving part"),
        Column::figures("Full way"),
        Column::figures("Opens to"),
        Column::words("Meets first"),
        Column::words("Nearest beside it when open"),
        Column::words("Room before it"),
        Column::words("Taking out what it carries"),
    ];
    let mut rows: Vec<Row> = all
        .each
        .iter()
        .zip(surroundings(scene.design, scene.assembly, all))
        .filter_map(|(it, round)| Some((it, round, all.moving.get(it.moving)?)))
        .map(|(it, round, moving)| Row {
            cells: vec![
                scene.say(&moving.id),
                way(scene, moving, moving.full()),
                way(scene, moving, it.opens),
                scene.say(&meets_in_words(scene, it)),
                scene.say(&beside_in_words(scene, &round)),
                scene.say(&stand_in_words(scene, &round)),
                scene.say(&lift_in_words(scene, &round, moving)),
            ],
            tag: (!moving.bay.is_empty()).then(|| Tag::Bay(moving.bay.clone())),
            is_section: false,
        })
        .collect();
    if !all.blocking.is_empty() {
        rows.push(heading(scene, "Moving parts in each other's way"));
    }
    for it in &all.blocking {
        let (Some(opens), Some(other)) = (all.moving.get(it.opens), all.moving.get(it.blocker)) else { continue };
        let words = match it.how {
            How::WhenOpen => format!("meets {} while that is open", it.meeting.with),
            How::WhenShut => format!("only after {} is open", other.id),
            How::Always => format!("meets {} shut or open", it.meeting.with),
        };
        let reached = way(scene, opens, it.meeting.touch.at);
        let mut cells = vec![scene.say(&opens.id), way(scene, opens, opens.full()), reached, scene.say(&words)];
        cells.resize(7, String::new());
        rows.push(Row { cells, tag: Some(Tag::Bay(opens.bay.clone())), is_section: false });
    }
    rows.push(heading(
        scene,
        "Ways in the unit of the drawing, turns in degrees. Measure the room again before fronts are hung.",
    ));
    scene.table(columns, rows)
}

fn heading(scene: &Scene<'_>, text: &str) -> Row {
    Row { cells: vec![scene.say(text)], tag: None, is_section: true }
}

fn meets_in_words(scene: &Scene<'_>, it: &Clearance) -> String {
    match it.meets.first() {
        None => "nothing".to_owned(),
        Some(meeting) => {
            let by = size(scene, meeting.touch.by);
            let [x, y, z] = meeting.touch.point.map(|at| size(scene, at));
            let kind = if meeting.solid.is_some() { "" } else { "the distance to keep from " };
            format!("{kind}{} with {}, {by} too far, at X {x} Y {y} Z {z}", meeting.with, meeting.piece)
        }
    }
}

fn beside_in_words(scene: &Scene<'_>, it: &Surroundings) -> String {
    it.beside.as_ref().map_or_else(|| "nothing".to_owned(), |(gap, name)| format!("{} to {name}", size(scene, *gap)))
}

fn stand_in_words(scene: &Scene<'_>, it: &Surroundings) -> String {
    match &it.before {
        None => "open".to_owned(),
        Some((free, name)) if *free < STAND_MM => {
            format!("{} to {name}: under {} to stand", size(scene, *free), size(scene, STAND_MM))
        }
        Some((free, name)) => format!("{} to {name}", size(scene, *free)),
    }
}

fn lift_in_words(scene: &Scene<'_>, it: &Surroundings, moving: &Moving) -> String {
    let words: Vec<String> = it
        .lifts
        .iter()
        .map(|lift| match &lift.above {
            _ if moving.turns() => format!("{}: by hand from above", lift.thing),
            None => format!("{}: straight up", lift.thing),
            Some((free, _)) if *free >= lift.height => {
                format!("{}: straight up, {} free", lift.thing, size(scene, *free))
            }
            Some((free, name)) => format!(
                "{}: {} free under {name}, {} of its depth stay inside; tip it out at the front",
                lift.thing,
                size(scene, *free),
                size(scene, lift.behind)
            ),
        })
        .collect();
    words.join("; ")
}

/// The table of a tilting compartment over its angle.
#[must_use]
pub fn tilt_list(scene: &Scene<'_>, it: &TiltOut) -> Table {
    let columns = vec![
        Column::figures("Angle"),
        Column::figures("Empty, N m"),
        Column::words("Let go, it"),
        Column::figures("Full, N m"),
        Column::words("Let go, it"),
        Column::figures("String, end to end"),
    ];
    let newton_metres = |nmm: f64| format!("{:.2}", nmm / 1000.0).replace('.', ",").replace("-0,00", "0,00");
    let mut rows = Vec::new();
    for deg in angles(it.opens_deg) {
        let angle = deg.to_radians();
        let (empty, full) = (it.empty.moment_nmm(angle), it.full.moment_nmm(angle));
        rows.push(Row {
            cells: vec![
                degrees(deg),
                newton_metres(empty),
                scene.say(leaning_word(it.empty.leaning(angle, FRICTION_NMM))),
                newton_metres(full),
                scene.say(leaning_word(it.full.leaning(angle, FRICTION_NMM))),
                size(scene, it.stay.span(angle)),
            ],
            tag: None,
            is_section: false,
        });
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
            degrees(angle.to_degrees())
        );
        rows.push(heading(scene, &words));
    }
    rows.extend(notes(scene, it).iter().map(|it| heading(scene, it)));
    scene.table(columns, rows)
}

/// What the plot and the table have in common, in sentences.
fn notes(scene: &Scene<'_>, it: &TiltOut) -> Vec<String> {
    let open = it.opens_deg.to_radians();
    let balance = |name: &str, angle: Option<f64>| match angle {
        Some(angle) if angle <= open => format!("{name} it balances at {}", degrees(angle.to_degrees())),
        _ => format!("{name} it balances at no angle"),
    };
    let ([out, up], [front_out, front_up]) = (it.stay.carcass, it.stay.front);
    let stops = it.stops_at();
    let pull = |moment: f64| it.stay.pull(stops, moment).map_or("no".to_owned(), |it| format!("{it:.0} N"));
    let away = if it.hangs { "below" } else { "above" };
    let ends = if it.is_given {
        format!(
            "{} behind and {} {away} the hinge on the carcass, {} and {} on the compartment",
            size(scene, -out),
            size(scene, up),
            size(scene, -front_out),
            size(scene, front_up)
        )
    } else {
        format!("both ends {} behind and {} {away} the hinge when shut", size(scene, -out), size(scene, up))
    };
    let taut = it.taut_at().map_or("never taut".to_owned(), |it| format!("taut at {}", degrees(it.to_degrees())));
    let mut all = vec![
        format!(
            "{}, {}. Under {} N m either way friction holds it (own choice).",
            balance("Empty", it.empty.balances_at()),
            balance("full", it.full.balances_at()),
            format!("{:.1}", FRICTION_NMM / 1000.0).replace('.', ",")
        ),
        format!(
            "String {} long, {ends}: {taut}; it then holds {} empty, {} full.",
            size(scene, it.length),
            pull(it.empty.moment_nmm(stops)),
            pull(it.full.moment_nmm(stops))
        ),
        "A child may hang on it: choose string and fixings for several times that pull, by their maker's sheet."
            .to_owned(),
    ];
    if let Some((lid, length)) = &it.lid {
        let turned = angles(it.opens_deg).into_iter().map(|deg| {
            let words = match lid.at(deg.to_radians(), *length) {
                LidTurn::Slack(slack) => format!("{} slack", size(scene, slack)),
                LidTurn::Turned(angle) => degrees(angle.to_degrees()),
                LidTurn::Stops => "stops".to_owned(),
            };
            format!("{}: {words}", degrees(deg))
        });
        all.push(
            format!("String of the lid {} long. Lid at each angle: ", size(scene, *length))
                + &turned.collect::<Vec<_>>().join("; "),
        );
    }
    all
}

/// The angles of the table: whole steps, and the last.
pub(crate) fn angles(opens_deg: f64) -> Vec<f64> {
    let steps = (opens_deg / STEP_DEG).floor() as u32;
    let mut all: Vec<f64> = (0..=steps).map(|i| f64::from(i) * STEP_DEG).collect();
    if all.last().is_none_or(|last| opens_deg - last > 1e-9) {
        all.push(opens_deg);
    }
    all
}

const fn leaning_word(it: Leaning) -> &'static str {
    match it {
        Leaning::Shuts => "falls shut",
        Leaning::Rests => "stays",
        Leaning::Opens => "falls open",
    }
}

/// The tilting compartments of a scene.
pub(crate) fn tilting(scene: &Scene<'_>) -> Vec<TiltOut> {
    tilt_outs(scene.design, scene.assembly)
}

/// The obstacles of the site with their names.
pub(crate) fn obstacles(scene: &Scene<'_>) -> Vec<(String, casewright_core::moving::Solid)> {
    fixed_bodies(scene.design, scene.assembly)
        .into_iter()
        .filter(|it| matches!(it.kind, FixedKind::Obstacle(..)))
        .map(|it| (it.name, it.solid))
        .collect()
}
