//! The banding list: every edge that is banded, in the order of gluing, with the length of strip that it takes.

use casewright_core::pipeline::Derived;
use casewright_core::stock::{CuttingPlan, banding_work};

use super::{Table, head, number};
use crate::failure::Failure;
use casewright_drawing::Speech;

/// One row for each banded edge: turn 1 is glued before turn 2. Edges that keep a board's banding are left out.
///
/// # Errors
/// Internal errors only.
pub(crate) fn banding(work: &Derived, plan: &CuttingPlan, speech: &Speech) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut table = Table::new(
        speech,
        &[
            "banding".to_owned(),
            "finish".to_owned(),
            head("band thickness", unit),
            "part".to_owned(),
            "part name".to_owned(),
            "edge".to_owned(),
            head("edge length", unit),
            head("edge thickness", unit),
            "turn".to_owned(),
            head("strip length", unit),
        ],
    )?;
    for lot in banding_work(&work.assembly, Some(plan)) {
        let banding = work.design.banding.get(&lot.name);
        for step in &lot.steps {
            let Some(part) = work.assembly.parts.get(step.part) else { continue };
            table.row([
                lot.name.clone(),
                banding.map(|it| it.finish.clone()).unwrap_or_default(),
                banding.map(|it| number(it.thickness, unit, speech)).unwrap_or_default(),
                part.number.clone(),
                speech.say(&part.name),
                speech.say(step.edge.word()),
                number(step.length, unit, speech),
                number(part.finished.thickness, unit, speech),
                step.turn.to_string(),
                number(step.strip, unit, speech),
            ])?;
        }
    }
    table.bytes()
}
