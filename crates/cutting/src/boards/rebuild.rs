//! Filling a fixed set of boards by ruin and rebuild: pieces are taken out of a few boards at random and put back
//! greedily, and the change is kept unless it is worse than what was accepted a while ago (late acceptance).
//!
//! Sources of the ideas: Schrimpf et al. 2000 (ruin and recreate), Burke & Bykov 2017 (late acceptance), Gardeyn &
//! Wauters, EJOR 301 (2022) 432-444 (the same on guillotine trees, with a goal that some boards fewer must do).

use super::problem::{Item, Kind, Problem};
use super::tree::Tree;
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// How a place for a piece is judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rule {
    /// Large free rectangles are kept large.
    Convex,
    /// The least rest on one side.
    ShortSide,
}

/// One way to put a piece into a free rectangle.
#[derive(Debug, Clone, Copy)]
struct Place {
    leaf: u32,
    width: i64,
    height: i64,
    first: Axis,
    score: f64,
}

/// Boards being filled, and the pieces that are left out.
pub(crate) struct Filling<'a> {
    problem: &'a Problem,
    /// Areas relative to the mean board.
    area: Vec<f64>,
    scale: f64,
    /// The boards.
    pub(crate) trees: Vec<Tree>,
    /// Pieces that found no room.
    pub(crate) out: Vec<usize>,
    random: Random,
    /// Whether the first cut beside a piece is now and then made the other way, against the rule: what looks worse at first may
    /// leave the larger rest when all is placed.
    pub(crate) either_way: bool,
    rule: Rule,
    history: Vec<f64>,
    step: usize,
    current: f64,
    saved: Vec<(usize, Tree)>,
    pool: Vec<Tree>,
    saved_out: Vec<usize>,
}

/// How the pieces are put in order before they are put back.
const ORDERS: usize = 6;

impl<'a> Filling<'a> {
    /// Empty boards of the given kinds; every piece is left out.
    pub(crate) fn new(problem: &'a Problem, kinds: &[usize], seed: u64) -> Self {
        let trees: Vec<Tree> =
            kinds.iter().filter_map(|&kind| problem.kinds.get(kind).map(|k| Tree::new(kind, &k.zones))).collect();
        let mean = problem.kinds.iter().map(|k| k.area as f64).sum::<f64>() / problem.kinds.len().max(1) as f64;
        Self {
            problem,
            area: problem.items.iter().map(|i| i.area as f64 / mean).collect(),
            scale: 1.0 / mean,
            trees,
            out: (0..problem.items.len()).collect(),
            random: Random::new(seed),
            either_way: false,
            rule: Rule::Convex,
            history: vec![f64::INFINITY; 120],
            step: 0,
            current: f64::INFINITY,
            saved: Vec::new(),
            pool: Vec::new(),
            saved_out: Vec::new(),
        }
    }

    /// Takes away board number `at`; its pieces are left out.
    pub(crate) fn drop_board(&mut self, at: usize) {
        if at < self.trees.len() {
            let tree = self.trees.swap_remove(at);
            self.out.extend(tree.items());
        }
        self.restart();
    }

    /// Forgets what was accepted before.
    pub(crate) fn restart(&mut self) {
        self.history.fill(f64::INFINITY);
        self.current = self.value();
    }

    /// Takes what there is now as what was accepted before: changes for the worse are refused.
    pub(crate) fn settle(&mut self) {
        self.current = self.value();
        self.history.fill(self.current);
    }

    /// What is kept small: area left out, less a bonus for large free rectangles.
    fn value(&self) -> f64 {
        let out: f64 = self.out.iter().filter_map(|&i| self.area.get(i)).sum();
        let free: f64 = self
            .trees
            .iter()
            .map(|tree| {
                tree.leaves()
                    .iter()
                    .map(|&l| {
                        let node = tree.node(l);
                        let a = node.width as f64 * node.height as f64 * self.scale;
                        a * a
                    })
                    .sum::<f64>()
            })
            .sum();
        out - 0.02 * free
    }

    /// Puts all pieces that are left out back in, greedily; `open` may add boards while pieces find no room.
    pub(crate) fn rebuild(
        &mut self,
        order: usize,
        blink: f64,
        budget: &Budget<'_>,
        mut open: impl FnMut(&Item) -> Option<usize>,
    ) {
        let mut waiting = std::mem::take(&mut self.out);
        self.sort(&mut waiting, order);
        let mut left_out = Vec::new();
        let mut failed = None;
        let mut done_groups: Vec<usize> = Vec::new();
        for index in waiting {
            let Some(item) = self.problem.items.get(index) else {
                continue;
            };
            if let Some(group) = item.group {
                if !done_groups.contains(&group) {
                    done_groups.push(group);
                    self.put_group(group, &mut left_out, budget, &mut open);
                }
                continue;
            }
            let same = (item.width, item.height, item.lays);
            if failed == Some(same) && blink == 0.0 {
                left_out.push(index);
                continue;
            }
            let mut best = self.best_place(item, blink, budget, None);
            if best.is_none()
                && let Some(kind) = open(item)
                && let Some(k) = self.problem.kinds.get(kind)
            {
                self.trees.push(Tree::new(kind, &k.zones));
                best = self.best_place(item, 0.0, budget, Some(self.trees.len() - 1));
            }
            if let Some((board, place)) = best {
                self.keep(board);
                if let Some(tree) = self.trees.get_mut(board) {
                    tree.insert(place.leaf, index, place.width, place.height, place.first);
                }
            } else {
                failed = Some(same);
                left_out.push(index);
            }
        }
        self.out = left_out;
    }

    /// All pieces of a group into one board, or none.
    fn put_group(
        &mut self,
        group: usize,
        left_out: &mut Vec<usize>,
        budget: &Budget<'_>,
        open: &mut impl FnMut(&Item) -> Option<usize>,
    ) {
        let Some(members) = self.problem.groups.get(group) else {
            return;
        };
        let mut members = members.clone();
        members.sort_by_key(|&i| self.problem.items.get(i).map_or(0, |item| -item.area));
        let start = self.random.below(self.trees.len());
        let mut boards: Vec<usize> = (start..self.trees.len()).chain(0..start).collect();
        let mut opened = false;
        loop {
            for &board in &boards {
                let Some(before) = self.trees.get(board).cloned() else {
                    continue;
                };
                let mut all = true;
                self.keep(board);
                for &index in &members {
                    let Some(item) = self.problem.items.get(index) else {
                        continue;
                    };
                    let Some((_, place)) = self.best_place(item, 0.0, budget, Some(board)) else {
                        all = false;
                        break;
                    };
                    if let Some(tree) = self.trees.get_mut(board) {
                        tree.insert(place.leaf, index, place.width, place.height, place.first);
                    }
                }
                if all {
                    return;
                }
                if let Some(tree) = self.trees.get_mut(board) {
                    *tree = before;
                }
            }
            let new = members.first().and_then(|&i| self.problem.items.get(i)).and_then(&mut *open);
            let Some((kind, k)) = new.and_then(|kind| Some((kind, self.problem.kinds.get(kind)?))) else {
                break;
            };
            if opened {
                break;
            }
            opened = true;
            self.trees.push(Tree::new(kind, &k.zones));
            boards = vec![self.trees.len() - 1];
        }
        left_out.extend(members);
    }

    fn sort(&mut self, waiting: &mut [usize], order: usize) {
        let random = &mut self.random;
        let mut keyed: Vec<(f64, usize)> = waiting
            .iter()
            .map(|&i| {
                let Some(item) = self.problem.items.get(i) else {
                    return (0.0, i);
                };
                let (w, h) = (item.width as f64, item.height as f64);
                let key = match order {
                    0 => w * h,
                    1 => w.max(h),
                    2 => w,
                    3 => h,
                    4 => w + h,
                    _ => random.unit(),
                };
                (key, i)
            })
            .collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        for (slot, (_, i)) in waiting.iter_mut().zip(keyed) {
            *slot = i;
        }
    }

    fn best_place(
        &mut self,
        item: &Item,
        blink: f64,
        budget: &Budget<'_>,
        only: Option<usize>,
    ) -> Option<(usize, Place)> {
        let mut best: Option<(usize, Place)> = None;
        let range = only.map_or(0..self.trees.len(), |b| b..b + 1);
        let mut looked = 0;
        for board in range {
            let Some(tree) = self.trees.get(board) else {
                continue;
            };
            let grain = self.problem.kinds.get(tree.kind).map_or(0, |k: &Kind| k.grain);
            let (given, turned) = item.lays.get(grain).copied().unwrap_or((false, false));
            for &leaf in tree.leaves() {
                let node = tree.node(leaf);
                looked += 1;
                for (allowed, w, h) in [(given, item.width, item.height), (turned, item.height, item.width)] {
                    if !allowed || w > node.width || h > node.height {
                        continue;
                    }
                    if blink > 0.0 && self.random.unit() < blink {
                        continue;
                    }
                    let (score, mut first) = judge(self.rule, node.width, node.height, w, h, self.scale);
                    if self.either_way && self.random.below(3) == 0 {
                        first = first.other();
                    }
                    if best.as_ref().is_none_or(|(_, b)| score > b.score) {
                        best = Some((board, Place { leaf, width: w, height: h, first, score }));
                    }
                }
            }
        }
        budget.spend(looked);
        best
    }

    /// Remembers a board before it is changed.
    fn keep(&mut self, board: usize) {
        if self.saved.iter().any(|(b, _)| *b == board) {
            return;
        }
        let Some(tree) = self.trees.get(board) else {
            return;
        };
        let copy = if let Some(mut copy) = self.pool.pop() {
            copy.clone_from(tree);
            copy
        } else {
            tree.clone()
        };
        self.saved.push((board, copy));
    }

    fn forget(&mut self) {
        while let Some((_, tree)) = self.saved.pop() {
            self.pool.push(tree);
        }
    }

    /// One ruin and rebuild; false when the effort is spent.
    pub(crate) fn improve(&mut self, budget: &Budget<'_>) -> bool {
        if !budget.spend(20) {
            return false;
        }
        if self.current == f64::INFINITY {
            self.current = self.value();
        }
        self.forget();
        self.saved_out.clone_from(&self.out);
        self.ruin();
        self.rule = if self.random.below(8) == 0 { Rule::ShortSide } else { Rule::Convex };
        let order = self.random.below(ORDERS);
        self.rebuild(order, 0.02, budget, |_| None);
        let value = self.value();
        let slot = self.step % self.history.len().max(1);
        self.step += 1;
        let before = self.history.get(slot).copied().unwrap_or(f64::INFINITY);
        if value <= self.current || value < before {
            self.current = value;
        } else {
            while let Some((board, mut tree)) = self.saved.pop() {
                if let Some(now) = self.trees.get_mut(board) {
                    std::mem::swap(now, &mut tree);
                }
                self.pool.push(tree);
            }
            std::mem::swap(&mut self.out, &mut self.saved_out);
        }
        if let Some(cell) = self.history.get_mut(slot) {
            *cell = self.current;
        }
        true
    }

    /// Takes some pieces, or whole parts of the tree, out of a few boards.
    fn ruin(&mut self) {
        let boards = self.trees.len();
        if boards == 0 {
            return;
        }
        let some = 1 + self.random.below(3);
        let mut target = 2 + self.random.below(9);
        for _ in 0..some {
            let board = self.random.below(boards);
            self.keep(board);
            let share = (target / some).max(1);
            let mut taken = 0;
            while taken < share {
                let Some(tree) = self.trees.get_mut(board) else {
                    break;
                };
                let Some(mut node) = tree.item_node(self.random.below(1 << 20)) else {
                    break;
                };
                while self.random.below(3) == 0 {
                    let Some(parent) = tree.parent(node) else {
                        break;
                    };
                    node = parent;
                }
                let before = self.out.len();
                tree.remove(node, &mut self.out);
                let mut at = before;
                while let Some(&index) = self.out.get(at) {
                    at += 1;
                    let group = self.problem.items.get(index).and_then(|i| i.group);
                    for &mate in group.and_then(|g| self.problem.groups.get(g)).into_iter().flatten() {
                        if let Some(node) = tree.find(mate) {
                            tree.remove(node, &mut self.out);
                        }
                    }
                }
                taken += self.out.len() - before;
            }
            target = target.saturating_sub(taken);
        }
    }
}

/// Score of a place (the higher the better) and the direction of the first cut.
fn judge(rule: Rule, leaf_w: i64, leaf_h: i64, w: i64, h: i64, scale: f64) -> (f64, Axis) {
    let (rest_w, rest_h) = (leaf_w - w, leaf_h - h);
    let area = |a: i64, b: i64| a as f64 * b as f64 * scale;
    let (right_full, top_part) = (area(rest_w, leaf_h), area(w, rest_h));
    let (top_full, right_part) = (area(leaf_w, rest_h), area(rest_w, h));
    let by_x = right_full * right_full + top_part * top_part;
    let by_y = top_full * top_full + right_part * right_part;
    let first = if by_x >= by_y { Axis::X } else { Axis::Y };
    let leaf = area(leaf_w, leaf_h);
    let score = match rule {
        Rule::Convex => by_x.max(by_y) - leaf * leaf,
        Rule::ShortSide => -(rest_w.min(rest_h) as f64) - 1e-6 * rest_w.max(rest_h) as f64,
    };
    (score, first)
}
