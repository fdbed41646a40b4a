//! One question to the cutting crate, and its answer as a lot.

use std::collections::BTreeMap;

use casewright_core::assembly::{Grain, Part};
use casewright_core::design::Resolved;
use casewright_core::stock::{Lot, MatchedRow, Quality, Spare};
use casewright_cutting::{self as cutting, Axis, CuttingError, Goal, Saw, Size, Status, Watch};

use crate::convert::cut_board;
use crate::plan::PlanOptions;
use crate::pool::Pool;

/// What all lots of a plan have in common.
pub(crate) struct Asked<'a> {
    pub(crate) design: &'a Resolved,
    pub(crate) parts: &'a [Part],
    pub(crate) saw: Saw,
    pub(crate) useful: Goal,
    pub(crate) options: &'a PlanOptions,
    pub(crate) rows: &'a [MatchedRow],
    pub(crate) watch: &'a dyn Watch,
}

impl<'a> Asked<'a> {
    /// The part of an index.
    pub(crate) fn part(&self, index: usize) -> Option<&'a Part> {
        self.parts.get(index)
    }

    /// The matched row that a part is in.
    pub(crate) fn row(&self, part: usize) -> Option<&'a MatchedRow> {
        self.rows.iter().find(|row| row.parts.contains(&part))
    }
}

/// Parts of one size that may lie alike: one kind of piece.
pub(crate) type Kinds = Vec<Vec<usize>>;

/// The parts by kind: each part of a matched row for itself, in the order of the row; then the others in the order of their
/// first.
fn kinds(asked: &Asked<'_>, parts: &[usize]) -> Kinds {
    let rows = asked.rows.iter().flat_map(|row| &row.parts);
    let mut kinds: Kinds = rows.filter(|it| parts.contains(it)).map(|it| vec![*it]).collect();
    let mut known: BTreeMap<(i64, i64, bool), usize> = BTreeMap::new();
    for &index in parts {
        let Some(part) = asked.part(index).filter(|_| asked.row(index).is_none()) else { continue };
        let key = (part.cut.length.nm(), part.cut.width.nm(), part.grain == Grain::AlongLength);
        let kind = *known.entry(key).or_insert_with(|| {
            kinds.push(Vec::new());
            kinds.len() - 1
        });
        if let Some(kind) = kinds.get_mut(kind) {
            kind.push(index);
        }
    }
    kinds
}

fn piece(asked: &Asked<'_>, kind: &[usize]) -> Option<cutting::Piece> {
    let index = *kind.first()?;
    let part = asked.part(index)?;
    let row = asked.row(index);
    Some(cutting::Piece {
        name: part.number.clone(),
        material: String::new(),
        size: Size::new(part.cut.length.nm(), part.cut.width.nm()),
        quantity: u32::try_from(kind.len()).unwrap_or(u32::MAX),
        grain: (part.grain == Grain::AlongLength).then_some(Axis::X),
        group: row.map(|it| format!("row {}", it.tie)),
        row: row.map(|it| if it.along_length { Axis::X } else { Axis::Y }),
    })
}

/// What the cutting crate says of a plan of boards.
pub(crate) fn quality(status: Status) -> Quality {
    let square_metres = |area: i128| area as f64 / 1e18;
    match status {
        Status::ProvenBest => Quality::Best,
        Status::WithinPercent(percent) => Quality::Within(percent),
        Status::Impossible { area_short } => Quality::Impossible(square_metres(area_short)),
        Status::Unplaced { area_short } => Quality::Unplaced(square_metres(area_short)),
    }
}

/// The lot for these parts from these sources; takes what it uses out of the pool.
pub(crate) fn lot(
    asked: &Asked<'_>,
    pool: &mut Pool<'_>,
    material: &str,
    sources: &[usize],
    parts: &[usize],
    lots: &mut [Lot],
) -> Result<Lot, CuttingError> {
    let grained = asked.design.materials.get(material).is_some_and(|it| it.grain);
    let (boards, least) = pool.question(sources, grained);
    let kinds = kinds(asked, parts);
    let pieces: Vec<cutting::Piece> = kinds.iter().filter_map(|kind| piece(asked, kind)).collect();
    let goal = Goal { least, ..asked.useful };
    let plan = cutting::cut(&boards, &pieces, &asked.saw, &goal, &asked.options.effort, asked.watch)?;
    debug_assert_eq!(cutting::check_plan(&boards, &pieces, &asked.saw, &goal, &plan), Ok(()));
    let part_of = |piece: usize, copy: u32| kinds.get(piece)?.get(copy as usize).copied();
    let mut taken: BTreeMap<usize, u32> = BTreeMap::new();
    let mut cut_boards = Vec::new();
    for found in &plan.boards {
        let Some(&index) = sources.get(found.board) else { continue };
        let Some(source) = pool.sources.get(index) else { continue };
        *taken.entry(index).or_default() += 1;
        if let Some(rest) = source.rest {
            let offcut =
                lots.get_mut(rest.lot).and_then(|it| it.boards.get_mut(rest.cut)?.offcuts.get_mut(rest.offcut));
            if let Some(offcut) = offcut {
                offcut.taken = true;
            }
        }
        let name = pool.board(index).map(|it| it.name.clone()).unwrap_or_default();
        cut_boards.push(cut_board(asked, source, &name, found, &part_of));
    }
    let missing: Vec<usize> = (plan.missing.iter())
        .flat_map(|it| {
            kinds
                .get(it.piece)
                .map_or(&[][..], |kind| kind.get(kind.len().saturating_sub(it.count as usize)..).unwrap_or(&[]))
        })
        .copied()
        .collect();
    let spare = match asked.options.spare {
        Some(effort) if missing.is_empty() => {
            cutting::spare(&boards, &pieces, &plan, &asked.saw, &effort, asked.watch)?
        }
        _ => Vec::new(),
    };
    let lot = Lot {
        material: material.to_owned(),
        which: String::new(),
        boards: cut_boards,
        missing,
        quality: quality(plan.status),
        after_others: false,
        spare: (spare.iter())
            .filter_map(|it| {
                let parts = kinds.get(it.piece)?.clone();
                Some(Spare { parts, from_offcuts: it.from_offcuts, planned_anew: it.planned_anew })
            })
            .collect(),
    };
    let taken: Vec<(usize, u32)> = taken.into_iter().collect();
    pool.take(lots.len(), &lot, &taken);
    Ok(lot)
}
