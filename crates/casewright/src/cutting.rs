//! From parts and boards of a design to questions about cutting, and from the answers back to parts.
//!
//! A board that only serves some roles cannot be told to the cutting crate, which knows no furniture. So such boards are
//! planned first, each kind for the parts that it may serve; what they do not take goes to the boards that serve all.

use std::collections::BTreeMap;

use casewright_core::Length;
use casewright_core::assembly::{Grain, Part};
use casewright_core::design::{Board, BoardSource};
use casewright_core::unit::{DecimalMark, Unit};
use casewright_cutting as cutting;
use casewright_cutting::{Axis, Effort, Goal, Objective, Quantity, RawEdges, Rect, Size, Status, Unwatched};

use casewright_core::pipeline::Derived;

/// What is taken off each raw edge of a new sheet: 5 mm (common practice: edges come bruised and out of square).
pub(crate) const TRIM_NEW_SHEETS: Length = Length::from_mm(5);
/// The smallest offcut worth keeping: 300 x 100 mm (own choice).
const USEFUL: Size = Size::new(300_000_000, 100_000_000);

/// One part on a board, or one that found none.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    /// Part number.
    pub(crate) number: String,
    /// What the part is called.
    pub(crate) name: String,
    /// Its material.
    pub(crate) material: String,
    /// Cut length.
    pub(crate) length: Length,
    /// Cut width.
    pub(crate) width: Length,
    /// From the start of the board's length.
    pub(crate) x: Length,
    /// From the near edge of the board's width.
    pub(crate) y: Length,
    /// Whether its length lies across the board's.
    pub(crate) turned: bool,
}

/// One board that is cut into.
#[derive(Clone, Debug)]
pub(crate) struct CutBoard {
    /// Name in the design, and which of them, from 1.
    pub(crate) name: String,
    /// Which of the equal boards, from 1.
    pub(crate) copy: u32,
    /// Name, size and source in words.
    pub(crate) what: String,
    /// Where the parts lie.
    pub(crate) parts: Vec<Placed>,
    /// The cuts in words, in order.
    pub(crate) cuts: Vec<String>,
    /// Useful remains, length by width.
    pub(crate) offcuts: Vec<(Length, Length)>,
}

/// The plan for one material from one kind of stock.
#[derive(Clone, Debug)]
pub(crate) struct Lot {
    /// Material and kind of stock, in words.
    pub(crate) what: String,
    /// The boards that are cut into.
    pub(crate) boards: Vec<CutBoard>,
    /// What found no board in the end; only in the last lot of a material.
    pub(crate) missing: Vec<Placed>,
    status: Status,
    restricted: bool,
}

impl Lot {
    /// How good the plan is, in words.
    pub(crate) fn quality(&self) -> String {
        let boards = match self.boards.len() {
            1 => "1 board".to_owned(),
            count => format!("{count} boards"),
        };
        match self.status {
            _ if self.restricted => format!("{boards}, taken first"),
            Status::ProvenBest => format!("{boards}, proven: fewer will not do"),
            Status::WithinPercent(percent) if percent.is_finite() => {
                format!("{boards}, at most {percent:.0} % more than the fewest possible")
            }
            Status::WithinPercent(_) => format!("{boards}, the fewest found"),
            Status::Impossible { area_short } => {
                format!("{boards}, and {} m2 of parts that this stock cannot give (proven)", square_metres(area_short))
            }
            Status::Unplaced { area_short } => {
                format!("{boards}, and {} m2 of parts without a place", square_metres(area_short))
            }
        }
    }
}

fn square_metres(area: i128) -> String {
    format!("{:.2}", area as f64 / 1e18)
}

/// The cutting plan of all parts: for each material in the order of the design, first the boards kept for some roles.
///
/// # Errors
/// A size that cannot be cut at all, in words.
pub(crate) fn plan(work: &Derived, kerf: Length, effort: &Effort) -> Result<Vec<Lot>, String> {
    let mut lots = Vec::new();
    for material in work.design.materials.keys() {
        let mut open: Vec<&Part> = work.assembly.parts.iter().filter(|part| part.material == *material).collect();
        if open.is_empty() {
            continue;
        }
        let boards: Vec<&Board<Length>> =
            work.design.boards.iter().filter(|board| board.material == *material).collect();
        for board in boards.iter().filter(|board| !board.only_for.is_empty()) {
            let (may, other): (Vec<&Part>, Vec<&Part>) =
                open.iter().partition(|part| board.only_for.contains(&part.role));
            if may.is_empty() {
                continue;
            }
            let (mut lot, left) = lot(work, material, &[*board], &may, kerf, effort)?;
            lot.what = format!("{material}, {} only for {:?}", board.name, board.only_for);
            lot.restricted = true;
            lot.missing.clear();
            if !lot.boards.is_empty() {
                lots.push(lot);
            }
            open = other.into_iter().chain(left).collect();
        }
        if !open.is_empty() {
            let all: Vec<&Board<Length>> = boards.into_iter().filter(|board| board.only_for.is_empty()).collect();
            lots.push(lot(work, material, &all, &open, kerf, effort)?.0);
        }
    }
    Ok(lots)
}

/// The plan for these parts from these boards, and the parts that found no place.
fn lot<'p>(
    work: &Derived,
    material: &str,
    boards: &[&Board<Length>],
    parts: &[&'p Part],
    kerf: Length,
    effort: &Effort,
) -> Result<(Lot, Vec<&'p Part>), String> {
    let unit = work.design.unit;
    let grained = work.design.materials.get(material).is_some_and(|it| it.grain);
    let stock: Vec<cutting::Board> = boards.iter().map(|board| stock(board, grained)).collect();
    let pieces: Vec<cutting::Piece> = parts.iter().map(|part| piece(part)).collect();
    let saw = cutting::Saw { kerf: kerf.nm(), trim: TRIM_NEW_SHEETS.nm() };
    let priced = boards.iter().all(|board| board.price.is_some());
    let least = if priced && boards.len() > 1 { Objective::LeastMoney } else { Objective::FewestBoards };
    let goal = Goal { least, useful: USEFUL };
    let plan = cutting::cut(&stock, &pieces, &saw, &goal, effort, &Unwatched).map_err(|error| error.to_string())?;
    let placed = |part: &Part, x: i64, y: i64, turned: bool| Placed {
        number: part.number.clone(),
        name: part.name.clone(),
        material: part.material.clone(),
        length: part.cut.length,
        width: part.cut.width,
        x: Length::from_nm(x),
        y: Length::from_nm(y),
        turned,
    };
    let mut cut_boards = Vec::new();
    for found in &plan.boards {
        let Some(board) = boards.get(found.board) else { continue };
        let on_board = (found.placements.iter())
            .filter_map(|it| parts.get(it.piece).map(|part| placed(part, it.rect.x, it.rect.y, it.turned)))
            .collect();
        cut_boards.push(CutBoard {
            name: board.name.clone(),
            copy: found.copy + 1,
            what: describe(board, unit),
            parts: on_board,
            cuts: cuts_in_words(found, parts, kerf, unit),
            offcuts: (found.offcuts.iter().filter(|it| it.useful))
                .map(|it| (Length::from_nm(it.rect.size.width), Length::from_nm(it.rect.size.height)))
                .collect(),
        });
    }
    let left: Vec<&Part> = plan.missing.iter().filter_map(|it| parts.get(it.piece).copied()).collect();
    let lot = Lot {
        what: material.to_owned(),
        boards: cut_boards,
        missing: left.iter().map(|part| placed(part, 0, 0, false)).collect(),
        status: plan.status,
        restricted: false,
    };
    Ok((lot, left))
}

fn stock(board: &Board<Length>, grained: bool) -> cutting::Board {
    let (length, width) = (board.size.0.nm(), board.size.1.nm());
    let zones = (board.spoilt.iter())
        .map(|(start, end, near, far)| {
            Rect::new(start.nm(), near.nm(), length - start.nm() - end.nm(), width - near.nm() - far.nm())
        })
        .collect();
    cutting::Board {
        name: board.name.clone(),
        material: board.material.clone(),
        size: Size::new(length, width),
        zones,
        raw: if board.source == BoardSource::New { RawEdges::ALL } else { RawEdges::NONE },
        grain: grained.then_some(Axis::X),
        quantity: board.quantity.map_or(Quantity::Unlimited, Quantity::Limited),
        // The smallest unit of money; more than a trillion is no price.
        cost: board.price.map_or(0, |price| (price.clamp(0.0, 1e12) * 100.0).round() as i64),
    }
}

fn piece(part: &Part) -> cutting::Piece {
    cutting::Piece {
        name: part.number.clone(),
        material: part.material.clone(),
        size: Size::new(part.cut.length.nm(), part.cut.width.nm()),
        quantity: 1,
        grain: (part.grain == Grain::AlongLength).then_some(Axis::X),
        group: None,
    }
}

fn describe(board: &Board<Length>, unit: Unit) -> String {
    let size = |length: Length| unit.format_named(length, DecimalMark::Point);
    let source = match board.source {
        BoardSource::New => "new",
        BoardSource::Offcut => "offcut",
        BoardSource::Salvaged => "salvaged",
    };
    format!("{}, {} x {}, {source}", board.name, size(board.size.0), size(board.size.1))
}

/// The cuts of a board in words: which workpiece, which way, the fence, and what comes of it. A workpiece that is a part
/// goes by its number, one that remains is `offcut`, all others are counted.
fn cuts_in_words(found: &cutting::CutBoard, parts: &[&Part], kerf: Length, unit: Unit) -> Vec<String> {
    // Where each workpiece lies on the board, told by following the cuts.
    let mut rects = BTreeMap::from([(0, found.tree.rect)]);
    for cut in &found.cuts {
        let Some(rect) = rects.get(&cut.workpiece).copied() else { continue };
        let low = rect.low(cut.across);
        let end = low + rect.size.along(cut.across);
        if let Some(piece) = cut.low {
            rects.insert(piece, rect.slice(cut.across, low, low + cut.at));
        }
        if let Some(piece) = cut.high {
            rects.insert(piece, rect.slice(cut.across, low + cut.at + kerf.nm(), end));
        }
    }
    let name = |piece: Option<usize>| {
        let Some(piece) = piece else { return "nothing".to_owned() };
        let rect = rects.get(&piece);
        if let Some(placed) = found.placements.iter().find(|it| Some(&it.rect) == rect) {
            return parts.get(placed.piece).map(|part| part.number.clone()).unwrap_or_default();
        }
        match found.offcuts.iter().find(|it| Some(&it.rect) == rect) {
            Some(offcut) if offcut.useful => "offcut".to_owned(),
            Some(_) => "waste".to_owned(),
            None if found.cuts.iter().any(|cut| cut.workpiece == piece) => format!("piece {piece}"),
            None => "waste".to_owned(),
        }
    };
    let words = |cut: &cutting::Cut| {
        format!(
            "cut {}, fence {}: {} {} into {} and {}",
            cut.number,
            unit.format_named(Length::from_nm(cut.fence), DecimalMark::Point),
            match cut.across {
                Axis::X => "crosscut",
                Axis::Y => "rip",
            },
            if cut.workpiece == 0 { "the board".to_owned() } else { format!("piece {}", cut.workpiece) },
            name(cut.low),
            name(cut.high),
        )
    };
    found.cuts.iter().map(words).collect()
}
