//! The banding list: every edge that is banded, in the order of gluing, with the length of strip that it takes.

use casewright_core::pipeline::Derived;
use casewright_core::stock::{CuttingPlan, banding_work};

use super::{Table, head, number};
use crate::failure::Failure;
use casewright_drawing::Speech;

/// One row for each banded edge: turn 1 is glued before turn 2. Edges that keep a board's banding are left out. Where a banding
/// is sold in bars, two more columns say which bar a strip is cut from and what is left of it.
///
/// # Errors
/// Internal errors only.
pub(crate) fn banding(work: &Derived, plan: &CuttingPlan, speech: &Speech) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut columns = vec![
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
    ];
    let has_bars = !plan.bars.is_empty();
    if has_bars {
        columns.extend(["bar".to_owned(), head("rest of the bar", unit)]);
    }
    let mut table = Table::new(speech, &columns)?;
    for lot in banding_work(&work.assembly, Some(plan)) {
        let banding = work.design.banding.get(&lot.name);
        for step in &lot.steps {
            let Some(part) = work.assembly.parts.get(step.part) else { continue };
            let mut cells = vec![
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
            ];
            if has_bars {
                let bar = plan.bars_of(&lot.name).and_then(|it| it.bar_of(step.part, step.edge));
                cells.push(bar.map(|(count, _)| count.to_string()).unwrap_or_default());
                cells.push(bar.map(|(_, it)| number(it.rest, unit, speech)).unwrap_or_default());
            }
            table.row(cells)?;
        }
    }
    table.bytes()
}
