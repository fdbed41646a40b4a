//! The parts list.

use casewright_core::assembly::{Grain, Part, PartEdge};

use super::{Table, decimal, head, number};
use crate::failure::Failure;
use casewright_core::pipeline::Derived;
use casewright_drawing::Speech;

/// One row for each part, in the order of the parts list on the sheets.
///
/// # Errors
/// Internal errors only.
pub(crate) fn parts(work: &Derived, speech: &Speech) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut table = Table::new(
        speech,
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
    for part in &work.assembly.parts {
        table.row([
            part.number.clone(),
            speech.say(&part.name),
            speech.say(&format!("{:?}", part.role)),
            speech.say_unless_named(&part.bay),
            part.material.clone(),
            speech.say(grain(part)),
            number(part.finished.length, unit, speech),
            number(part.finished.width, unit, speech),
            number(part.finished.thickness, unit, speech),
            number(part.cut.length, unit, speech),
            number(part.cut.width, unit, speech),
            band(part, PartEdge::Start),
            band(part, PartEdge::End),
            band(part, PartEdge::Near),
            band(part, PartEdge::Far),
            decimal(&format!("{:.3}", part.mass_kg), speech),
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
