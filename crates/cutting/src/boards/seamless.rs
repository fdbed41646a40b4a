//! Plans without any waste, for when the pieces' area is exactly that of some set of boards.
//!
//! Two pieces or blocks that share a whole edge make a block without waste. Nearly all such blocks of up to a few dozen
//! pieces can be listed, because edges seldom match by chance; blocks that fill whole boards are then chosen so that
//! they share no piece. Own method; for at most 128 pieces.

use std::collections::{BTreeMap, BTreeSet};

use super::choice::Choice;
use super::problem::Problem;
use super::tree::{Slice, Tree};
use crate::effort::Budget;
use crate::size::Axis;

struct Block {
    width: i64,
    height: i64,
    mask: u128,
    made: Made,
}

#[derive(Clone, Copy)]
enum Made {
    Item(usize),
    Pair(Axis, u32, u32),
}

/// Blocks at most, and blocks of one number of pieces at most.
const MOST_BLOCKS: usize = 600_000;
const MOST_OF_A_SIZE: usize = 60_000;

/// Whole boards of one of the sets, filled without waste; `None` when none was found.
pub(crate) fn seamless(problem: &Problem, sets: &[Choice], budget: &Budget<'_>) -> Option<Vec<Tree>> {
    let need: i128 = problem.items.iter().map(|i| i.area).sum();
    let room =
        |set: &Choice| -> i128 { set.counts.iter().zip(&problem.kinds).map(|(&n, k)| i128::from(n) * k.area).sum() };
    let sets: Vec<&Choice> = sets.iter().filter(|s| room(s) == need).collect();
    let single_zones = problem.kinds.iter().all(|k| k.zones.len() == 1);
    let grains: BTreeSet<usize> = problem.kinds.iter().map(|k| k.grain).collect();
    let grouped = problem.items.iter().any(|i| i.group.is_some());
    if sets.is_empty() || problem.items.len() > 128 || !single_zones || grains.len() != 1 || grouped {
        return None;
    }
    let mut list = List::new(problem);
    list.grow(budget);
    sets.iter().find_map(|set| list.choose(&set.kinds(), budget))
}

struct List<'a> {
    problem: &'a Problem,
    zones: Vec<(i64, i64)>,
    blocks: Vec<Block>,
    /// Blocks by number of pieces, waiting to be joined with others.
    waiting: Vec<Vec<u32>>,
    by_width: BTreeMap<i64, Vec<u32>>,
    by_height: BTreeMap<i64, Vec<u32>>,
    seen: BTreeSet<(u128, i64)>,
    /// Blocks that fill a whole zone, by kind.
    full: Vec<Vec<u32>>,
}

#[allow(clippy::indexing_slicing, reason = "block numbers are made here")]
impl<'a> List<'a> {
    fn new(problem: &'a Problem) -> Self {
        let zones: Vec<(i64, i64)> = problem.kinds.iter().flat_map(|k| k.zones.iter().copied()).collect();
        let mut list = Self {
            problem,
            full: vec![Vec::new(); zones.len()],
            zones,
            blocks: Vec::new(),
            waiting: vec![Vec::new(); problem.items.len() + 1],
            by_width: BTreeMap::new(),
            by_height: BTreeMap::new(),
            seen: BTreeSet::new(),
        };
        let grain = problem.kinds.first().map_or(0, |k| k.grain);
        for (index, item) in problem.items.iter().enumerate() {
            let (given, turned) = item.lays.get(grain).copied().unwrap_or((false, false));
            let mask = 1u128 << index;
            if given {
                list.offer(Block { width: item.width, height: item.height, mask, made: Made::Item(index) });
            }
            if turned {
                list.offer(Block { width: item.height, height: item.width, mask, made: Made::Item(index) });
            }
        }
        list
    }

    fn offer(&mut self, block: Block) {
        let (w, h) = (block.width, block.height);
        if !self.zones.iter().any(|&(zw, zh)| w <= zw && h <= zh) || self.blocks.len() >= MOST_BLOCKS {
            return;
        }
        let count = block.mask.count_ones() as usize;
        // Blocks as wide or as high as a board are few and lead to whole boards: they are always kept.
        let spans = self.zones.iter().any(|&(zw, zh)| (w == zw && h <= zh) || (h == zh && w <= zw));
        if !spans && self.waiting[count].len() >= MOST_OF_A_SIZE || !self.seen.insert((block.mask, w)) {
            return;
        }
        let number = self.blocks.len() as u32;
        for (kind, &(zw, zh)) in self.zones.iter().enumerate() {
            if w == zw && h == zh {
                self.full[kind].push(number);
            }
        }
        self.blocks.push(block);
        self.waiting[count].push(number);
    }

    /// Joins blocks with blocks, few pieces first.
    fn grow(&mut self, budget: &Budget<'_>) {
        for count in 1..self.waiting.len() {
            let mut at = 0;
            while let Some(&number) = self.waiting[count].get(at) {
                at += 1;
                let (w, h, mask) = {
                    let b = &self.blocks[number as usize];
                    (b.width, b.height, b.mask)
                };
                for (axis, partners) in [
                    (Axis::Y, self.by_width.get(&w).cloned().unwrap_or_default()),
                    (Axis::X, self.by_height.get(&h).cloned().unwrap_or_default()),
                ] {
                    if !budget.spend(partners.len() as u64 / 4 + 2) || budget.share() > 0.5 {
                        return;
                    }
                    for other in partners {
                        let b = &self.blocks[other as usize];
                        if b.mask & mask != 0 {
                            continue;
                        }
                        let (width, height) = match axis {
                            Axis::X => (w + b.width, h),
                            Axis::Y => (w, h + b.height),
                        };
                        let joined = b.mask | mask;
                        self.offer(Block { width, height, mask: joined, made: Made::Pair(axis, number, other) });
                    }
                }
                self.by_width.entry(w).or_default().push(number);
                self.by_height.entry(h).or_default().push(number);
            }
        }
    }

    /// Full blocks for these boards that share no piece.
    fn choose(&self, kinds: &[usize], budget: &Budget<'_>) -> Option<Vec<Tree>> {
        let mut kinds = kinds.to_vec();
        kinds.sort_by_key(|&k| self.full.get(k).map_or(0, Vec::len));
        let mut chosen = Vec::new();
        if !self.disjoint(&kinds, 0, &mut chosen, budget) {
            return None;
        }
        let trees = kinds.iter().zip(chosen).filter_map(|(&kind, number)| {
            let mut tree = Tree::new(kind, &self.problem.kinds.get(kind)?.zones);
            tree.fill(0, &self.slice(number));
            Some(tree)
        });
        Some(trees.collect())
    }

    fn disjoint(&self, kinds: &[usize], mask: u128, chosen: &mut Vec<u32>, budget: &Budget<'_>) -> bool {
        let Some(&kind) = kinds.get(chosen.len()) else { return true };
        let candidates = &self.full[kind];
        if !budget.spend(candidates.len() as u64 / 4 + 1) {
            return false;
        }
        for &number in candidates {
            let block = &self.blocks[number as usize];
            if block.mask & mask == 0 {
                chosen.push(number);
                if self.disjoint(kinds, mask | block.mask, chosen, budget) {
                    return true;
                }
                chosen.pop();
            }
        }
        false
    }

    fn slice(&self, number: u32) -> Slice {
        match self.blocks[number as usize].made {
            Made::Item(item) => Slice::Item(item),
            Made::Pair(axis, a, b) => {
                let extent = |n: u32| match axis {
                    Axis::X => self.blocks[n as usize].width,
                    Axis::Y => self.blocks[n as usize].height,
                };
                Slice::Split(axis, vec![(extent(a), self.slice(a)), (extent(b), self.slice(b))])
            }
        }
    }
}
