//! The parts list.

use casewright_core::assembly::{Grain, Part, PartEdge};

use super::{ListError, Table, decimal, head, mark, number};
use casewright_drawing::furniture::Scene;

/// One row for each part, in the order of the parts list on the sheets.
///
/// # Errors
/// Internal errors only.
pub fn parts(scene: &Scene<'_>) -> Result<Vec<u8>, ListError> {
    let unit = scene.design.unit;
    let mut table = Table::new(
        scene,
        &[
            "number".to_owned(),
            "name".to_owned(),
            "role".to_owned(),
            "bay".to_owned(),
            "material".to_owned(),
            "grain".to_owned(),
            head("finished length", unit),
            head("finished width", unit),
            head("thickness", unit),
            head("cut length", unit),
            head("cut width", unit),
            "band at start".to_owned(),
            "band at end".to_owned(),
            "band near".to_owned(),
            "band far".to_owned(),
            "mass (kg)".to_owned(),
        ],
    )?;
    for part in &scene.assembly.parts {
        table.row([
            part.number.clone(),
            scene.say(&part.name),
            scene.say(&format!("{:?}", part.role)),
            scene.say_unless_named(&part.bay),
            part.material.clone(),
            scene.say(grain(part)),
            number(part.finished.length, unit, mark(scene)),
            number(part.finished.width, unit, mark(scene)),
            number(part.finished.thickness, unit, mark(scene)),
            number(part.cut.length, unit, mark(scene)),
            number(part.cut.width, unit, mark(scene)),
            band(part, PartEdge::Start),
            band(part, PartEdge::End),
            band(part, PartEdge::Near),
            band(part, PartEdge::Far),
            decimal(&format!("{:.3}", part.mass_kg), mark(scene)),
        ])?;
    }
    table.bytes()
}

const fn grain(part: &Part) -> &'static str {
    match part.grain {
        Grain::AlongLength => "along length",
        Grain::None => "",
    }
}

fn band(part: &Part, edge: PartEdge) -> String {
    part.bands.iter().find(|band| band.edge == edge).map(|band| band.name.clone()).unwrap_or_default()
}
