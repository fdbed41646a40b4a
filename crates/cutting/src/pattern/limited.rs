//! The best guillotine pattern with limited copies: best first search from single pieces to ever larger blocks.
//!
//! Two blocks side by side or on top of each other make a new one. A block is worth following while its value and
//! the most that its surroundings can still hold exceed the best pattern known. The surroundings are bounded by dynamic
//! programming with unlimited copies, once plainly and once with prices on the limited copies (Lagrange multipliers).
//! Sources: Viswanathan & Bagchi, Oper. Res. 41 (1993) 768-776; Cung, Hifi & Le Cun, Int. Trans. Oper. Res. 7 (2000)
//! 185-210. The prices and the dominance by equal contents are this crate's own.

use std::collections::{BTreeMap, BinaryHeap};

use super::free::{Block, Table, cornered, floor, part};
use crate::boards::tree::Slice;
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// The question: blocks (turned ones with the same item) and how many of each item there are.
pub(crate) struct Question<'a> {
    pub(crate) width: i64,
    pub(crate) height: i64,
    pub(crate) xs: &'a [i64],
    pub(crate) ys: &'a [i64],
    pub(crate) blocks: &'a [Block],
    pub(crate) limits: &'a [u32],
    /// Whether the points hold every position that matters: only then is a bound a bound.
    pub(crate) exact: bool,
    /// A bound known beforehand.
    pub(crate) ceiling: i64,
}

/// The answer: value, a proven bound on any value, and the pattern.
pub(crate) struct Answer {
    pub(crate) value: i64,
    pub(crate) bound: i64,
    pub(crate) pattern: Slice,
}

/// A bound on what the surroundings of a block can hold, with prices on copies.
struct Outside {
    /// Value less price by item.
    net: Vec<i64>,
    /// Prices times limits: what every pattern is given.
    given: i64,
    /// By the points of free width and free height.
    most: Vec<i64>,
    columns: usize,
    root: i64,
}

#[derive(Clone, Copy)]
struct Node {
    width: i64,
    height: i64,
    value: i64,
    net: i64,
    key: u64,
    /// Block number, or the two nodes that it was made from.
    made: Made,
}

#[derive(Clone, Copy)]
enum Made {
    Block(u32),
    Pair(Axis, u32, u32),
}

#[allow(clippy::indexing_slicing, reason = "indices run over tables of the same question")]
impl Outside {
    fn new(q: &Question<'_>, prices: &[i64], table: &Table, budget: &Budget<'_>) -> Option<Self> {
        let (nx, ny) = (q.xs.len(), q.ys.len());
        let mut most = vec![0i64; nx * ny];
        // Rows: free width xs[i] beside the block; columns: free height ys[j] above it.
        let high: Vec<usize> = q.ys.iter().map(|y| floor(q.ys, q.height - y)).collect();
        let wide: Vec<usize> = q.xs.iter().map(|x| floor(q.xs, q.width - x)).collect();
        for i in 0..nx {
            for j in 0..ny {
                // Room may also be lost without anything cut from it.
                let mut best = 0;
                if i > 0 {
                    best = most[(i - 1) * ny + j];
                }
                if j > 0 {
                    best = best.max(most[i * ny + j - 1]);
                }
                let mut other = i;
                for k in 1..=i {
                    while q.xs[other] > q.xs[i] - q.xs[k] {
                        other -= 1;
                    }
                    best = best.max(most[other * ny + j] + table.at(k, high[j]));
                }
                let mut other = j;
                for k in 1..=j {
                    while q.ys[other] > q.ys[j] - q.ys[k] {
                        other -= 1;
                    }
                    best = best.max(most[i * ny + other] + table.at(wide[i], k));
                }
                most[i * ny + j] = best;
            }
            if !budget.spend((ny * (i + ny / 2)) as u64 / 8) {
                return None;
            }
        }
        let given = given(prices, q.limits)?;
        let mut net = vec![0; q.limits.len()];
        for block in q.blocks {
            net[block.item] = block.value - prices[block.item];
        }
        Some(Self { net, given, most, columns: ny, root: table.value(q.width, q.height) })
    }

    fn bound(&self, free_x: usize, free_y: usize, net: i64) -> i64 {
        self.given + net + self.most[free_x * self.columns + free_y]
    }
}

/// Prices times limits, unless that is too much to add to the value of a board.
fn given(prices: &[i64], limits: &[u32]) -> Option<i64> {
    let sum: i128 = prices.iter().zip(limits).map(|(&p, &l)| i128::from(p) * i128::from(l)).sum();
    i64::try_from(sum).ok().filter(|&given| given < i64::MAX / 4)
}

fn counts(pattern: &Slice, counts: &mut [u32]) {
    match pattern {
        Slice::Free => {}
        Slice::Item(item) => {
            if let Some(n) = counts.get_mut(*item) {
                *n += 1;
            }
        }
        Slice::Split(_, parts) => {
            for (_, part) in parts {
                self::counts(part, counts);
            }
        }
    }
}

/// Prices on limited copies that make the unlimited pattern worth little: a few subgradient steps.
#[allow(clippy::indexing_slicing, reason = "item numbers run over the limits")]
fn prices(q: &Question<'_>, plain: &Table, goal: i64, budget: &Budget<'_>) -> Option<(Vec<i64>, Table)> {
    let cells = (q.xs.len() * q.ys.len()) as u64 * (q.xs.len() + q.ys.len()) as u64 / 8;
    let steps = (150_000_000 / cells.max(1)).clamp(4, 80);
    let mut prices = vec![0f64; q.limits.len()];
    let mut used = vec![0u32; q.limits.len()];
    counts(&plain.pattern(q.width, q.height), &mut used);
    let mut best: Option<(i64, Vec<i64>, Table)> = None;
    let mut bound = plain.value(q.width, q.height);
    let mut step = 1.0;
    for _ in 0..steps {
        let slope: Vec<f64> = q.limits.iter().zip(&used).map(|(&l, &u)| f64::from(u) - f64::from(l)).collect();
        let norm: f64 = slope.iter().zip(&prices).filter(|(s, p)| **s > 0.0 || **p > 0.0).map(|(s, _)| s * s).sum();
        if norm == 0.0 {
            break;
        }
        let length = step * ((bound - goal) as f64).max(1.0) / norm;
        for (price, s) in prices.iter_mut().zip(&slope) {
            *price = (*price + length * s).max(0.0);
        }
        let whole: Vec<i64> = prices.iter().map(|p| p.round() as i64).collect();
        let blocks: Vec<Block> =
            q.blocks.iter().map(|b| Block { value: b.value - whole[b.item], ..*b }).filter(|b| b.value > 0).collect();
        let table = Table::new(q.xs, q.ys, &blocks, budget)?;
        let Some(given) = given(&whole, q.limits) else { break };
        bound = given + table.value(q.width, q.height);
        used.fill(0);
        counts(&table.pattern(q.width, q.height), &mut used);
        if best.as_ref().is_none_or(|b| bound < b.0) {
            best = Some((bound, whole, table));
        } else {
            step *= 0.85;
        }
    }
    best.map(|(_, prices, table)| (prices, table))
}

/// A good pattern at once: dynamic programming that keeps one pattern within the limits for every smaller board.
#[allow(clippy::indexing_slicing, reason = "indices run over the table's own extents")]
fn greedy(q: &Question<'_>, budget: &Budget<'_>) -> (i64, Slice) {
    let (nx, ny, items) = (q.xs.len(), q.ys.len(), q.limits.len());
    if nx * ny * items > 40_000_000 {
        return (0, Slice::Free);
    }
    let mut value = vec![0i64; nx * ny];
    let mut count = vec![0u16; nx * ny * items];
    let mut made: Vec<Option<How>> = vec![None; nx * ny];
    let limit = |item: usize| q.limits[item].min(u32::from(u16::MAX)) as u16;
    let sum =
        |count: &[u16], a: usize, b: usize, i: usize| u32::from(count[a * items + i]) + u32::from(count[b * items + i]);
    let fits = |count: &[u16], a: usize, b: usize| (0..items).all(|i| sum(count, a, b, i) <= u32::from(limit(i)));
    for i in 0..nx {
        for j in 0..ny {
            let cell = i * ny + j;
            let mut best = 0;
            let mut how = None;
            for (n, b) in q.blocks.iter().enumerate() {
                if b.value > best && b.width <= q.xs[i] && b.height <= q.ys[j] && limit(b.item) > 0 {
                    (best, how) = (b.value, Some(Ok(n)));
                }
            }
            for (from, there) in [(cell.wrapping_sub(ny), i > 0), (cell.wrapping_sub(1), j > 0)] {
                if there && value[from] > best {
                    (best, how) = (value[from], Some(Err((Axis::X, from, from))));
                }
            }
            let mut other = i;
            for k in 1..i {
                if 2 * q.xs[k] > q.xs[i] {
                    break;
                }
                while q.xs[other] > q.xs[i] - q.xs[k] {
                    other -= 1;
                }
                let (a, b) = (k * ny + j, other * ny + j);
                if value[a] + value[b] > best && fits(&count, a, b) {
                    (best, how) = (value[a] + value[b], Some(Err((Axis::X, a, b))));
                }
            }
            let mut other = j;
            for k in 1..j {
                if 2 * q.ys[k] > q.ys[j] {
                    break;
                }
                while q.ys[other] > q.ys[j] - q.ys[k] {
                    other -= 1;
                }
                let (a, b) = (i * ny + k, i * ny + other);
                if value[a] + value[b] > best && fits(&count, a, b) {
                    (best, how) = (value[a] + value[b], Some(Err((Axis::Y, a, b))));
                }
            }
            value[cell] = best;
            made[cell] = how;
            match how {
                Some(Ok(n)) => count[cell * items + q.blocks[n].item] = 1,
                Some(Err((_, a, b))) => {
                    for item in 0..items {
                        let more = if a == b && value[a] == best { 0 } else { count[b * items + item] };
                        count[cell * items + item] = count[a * items + item] + more;
                    }
                }
                None => {}
            }
        }
        if !budget.spend((ny * (i + ny)) as u64 / 8) {
            return (0, Slice::Free);
        }
    }
    let build = Greedy { q, made: &made, value: &value };
    (value[nx * ny - 1], build.pattern(nx * ny - 1, q.width, q.height))
}

/// How a cell was made: one block, or two cells along an axis.
type How = Result<usize, (Axis, usize, usize)>;

struct Greedy<'a> {
    q: &'a Question<'a>,
    made: &'a [Option<How>],
    value: &'a [i64],
}

#[allow(clippy::indexing_slicing, reason = "cells come from the same table")]
impl Greedy<'_> {
    fn pattern(&self, cell: usize, width: i64, height: i64) -> Slice {
        let ny = self.q.ys.len();
        match self.made[cell] {
            None => Slice::Free,
            Some(Ok(n)) => {
                let b = &self.q.blocks[n];
                cornered(Slice::Item(b.item), (b.width, b.height), (width, height))
            }
            Some(Err((_, a, b))) if a == b && self.value[a] == self.value[cell] => self.pattern(a, width, height),
            Some(Err((Axis::X, a, b))) => {
                let x = self.q.xs[a / ny];
                part(Axis::X, x, width, self.pattern(a, x, height), self.pattern(b, width - x, height))
            }
            Some(Err((Axis::Y, a, b))) => {
                let y = self.q.ys[a % ny];
                part(Axis::Y, y, height, self.pattern(a, width, y), self.pattern(b, width, height - y))
            }
        }
    }
}

/// The best pattern, proven when the effort suffices.
#[allow(clippy::indexing_slicing, reason = "node numbers are made here")]
pub(crate) fn best(q: &Question<'_>, budget: &Budget<'_>) -> Answer {
    let (mut value, mut pattern) = greedy(q, budget);
    let mut bound = q.ceiling;
    let answer = |value: i64, bound: i64, pattern: Slice| Answer { value, bound, pattern };
    if value >= bound {
        return answer(value, value, pattern);
    }
    let Some(plain) = Table::new(q.xs, q.ys, q.blocks, budget) else { return answer(value, bound, pattern) };
    if q.exact {
        bound = bound.min(plain.value(q.width, q.height));
    }
    let mut used = vec![0; q.limits.len()];
    let free = plain.pattern(q.width, q.height);
    counts(&free, &mut used);
    if used.iter().zip(q.limits).all(|(u, l)| u <= l) {
        value = plain.value(q.width, q.height);
        return answer(value, bound.max(value), free);
    }
    let Some(first) = Outside::new(q, &vec![0; q.limits.len()], &plain, budget) else {
        return answer(value, bound, pattern);
    };
    let Some((price, priced)) = prices(q, &plain, value, budget) else { return answer(value, bound, pattern) };
    let Some(second) = Outside::new(q, &price, &priced, budget) else { return answer(value, bound, pattern) };
    if q.exact {
        bound = bound.min(second.given + second.root);
    }
    let mut search = Search::new(q, [first, second]);
    let top = search.run(&mut value, bound, budget);
    if let Some(node) = search.best {
        pattern = search.pattern(node, q.width, q.height);
    }
    if q.exact && q.limits.iter().all(|&limit| limit <= u32::from(u16::MAX)) {
        bound = bound.min(top);
    }
    answer(value, bound.max(value), pattern)
}

struct Search<'a> {
    q: &'a Question<'a>,
    outside: [Outside; 2],
    nodes: Vec<Node>,
    counts: Vec<u16>,
    same: BTreeMap<u64, Vec<u32>>,
    open: BinaryHeap<(i64, i64, u32)>,
    closed: Vec<u32>,
    best: Option<u32>,
    free_x: Vec<u32>,
    free_y: Vec<u32>,
}

/// Nodes kept at most: about 200 bytes each.
const MOST_NODES: usize = 3_000_000;

#[allow(clippy::indexing_slicing, reason = "node numbers are made here")]
impl<'a> Search<'a> {
    fn new(q: &'a Question<'a>, outside: [Outside; 2]) -> Self {
        // Direct tables from extent to point where they stay small.
        let direct = |full: i64, points: &[i64]| -> Vec<u32> {
            if full > 200_000 {
                return Vec::new();
            }
            (0..=full).map(|x| floor(points, full - x) as u32).collect()
        };
        Self {
            q,
            outside,
            nodes: Vec::new(),
            counts: Vec::new(),
            same: BTreeMap::new(),
            open: BinaryHeap::new(),
            closed: Vec::new(),
            best: None,
            free_x: direct(q.width, q.xs),
            free_y: direct(q.height, q.ys),
        }
    }

    fn bound(&self, width: i64, height: i64, value: i64, net: i64) -> i64 {
        let look = |direct: &[u32], full: i64, points: &[i64], x: i64| {
            direct.get(x as usize).map_or_else(|| floor(points, full - x), |&i| i as usize)
        };
        let i = look(&self.free_x, self.q.width, self.q.xs, width);
        let j = look(&self.free_y, self.q.height, self.q.ys, height);
        self.outside[0].bound(i, j, value).min(self.outside[1].bound(i, j, net))
    }

    /// Searches; gives the bound that remains.
    ///
    /// Copies are counted up to 65 535: where an item may be cut more often, what remains is no bound.
    fn run(&mut self, value: &mut i64, ceiling: i64, budget: &Budget<'_>) -> i64 {
        let items = self.q.limits.len();
        let mut random = Random::new(11);
        let keys: Vec<u64> = (0..items).map(|_| random.next()).collect();
        let mut single = vec![0u16; items];
        for (n, block) in self.q.blocks.iter().enumerate() {
            if self.q.limits[block.item] == 0 || block.width > self.q.width || block.height > self.q.height {
                continue;
            }
            single.fill(0);
            single[block.item] = 1;
            let node = Node {
                width: block.width,
                height: block.height,
                value: block.value,
                net: self.outside[1].net[block.item],
                key: keys[block.item],
                made: Made::Block(n as u32),
            };
            self.offer(node, &single, value);
        }
        let mut joined = vec![0u16; items];
        while let Some((bound, _, number)) = self.open.pop() {
            if bound <= *value {
                return *value;
            }
            if *value >= ceiling {
                return *value;
            }
            if self.nodes.len() > MOST_NODES || !budget.spend(self.closed.len() as u64 / 2 + 10) {
                return bound;
            }
            self.closed.push(number);
            let a = self.nodes[number as usize];
            for at in 0..self.closed.len() {
                let other = self.closed[at];
                let b = self.nodes[other as usize];
                for axis in [Axis::X, Axis::Y] {
                    let (width, height) = match axis {
                        Axis::X => (a.width + b.width, a.height.max(b.height)),
                        Axis::Y => (a.width.max(b.width), a.height + b.height),
                    };
                    if width > self.q.width || height > self.q.height {
                        continue;
                    }
                    let (sum, net) = (a.value + b.value, a.net + b.net);
                    if self.bound(width, height, sum, net) <= *value {
                        continue;
                    }
                    let (ca, cb) = (number as usize * items, other as usize * items);
                    let within = (0..items).all(|i| {
                        let sum = self.counts[ca + i].checked_add(self.counts[cb + i]);
                        joined[i] = sum.unwrap_or(u16::MAX);
                        sum.is_some_and(|sum| u32::from(sum) <= self.q.limits[i])
                    });
                    if within {
                        let key = a.key.wrapping_add(b.key);
                        let made = Made::Pair(axis, number, other);
                        self.offer(Node { width, height, value: sum, net, key, made }, &joined, value);
                    }
                }
            }
        }
        *value
    }

    /// Takes up a block unless one with the same contents is as small.
    fn offer(&mut self, node: Node, counts: &[u16], value: &mut i64) {
        let bound = self.bound(node.width, node.height, node.value, node.net);
        if bound <= *value {
            return;
        }
        let items = counts.len();
        let same = self.same.entry(node.key).or_default();
        for &other in same.iter() {
            let o = &self.nodes[other as usize];
            let start = other as usize * items;
            if o.width <= node.width && o.height <= node.height && self.counts[start..start + items] == *counts {
                return;
            }
        }
        let number = self.nodes.len() as u32;
        same.push(number);
        self.nodes.push(node);
        self.counts.extend_from_slice(counts);
        if node.value > *value {
            *value = node.value;
            self.best = Some(number);
        }
        self.open.push((bound, node.value, number));
    }

    fn pattern(&self, number: u32, width: i64, height: i64) -> Slice {
        let node = self.nodes[number as usize];
        let inner = match node.made {
            Made::Block(n) => Slice::Item(self.q.blocks[n as usize].item),
            Made::Pair(axis, a, b) => {
                let first = self.nodes[a as usize];
                match axis {
                    Axis::X => Slice::Split(
                        axis,
                        vec![
                            (first.width, self.pattern(a, first.width, node.height)),
                            (node.width - first.width, self.pattern(b, node.width - first.width, node.height)),
                        ],
                    ),
                    Axis::Y => Slice::Split(
                        axis,
                        vec![
                            (first.height, self.pattern(a, node.width, first.height)),
                            (node.height - first.height, self.pattern(b, node.width, node.height - first.height)),
                        ],
                    ),
                }
            }
        };
        cornered(inner, (node.width, node.height), (width, height))
    }
}
