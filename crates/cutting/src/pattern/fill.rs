//! The way in: the most valuable set of pieces from one board.

use super::free::{Block, Table, cornered};
use super::limited::{Question, best};
use super::points::{multiples, raster};
use crate::boards::assemble::assemble;
use crate::boards::plan::check_question;
use crate::boards::problem::Problem;
use crate::boards::tree::Slice;
use crate::effort::{Budget, Effort, Watch};
use crate::error::{CuttingError, Fault, MAX_BOARD_VALUE, MAX_VALUE};
use crate::goal::{Goal, Saw};
use crate::piece::Piece;
use crate::plan::{CutBoard, Status};
use crate::stock::{Board, Quantity};

/// A piece that may be cut, as often as its copies allow; the piece's own quantity does not count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// Size, grain and material.
    pub piece: Piece,
    /// How often it may be cut.
    pub copies: Quantity,
    /// What one is worth, 0 or more.
    pub value: i64,
}

/// The most valuable pattern found.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// Worth of all pieces cut.
    pub value: i128,
    /// Proven: no guillotine pattern is worth more.
    pub bound: i128,
    /// [`Status::ProvenBest`], or by how much the bound lies above the value.
    pub status: Status,
    /// The board with its cuts; placements number the wanted pieces. `None` when no piece fits that is worth anything.
    pub board: Option<CutBoard>,
    /// Units of work spent.
    pub work: u64,
}

/// Cells of a table at most, and points along an axis.
const MOST_CELLS: usize = 6_000_000;
const MOST_POINTS: usize = 4_000;

/// The most valuable guillotine pattern of one board, whatever its quantity and price; groups do not count.
///
/// # Errors
/// Everything that makes the question meaningless, as for [`crate::cut`], and values below 0 or too large to add up.
pub fn fill(
    board: &Board,
    wanted: &[Wanted],
    saw: &Saw,
    goal: &Goal,
    effort: &Effort,
    watch: &dyn Watch,
) -> Result<Fill, CuttingError> {
    let stock = [Board { quantity: Quantity::Limited(1), ..board.clone() }];
    let pieces: Vec<Piece> =
        wanted.iter().map(|w| Piece { quantity: 1, group: None, row: None, ..w.piece.clone() }).collect();
    check_question(&stock, &pieces, saw)?;
    let faults: Vec<Fault> = wanted
        .iter()
        .filter(|w| !(0..=MAX_VALUE).contains(&w.value))
        .map(|w| Fault::Value { name: w.piece.name.clone(), value: w.value })
        .collect();
    if !faults.is_empty() {
        return Err(CuttingError(faults));
    }
    let chosen: Vec<usize> =
        pieces.iter().enumerate().filter(|(_, p)| p.material == board.material).map(|(i, _)| i).collect();
    let problem = Problem::new(&stock, &[0], &pieces, &chosen, saw, goal);
    let budget = Budget::new(effort, watch);
    let nothing = |work| Fill { value: 0, bound: 0, status: Status::ProvenBest, board: None, work };
    let Some(kind) = problem.kinds.first() else { return Ok(nothing(0)) };
    let worth = |item: usize| {
        problem
            .items
            .get(item)
            .and_then(|i| wanted.get(i.piece))
            .map_or((0, Quantity::Limited(0)), |w| (w.value, w.copies))
    };
    // The tables know no limits on copies: they may hold a whole board of what is worth most for its area.
    let most = problem.items.iter().enumerate();
    let most = most.map(|(n, item)| i128::from(worth(n).0).saturating_mul(kind.area) / item.area.max(1)).max();
    if most.is_some_and(|most| most > i128::from(MAX_BOARD_VALUE)) {
        return Err(CuttingError(vec![Fault::BoardValue { name: board.name.clone() }]));
    }
    let all: Vec<u32> = (0..problem.items.len()).map(|i| worth(i).1.at_most(u32::MAX)).collect();
    let mut limits = all.clone();
    let mut slices = Vec::new();
    let (mut value, mut bound) = (0i128, 0i128);
    for &(width, height) in &kind.zones {
        let blocks: Vec<Block> = problem
            .items
            .iter()
            .enumerate()
            .flat_map(|(n, item)| {
                let (given, turned) = item.lays.get(kind.grain).copied().unwrap_or((false, false));
                let one = |w, h| Block { width: w, height: h, value: worth(n).0, item: n };
                let straight = given.then(|| one(item.width, item.height));
                straight.into_iter().chain(turned.then(|| one(item.height, item.width)))
            })
            .filter(|b| b.width <= width && b.height <= height && b.value > 0)
            .collect();
        let (found, top, slice) = at_least_one(width, height, &blocks, &limits, &budget);
        // Where copies were taken for the zones before, this one's bound says nothing of how else to share them.
        bound += i128::from(if limits == all { top } else { ceiling(width, height, &blocks, &all) });
        value += i128::from(found);
        take(&slice, &mut limits);
        slices.push(slice);
    }
    let mut copies = vec![0u32; wanted.len()];
    let number = |piece: usize| {
        copies.get_mut(piece).map_or(0, |n| {
            *n += 1;
            *n - 1
        })
    };
    let cut = if value > 0 { assemble(&problem, kind, &slices, &pieces, &stock, goal, 0, number) } else { None };
    let status = if value >= bound {
        Status::ProvenBest
    } else {
        Status::WithinPercent((bound - value) as f64 * 100.0 / bound as f64)
    };
    Ok(Fill { value, bound, status, board: cut, work: budget.spent() })
}

fn take(slice: &Slice, limits: &mut [u32]) {
    match slice {
        Slice::Free => {}
        Slice::Item(item) => {
            if let Some(n) = limits.get_mut(*item)
                && *n != u32::MAX
            {
                *n = n.saturating_sub(1);
            }
        }
        Slice::Split(_, parts) => parts.iter().for_each(|(_, part)| take(part, limits)),
    }
}

/// How many copies of a block's item the rectangle holds at most, whichever way each lies.
fn most_copies(width: i64, height: i64, block: &Block, blocks: &[Block]) -> i128 {
    let turns = blocks.iter().any(|b| b.item == block.item && (b.width, b.height) != (block.width, block.height));
    if turns {
        i128::from(width) * i128::from(height) / (i128::from(block.width) * i128::from(block.height)).max(1)
    } else {
        i128::from(width / block.width.max(1)) * i128::from(height / block.height.max(1))
    }
}

/// A bound by area: the most worth for its area, as often as allowed, the last one in part.
fn ceiling(width: i64, height: i64, blocks: &[Block], limits: &[u32]) -> i64 {
    let mut seen: Vec<&Block> = Vec::new();
    for b in blocks {
        if seen.last().is_none_or(|s| s.item != b.item) {
            seen.push(b);
        }
    }
    let area = |b: &Block| i128::from(b.width) * i128::from(b.height);
    seen.sort_by(|a, b| (i128::from(b.value) * area(a)).cmp(&(i128::from(a.value) * area(b))));
    let mut room = i128::from(width) * i128::from(height);
    let mut sum = 0i128;
    for b in seen {
        let copies = i128::from(limits.get(b.item).copied().unwrap_or(0)).min(room / area(b).max(1));
        sum += copies * i128::from(b.value);
        room -= copies * area(b);
        if copies < i128::from(limits.get(b.item).copied().unwrap_or(0)) {
            sum += i128::from(b.value) * room / area(b).max(1);
            break;
        }
    }
    i64::try_from(sum).unwrap_or(i64::MAX)
}

/// As [`zone`], but where its effort ended before the first pattern, with the piece alone that is worth most.
fn at_least_one(width: i64, height: i64, blocks: &[Block], limits: &[u32], budget: &Budget<'_>) -> (i64, i64, Slice) {
    let (value, top, slice) = zone(width, height, blocks, limits, budget);
    let wanted = blocks.iter().filter(|b| limits.get(b.item).is_some_and(|&n| n > 0));
    match wanted.max_by_key(|b| b.value) {
        Some(b) if value == 0 => (b.value, top, cornered(Slice::Item(b.item), (b.width, b.height), (width, height))),
        _ => (value, top, slice),
    }
}

/// Value, bound and pattern of one zone.
fn zone(width: i64, height: i64, blocks: &[Block], limits: &[u32], budget: &Budget<'_>) -> (i64, i64, Slice) {
    let top = ceiling(width, height, blocks, limits);
    let extents = |of: fn(&Block) -> i64| {
        let mut list: Vec<(i64, u32)> = blocks.iter().map(|b| (of(b), u32::MAX)).collect();
        list.sort_unstable();
        list.dedup();
        list
    };
    let (wide, high) = (extents(|b| b.width), extents(|b| b.height));
    let rasters = (raster(width, &wide, MOST_POINTS), raster(height, &high, MOST_POINTS));
    let thin = || (multiples(width, &wide, 400), multiples(height, &high, 400));
    let mut limits = limits.to_vec();
    let mut unlimited = true;
    for b in blocks {
        let most = most_copies(width, height, b, blocks);
        if let Some(limit) = limits.get_mut(b.item) {
            unlimited &= i128::from(*limit) >= most;
            *limit = u32::try_from(most).unwrap_or(u32::MAX).min(*limit);
        }
    }
    let exact = match rasters {
        (Some(xs), Some(ys)) if xs.len() * ys.len() <= MOST_CELLS => Some((xs, ys)),
        _ => None,
    };
    if unlimited {
        let heavy = exact.as_ref().is_none_or(|(xs, ys)| xs.len() * ys.len() * (xs.len() + ys.len()) > 400_000_000);
        let mut best = (0, top, Slice::Free);
        if heavy {
            let (xs, ys) = thin();
            if let Some(table) = Table::new(&xs, &ys, blocks, budget) {
                best = (table.value(width, height), top, table.pattern(width, height));
            }
        }
        if best.0 >= top {
            return best;
        }
        if let Some((xs, ys)) = exact
            && let Some(table) = Table::new(&xs, &ys, blocks, budget)
        {
            let value = table.value(width, height);
            return (value, value, table.pattern(width, height));
        }
        return best;
    }
    let is_exact = exact.is_some();
    let (xs, ys) = exact.unwrap_or_else(thin);
    let question = Question { width, height, xs: &xs, ys: &ys, blocks, limits: &limits, exact: is_exact, ceiling: top };
    let answer = best(&question, budget);
    (answer.value, answer.bound, answer.pattern)
}
