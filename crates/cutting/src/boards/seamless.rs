//! Plans without any waste, for when the pieces' area is exactly that of some set of boards.
//!
//! Two pieces or blocks that share a whole edge make a block without waste. Nearly all such blocks of up to a few dozen
//! pieces can be listed, because edges seldom match by chance; blocks that fill whole boards are then chosen so that
//! they share no piece. Own method; for at most 512 pieces.

use std::collections::{BTreeMap, BTreeSet};

use super::choice::Choice;
use super::problem::Problem;
use super::tree::{Slice, Tree};
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// A set of pieces.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
struct Mask([u64; 8]);

/// Pieces at most.
const MOST_PIECES: usize = 512;

impl Mask {
    fn of(piece: usize) -> Self {
        let mut mask = Self::default();
        if let Some(word) = mask.0.get_mut(piece / 64) {
            *word = 1 << (piece % 64);
        }
        mask
    }

    fn meets(&self, other: &Self) -> bool {
        self.0.iter().zip(&other.0).any(|(a, b)| a & b != 0)
    }

    fn with(&self, other: &Self) -> Self {
        let mut mask = *self;
        mask.0.iter_mut().zip(&other.0).for_each(|(a, b)| *a |= b);
        mask
    }

    fn count(&self) -> usize {
        self.0.iter().map(|w| w.count_ones() as usize).sum()
    }
}

struct Block {
    width: i64,
    height: i64,
    mask: Mask,
    key: u64,
    made: Made,
}

#[derive(Clone, Copy)]
enum Made {
    Item(usize),
    Pair(Axis, u32, u32),
}

/// Blocks at most.
const MOST_BLOCKS: usize = 400_000;

/// Pieces at most for which nearly all blocks can be listed.
const FEW: usize = 128;

/// Whether the method fits the question at all.
fn suits(problem: &Problem) -> bool {
    let single_zones = problem.kinds.iter().all(|k| k.zones.len() == 1);
    let grains: BTreeSet<usize> = problem.kinds.iter().map(|k| k.grain).collect();
    let grouped = problem.items.iter().any(|i| i.group.is_some());
    problem.items.len() <= MOST_PIECES && single_zones && grains.len() == 1 && !grouped
}

/// Whole boards of one of the sets, filled without waste; `None` when none was found.
pub(crate) fn seamless(problem: &Problem, sets: &[Choice], budget: &Budget<'_>) -> Option<Vec<Tree>> {
    if problem.items.len() > FEW || !suits(problem) {
        return None;
    }
    let need: i128 = problem.items.iter().map(|i| i.area).sum();
    let room =
        |set: &Choice| -> i128 { set.counts.iter().zip(&problem.kinds).map(|(&n, k)| i128::from(n) * k.area).sum() };
    let all: Vec<usize> = (0..problem.items.len()).collect();
    for set in sets.iter().filter(|s| room(s) == need).take(20) {
        let kinds = set.kinds();
        let zones: Vec<(i64, i64)> =
            kinds.iter().filter_map(|&k| problem.kinds.get(k)?.zones.first().copied()).collect();
        let mut list = List::new(problem, &all, &zones, 60_000, 0);
        list.grow(budget);
        if let Some(slices) = list.choose(budget) {
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

/// What is still free of a board: strips have been cut off it.
struct Free {
    kind: usize,
    width: i64,
    height: i64,
    strips: Vec<(Axis, i64, Slice)>,
}

/// Boards with strips without waste, as many as can be found until so few pieces are left; and the pieces left.
/// `None` when the method does not suit the question.
pub(crate) fn strips(
    problem: &Problem,
    kinds: &[usize],
    leave: usize,
    seed: u64,
    budget: &Budget<'_>,
) -> Option<(Vec<Tree>, Vec<usize>)> {
    if !suits(problem) {
        return None;
    }
    let mut strips = Strips::new(problem, kinds, seed);
    strips.run(leave, budget);
    let trees = strips.rects.into_iter().filter_map(|rect| {
        let mut tree = Tree::new(rect.kind, &problem.kinds.get(rect.kind)?.zones);
        tree.stack(&rect.strips);
        Some(tree)
    });
    Some((trees.collect(), strips.alive))
}

struct Strips<'a> {
    problem: &'a Problem,
    rects: Vec<Free>,
    alive: Vec<usize>,
    random: Random,
}

impl<'a> Strips<'a> {
    fn new(problem: &'a Problem, kinds: &[usize], seed: u64) -> Self {
        let mut rects: Vec<Free> = kinds
            .iter()
            .filter_map(|&kind| {
                let &(width, height) = problem.kinds.get(kind)?.zones.first()?;
                Some(Free { kind, width, height, strips: Vec::new() })
            })
            .collect();
        let mut random = Random::new(seed);
        for i in (1..rects.len()).rev() {
            rects.swap(i, random.below(i + 1));
        }
        Self { problem, rects, alive: (0..problem.items.len()).collect(), random }
    }

    fn run(&mut self, leave: usize, budget: &Budget<'_>) {
        let mut current = 0;
        while self.alive.len() > leave && current < self.rects.len() && !budget.over() {
            if self.cut(current, leave, budget) == 0 {
                current += 1;
            }
        }
    }

    /// Cuts strips off one board; the number of strips.
    fn cut(&mut self, current: usize, leave: usize, budget: &Budget<'_>) -> usize {
        let Some(rect) = self.rects.get(current).filter(|r| r.width > 0 && r.height > 0) else { return 0 };
        let mut list = List::new(self.problem, &self.alive, &[(rect.width, rect.height)], 250, self.random.next());
        list.grow(budget);
        let rarity = self.rarity();
        let alive = self.alive.iter().filter_map(|&i| self.problem.items.get(i));
        let thin = alive.map(|i| i.width.min(i.height)).min().unwrap_or(1);
        let mut scored: Vec<(f64, u32)> = list
            .full
            .iter()
            .flatten()
            .map(|&n| (10.0, n))
            .chain(list.spanning.iter().map(|&n| (0.0, n)))
            .map(|(bonus, n)| (bonus + list.rarity(n, &rarity) * (0.8 + 0.4 * self.random.unit()), n))
            .collect();
        scored.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut used = Mask::default();
        let mut count = 0;
        let most = self.alive.len() / 3 + 1;
        let mut taken = 0;
        for (_, number) in scored {
            let (Some(block), Some(rect)) = (list.blocks.get(number as usize), self.rects.get_mut(current)) else {
                break;
            };
            if taken >= most || self.alive.len() - taken <= leave {
                break;
            }
            if block.mask.meets(&used) {
                continue;
            }
            let fits = |span: i64, of: i64, extent: i64, room: i64| {
                span == of && extent <= room && (extent == room || room - extent >= thin)
            };
            let axis = if fits(block.width, rect.width, block.height, rect.height) {
                Axis::Y
            } else if fits(block.height, rect.height, block.width, rect.width) {
                Axis::X
            } else {
                continue;
            };
            let extent = if axis == Axis::X { block.width } else { block.height };
            rect.strips.push((axis, extent, list.slice(number)));
            match axis {
                Axis::X => rect.width -= extent,
                Axis::Y => rect.height -= extent,
            }
            used = used.with(&block.mask);
            taken += block.mask.count();
            count += 1;
        }
        self.alive.retain(|&i| !used.meets(&Mask::of(i)));
        count
    }

    /// For every piece how seldom its edges occur: such pieces should go first.
    fn rarity(&self) -> Vec<f64> {
        let mut edges: BTreeMap<(bool, i64), u32> = BTreeMap::new();
        for item in self.alive.iter().filter_map(|&i| self.problem.items.get(i)) {
            *edges.entry((false, item.width)).or_default() += 1;
            *edges.entry((true, item.height)).or_default() += 1;
        }
        let often = |key| f64::from(edges.get(&key).copied().unwrap_or(1).max(1));
        self.problem.items.iter().map(|i| 1.0 / often((false, i.width)) + 1.0 / often((true, i.height))).collect()
    }
}

struct List {
    zones: Vec<(i64, i64)>,
    blocks: Vec<Block>,
    /// Blocks by number of pieces, waiting to be joined with others.
    waiting: Vec<Vec<u32>>,
    /// How many blocks of each number of pieces came by: of too many, a random sample is kept.
    passed: Vec<usize>,
    most: usize,
    by_width: BTreeMap<i64, Vec<u32>>,
    by_height: BTreeMap<i64, Vec<u32>>,
    seen: BTreeSet<(u64, i64)>,
    /// Blocks that fill a whole zone, by zone.
    full: Vec<Vec<u32>>,
    /// Blocks as wide or as high as a zone, but smaller.
    spanning: Vec<u32>,
    random: Random,
}

#[allow(clippy::indexing_slicing, reason = "block numbers are made here")]
impl List {
    /// The single pieces; of each number of pieces at most `most` blocks will be kept.
    fn new(problem: &Problem, alive: &[usize], zones: &[(i64, i64)], most: usize, seed: u64) -> Self {
        let mut list = Self {
            full: vec![Vec::new(); zones.len()],
            spanning: Vec::new(),
            zones: zones.to_vec(),
            blocks: Vec::new(),
            waiting: vec![Vec::new(); alive.len() + 1],
            passed: vec![0; alive.len() + 1],
            most,
            by_width: BTreeMap::new(),
            by_height: BTreeMap::new(),
            seen: BTreeSet::new(),
            random: Random::new(seed),
        };
        let grain = problem.kinds.first().map_or(0, |k| k.grain);
        for &index in alive {
            let item = &problem.items[index];
            let (given, turned) = item.lays.get(grain).copied().unwrap_or((false, false));
            let (mask, key) = (Mask::of(index), list.random.next());
            if given {
                list.offer(Block { width: item.width, height: item.height, mask, key, made: Made::Item(index) });
            }
            if turned {
                list.offer(Block { width: item.height, height: item.width, mask, key, made: Made::Item(index) });
            }
        }
        list
    }

    fn rarity(&self, number: u32, rarity: &[f64]) -> f64 {
        let mut pieces = Vec::new();
        self.pieces(number, &mut pieces);
        pieces.iter().map(|&i| rarity.get(i).copied().unwrap_or(0.0)).sum::<f64>() / pieces.len().max(1) as f64
    }

    fn pieces(&self, number: u32, pieces: &mut Vec<usize>) {
        match self.blocks[number as usize].made {
            Made::Item(item) => pieces.push(item),
            Made::Pair(_, a, b) => {
                self.pieces(a, pieces);
                self.pieces(b, pieces);
            }
        }
    }

    fn offer(&mut self, block: Block) {
        let (w, h) = (block.width, block.height);
        if !self.zones.iter().any(|&(zw, zh)| w <= zw && h <= zh)
            || self.blocks.len() >= MOST_BLOCKS.min(self.most * 60)
        {
            return;
        }
        let count = block.mask.count();
        // Blocks as wide or as high as a zone are few and lead to whole boards: they are always kept.
        let spans = self.zones.iter().any(|&(zw, zh)| (w == zw && h <= zh) || (h == zh && w <= zw));
        let mut number = self.blocks.len() as u32;
        if !spans && count > 1 {
            self.passed[count] += 1;
            if self.passed[count] > self.most {
                let place = self.random.below(self.passed[count]);
                if place >= self.most.min(self.waiting[count].len()) {
                    return;
                }
                number = self.waiting[count][place];
                let b = &self.blocks[number as usize];
                let kept = self.zones.iter().any(|&(zw, zh)| b.width == zw || b.height == zh);
                if kept {
                    return;
                }
            }
        }
        if !self.seen.insert((block.key, w)) {
            return;
        }
        if (number as usize) < self.blocks.len() {
            self.blocks[number as usize] = block;
            return;
        }
        let mut fills = false;
        for (zone, &(zw, zh)) in self.zones.iter().enumerate() {
            if w == zw && h == zh {
                self.full[zone].push(number);
                fills = true;
            }
        }
        if spans && !fills {
            self.spanning.push(number);
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
                let (w, h, mask, key) = {
                    let b = &self.blocks[number as usize];
                    (b.width, b.height, b.mask, b.key)
                };
                for (axis, partners) in [
                    (Axis::Y, self.by_width.get(&w).cloned().unwrap_or_default()),
                    (Axis::X, self.by_height.get(&h).cloned().unwrap_or_default()),
                ] {
                    if self.blocks.len() >= MOST_BLOCKS.min(self.most * 60) || !budget.spend(partners.len() as u64 + 4)
                    {
                        return;
                    }
                    for other in partners {
                        let b = &self.blocks[other as usize];
                        if b.mask.meets(&mask) {
                            continue;
                        }
                        let (width, height) = match axis {
                            Axis::X => (w + b.width, h),
                            Axis::Y => (w, h + b.height),
                        };
                        let (mask, key) = (b.mask.with(&mask), b.key.wrapping_add(key));
                        self.offer(Block { width, height, mask, key, made: Made::Pair(axis, number, other) });
                    }
                }
                self.by_width.entry(w).or_default().push(number);
                self.by_height.entry(h).or_default().push(number);
            }
        }
    }

    /// Blocks for all zones that share no piece.
    fn choose(&self, budget: &Budget<'_>) -> Option<Vec<Slice>> {
        let mut order: Vec<usize> = (0..self.zones.len()).collect();
        order.sort_by_key(|&zone| self.full[zone].len());
        let mut chosen = Vec::new();
        if !self.disjoint(&order, &Mask::default(), &mut chosen, budget) {
            return None;
        }
        let mut by_zone: Vec<(usize, u32)> = order.into_iter().zip(chosen).collect();
        by_zone.sort_unstable();
        Some(by_zone.into_iter().map(|(_, number)| self.slice(number)).collect())
    }

    fn disjoint(&self, order: &[usize], mask: &Mask, chosen: &mut Vec<u32>, budget: &Budget<'_>) -> bool {
        let Some(&zone) = order.get(chosen.len()) else { return true };
        let candidates = &self.full[zone];
        if !budget.spend(candidates.len() as u64 / 4 + 1) {
            return false;
        }
        for &number in candidates {
            let block = &self.blocks[number as usize];
            if !block.mask.meets(mask) {
                chosen.push(number);
                if self.disjoint(order, &mask.with(&block.mask), chosen, budget) {
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
