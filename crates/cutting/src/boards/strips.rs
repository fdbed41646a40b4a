//! Strips across whole boards, without waste while there are many pieces and with little waste at the end.

use std::collections::{BTreeMap, BTreeSet};

use super::blocks::{Blocks, Limits, MOST_PIECES};
use super::problem::Problem;
use super::tree::{Slice, Tree};
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// Thousandths of a strip that may be lost, tried one after the other.
const LOSSES: [i64; 6] = [0, 2, 5, 10, 20, 40];

/// Whether the method fits the question at all.
pub(crate) fn suits(problem: &Problem) -> bool {
    let single_zones = problem.kinds.iter().all(|k| k.zones.len() == 1);
    let grains: BTreeSet<usize> = problem.kinds.iter().map(|k| k.grain).collect();
    let grouped = problem.items.iter().any(|i| i.group.is_some());
    single_zones && grains.len() == 1 && !grouped
}

/// What is still free of a board: strips have been cut off it.
#[derive(Clone)]
pub(crate) struct Free {
    pub(crate) kind: usize,
    pub(crate) width: i64,
    pub(crate) height: i64,
    pub(crate) strips: Vec<(Axis, i64, Slice)>,
}

/// A part of a board, from edge to edge across `axis`.
#[derive(Clone)]
pub(crate) struct Panel {
    /// Number of the board.
    pub(crate) board: usize,
    pub(crate) kind: usize,
    pub(crate) axis: Axis,
    /// Along `axis`.
    pub(crate) extent: i64,
    /// Width and height.
    pub(crate) size: (i64, i64),
}

/// Boards being cut into strips.
#[derive(Clone)]
pub(crate) struct Strips<'a> {
    problem: &'a Problem,
    /// Boards, or the panels that they are parted into.
    boards: Vec<Free>,
    panels: Vec<Panel>,
    /// The board that strips are being cut off.
    current: usize,
    /// The pieces left.
    pub(crate) left: Vec<usize>,
    random: Random,
}

impl<'a> Strips<'a> {
    /// Whole boards of the given kinds; `None` when the method does not suit the question.
    pub(crate) fn new(problem: &'a Problem, kinds: &[usize], seed: u64) -> Option<Self> {
        if !suits(problem) {
            return None;
        }
        let mut boards: Vec<Free> = kinds
            .iter()
            .filter_map(|&kind| {
                let &(width, height) = problem.kinds.get(kind)?.zones.first()?;
                Some(Free { kind, width, height, strips: Vec::new() })
            })
            .collect();
        let mut random = Random::new(seed);
        for i in (1..boards.len()).rev() {
            boards.swap(i, random.below(i + 1));
        }
        Some(Self { problem, boards, panels: Vec::new(), current: 0, left: (0..problem.items.len()).collect(), random })
    }

    /// Panels that are cut in part.
    pub(crate) fn begun(
        problem: &'a Problem,
        boards: Vec<Free>,
        panels: Vec<Panel>,
        left: Vec<usize>,
        seed: u64,
    ) -> Self {
        Self { problem, boards, panels, current: 0, left, random: Random::new(seed) }
    }

    /// The same with other random numbers from here on.
    pub(crate) fn again(&self, seed: u64) -> Self {
        Self { random: Random::new(seed), ..self.clone() }
    }

    /// Cuts strips until so few pieces are left, or no more can be found.
    pub(crate) fn run(&mut self, leave: usize, budget: &Budget<'_>) {
        while self.left.len() > leave && self.current < self.boards.len() && !budget.over() {
            let rarity = rarity(self.problem, &self.left, budget);
            if !LOSSES.iter().any(|&loss| self.cut(leave, loss, &rarity, budget) > 0) {
                self.current += 1;
            }
        }
    }

    /// The boards with their strips.
    pub(crate) fn trees(&self) -> Vec<Tree> {
        if self.panels.is_empty() {
            let trees = self.boards.iter().filter_map(|board| {
                let mut tree = Tree::new(board.kind, &self.problem.kinds.get(board.kind)?.zones);
                tree.stack(&board.strips);
                Some(tree)
            });
            return trees.collect();
        }
        let mut boards: BTreeMap<usize, Parts> = BTreeMap::new();
        for (panel, room) in self.panels.iter().zip(&self.boards) {
            let part = (panel.extent, nested(panel.size, &room.strips));
            boards.entry(panel.board).or_insert((panel.kind, panel.axis, Vec::new())).2.push(part);
        }
        let tree = |(kind, axis, parts): Parts| {
            let mut tree = Tree::new(kind, &self.problem.kinds.get(kind)?.zones);
            tree.fill(0, &joined(axis, parts));
            Some(tree)
        };
        boards.into_values().filter_map(tree).collect()
    }

    /// Cuts strips off one board; the number of strips.
    fn cut(&mut self, leave: usize, loss: i64, rarity: &[f64], budget: &Budget<'_>) -> usize {
        let Some(board) = self.boards.get(self.current).filter(|r| r.width > 0 && r.height > 0) else { return 0 };
        let zone = (board.width, board.height);
        let pool = self.pool(rarity, budget);
        let limits = Limits { blocks: 10_000, each: 160, loss };
        let mut blocks = Blocks::new(self.problem, &pool, &[zone], limits, self.random.next());
        blocks.grow(budget);
        let mut scored: Vec<(f64, u32)> = Vec::new();
        for (bonus, &number) in
            blocks.full.iter().flatten().map(|n| (10.0, n)).chain(blocks.spanning.iter().map(|n| (0.0, n)))
        {
            let Some(block) = blocks.get(number) else { continue };
            let sum: f64 = blocks.items(block).filter_map(|i| rarity.get(i)).sum();
            let mean = sum / f64::from(block.pieces.count_ones().max(1));
            scored.push((bonus + mean * (0.8 + 0.4 * self.random.unit()), number));
        }
        scored.sort_by(|a, b| b.0.total_cmp(&a.0));
        let items = self.left.iter().filter_map(|&i| self.problem.items.get(i));
        let thin = items.map(|i| i.width.min(i.height)).min().unwrap_or(1);
        let most = if loss > 0 { 1 } else { pool.len() / 3 + 1 };
        let (mut used, mut count) = (0u128, 0);
        for (_, number) in scored {
            let (Some(block), Some(board)) = (blocks.get(number), self.boards.get_mut(self.current)) else { break };
            let taken = used.count_ones() as usize;
            if taken >= most || self.left.len() - taken <= leave {
                break;
            }
            if block.pieces & used != 0 || block.width > board.width || block.height > board.height {
                continue;
            }
            // What would be left beside it is used up with it when no piece can lie there.
            let close = |extent: i64, room: i64| if room - extent < thin { room } else { extent };
            let (high, wide) = (close(block.height, board.height), close(block.width, board.width));
            let (axis, width, height) = if blocks.little(block.filled, board.width, high) {
                (Axis::Y, board.width, high)
            } else if blocks.little(block.filled, wide, board.height) {
                (Axis::X, wide, board.height)
            } else {
                continue;
            };
            let extent = if axis == Axis::X { width } else { height };
            board.strips.push((axis, extent, blocks.padded(number, width, height)));
            match axis {
                Axis::X => board.width -= extent,
                Axis::Y => board.height -= extent,
            }
            used |= block.pieces;
            count += 1;
        }
        let gone: BTreeSet<usize> =
            pool.iter().enumerate().filter(|(bit, _)| used >> bit & 1 == 1).map(|(_, &item)| item).collect();
        self.left.retain(|i| !gone.contains(i));
        count
    }

    /// The pieces to make blocks of: at random, rather those whose edges occur seldom.
    fn pool(&mut self, rarity: &[f64], budget: &Budget<'_>) -> Vec<usize> {
        if self.left.len() <= MOST_PIECES {
            return self.left.clone();
        }
        budget.spend(10 * self.left.len() as u64);
        let random = &mut self.random;
        let mut keyed: Vec<(f64, usize)> =
            self.left.iter().map(|&i| (rarity.get(i).copied().unwrap_or(0.0) * random.unit(), i)).collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0));
        keyed.truncate(MOST_PIECES);
        keyed.into_iter().map(|(_, i)| i).collect()
    }
}

/// A board's kind, and the extents and slices of its panels along an axis.
type Parts = (usize, Axis, Vec<(i64, Slice)>);

/// Strips that are cut off a rectangle one after the other, as one slice.
fn nested((mut width, mut height): (i64, i64), strips: &[(Axis, i64, Slice)]) -> Slice {
    let mut rooms = Vec::new();
    for (axis, extent, slice) in strips {
        let rest = if *axis == Axis::X { &mut width } else { &mut height };
        *rest -= extent;
        rooms.push((*axis, *extent, slice, *rest));
    }
    rooms.into_iter().rev().fold(Slice::Free, |after, (axis, extent, slice, rest)| {
        if rest == 0 { slice.clone() } else { Slice::Split(axis, vec![(extent, slice.clone()), (rest, after)]) }
    })
}

/// Slices side by side; of one, itself.
pub(crate) fn joined(axis: Axis, mut parts: Vec<(i64, Slice)>) -> Slice {
    match parts.len() {
        0 | 1 => parts.pop().map_or(Slice::Free, |p| p.1),
        _ => Slice::Split(axis, parts),
    }
}

/// For every piece how seldom its edges along x and along y occur among those left: such pieces should go first.
pub(crate) fn rarity(problem: &Problem, left: &[usize], budget: &Budget<'_>) -> Vec<f64> {
    budget.spend(20 * left.len() as u64);
    let mut edges: BTreeMap<(bool, i64), u32> = BTreeMap::new();
    for item in left.iter().filter_map(|&i| problem.items.get(i)) {
        *edges.entry((false, item.width)).or_default() += 1;
        *edges.entry((true, item.height)).or_default() += 1;
    }
    let often = |key| f64::from(edges.get(&key).copied().unwrap_or(1).max(1));
    let seldom = |i: &super::problem::Item| 1.0 / often((false, i.width)) + 1.0 / often((true, i.height));
    problem.items.iter().map(seldom).collect()
}
