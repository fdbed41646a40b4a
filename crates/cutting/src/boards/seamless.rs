//! Plans without any waste, for when the pieces' area is exactly that of some set of boards: blocks that fill whole boards
//! are chosen so that they share no piece.

use super::blocks::{Blocks, Limits, MOST_PIECES};
use super::choice::Choice;
use super::problem::Problem;
use super::strips::suits;
use super::tree::{Slice, Tree};
use crate::effort::Budget;

/// Whole boards of one of the sets, filled without waste; `None` when none was found.
pub(crate) fn seamless(problem: &Problem, sets: &[Choice], budget: &Budget<'_>) -> Option<Vec<Tree>> {
    if problem.items.len() > MOST_PIECES || !suits(problem) {
        return None;
    }
    let need: i128 = problem.items.iter().map(|i| i.area).sum();
    let all: Vec<usize> = (0..problem.items.len()).collect();
    for set in sets.iter().filter(|s| s.area(problem) == need).take(20) {
        let kinds = set.kinds();
        let zones: Vec<(i64, i64)> =
            kinds.iter().filter_map(|&k| problem.kinds.get(k)?.zones.first().copied()).collect();
        let limits = Limits { blocks: 400_000, each: 60_000, loss: 0 };
        let mut blocks = Blocks::new(problem, &all, &zones, limits, 0);
        blocks.grow(budget);
        if let Some(slices) = choose(&blocks, budget) {
            let trees = kinds.iter().zip(slices).filter_map(|(&kind, slice)| {
                let mut tree = Tree::new(kind, &problem.kinds.get(kind)?.zones);
                tree.fill(0, &slice);
                Some(tree)
            });
            return Some(trees.collect());
        }
    }
    None
}

/// Blocks for all zones that share no piece.
fn choose(blocks: &Blocks, budget: &Budget<'_>) -> Option<Vec<Slice>> {
    let mut order: Vec<usize> = (0..blocks.full.len()).collect();
    order.sort_by_key(|&zone| blocks.full.get(zone).map(Vec::len));
    let mut chosen = Vec::new();
    if !disjoint(blocks, &order, 0, &mut chosen, budget) {
        return None;
    }
    let mut by_zone: Vec<(usize, u32)> = order.into_iter().zip(chosen).collect();
    by_zone.sort_unstable();
    Some(by_zone.into_iter().map(|(_, number)| blocks.slice(number)).collect())
}

fn disjoint(blocks: &Blocks, order: &[usize], used: u128, chosen: &mut Vec<u32>, budget: &Budget<'_>) -> bool {
    let Some(&zone) = order.get(chosen.len()) else { return true };
    let candidates = blocks.full.get(zone).map_or(&[][..], Vec::as_slice);
    if !budget.spend(candidates.len() as u64 / 4 + 1) {
        return false;
    }
    for &number in candidates {
        let Some(block) = blocks.get(number) else { continue };
        if block.pieces & used == 0 {
            chosen.push(number);
            if disjoint(blocks, order, used | block.pieces, chosen, budget) {
                return true;
            }
            chosen.pop();
        }
    }
    false
}
