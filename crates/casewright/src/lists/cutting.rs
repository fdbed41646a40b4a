//! The cutting plan as a list.

use super::{Table, head, number};
use crate::failure::Failure;
use casewright_core::Length;
use casewright_core::pipeline::Derived;
use casewright_core::stock::{CutBoard, CuttingPlan, PlacedPart};
use casewright_drawing::Speech;

/// One row for each part: the board that it comes from and its place on it; no board for a part that found none.
///
/// # Errors
/// Internal errors only.
pub(crate) fn cutting(work: &Derived, plan: &CuttingPlan, speech: &Speech) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut table = Table::new(
        speech,
        &[
            "material".to_owned(),
            "board".to_owned(),
            "copy".to_owned(),
            "part".to_owned(),
            "part name".to_owned(),
            head("cut length", unit),
            head("cut width", unit),
            head("from start", unit),
            head("from near edge", unit),
            "turned".to_owned(),
            "only to length".to_owned(),
            "rest".to_owned(),
        ],
    )?;
    let mut row = |index: usize, place: Option<(&CutBoard, &PlacedPart)>| {
        let Some(part) = work.assembly.parts.get(index) else { return Ok(()) };
        let at = |length: Option<Length>| length.map(|it| number(it, unit, speech)).unwrap_or_default();
        let yes = |it: bool| if it { speech.say("yes") } else { String::new() };
        table.row([
            part.material.clone(),
            place.map(|it| speech.say_unless_named(&it.0.name)).unwrap_or_default(),
            place.map(|it| it.0.copy.to_string()).unwrap_or_default(),
            part.number.clone(),
            speech.say(&part.name),
            number(part.cut.length, unit, speech),
            number(part.cut.width, unit, speech),
            at(place.map(|it| it.1.x)),
            at(place.map(|it| it.1.y)),
            yes(place.is_some_and(|it| it.1.turned)),
            yes(place.is_some_and(|it| it.1.only_to_length)),
            place.and_then(|it| it.0.rest).map(|it| it.to_string()).unwrap_or_default(),
        ])
    };
    for lot in &plan.lots {
        for board in &lot.boards {
            for placed in &board.parts {
                row(placed.part, Some((board, placed)))?;
            }
        }
        for missing in &lot.missing {
            row(*missing, None)?;
        }
    }
    table.bytes()
}
