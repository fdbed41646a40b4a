//! Blocks: pieces put together edge to edge, with nothing or little lost between them.
//!
//! Two pieces or blocks that share a whole edge make a block without waste; where edges differ a little, little is lost.
//! Edges seldom match by chance, so that of few pieces nearly all blocks can be listed. Own method.

use super::problem::Problem;
use super::tree::Slice;
use crate::effort::Budget;
use crate::random::Random;
use crate::size::Axis;

/// Pieces at most that blocks are made of.
pub(crate) const MOST_PIECES: usize = 128;

/// Pieces put together.
pub(crate) struct Block {
    pub(crate) width: i64,
    pub(crate) height: i64,
    /// What its pieces cover.
    pub(crate) filled: f64,
    /// The pieces, as bits: places in the list's pieces.
    pub(crate) pieces: u128,
    key: u64,
    made: Made,
}

#[derive(Clone, Copy)]
enum Made {
    Item(usize),
    Pair(Axis, u32, u32),
}

/// How many blocks to make, and how tight.
#[derive(Clone, Copy)]
pub(crate) struct Limits {
    /// Blocks at most.
    pub(crate) blocks: usize,
    /// Blocks at most of each number of pieces: of more, a random sample is kept.
    pub(crate) each: usize,
    /// Thousandths of a block's area that may be lost between its pieces.
    pub(crate) loss: i64,
}

/// Block numbers by the length of one edge.
struct Edges {
    /// Buckets a unit.
    scale: f64,
    buckets: Vec<Vec<(i64, u32)>>,
}

/// Buckets of [`Edges`].
const BUCKETS: usize = 1024;

impl Edges {
    fn new(longest: i64) -> Self {
        Self { scale: (BUCKETS - 1) as f64 / longest.max(1) as f64, buckets: vec![Vec::new(); BUCKETS] }
    }

    fn bucket(&self, edge: i64) -> usize {
        ((edge as f64 * self.scale) as usize).min(BUCKETS - 1)
    }

    fn add(&mut self, edge: i64, number: u32) {
        let bucket = self.bucket(edge);
        if let Some(list) = self.buckets.get_mut(bucket) {
            list.push((edge, number));
        }
    }

    /// Adds the numbers whose edge differs by at most `slack`.
    fn near(&self, edge: i64, slack: i64, numbers: &mut Vec<u32>) {
        for bucket in self.buckets.get(self.bucket(edge - slack)..=self.bucket(edge + slack)).unwrap_or_default() {
            numbers.extend(bucket.iter().filter(|(e, _)| (e - edge).abs() <= slack).map(|&(_, number)| number));
        }
    }
}

/// What has been there before. It forgets now and then, so that some blocks may be made twice.
pub(crate) struct Seen(Vec<u64>);

impl Seen {
    pub(crate) fn new(blocks: usize) -> Self {
        Self(vec![0; (blocks * 4).next_power_of_two()])
    }

    /// False when the same was there.
    pub(crate) fn insert(&mut self, key: u64) -> bool {
        let place = (key >> 20) as usize & (self.0.len() - 1);
        self.0.get_mut(place).is_none_or(|slot| std::mem::replace(slot, key) != key)
    }
}

/// Blocks for some rectangles.
pub(crate) struct Blocks {
    pieces: Vec<usize>,
    zones: Vec<(i64, i64)>,
    limits: Limits,
    list: Vec<Block>,
    /// Blocks by number of pieces, waiting to be joined with others.
    waiting: Vec<Vec<u32>>,
    /// How many blocks of each number of pieces came by.
    passed: Vec<usize>,
    by_width: Edges,
    by_height: Edges,
    seen: Seen,
    /// Blocks that fill a whole zone, by zone.
    pub(crate) full: Vec<Vec<u32>>,
    /// Blocks as wide or as high as a zone, but smaller.
    pub(crate) spanning: Vec<u32>,
    random: Random,
}

#[allow(clippy::indexing_slicing, reason = "block numbers are made here")]
impl Blocks {
    /// The single pieces; at most [`MOST_PIECES`] of them.
    pub(crate) fn new(problem: &Problem, pieces: &[usize], zones: &[(i64, i64)], limits: Limits, seed: u64) -> Self {
        let pieces: Vec<usize> = pieces.iter().copied().take(MOST_PIECES).collect();
        let mut blocks = Self {
            full: vec![Vec::new(); zones.len()],
            spanning: Vec::new(),
            zones: zones.to_vec(),
            limits,
            list: Vec::new(),
            waiting: vec![Vec::new(); pieces.len() + 1],
            passed: vec![0; pieces.len() + 1],
            by_width: Edges::new(zones.iter().map(|z| z.0).max().unwrap_or(1)),
            by_height: Edges::new(zones.iter().map(|z| z.1).max().unwrap_or(1)),
            seen: Seen::new(limits.blocks),
            random: Random::new(seed),
            pieces: Vec::new(),
        };
        let grain = problem.kinds.first().map_or(0, |k| k.grain);
        for (bit, &index) in pieces.iter().enumerate() {
            let Some(item) = problem.items.get(index) else { continue };
            let (given, turned) = item.lays.get(grain).copied().unwrap_or((false, false));
            let key = blocks.random.next();
            for (_, width, height) in
                [(given, item.width, item.height), (turned, item.height, item.width)].into_iter().filter(|lay| lay.0)
            {
                let made = Made::Item(index);
                blocks.offer(Block { width, height, filled: item.area as f64, pieces: 1 << bit, key, made });
            }
        }
        blocks.pieces = pieces;
        blocks
    }

    /// A block by its number.
    pub(crate) fn get(&self, number: u32) -> Option<&Block> {
        self.list.get(number as usize)
    }

    /// The items of a block.
    pub(crate) fn items(&self, block: &Block) -> impl Iterator<Item = usize> {
        let pieces = block.pieces;
        self.pieces.iter().enumerate().filter(move |(bit, _)| pieces >> bit & 1 == 1).map(|(_, &item)| item)
    }

    /// Whether no more than the allowed share of a rectangle is lost.
    pub(crate) fn little(&self, filled: f64, width: i64, height: i64) -> bool {
        let area = width as f64 * height as f64;
        (area - filled) * 1000.0 <= area * self.limits.loss as f64
    }

    /// Whether it is about as wide or as high as a zone.
    fn spans(&self, width: i64, height: i64, filled: f64) -> bool {
        self.zones.iter().any(|&(zw, zh)| {
            width <= zw && height <= zh && (self.little(filled, zw, height) || self.little(filled, width, zh))
        })
    }

    fn offer(&mut self, block: Block) {
        let (w, h, filled) = (block.width, block.height, block.filled);
        if self.list.len() >= self.limits.blocks || !self.zones.iter().any(|&(zw, zh)| w <= zw && h <= zh) {
            return;
        }
        let count = block.pieces.count_ones() as usize;
        // Blocks as wide or as high as a zone are few and lead to whole boards: they are always kept.
        let spans = self.spans(w, h, filled);
        let mut number = self.list.len() as u32;
        if !spans && count > 1 {
            self.passed[count] += 1;
            if self.passed[count] > self.limits.each {
                let place = self.random.below(self.passed[count]);
                if place >= self.limits.each.min(self.waiting[count].len()) {
                    return;
                }
                number = self.waiting[count][place];
                let b = &self.list[number as usize];
                if self.spans(b.width, b.height, b.filled) {
                    return;
                }
            }
        }
        if !self.seen.insert(block.key ^ (w as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15)) {
            return;
        }
        if (number as usize) < self.list.len() {
            self.list[number as usize] = block;
            return;
        }
        let mut fills = false;
        for (zone, &(zw, zh)) in self.zones.iter().enumerate() {
            if w <= zw && h <= zh && self.little(filled, zw, zh) {
                self.full[zone].push(number);
                fills = true;
            }
        }
        if spans && !fills {
            self.spanning.push(number);
        }
        self.list.push(block);
        self.waiting[count].push(number);
    }

    /// Joins blocks with blocks, few pieces first.
    pub(crate) fn grow(&mut self, budget: &Budget<'_>) {
        let mut partners = Vec::new();
        for count in 1..self.waiting.len() {
            let mut at = 0;
            while let Some(&number) = self.waiting[count].get(at) {
                at += 1;
                let (w, h) = (self.list[number as usize].width, self.list[number as usize].height);
                for axis in [Axis::Y, Axis::X] {
                    let (of, edge) = if axis == Axis::Y { (&self.by_width, w) } else { (&self.by_height, h) };
                    let slack = edge * self.limits.loss / 500;
                    partners.clear();
                    of.near(edge, slack, &mut partners);
                    if self.list.len() >= self.limits.blocks || !budget.spend(partners.len() as u64 + 4) {
                        return;
                    }
                    for &other in &partners {
                        self.join(axis, number, other);
                    }
                }
                self.by_width.add(w, number);
                self.by_height.add(h, number);
            }
        }
    }

    fn join(&mut self, axis: Axis, number: u32, other: u32) {
        let (a, b) = (&self.list[number as usize], &self.list[other as usize]);
        if a.pieces & b.pieces != 0 {
            return;
        }
        let (width, height) = match axis {
            Axis::X => (a.width + b.width, a.height.max(b.height)),
            Axis::Y => (a.width.max(b.width), a.height + b.height),
        };
        let filled = a.filled + b.filled;
        if self.limits.loss > 0 && !self.little(filled, width, height) {
            return;
        }
        let (pieces, key) = (a.pieces | b.pieces, a.key.wrapping_add(b.key));
        self.offer(Block { width, height, filled, pieces, key, made: Made::Pair(axis, number, other) });
    }

    /// How the block is cut.
    pub(crate) fn slice(&self, number: u32) -> Slice {
        let block = &self.list[number as usize];
        match block.made {
            Made::Item(item) => Slice::Item(item),
            Made::Pair(axis, a, b) => {
                let part = |n: u32| {
                    let part = &self.list[n as usize];
                    match axis {
                        Axis::X => (part.width, self.padded(n, part.width, block.height)),
                        Axis::Y => (part.height, self.padded(n, block.width, part.height)),
                    }
                };
                Slice::Split(axis, vec![part(a), part(b)])
            }
        }
    }

    /// The block in the corner of a rectangle that is no smaller.
    pub(crate) fn padded(&self, number: u32, width: i64, height: i64) -> Slice {
        let (w, h) = (self.list[number as usize].width, self.list[number as usize].height);
        let mut slice = self.slice(number);
        if w < width {
            slice = Slice::Split(Axis::X, vec![(w, slice), (width - w, Slice::Free)]);
        }
        if h < height {
            slice = Slice::Split(Axis::Y, vec![(h, slice), (height - h, Slice::Free)]);
        }
        slice
    }
}
