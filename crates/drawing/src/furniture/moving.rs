//! What moves, in figures: the clearance sheet, and what its sheets have in common.

use casewright_core::Length;
use casewright_core::moving::{
    Clearance, Clearances, FixedKind, How, Moving, Surroundings, clearances, fixed_bodies, surroundings,
};
use casewright_core::unit::Unit;

use super::scene::Scene;
use crate::table::{Column, Row, Table};
use crate::tag::Tag;

/// Room to stand before what is open, mm (common practice).
const STAND_MM: f64 = 600.0;

/// The clearances of a scene, if anything moves.
pub(crate) fn of(scene: &Scene<'_>) -> Option<Clearances> {
    let all = clearances(scene.design, scene.assembly);
    (!all.moving.is_empty()).then_some(all)
}

/// A length in words, to a tenth of a millimetre or a hundredth of an inch, without the unit.
pub(super) fn size(scene: &Scene<'_>, mm: f64) -> String {
    let length = Length::from_mm_f64(mm);
    match scene.design.unit {
        Unit::Millimetre { .. } => scene.format(length.rounded_to(Length::from_um(100))),
        Unit::Inch { .. } => scene.format(length),
    }
}

pub(super) fn degrees(scene: &Scene<'_>, value: f64) -> String {
    format!("{}°", scene.trimmed(value, 1))
}

/// How far something has moved, in words.
pub(crate) fn way(scene: &Scene<'_>, moving: &Moving, amount: f64) -> String {
    if moving.turns() { degrees(scene, amount) } else { size(scene, amount) }
}

/// The clearance sheet: for each moving part how far it goes, what it meets first and where, what is free when it is
/// open, room to stand, and whether what it carries can be lifted out; then which parts block one another.
#[must_use]
pub fn clearance_list(scene: &Scene<'_>, all: &Clearances) -> Table {
    let columns = vec![
        Column::words("Moving part"),
        Column::figures("Full travel"),
        Column::figures("Opens to"),
        Column::words("Meets first"),
        Column::words("Nearest beside it when open"),
        Column::words("Room in front"),
        Column::words("Taking out the contents"),
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

pub(super) fn heading(scene: &Scene<'_>, text: &str) -> Row {
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

/// The obstacles of the site with their names.
pub(crate) fn obstacles(scene: &Scene<'_>) -> Vec<(String, casewright_core::moving::Solid)> {
    fixed_bodies(scene.design, scene.assembly)
        .into_iter()
        .filter(|it| matches!(it.kind, FixedKind::Obstacle(..)))
        .map(|it| (it.name, it.solid))
        .collect()
}
