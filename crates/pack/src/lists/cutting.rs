//! The cutting plan as a list.

use super::{ListError, Table, head, mark, number};
use casewright_core::Length;
use casewright_core::stock::{CutBoard, CuttingPlan, PlacedPart};
use casewright_drawing::furniture::Scene;

/// One row for each part: the board that it comes from and its place on it; no board for a part that found none.
///
/// # Errors
/// Internal errors only.
pub fn cutting(scene: &Scene<'_>, plan: &CuttingPlan) -> Result<Vec<u8>, ListError> {
    let unit = scene.design.unit;
    let mut table = Table::new(
        scene,
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
        let Some(part) = scene.assembly.parts.get(index) else { return Ok(()) };
        let at = |length: Option<Length>| length.map(|it| number(it, unit, mark(scene))).unwrap_or_default();
        let yes = |it: bool| if it { scene.say("yes") } else { String::new() };
        table.row([
            part.material.clone(),
            place.map(|it| scene.say_unless_named(&it.0.name)).unwrap_or_default(),
            place.map(|it| it.0.copy.to_string()).unwrap_or_default(),
            part.number.clone(),
            scene.say(&part.name),
            number(part.cut.length, unit, mark(scene)),
            number(part.cut.width, unit, mark(scene)),
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
