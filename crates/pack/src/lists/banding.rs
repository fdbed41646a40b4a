//! The banding list: every edge that is banded, in the order of gluing, with the length of strip that it takes.

use casewright_core::stock::{CuttingPlan, banding_work};

use super::{ListError, Table, head, mark, number};
use casewright_drawing::furniture::Scene;

/// One row for each banded edge: turn 1 is glued before turn 2. Edges that keep a board's banding are left out. Where a banding
/// is sold in bars, two more columns say which bar a strip is cut from and what is left of it.
///
/// # Errors
/// Internal errors only.
pub fn banding(scene: &Scene<'_>, plan: &CuttingPlan) -> Result<Vec<u8>, ListError> {
    let unit = scene.design.unit;
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
    let mut table = Table::new(scene, &columns)?;
    for lot in banding_work(scene.assembly, Some(plan)) {
        let banding = scene.design.banding.get(&lot.name);
        for step in &lot.steps {
            let Some(part) = scene.assembly.parts.get(step.part) else { continue };
            let mut cells = vec![
                lot.name.clone(),
                banding.map(|it| it.finish.clone()).unwrap_or_default(),
                banding.map(|it| number(it.thickness, unit, mark(scene))).unwrap_or_default(),
                part.number.clone(),
                scene.say(&part.name),
                scene.say(step.edge.word()),
                number(step.length, unit, mark(scene)),
                number(part.finished.thickness, unit, mark(scene)),
                step.turn.to_string(),
                number(step.strip, unit, mark(scene)),
            ];
            if has_bars {
                let bar = plan.bars_of(&lot.name).and_then(|it| it.bar_of(step.part, step.edge));
                cells.push(bar.map(|(count, _)| count.to_string()).unwrap_or_default());
                cells.push(bar.map(|(_, it)| number(it.rest, unit, mark(scene))).unwrap_or_default());
            }
            table.row(cells)?;
        }
    }
    table.bytes()
}
