//! From nested cuts to the numbered sequence in which they are made, fence settings grouped.

use std::collections::BTreeMap;

use crate::plan::{Cut, CutNode, What};
use crate::size::{Axis, Rect};

/// A workpiece on its way to become the parts of `node` from number `part` on.
#[derive(Clone, Copy)]
struct Work<'a> {
    number: usize,
    rect: Rect,
    node: &'a CutNode,
    part: usize,
}

/// The next cut through a workpiece.
struct Step<'a> {
    across: Axis,
    at: i64,
    fence: i64,
    low: Option<(Rect, Option<(&'a CutNode, usize)>)>,
    high: Option<(Rect, Option<(&'a CutNode, usize)>)>,
}

/// The cuts in order, and how often the fence is set. While some workpiece can be cut with the fence as it stands,
/// that is done; otherwise the fence goes where most cuts are waiting.
pub(crate) fn sequence(tree: &CutNode, kerf: i64) -> (Vec<Cut>, usize) {
    let mut cuts = Vec::new();
    let mut numbers = 1;
    let mut setting = 0;
    let mut ready: BTreeMap<i64, Vec<(Work<'_>, Step<'_>)>> = BTreeMap::new();
    let first = Work { number: 0, rect: tree.rect, node: tree, part: 0 };
    if let Some(step) = next_cut(&first, kerf) {
        ready.entry(step.fence).or_default().push((first, step));
    }
    while let Some(fence) = ready.iter().max_by_key(|(fence, waiting)| (waiting.len(), **fence)).map(|(f, _)| *f) {
        setting += 1;
        while let Some(waiting) = ready.remove(&fence) {
            for (work, step) in waiting {
                let mut side = |side: Option<(Rect, Option<(&CutNode, usize)>)>| -> Option<usize> {
                    side.map(|_| {
                        numbers += 1;
                        numbers - 1
                    })
                };
                let low = side(step.low);
                let high = side(step.high);
                cuts.push(Cut {
                    number: cuts.len() + 1,
                    workpiece: work.number,
                    across: step.across,
                    at: step.at,
                    fence: step.fence,
                    setting,
                    low,
                    high,
                });
                for (number, side) in [(low, step.low), (high, step.high)] {
                    if let (Some(number), Some((rect, Some((node, part))))) = (number, side) {
                        let work = Work { number, rect, node, part };
                        if let Some(step) = next_cut(&work, kerf) {
                            ready.entry(step.fence).or_default().push((work, step));
                        }
                    }
                }
            }
        }
    }
    (cuts, setting)
}

fn next_cut<'a>(work: &Work<'a>, kerf: i64) -> Option<Step<'a>> {
    let What::Split { across, parts } = &work.node.what else {
        return None;
    };
    let axis = *across;
    let part = parts.get(work.part)?;
    let (low, end) = (work.rect.low(axis), work.rect.low(axis) + work.rect.size.along(axis));
    let (from, to) = (part.rect.low(axis), part.rect.low(axis) + part.rect.size.along(axis));
    if from > low {
        // Something without a part of its own lies below: a sliver narrower than the kerf.
        let high = work.rect.slice(axis, from, end);
        let below = work.rect.slice(axis, low, (from - kerf).max(low));
        return Some(Step {
            across: axis,
            at: from - kerf - low,
            fence: end - from,
            low: (from - kerf > low).then_some((below, None)),
            high: Some((high, Some((work.node, work.part)))),
        });
    }
    if to < end {
        let rest = to + kerf < end;
        let more = work.part + 1 < parts.len();
        return Some(Step {
            across: axis,
            at: to - low,
            fence: to - low,
            low: Some((work.rect.slice(axis, low, to), Some((part, 0)))),
            high: rest.then(|| (work.rect.slice(axis, to + kerf, end), more.then_some((work.node, work.part + 1)))),
        });
    }
    next_cut(&Work { number: work.number, rect: part.rect, node: part, part: 0 }, kerf)
}
