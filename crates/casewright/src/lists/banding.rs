//! The banding list: every edge that is banded, with the length of strip that it takes.

use casewright_core::assembly::PartEdge;

use super::{Table, head, number};
use crate::failure::Failure;
use casewright_core::pipeline::Derived;

/// One row for each banded edge. The length is that of the finished edge; what is glued on longer and trimmed is the
/// workshop's own habit and not counted.
///
/// # Errors
/// Internal errors only.
pub(crate) fn banding(work: &Derived) -> Result<Vec<u8>, Failure> {
    let unit = work.design.unit;
    let mut table = Table::new(&[
        "banding".to_owned(),
        "finish".to_owned(),
        head("band thickness", unit),
        "part".to_owned(),
        "part name".to_owned(),
        "edge".to_owned(),
        head("edge length", unit),
        head("edge thickness", unit),
    ])?;
    let mut rows = Vec::new();
    for part in &work.assembly.parts {
        for band in &part.bands {
            let (edge, length) = match band.edge {
                PartEdge::Start => ("start", part.finished.width),
                PartEdge::End => ("end", part.finished.width),
                PartEdge::Near => ("near", part.finished.length),
                PartEdge::Far => ("far", part.finished.length),
            };
            rows.push((band, part, edge, length));
        }
    }
    // By kind of strip, then in the order of the parts list: so the gluing is done.
    rows.sort_by(|a, b| a.0.name.cmp(&b.0.name));
    for (band, part, edge, length) in rows {
        table.row([
            band.name.clone(),
            work.design.banding.get(&band.name).map(|it| it.finish.clone()).unwrap_or_default(),
            number(band.thickness, unit),
            part.number.clone(),
            part.name.clone(),
            edge.to_owned(),
            number(length, unit),
            number(part.finished.thickness, unit),
        ])?;
    }
    table.bytes()
}
