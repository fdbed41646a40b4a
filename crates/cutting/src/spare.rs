//! How many mistakes the stock forgives: further copies of each piece that the same boards would still give.

use crate::boards::plan::cut;
use crate::effort::{Effort, Watch};
use crate::error::{CuttingError, MAX_PIECES};
use crate::goal::{Goal, Saw};
use crate::pattern::{Wanted, fill};
use crate::piece::Piece;
use crate::plan::Plan;
use crate::stock::{Board, Quantity};

/// Further copies of one piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spare {
    /// Index of the piece in the question.
    pub piece: usize,
    /// Copies that the plan's offcuts give, the plan left as it is.
    pub from_offcuts: u32,
    /// Copies that the same boards give when they are planned anew before the first cut; never fewer. A plan was found
    /// for so many; that there is none for more is not proven.
    pub planned_anew: u32,
}

/// Further copies of every piece, one kind at a time: not of all kinds at once. Nothing is spare while something is missing.
///
/// # Errors
/// As for [`crate::cut`].
pub fn spare(
    stock: &[Board],
    pieces: &[Piece],
    plan: &Plan,
    saw: &Saw,
    effort: &Effort,
    watch: &dyn Watch,
) -> Result<Vec<Spare>, CuttingError> {
    // A third each for the offcuts and for a few plans anew.
    let share = effort.part_of(pieces.len().saturating_mul(3));
    let mut used = stock.to_vec();
    for (index, board) in used.iter_mut().enumerate() {
        board.quantity = Quantity::Limited(plan.boards.iter().filter(|b| b.board == index).count() as u32);
    }
    let mut list = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        let mut spare = Spare { piece: index, from_offcuts: 0, planned_anew: 0 };
        if plan.missing.is_empty() && !watch.cancelled() {
            spare.from_offcuts = from_offcuts(stock, piece, plan, saw, &share, watch)?;
            spare.planned_anew = spare.from_offcuts;
            // Doubling, then halving: few plans even where hundreds of small pieces would fit.
            let (mut good, mut step, mut growing) = (spare.from_offcuts, 1u32, true);
            while step > 0 && !watch.cancelled() {
                if more(&used, pieces, index, good.saturating_add(step), saw, &share, watch)? {
                    good += step;
                    step = if growing { step * 2 } else { step / 2 };
                } else {
                    growing = false;
                    step /= 2;
                }
            }
            spare.planned_anew = good;
        }
        list.push(spare);
    }
    Ok(list)
}

/// Copies from the offcuts of the plan; none of a piece of a group, which must come from the group's own board.
fn from_offcuts(
    stock: &[Board],
    piece: &Piece,
    plan: &Plan,
    saw: &Saw,
    effort: &Effort,
    watch: &dyn Watch,
) -> Result<u32, CuttingError> {
    if piece.group.is_some() {
        return Ok(0);
    }
    let mut count: u32 = 0;
    for cut in &plan.boards {
        let Some(board) = stock.get(cut.board).filter(|b| b.material == piece.material) else { continue };
        for offcut in cut.offcuts.iter().filter(|o| o.good) {
            let rest = Board {
                material: board.material.clone(),
                grain: board.grain,
                ..Board::new(board.name.clone(), offcut.rect.size.width, offcut.rect.size.height)
            };
            let wanted = Wanted { piece: piece.clone(), copies: Quantity::Unlimited, value: 1 };
            let goal = Goal::default();
            let more = fill(&rest, &[wanted], saw, &goal, effort, watch)?.value;
            count = count.saturating_add(u32::try_from(more).unwrap_or(u32::MAX));
        }
    }
    Ok(count)
}

/// Whether the same boards give so many more copies of the piece; false too where that is more than can be planned at once.
fn more(
    used: &[Board],
    pieces: &[Piece],
    index: usize,
    count: u32,
    saw: &Saw,
    effort: &Effort,
    watch: &dyn Watch,
) -> Result<bool, CuttingError> {
    let mut wanted = pieces.to_vec();
    let Some(piece) = wanted.get_mut(index) else { return Ok(false) };
    piece.quantity = piece.quantity.saturating_add(count);
    let (area, copies) = (piece.size.area(), i128::from(piece.quantity));
    let room: i128 = used
        .iter()
        .filter(|b| b.material == piece.material)
        .map(|b| b.size.area() * i128::from(b.quantity.at_most(u32::MAX)))
        .sum();
    let all: u64 = wanted.iter().map(|p| u64::from(p.quantity)).sum();
    if area * copies > room || all > MAX_PIECES {
        return Ok(false);
    }
    Ok(cut(used, &wanted, saw, &Goal::default(), effort, watch)?.missing.is_empty())
}
