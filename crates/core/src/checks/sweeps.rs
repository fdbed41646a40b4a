//! Moving parts on their way: what they run into, by how much, and what was tried to free them.

use super::context::{Context, trimmed};
use super::report::{Found, Report};
use super::site::obstacle_field;
use crate::design::ObstacleKind;
use crate::finding::Severity;
use crate::geometry::{Axis, Cuboid, Direction, Point};
use crate::length::Length;
use crate::mechanics::source::Source;
use crate::moving::{Blocking, Clearances, FixedKind, How, Meeting, Moving, PieceKind, clearances, mends};
use crate::unit::Unit;

/// A door that still opens so far serves, degrees (common practice).
const SERVES_DEG: f64 = 90.0;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    if context.assembly.movers.is_empty() && context.assembly.things.is_empty() {
        return;
    }
    let all = clearances(context.design, context.assembly);
    for clearance in &all.each {
        let Some(moving) = all.moving.get(clearance.moving) else { continue };
        for meeting in &clearance.meets {
            meets(context, &all, moving, meeting, report);
        }
    }
    for blocking in &all.blocking {
        // Each pair once: where both block one another, the first says so.
        let turned =
            |it: &Blocking| it.opens == blocking.blocker && it.blocker == blocking.opens && it.how == blocking.how;
        if blocking.opens > blocking.blocker && all.blocking.iter().any(turned) {
            continue;
        }
        blocks(context, &all, blocking, report);
    }
}

/// The way so far in words: mm of a slide, degrees of a turn.
pub(super) fn way(context: &Context<'_>, moving: &Moving, amount: f64) -> String {
    if moving.turns() { format!("{}°", trimmed(amount, 1)) } else { context.size(amount) }
}

const fn side_word(side: Direction) -> &'static str {
    match (side.axis, side.negative) {
        (Axis::X, true) => "at its left",
        (Axis::X, false) => "at its right",
        (Axis::Y, true) => "below",
        (Axis::Y, false) => "above",
        (Axis::Z, true) => "behind",
        (Axis::Z, false) => "in front",
    }
}

fn meets(context: &Context<'_>, all: &Clearances, moving: &Moving, meeting: &Meeting, report: &mut Report) {
    let touch = &meeting.touch;
    let serves = moving.turns() && touch.at >= SERVES_DEG;
    let in_room = meeting.kind.is_some_and(FixedKind::is_of_site);
    let severity = match (serves, meeting.solid) {
        (true, _) => Severity::Note,
        (false, Some(_)) => Severity::Error,
        (false, None) => Severity::Warning,
    };
    let met = meeting.solid.unwrap_or(*touch);
    let side = met.side.map_or("at the end that swings", side_word);
    let verb = if meeting.solid.is_some() { "hits" } else { "comes too near to" };
    let who = if moving.pieces.len() > 1 { format!("{}: {}", moving.id, meeting.piece) } else { meeting.piece.clone() };
    let heater = matches!(meeting.kind, Some(FixedKind::Obstacle(_, ObstacleKind::Radiator | ObstacleKind::Valve)));
    let tried = if in_room && !serves { mends(context.design, all, &moving.bay, meeting) } else { Vec::new() };
    let mut mend = if tried.is_empty() {
        "a narrower front, hinges on the other side, or the bay further away".to_owned()
    } else {
        let words: Vec<&str> = tried.iter().map(|it| it.words.as_str()).collect();
        format!("{}; solved again, each frees the way", words.join(", or "))
    };
    if meeting.piece_kind == PieceKind::Handle {
        mend.push_str(", or a handle that stands out less");
    }
    if heater {
        mend.push_str("; never take the clearance of a heater");
    }
    let field = match meeting.kind {
        Some(FixedKind::Obstacle(index, _)) => Some(obstacle_field(index)),
        _ => context.bay_field(&moving.bay),
    };
    let full = moving.full();
    let said = way_of(context, moving, met.at, full);
    let (measured, limit) = way_of(context, moving, touch.at, full);
    report.add(
        Found::new(
            severity,
            if in_room { "site.reach" } else { "moving.way" },
            format!("{who} {verb} {} by {} {side} after {} of {}", meeting.with, context.size(met.by), said.0, said.1),
        )
        .measured(measured)
        .limit(limit)
        .source(Source::OWN)
        .mend(mend)
        .place(round(touch.point))
        .about(moving.id.clone())
        .about(meeting.with.clone())
        .field(field)
        .usage(2.0 - touch.at / full.max(1e-9)),
    );
}

/// How far it has come and how far it goes, written finer where both would read the same.
fn way_of(context: &Context<'_>, moving: &Moving, at: f64, full: f64) -> (String, String) {
    let said = (way(context, moving, at), way(context, moving, full));
    if said.0 != said.1 || (full - at).abs() < 0.005 {
        return said;
    }
    let finer = |said: &str, way: f64| finer(context.design.unit, moving.turns(), said, way);
    (finer(&said.0, at), finer(&said.1, full))
}

/// A way in mm or degrees with two decimals; in inches they stand in millimetres beside the fraction.
fn finer(unit: Unit, turns: bool, said: &str, way: f64) -> String {
    match unit {
        _ if turns => format!("{way:.2}°"),
        Unit::Millimetre { .. } => format!("{way:.2} mm"),
        Unit::Inch { .. } => format!("{said} ({way:.2} mm)"),
    }
}

fn blocks(context: &Context<'_>, all: &Clearances, blocking: &Blocking, report: &mut Report) {
    let (Some(opens), Some(other)) = (all.moving.get(blocking.opens), all.moving.get(blocking.blocker)) else {
        return;
    };
    let touch = &blocking.meeting.touch;
    let reached = way(context, opens, touch.at);
    let (severity, what, mend) = match blocking.how {
        How::WhenOpen => (
            Severity::Note,
            format!("with {} open, {} opens to {reached} only and meets {}", other.id, opens.id, blocking.meeting.with),
            "one at a time, or a filler between the two",
        ),
        How::WhenShut => (
            Severity::Note,
            format!("{} opens only once {} is open", opens.id, other.id),
            "as it is meant, or the one moved clear of the other",
        ),
        How::Always => (
            Severity::Error,
            format!("{} runs into {} whether that is shut or open, after {reached}", opens.id, blocking.meeting.with),
            "a filler beside the hinges, a narrower drawer, or a door that opens further",
        ),
    };
    report.add(
        Found::new(severity, "moving.blocked", what)
            .measured(reached)
            .limit(way(context, opens, opens.full()))
            .source(Source::OWN)
            .mend(mend)
            .place(round(touch.point))
            .about(opens.id.clone())
            .about(other.id.clone())
            .field(context.bay_field(&opens.bay))
            .usage(2.0 - touch.at / opens.full().max(1e-9)),
    );
}

/// A small box round a point, to show where it is.
fn round(point: [f64; 3]) -> Cuboid {
    let by = Length::from_mm(5);
    let [x, y, z] = point.map(Length::from_mm_f64);
    Cuboid::between(Point::new(x - by, y - by, z - by), Point::new(x + by, y + by, z + by))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 449.98 and 450 mm are both 17 23/32 inches, to the nearest 1/32 of 25.4 mm.
    #[test]
    fn ways_that_read_the_same_are_told_apart() {
        let inch = Unit::inch(32).unwrap_or_else(|error| panic!("{error}"));
        let said = "17 23/32\"";
        assert_eq!(finer(inch, false, said, 449.98), "17 23/32\" (449.98 mm)");
        assert_eq!(finer(inch, false, said, 450.0), "17 23/32\" (450.00 mm)");
        assert_eq!(finer(Unit::default(), false, "450 mm", 449.98), "449.98 mm");
        assert_eq!(finer(inch, true, "90°", 89.98), "89.98°");
    }
}
