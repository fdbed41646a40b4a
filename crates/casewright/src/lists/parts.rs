//! The parts list.

use casewright_core::assembly::{Grain, Part, PartEdge};

use super::{Table, head, number};
use crate::failure::Failure;
use casewright_core::pipeline::Derived;

/// One row for each part, in the order of the parts list on the sheets.
///
/// # Errors
/// Internal errors only.
pub(crate) fn parts(work: &Derived) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut table = Table::new(&[
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
    ])?;
    for part in &work.assembly.parts {
        table.row([
            part.number.clone(),
            part.name.clone(),
            format!("{:?}", part.role),
            part.bay.clone(),
            part.material.clone(),
            grain(part).to_owned(),
            number(part.finished.length, unit),
            number(part.finished.width, unit),
            number(part.finished.thickness, unit),
            number(part.cut.length, unit),
            number(part.cut.width, unit),
            band(part, PartEdge::Start),
            band(part, PartEdge::End),
            band(part, PartEdge::Near),
            band(part, PartEdge::Far),
            format!("{:.3}", part.mass_kg),
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
