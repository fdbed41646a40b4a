//! "I cut this wrong": what can be saved.

use serde::Serialize;

use super::apply::apply;
use super::{Difference, DifferenceKind};
use crate::assembly::{Assembly, Grain, Part, build};
use crate::design::{BoardSource, Resolved};
use crate::length::Length;
use crate::slides::settle;
use crate::solve::solve;
use crate::stock::{binds, serves};

/// A strip glued on makes up for no more than this (own choice).
const MOST_STRIP: Length = Length::from_mm(20);

/// One way out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum Way {
    /// Keep the piece as it is; what is not yet cut follows.
    Adapt {
        /// What changes.
        changes: Vec<Difference>,
    },
    /// Make it up with a strip along one edge.
    Strip {
        /// Along the length or the width.
        along: &'static str,
        /// How wide the strip is.
        width: Length,
    },
    /// Use the piece for another part that is not cut yet.
    Becomes {
        /// The number of the part.
        part: String,
    },
    /// Cut the part again from this board.
    CutAgain {
        /// The name of the board.
        board: String,
        /// Whether it is kept already: an offcut or a salvaged panel.
        kept: bool,
    },
}

/// Everything that can be done about a part that has been cut to a wrong finished size, the least costly first. Slides that
/// the design leaves open are chosen first, as everywhere.
#[must_use]
pub fn salvage(design: &Resolved, number: &str, length: Length, width: Length) -> Vec<Way> {
    let design = &settle(design).design;
    let planned = apply(design);
    let Some(assembly) = built(&planned.design) else { return Vec::new() };
    let Some(part) = assembly.part(number) else { return Vec::new() };
    let mut ways = Vec::new();
    let mut kept = design.clone();
    kept.as_built.cut.insert(number.to_owned(), (length, width));
    let applied = apply(&kept);
    let before = planned.differences;
    let fits = |it: &Difference| it.kind != DifferenceKind::DoesNotFit || before.contains(it);
    if built(&applied.design).is_some() && applied.differences.iter().all(fits) {
        let changes = applied.differences.into_iter().filter(|it| !before.contains(it)).collect();
        ways.push(Way::Adapt { changes });
    }
    let short = (part.finished.length - length, part.finished.width - width);
    match (short.0 > Length::ZERO, short.1 > Length::ZERO) {
        (false, true) if short.1 <= MOST_STRIP => ways.push(Way::Strip { along: "length", width: short.1 }),
        (true, false) if short.0 <= MOST_STRIP => ways.push(Way::Strip { along: "width", width: short.0 }),
        _ => {}
    }
    ways.extend(other_parts(design, &assembly, part, length, width));
    ways.extend(boards(design, part));
    ways
}

fn built(design: &Resolved) -> Option<Assembly> {
    build(design, &solve(design).ok()?.layout).ok()
}

/// Parts of the same board, not cut yet, that come out of the piece; the largest first, for least waste.
fn other_parts(design: &Resolved, assembly: &Assembly, wrong: &Part, length: Length, width: Length) -> Vec<Way> {
    let done =
        |number: &str| design.as_built.cut.contains_key(number) || design.progress.parts.iter().any(|it| it == number);
    let mut fitting: Vec<(&Part, f64)> = assembly
        .parts
        .iter()
        .filter(|part| part.number != wrong.number && part.material == wrong.material && !done(&part.number))
        .filter(|part| {
            let straight = part.cut.length <= length && part.cut.width <= width;
            let turned = part.grain == Grain::None && part.cut.length <= width && part.cut.width <= length;
            straight || turned
        })
        .map(|part| (part, part.cut.length.mm() * part.cut.width.mm()))
        .collect();
    fitting.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.number.cmp(&b.0.number)));
    fitting.into_iter().map(|(part, _)| Way::Becomes { part: part.number.clone() }).collect()
}

/// Boards from which the part comes once more, kept ones first: of the family that it is bound to, if it is.
fn boards(design: &Resolved, part: &Part) -> Vec<Way> {
    let (length, width) = (part.cut.length, part.cut.width);
    let family = binds(design, part);
    let fits = |size: (Length, Length)| {
        let straight = length <= size.0 && width <= size.1;
        straight || (part.grain == Grain::None && length <= size.1 && width <= size.0)
    };
    let mut list: Vec<(bool, &str)> = (design.boards.iter())
        .filter(|board| board.material == part.material && fits(board.size))
        .filter(|board| serves(board, design, part.role))
        .filter(|board| family.is_none_or(|family| board.family == family))
        .map(|board| (board.source != BoardSource::New, board.name.as_str()))
        .collect();
    list.sort_by_key(|(kept, name)| (!*kept, *name));
    list.into_iter().map(|(kept, board)| Way::CutAgain { board: board.to_owned(), kept }).collect()
}
