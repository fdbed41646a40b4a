//! Workpieces by name: which part, offcut or counted piece comes off the saw.

use std::collections::BTreeMap;

use casewright_core::stock::Workpiece;
use casewright_cutting::{self as cutting, Rect};

use crate::lot::Asked;

/// Where each workpiece lies on the board, told by following the cuts.
pub(crate) fn workpieces(found: &cutting::CutBoard, kerf: i64) -> BTreeMap<usize, Rect> {
    let mut rects = BTreeMap::from([(0, found.tree.rect)]);
    for cut in &found.cuts {
        let Some(rect) = rects.get(&cut.workpiece).copied() else { continue };
        let low = rect.low(cut.across);
        let end = low + rect.size.along(cut.across);
        if let Some(piece) = cut.low {
            rects.insert(piece, rect.slice(cut.across, low, low + cut.at));
        }
        if let Some(piece) = cut.high {
            rects.insert(piece, rect.slice(cut.across, low + cut.at + kerf, end));
        }
    }
    rects
}

/// The names of the workpieces of one board.
pub(crate) struct Names {
    names: BTreeMap<usize, Workpiece>,
}

impl Names {
    /// Names for all workpieces: a part goes by its number, what remains is an offcut or waste, all others are counted.
    pub(crate) fn new(
        asked: &Asked<'_>,
        found: &cutting::CutBoard,
        rects: &BTreeMap<usize, Rect>,
        part_of: &dyn Fn(usize, u32) -> Option<usize>,
    ) -> Self {
        let name = |piece: usize, rect: &Rect| {
            if let Some(placed) = found.placements.iter().find(|it| it.rect == *rect) {
                let part = part_of(placed.piece, placed.copy).and_then(|it| asked.part(it));
                return Workpiece::Part(part.map(|it| it.number.clone()).unwrap_or_default());
            }
            match found.offcuts.iter().find(|it| it.rect == *rect) {
                Some(offcut) if offcut.useful => Workpiece::Offcut,
                Some(_) => Workpiece::Waste,
                None if found.cuts.iter().any(|cut| cut.workpiece == piece) => Workpiece::Piece(piece),
                None => Workpiece::Waste,
            }
        };
        Self { names: rects.iter().map(|(&piece, rect)| (piece, name(piece, rect))).collect() }
    }

    /// What a workpiece is; nothing is dust.
    pub(crate) fn of(&self, piece: Option<usize>) -> Workpiece {
        piece.and_then(|it| self.names.get(&it)).cloned().unwrap_or(Workpiece::Dust)
    }
}
